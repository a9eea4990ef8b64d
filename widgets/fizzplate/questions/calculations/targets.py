"""What a current is to make, where charge is lost and which layers are plated.

Percentages and layers are common practice of the trade, or rounded for school; densities are from memory,
stand in the question, and are compared with another library's in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.contexts import Scene
from fizzplate.questions.calculations.products import (
    ALUMINIUM,
    BATH_A,
    BATH_TIMES,
    CHLORINE,
    CHROMIUM,
    CLASS_A,
    CLASS_TIMES,
    COPPER,
    HOURS,
    MAGNESIUM,
    NICKEL,
    POT_LINE_A,
    SHIFTS,
    SILVER,
    SMALL_A,
    TANK_A,
    WATER_GASES,
    WORKS_A,
    ZINC,
)

if TYPE_CHECKING:
    from fizzplate.questions.calculations.quantities import Made


@dataclass(frozen=True, slots=True)
class Target:
    """Something that is wanted, with amounts, currents and times that suit it."""

    says: str
    made: tuple[Made, ...]
    amounts: tuple[float, ...]
    unit: str
    currents_A: tuple[float, ...]
    times: tuple[tuple[float, str], ...]
    watch: str = ""
    beside: bool = False


#: what a current is to make
TARGETS = (
    Target(
        "A class wants {amount} of {name} on {a_cathode} in copper(II) sulfate solution.",
        (COPPER,),
        (60, 80, 90, 100, 120, 150, 180, 200, 240),
        "mg",
        CLASS_A,
        CLASS_TIMES,
        "CuSO4",
    ),
    Target(
        "A group wants to weigh {amount} of {name} from dilute silver nitrate solution.",
        (SILVER,),
        (50, 60, 80, 90, 120, 150),
        "mg",
        SMALL_A,
        CLASS_TIMES,
        "AgNO3",
    ),
    Target(
        "A medal is to be plated with {amount} of {name}.",
        (SILVER,),
        (0.8, 1.2, 1.5, 2.4, 3.5, 5.0, 6.5),
        "g",
        BATH_A,
        BATH_TIMES,
    ),
    Target(
        "A door handle is to get {amount} of {name} from a bath of nickel(II) sulfate solution.",
        (NICKEL,),
        (0.75, 0.9, 1.2, 1.8, 2.4, 3.6),
        "g",
        BATH_A,
        BATH_TIMES,
        beside=True,
    ),
    Target(
        "A basket of bolts is to be coated with {amount} of {name} from zinc sulfate solution.",
        (ZINC,),
        (2.5, 4.0, 6.0, 8.5, 12.0),
        "g",
        TANK_A,
        BATH_TIMES,
        beside=True,
    ),
    Target(
        "The badge of a car needs {amount} of {name} from a solution of chromium(III) ions.",
        (CHROMIUM,),
        (0.3, 0.45, 0.6, 0.8, 1.1),
        "g",
        BATH_A,
        BATH_TIMES,
        beside=True,
    ),
    Target(
        "A class wants to collect {amount} of {name} from dilute sulfuric acid with platinum electrodes.",
        WATER_GASES,
        (15, 18, 20, 24, 30, 36, 40, 45),
        "cm³",
        CLASS_A,
        CLASS_TIMES,
        "H2SO4,cathode=platinum,anode=platinum",
    ),
    Target(
        "A gas test needs {amount} of {name} from sodium sulfate solution with inert electrodes.",
        WATER_GASES,
        (10, 12, 16, 20, 25),
        "cm³",
        CLASS_A,
        CLASS_TIMES,
        "Na2SO4",
    ),
    Target(
        "In the fume cupboard, {amount} of {name} is to be made from concentrated sodium chloride solution.",
        (CHLORINE,),
        (12, 15, 20, 25, 30),
        "cm³",
        CLASS_A,
        CLASS_TIMES,
        "NaCl,c=2",
    ),
    Target(
        "A works wants to store {amount} of {name} that it makes from potassium hydroxide solution.",
        WATER_GASES,
        (6, 8, 12, 18, 24, 36),
        "dm³",
        TANK_A,
        HOURS,
    ),
)


#: baths and melts that lose part of their charge, with percentages that are usual there
LOSSES = (
    (
        Scene(
            "A nickel(II) sulfate bath makes some hydrogen beside the metal: only {percent} % of the charge "
            "deposits {name}. A row of keys is plated, and {passes}.",
            (NICKEL,),
            BATH_A,
            BATH_TIMES,
            "g",
        ),
        (90, 92, 94, 95, 96),
    ),
    (
        Scene(
            "In a zinc sulfate bath {percent} % of the charge deposits {name}; the rest makes hydrogen. "
            "Steel sheet is {the_cathode}, and {passes}.",
            (ZINC,),
            TANK_A,
            BATH_TIMES,
            "g",
        ),
        (80, 85, 88, 90, 93),
    ),
    (
        Scene(
            "Most of the charge in a bath of chromium(III) ions makes hydrogen; just {percent} % deposits "
            "{name}. A shower head is plated while {passes}.",
            (CHROMIUM,),
            BATH_A,
            BATH_TIMES,
            "g",
        ),
        (15, 18, 20, 25),
    ),
    (
        Scene(
            "In a works, molten magnesium chloride is electrolysed; {passes} through one cell, of which "
            "{percent} % makes {name}.",
            (MAGNESIUM,),
            POT_LINE_A,
            SHIFTS,
            "kg",
        ),
        (78, 80, 82, 85, 88),
    ),
    (
        Scene(
            "One cell of an aluminium works holds aluminium oxide in molten cryolite. In it {passes}, and "
            "{percent} % of the charge makes {name}.",
            (ALUMINIUM,),
            POT_LINE_A,
            SHIFTS,
            "kg",
        ),
        (90, 92, 94, 95),
    ),
    (
        Scene(
            "Copper is refined in copper(II) sulfate solution: {passes}. Plates that touch waste some of the "
            "charge, and only {percent} % of it deposits {name} on {the_cathode}.",
            (COPPER,),
            WORKS_A,
            HOURS,
            "g",
        ),
        (88, 90, 93, 95, 97),
    ),
)


@dataclass(frozen=True, slots=True)
class Layer:
    """Something that is plated, with thicknesses and areas that suit it."""

    says: str
    made: Made
    thicknesses: tuple[tuple[float, str], ...]
    areas: tuple[tuple[float, str], ...]
    currents_A: tuple[float, ...]


MICROMETRES = tuple((t, "µm") for t in (5, 8, 10, 12, 15, 20, 25))
MILLIMETRES = tuple((t, "mm") for t in (0.005, 0.01, 0.015, 0.02, 0.025, 0.03))
SMALL_CM2 = tuple((a, "cm²") for a in (24, 30, 45, 60, 80, 120))
WIDE_M2 = tuple((a, "m²") for a in (0.05, 0.08, 0.12, 0.15, 0.25, 0.4))

LAYERS = (
    Layer(
        "A spoon with an area of {area} is to get a layer of {name} that is {thickness} thick.",
        SILVER,
        MICROMETRES,
        SMALL_CM2,
        (0.4, 0.5, 0.6, 0.8, 1.2),
    ),
    Layer(
        "The handles of a cupboard, {area} in all, are to be covered by {thickness} of {name} from "
        "nickel(II) sulfate solution.",
        NICKEL,
        MICROMETRES,
        SMALL_CM2,
        BATH_A,
    ),
    Layer(
        "A motorcycle's exhaust of {area} gets a layer of {name}, {thickness} thick, from a solution of "
        "chromium(III) ions.",
        CHROMIUM,
        MILLIMETRES,
        WIDE_M2,
        TANK_A,
    ),
    Layer(
        "Steel sheet with an area of {area} is coated with {thickness} of {name} from zinc sulfate solution.",
        ZINC,
        MILLIMETRES,
        WIDE_M2,
        TANK_A,
    ),
    Layer(
        "A track on a circuit board, {area} in area, is built up by {thickness} of {name} from copper(II) "
        "sulfate solution.",
        COPPER,
        MICROMETRES,
        SMALL_CM2,
        (0.5, 0.8, 1.2, 1.5, 2.0),
    ),
)
DENSITIES_G_CM3 = {"Ag": 10.49, "Ni": 8.91, "Cr": 7.19, "Zn": 7.14, "Cu": 8.96}
