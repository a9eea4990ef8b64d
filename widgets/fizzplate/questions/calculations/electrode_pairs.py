"""What forms at both electrodes of a cell or a melt, or in two cells that carry the same current."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.products import (
    ALUMINIUM,
    BROMINE,
    CALCIUM,
    CHLORINE,
    CHROMIUM,
    COPPER,
    HYDROGEN,
    LEAD,
    MAGNESIUM,
    NICKEL,
    OXIDE_OXYGEN,
    OXYGEN,
    POTASSIUM,
    SILVER,
    SODIUM,
    ZINC,
)

if TYPE_CHECKING:
    from fizzplate.questions.calculations.quantities import Made


@dataclass(frozen=True, slots=True)
class Pair:
    """A cell with its products at the cathode and at the anode, and how links write it."""

    says: str
    cathode: Made
    anode: Made
    watch: str = ""


WITH_METAL = (
    Pair(
        "Copper(II) sulfate solution is electrolysed with carbon electrodes.",
        COPPER,
        OXYGEN,
        "CuSO4",
    ),
    Pair(
        "Copper(II) chloride solution is electrolysed between two carbon rods.",
        COPPER,
        CHLORINE,
        "CuCl2",
    ),
    Pair(
        "Silver nitrate solution is electrolysed with platinum electrodes.",
        SILVER,
        OXYGEN,
        "AgNO3,cathode=platinum,anode=platinum",
    ),
    Pair(
        "A beaker of copper(II) nitrate solution is electrolysed with inert electrodes.",
        COPPER,
        OXYGEN,
        "Cu(NO3)2",
    ),
)
WATER_SPLIT = (
    Pair(
        "Sodium sulfate solution is electrolysed with inert electrodes.",
        HYDROGEN,
        OXYGEN,
        "Na2SO4",
    ),
    Pair(
        "Dilute sulfuric acid is electrolysed with platinum electrodes, and both gases are caught in tubes.",
        HYDROGEN,
        OXYGEN,
        "H2SO4,cathode=platinum,anode=platinum",
    ),
    Pair("Sodium hydroxide solution is split between two nickel plates.", HYDROGEN, OXYGEN),
    Pair(
        "A class electrolyses potassium sulfate solution in a U-tube with carbon rods that do not react.",
        HYDROGEN,
        OXYGEN,
        "K2SO4,in=U-tube",
    ),
)
CHLORIDE_SPLIT = (
    Pair(
        "Concentrated sodium chloride solution is electrolysed with carbon rods, and no gas dissolves.",
        HYDROGEN,
        CHLORINE,
        "NaCl,c=2",
    ),
    Pair(
        "Hydrochloric acid is electrolysed in a fume cupboard. The gases are collected once no more of them "
        "dissolves.",
        HYDROGEN,
        CHLORINE,
        "HCl",
    ),
)

#: liquids with what their cathodes gain, for cells one after the other
IN_SERIES = (
    ("copper(II) sulfate solution", COPPER),
    ("silver nitrate solution", SILVER),
    ("a chromium(III) plating bath", CHROMIUM),
    ("a nickel(II) plating bath", NICKEL),
    ("a zinc plating bath", ZINC),
    ("dilute sulfuric acid", HYDROGEN),
)


@dataclass(frozen=True, slots=True)
class Melt:
    """A melt with the metal and the other element that it is split into.

    Parameters
    ----------
    begins
        The sentence that opens a question.
    metal, other
        What forms at the cathode and at the anode.
    place
        "works", "laboratory" or "school": where it is electrolysed.
    """

    begins: str
    metal: Made
    other: Made
    place: str = "works"


MELTS = (
    Melt("Molten sodium chloride is electrolysed to make sodium and chlorine.", SODIUM, CHLORINE),
    Melt("Molten magnesium chloride is split by a current.", MAGNESIUM, CHLORINE),
    Melt("Molten calcium chloride is electrolysed.", CALCIUM, CHLORINE),
    Melt(
        "Aluminium oxide in molten cryolite is electrolysed. Suppose that all the oxygen leaves as a gas.",
        ALUMINIUM,
        OXIDE_OXYGEN,
    ),
    Melt("Molten potassium chloride is electrolysed.", POTASSIUM, CHLORINE, "laboratory"),
    Melt(
        "Molten zinc chloride is electrolysed under a cover of argon.", ZINC, CHLORINE, "laboratory"
    ),
    Melt(
        "Chromium(III) chloride is electrolysed in a melt of potassium chloride.",
        CHROMIUM,
        CHLORINE,
        "laboratory",
    ),
    Melt(
        "A teacher shows the electrolysis of molten lead(II) bromide in a fume cupboard.",
        LEAD,
        BROMINE,
        "school",
    ),
)
