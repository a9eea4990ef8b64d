"""What learners get wrong, each with the correction and a cell to watch, or a step that is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.words import DEFAULT_WORDING, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.words import Wording


class Idea(IntEnum):
    """Each idea by its name; its number stands in ``data/misconceptions.csv`` and in files of questions."""

    CURRENT_MAKES_IONS = 1
    ELECTRONS_CROSS_SOLUTION = 2
    ELECTRONS_MOVE_IN_ELECTROLYTE = 3
    CATHODE_ALWAYS_NEGATIVE = 4
    ELECTRODES_CHARGED_ONCE = 5
    CATIONS_DRIFT_TO_ANODE = 6
    LEFT_ELECTRODE_IS_CATHODE = 7
    SWAPPING_CHANGES_NOTHING = 8
    CATIONS_HAVE_MORE_ELECTRONS = 9
    IONS_GIVE_ELECTRONS_AT_CATHODE = 10
    ANIONS_OXIDISED_AT_CATHODE = 11
    IRON_WITHOUT_HYDROGEN = 12
    CARBON_REACTS = 13
    WATER_IN_MELT = 14
    CONCENTRATION_NEVER_MATTERS = 15
    COPPER_ANODE_GIVES_OXYGEN = 16
    BLUE_FADES_WITH_COPPER = 17
    COPPER_HARDER_THAN_HYDROGEN = 18
    ONLY_ANIONS_CONDUCT = 19
    PRODUCTS_UNPREDICTABLE = 20
    SODIUM_FROM_SOLUTION = 21
    SOLUTION_BECOMES_CHARGED = 22
    OXIDATION_IS_GAIN = 23
    WATER_NEVER_REACTS = 24
    INERT_ELECTRODES_ALLOW_NOTHING = 25
    ELECTRODES_PASS_DIFFERENT_CHARGES = 26
    SULFUR_DIOXIDE_FROM_SULFATE = 27
    VOLTAGE_DOUBLES_MASS = 28
    TWICE_AS_MUCH_OXYGEN = 29
    LAMP_USES_UP_CURRENT = 30
    MASS_FROM_CONCENTRATION_OR_SIZE = 31
    MORE_REACTIVE_DEPOSITED_FIRST = 32
    CHLORINE_AS_ATOMS = 33


@dataclass(frozen=True, slots=True)
class ParticleDrawing:
    """A still picture where no cell can show it.

    Parameters
    ----------
    species
        Formulae of what is drawn, one for each particle.
    caption
        What is said beneath.
    """

    species: tuple[str, ...]
    caption: str


@dataclass(frozen=True, slots=True)
class Misconception:
    """One idea of learners.

    Parameters
    ----------
    number
        By which questions, tables and files name it.
    topic
        What it is about.
    wrong, right
        What learners say, and what is so.
    qualification
        What else is true at the bench, without a full stop; an empty text where the rule is all.
    watch
        A cell that shows it, as links write it; an empty text where none does.
    drawing
        What is drawn instead, where no cell shows it.
    """

    number: int
    topic: str
    wrong: str
    right: str
    qualification: str
    watch: str
    drawing: ParticleDrawing | None


@cache
def misconceptions(wording: Wording = DEFAULT_WORDING) -> Mapping[int, Misconception]:
    """Return all of them by their numbers, in the board's wording.

    Examples
    --------
    >>> len(misconceptions()), misconceptions()[9].right
    (33, 'A cation has fewer electrons than protons.')
    >>> from fizzplate.words.wording import Wording
    >>> misconceptions(Wording(electrode_names="negative"))[10].right
    'At the negative electrode ions take electrons from the electrode.'
    >>> misconceptions()[14].drawing.species[:3]
    ('Pb2+', 'Br-', 'Br-')
    """
    found = (
        Misconception(
            int(row.cells.numbers("number")[0]),
            row["topic"],
            say(row.text, wording),
            say(row["truth"], wording),
            say(row["qualification"], wording),
            row["watch"],
            ParticleDrawing(tuple(row["drawing"].split()), say(row["caption"], wording))
            if row["drawing"]
            else None,
        )
        for row in data.rows("misconceptions")
    )
    return MappingProxyType({each.number: each for each in found})


def correction(number: int, wording: Wording = DEFAULT_WORDING) -> str:
    """Return the correction for a learner who has this idea, with the bench where it differs from the rule.

    Examples
    --------
    >>> correction(12).endswith("At the bench some iron is plated all the same.")
    True
    """
    found = misconceptions(wording)[number]
    return f"{found.right} {found.qualification}." if found.qualification else found.right
