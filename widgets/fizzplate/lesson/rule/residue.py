"""What is left in the solution, and why it is alkaline, neutral or acid."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import (
    Equation,
    half_equation,
    ion_list,
    overall,
    parse_formula,
    species_name,
    wording_for,
)
from fizzplate.words import DEFAULT_WORDING, Wording, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from fizzplate.cell import Run
    from fizzplate.chemistry import Rule

MIN_PH_CHANGE = 0.5  # of pH: a colour scale shows no less (a choice)
#: used for the overall equation whatever the board says, because water is plentiful and its ions are not
WATER_REACTS = Wording(oxygen_from="H2O", hydrogen_from="H2O")

#: the least soluble silver halide first
SILVER_TAKES_FIRST = ("I-", "Br-", "Cl-")

#: what becomes of silver ions where there is a halide
LAYER = (
    "{dissolved} from {the_anode} meet {halide} at once: together they make solid {solid}, most of which "
    "stays on {the_anode}."
)

#: what becomes of a halogen in the alkali
AND_HALOGEN: Mapping[str, str] = MappingProxyType(
    {
        "Cl2": "Chlorine that stays in the solution reacts with some of them and makes a bleach.",
        "Br2": "Bromine that meets them reacts with them and loses its colour.",
        "I2": "Iodine that meets them reacts with them and loses its colour.",
    }
)


@dataclass(frozen=True, slots=True)
class Residue:
    """What the classroom rule leaves behind.

    Parameters
    ----------
    overall
        Both half-equations together, with water where it is water that reacts.
    acidity
        "alkaline" or "acid": what the whole liquid becomes once mixed; "as before" for an acid
        or alkali, and where nothing is used but water.
    changes
        Sentences: what changes and why.
    staying
        Sentence on the ions that stay; empty if there are none.
    """

    overall: Equation
    acidity: str
    changes: tuple[str, ...]
    staying: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        """What is left and why."""
        return (self.staying, *self.changes) if self.staying else self.changes


def residue(
    rule: Rule,
    ions_mol_dm3: Mapping[str, float],
    *,
    molten: bool = False,
    wording: Wording = DEFAULT_WORDING,
) -> Residue:
    """Work out what is left when what the rule says has happened.

    Parameters
    ----------
    rule
        What happens.
    ions_mol_dm3
        The ions of the salts, mol/dm3.
    molten
        Whether they are molten, without water.
    wording
        The board's.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> for salt in ("NaCl", "CuSO4", "Na2SO4", "CuCl2"):
    ...     cell = Cell(salt)
    ...     print(salt, residue(cell.rule(), cell.ions_mol_dm3).acidity)
    NaCl alkaline
    CuSO4 acid
    Na2SO4 as before
    CuCl2 as before
    """
    together = overall(
        _with_water(rule.cathode.half_equation, rule.cathode.product, ions_mol_dm3),
        _with_water(rule.anode.half_equation, rule.anode.product, ions_mol_dm3),
    )
    used = {species for _, species in together.reactants}
    made = {species for _, species in together.products}
    if not together.reactants:
        template = "As much {metal} dissolves as is deposited: the solution stays as it is."
        unchanged = say(template, wording, metal=species_name(rule.cathode.product))
        return Residue(together, "as before", (unchanged,))
    acidity, change = _change_of_solution(used, made, ions_mol_dm3, molten=molten)
    dissolved = _dissolved(made)
    taken = _halide(ions_mol_dm3) if "Ag+" in made else ""
    staying_ions = [ion for ion in ions_mol_dm3 if ion not in {*used, "H+", "OH-", taken}]
    staying = "{unchanged} are not discharged: they stay." if staying_ions else ""
    if "Cu2+" in used:
        change.append("The blue fades.")
    if dissolved and "OH-" not in made:
        change.append(
            LAYER if taken else "{dissolved} from {the_anode} are now in the solution too."
        )
    slots = {
        "unchanged": ion_list(staying_ions),
        "dissolved": ion_list(dissolved),
        "positive": ion_list(_charged(ions_mol_dm3, +1)),
        "negative": ion_list(_charged(ions_mol_dm3, -1)),
        "used": ion_list(ion for ion in ions_mol_dm3 if ion in used),
        "halide": ion_list(filter(None, [_halide(ions_mol_dm3)])),
        "solid": _solid(made, ions_mol_dm3),
    }
    board = wording_for(ions_mol_dm3, wording)
    changes = tuple(say(each, board, **slots) for each in change)
    return Residue(together, acidity, changes, say(staying, board, **slots))


def _change_of_solution(
    used: set[str], made: set[str], ions: Mapping[str, float], *, molten: bool
) -> tuple[str, list[str]]:
    """Return what becomes of the acidity, and sentences that say why."""
    alkaline = (
        "The hydrogen comes from {hydrogen_source}. The water's hydroxide ions are left over with "
        "{positive}: the solution turns alkaline."
    )
    if "OH-" in made and _dissolved(made):
        if "Ag+" in made and _halide(ions):
            return "alkaline", [LAYER, alkaline]
        becomes = "which clouds the solution"
        if "Zn2+" in made and "OH-" in ions:
            becomes = "which dissolves in the alkali"
        cloud = (
            "{dissolved} from {the_anode} meet the hydroxide ions that form at {the_cathode}: together "
            "they make {solid}, "
        )
        return "as before", [f"{cloud}{becomes}."]
    if "OH-" in made:
        return "alkaline", [alkaline, *(AND_HALOGEN[each] for each in AND_HALOGEN if each in made)]
    if "H+" in made:
        acid = (
            "The oxygen comes from {oxygen_source}. The water's hydrogen ions are left over with "
            "{negative}: the solution turns acid."
        )
        return "acid", [acid]
    if used == {"H2O"}:
        stronger = "Only water is used up, so the solution becomes a little more concentrated."
        if {"H+", "OH-"} & set(ions):
            return "as before", [stronger]
        near = "Until the solution is mixed, it is alkaline near {the_cathode} and acid near {the_anode}."
        return "as before", [stronger, near]
    weaker = "{used} are used up, so the solution becomes more dilute."
    return "as before", ["{used} are used up." if molten else weaker]


def _halide(ions: Iterable[str]) -> str:
    """Return the halide that silver ions form a solid with, or an empty text."""
    there = set(ions)
    return next((ion for ion in SILVER_TAKES_FIRST if ion in there), "")


def _solid(made: set[str], ions: Iterable[str]) -> str:
    """Name the solid that an anode's ions make with a halide or with hydroxide ions."""
    halide = _halide(ions)
    if "Ag+" in made:
        solid = data.find("precipitates", cation="Ag+", anion=halide).text if halide else "Ag2O"
        return species_name(solid) if halide else f"solid {species_name(solid)}"
    return "a solid hydroxide"


def _charged(ions: Iterable[str], sign: int) -> list[str]:
    return [ion for ion in ions if parse_formula(ion).charge * sign > 0]


def _dissolved(made: Iterable[str]) -> list[str]:
    """List the ions that an anode gives."""
    return [ion for ion in _charged(made, +1) if ion != "H+"]


def _with_water(equation: Equation, product: str, ions: Mapping[str, float]) -> Equation:
    """Return the half-equation with water as the reactant, unless the solution is an acid or alkali."""
    source = wording_for(ions, WATER_REACTS).source_of(product)
    if not source or any(species == "O2-" for _, species in equation.reactants):
        return replace(equation, electrons_taken=False)
    return half_equation(product, source=source, states=equation.states)


def acidity_statement(acidity: str, run: Run, wording: Wording = DEFAULT_WORDING) -> str:
    """Say what the solution becomes: the whole of it by the rule, and at the electrodes as in the run.

    Parameters
    ----------
    acidity
        What the rule leaves, from :class:`Residue`.
    run
        What happened.
    wording
        The board's.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> acidity_statement("as before", Cell("Na2SO4").run(minutes=5, samples=5))
    'after mixing (for an exam): as before; before mixing: alkaline at the cathode, acid at the anode'
    """
    cathode, anode = (
        _change(float(record.pH[0]), float(record.pH[-1])) for record in (run.cathode, run.anode)
    )
    faces = (
        "{at_cathode} at both electrodes"
        if cathode == anode
        else "{at_cathode} at {the_cathode}, {at_anode} at {the_anode}"
    )
    return say(
        "after mixing (for an exam): {acidity}; before mixing: " + faces,
        wording,
        acidity=acidity,
        at_cathode=cathode,
        at_anode=anode,
    )


def _change(before: float, after: float) -> str:
    """Word a change of pH at an electrode."""
    if abs(after - before) < MIN_PH_CHANGE:
        return "as before"
    if after > before:
        more, less, already = "alkaline", "less acid", before > 7 + MIN_PH_CHANGE
        there = after > 7
    else:
        more, less, already = "acid", "less alkaline", before < 7 - MIN_PH_CHANGE
        there = after < 7
    return f"more {more}" if already else more if there else less


def overall_sentence(together: Equation, wording: Wording = DEFAULT_WORDING) -> str:
    """Write the overall equation, or that nothing changes but the electrodes."""
    if not together.reactants:
        return say(
            "Overall nothing changes: metal moves from {the_anode} to {the_cathode}.", wording
        )
    return f"Overall: {together.pretty()}."


def ions_with_water(ions_mol_dm3: Mapping[str, float]) -> tuple[str, ...]:
    """List the ions of a solution, those of the water last.

    Examples
    --------
    >>> ions_with_water({"H+": 1.0, "Cl-": 1.0})
    ('H+', 'Cl-', 'OH-')
    """
    return tuple(dict.fromkeys((*ions_mol_dm3, "H+", "OH-")))
