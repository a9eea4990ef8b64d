"""Where a calculation may happen: a class's practical, a plating bath, a works."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.products import (
    BATH_A,
    BATH_TIMES,
    BRINE_GASES,
    CHLORINE,
    CHROMIUM,
    CLASS_A,
    CLASS_TIMES,
    COPPER,
    HOURS,
    HYDROGEN,
    NICKEL,
    SECONDS,
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
class Scene:
    """A situation with the quantities that suit it.

    Parameters
    ----------
    says
        What happens, with {passes} for the current and its time.
    made
        What may be asked about.
    currents_A, times
        To draw from.
    unit
        Of the mass or the volume.
    watch
        A cell that shows it, as links write it.
    asks
        What is asked, where it is not the usual.
    beside
        Whether something else would form at the cathode too, so that a question has to leave it out.
    """

    says: str
    made: tuple[Made, ...]
    currents_A: tuple[float, ...]
    times: tuple[tuple[float, str], ...]
    unit: str
    watch: str = ""
    asks: tuple[str, ...] = ()
    beside: bool = False


#: metals that settle on a cathode
DEPOSITS = (
    Scene(
        "In a class practical, {passes} through copper(II) sulfate solution.",
        (COPPER,),
        CLASS_A,
        (*CLASS_TIMES, *SECONDS),
        "g",
        "CuSO4",
    ),
    Scene(
        "Two copper electrodes stand in copper(II) sulfate solution, and {passes} between them.",
        (COPPER,),
        CLASS_A,
        CLASS_TIMES,
        "g",
        "CuSO4,cathode=copper,anode=copper",
    ),
    Scene(
        "A copper {anode} dissolves in copper(II) sulfate solution. In one lesson {passes}.",
        (COPPER,),
        CLASS_A,
        CLASS_TIMES,
        "g",
        "CuSO4,cathode=copper,anode=copper",
        (
            "By how many grams does {the_anode} become lighter?",
            "What mass of {name}, in {unit}, leaves {the_anode}?",
        ),
    ),
    Scene(
        "A group electrolyses copper(II) chloride solution between carbon rods: {passes}.",
        (COPPER,),
        CLASS_A,
        CLASS_TIMES,
        "g",
        "CuCl2",
    ),
    Scene(
        "Dilute silver nitrate solution is electrolysed in a small beaker; {passes}.",
        (SILVER,),
        SMALL_A,
        (*CLASS_TIMES, *SECONDS),
        "g",
        "AgNO3",
    ),
    Scene(
        "A fork hangs as {the_cathode} in a silver-plating bath, and {passes} through the bath.",
        (SILVER,),
        BATH_A,
        BATH_TIMES,
        "g",
    ),
    Scene(
        "A bicycle bell is being plated with nickel in nickel(II) sulfate solution: {passes}.",
        (NICKEL,),
        BATH_A,
        BATH_TIMES,
        "g",
        beside=True,
    ),
    Scene(
        "Steel brackets are {the_cathode} in a bath of zinc sulfate solution, where {passes}.",
        (ZINC,),
        BATH_A,
        BATH_TIMES,
        "g",
        beside=True,
    ),
    Scene(
        "A tap gets a bright layer of chromium from a solution of chromium(III) ions while {passes}.",
        (CHROMIUM,),
        BATH_A,
        BATH_TIMES,
        "g",
        beside=True,
    ),
    Scene(
        "The holes of a circuit board are lined with copper from copper(II) sulfate solution; {passes}.",
        (COPPER,),
        BATH_A,
        BATH_TIMES,
        "g",
    ),
    Scene(
        "Copper is refined in a works. In one cell of copper(II) sulfate solution, {passes} from an impure "
        "{anode} to a pure {cathode}.",
        (COPPER,),
        WORKS_A,
        HOURS,
        "g",
    ),
)

#: gases from solutions
GASES = (
    Scene(
        "Dilute sulfuric acid is electrolysed with platinum electrodes; {passes}.",
        WATER_GASES,
        CLASS_A,
        (*CLASS_TIMES, *SECONDS),
        "cm³",
        "H2SO4,cathode=platinum,anode=platinum",
    ),
    Scene(
        "In a class practical, {passes} through sodium sulfate solution between inert electrodes.",
        WATER_GASES,
        CLASS_A,
        CLASS_TIMES,
        "cm³",
        "Na2SO4",
    ),
    Scene(
        "Magnesium sulfate solution is split between carbon rods that do not react, and {passes}.",
        WATER_GASES,
        CLASS_A,
        CLASS_TIMES,
        "cm³",
        "MgSO4",
    ),
    Scene(
        "Potassium nitrate solution is split in a dish between platinum wires, and {passes}.",
        WATER_GASES,
        SMALL_A,
        (*CLASS_TIMES, *SECONDS),
        "cm³",
        "KNO3,in=dish,cathode=platinum,anode=platinum",
    ),
    Scene(
        "A U-tube holds concentrated sodium chloride solution, and {passes} between two carbon rods.",
        BRINE_GASES,
        CLASS_A,
        CLASS_TIMES,
        "cm³",
        "NaCl,c=2",
    ),
    Scene(
        "A demonstration in the fume cupboard electrolyses hydrochloric acid: {passes}.",
        BRINE_GASES,
        CLASS_A,
        CLASS_TIMES,
        "cm³",
        "HCl",
    ),
    Scene(
        "Sodium hydroxide solution is split between nickel plates in a cell that fills balloons: {passes}.",
        WATER_GASES,
        TANK_A,
        BATH_TIMES,
        "dm³",
    ),
    Scene(
        "A test cell for brine at a chemical works runs steadily; {passes}.",
        BRINE_GASES,
        TANK_A,
        HOURS,
        "dm³",
    ),
    Scene(
        "A small electrolyser on a boat splits potassium hydroxide solution, and {passes} through it.",
        WATER_GASES,
        TANK_A,
        HOURS,
        "dm³",
    ),
)

#: charges alone
CHARGES = (
    Scene(
        "An ammeter stands in series with a cell of sodium sulfate solution, and {passes}.",
        (HYDROGEN,),
        CLASS_A,
        CLASS_TIMES,
        "C",
        "Na2SO4",
    ),
    Scene(
        "A crystal on damp filter paper is watched while {passes} through the paper.",
        (HYDROGEN,),
        SMALL_A,
        CLASS_TIMES,
        "C",
    ),
    Scene(
        "A dish of salt solution is electrolysed: {passes}.",
        (HYDROGEN,),
        SMALL_A,
        CLASS_TIMES,
        "C",
    ),
    Scene(
        "A student electrolyses copper(II) sulfate solution, and {passes}.",
        (COPPER,),
        CLASS_A,
        CLASS_TIMES,
        "C",
        "CuSO4",
    ),
    Scene(
        "Spoons hang in a silver-plating bath while {passes}.",
        (SILVER,),
        BATH_A,
        BATH_TIMES,
        "C",
    ),
    Scene(
        "Brine is electrolysed in a small cell at a works: {passes}.",
        (CHLORINE,),
        TANK_A,
        ((30, "min"), (45, "min"), (50, "min"), (1, "h")),
        "C",
    ),
)
