"""Makers of questions with a number for an answer: charge, mass, volume, time, current, ratio, yield."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import molar_mass_g_mol, species_name
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.chemistry.gases import gas_volume_cm3
from fizzplate.lesson.marking import NearMiss, Question
from fizzplate.lesson.working import electrons_for, forwards

if TYPE_CHECKING:
    from fizzplate.lesson.dice import Dice

METALS = ("Cu", "Ag", "Zn", "Pb", "Ni")
GASES_ASKED = ("H2", "O2", "Cl2")
CURRENTS_A = (0.15, 0.20, 0.25, 0.30, 0.40, 0.45, 0.50, 0.60, 0.75, 0.80)
MINUTES = (5, 8, 10, 12, 15, 20, 25, 30, 40, 45)
DAY_CM3 = 24_000.0  # a mole of gas at room temperature, as schools take it
GIVEN = "Use 96 500 C/mol."
NO_SECONDS = "The minutes were not turned into seconds."


def _number(
    maker: str,
    text: str,
    value: float,
    unit: str,
    why: str,
    *,
    level: int = 14,
    marks: int = 2,
    near: tuple[NearMiss, ...] = (),
    topic: str = "quantities",
) -> Question:
    digits = f"{value:#.3g}".rstrip(".")
    shown = digits if "e" not in digits else f"{float(digits):.0f}"
    distinct = tuple(miss for miss in near if abs(miss.value - value) > 0.03 * abs(value))
    return Question(
        maker,
        topic,
        level,
        text,
        "number",
        marks,
        f"{shown} {unit}",
        why,
        value=value,
        unit=unit,
        tolerance=0.012,
        near_misses=distinct,
    )


def _each(metal: str, electrons: int) -> str:
    return f"Each {species_name(metal)} ion takes {electrons} electrons."


def _drawn(dice: Dice) -> tuple[float, int, float]:
    current, minutes = dice.one_of(CURRENTS_A), dice.one_of(MINUTES)
    return current, minutes, current * 60 * minutes


def charge(dice: Dice) -> Question:
    """Ask for a charge."""
    current, minutes, passed = _drawn(dice)
    return _number(
        "charge",
        f"A current of {current:.2f} A flows for {minutes} minutes. How much charge passes, in C?",
        passed,
        "C",
        f"Q = I × t = {current:.2f} A × {60 * minutes} s = {passed:.0f} C.",
        near=(NearMiss(current * minutes, 1, NO_SECONDS),),
    )


def mass(dice: Dice) -> Question:
    """Ask for the mass of a metal."""
    metal = dice.one_of(METALS)
    current, minutes, passed = _drawn(dice)
    electrons, molar = electrons_for(metal), molar_mass_g_mol(metal)
    value = passed / (electrons * FARADAY_C_MOL) * molar
    near = [NearMiss(value / 60, 3, NO_SECONDS)]
    if electrons > 1:
        near.append(
            NearMiss(
                value * electrons, 3, f"Each {species_name(metal)} ion takes {electrons} electrons."
            )
        )
    near.append(NearMiss(value / molar, 3, "That is the amount in moles, not yet the mass."))
    return _number(
        "mass",
        f"{current:.2f} A flow for {minutes} minutes through a solution of a {species_name(metal)} salt. "
        "What mass of "
        f"{species_name(metal)} (M = {molar:.1f} g/mol) is deposited, in g? {GIVEN}",
        value,
        "g",
        " ".join(f"{step}." for step in forwards(metal, current, minutes)),
        level=16,
        marks=4,
        near=tuple(near),
    )


def volume(dice: Dice) -> Question:
    """Ask for the volume of a gas."""
    gas = dice.one_of(GASES_ASKED)
    current, minutes, passed = _drawn(dice)
    electrons = electrons_for(gas)
    value = passed / (electrons * FARADAY_C_MOL) * DAY_CM3
    return _number(
        "gas volume",
        f"{current:.2f} A flow for {minutes} minutes. What volume of {species_name(gas)} forms, in cm³, "
        "if a mole takes "
        f"24 000 cm³? {GIVEN}",
        value,
        "cm³",
        f"{passed:.0f} C ÷ 96 500 C/mol ÷ {electrons} × 24 000 cm³/mol = {value:.3g} cm³.",
        level=16,
        marks=4,
        near=(
            NearMiss(value / 60, 3, NO_SECONDS),
            NearMiss(value * electrons, 3, f"Each molecule needs {electrons} electrons."),
        ),
    )


def time_needed(dice: Dice) -> Question:
    """Ask how long a current needs."""
    metal = dice.one_of(METALS)
    current = dice.one_of(CURRENTS_A)
    milligrams = dice.one_of((50, 80, 100, 120, 150, 200, 250))
    electrons, molar = electrons_for(metal), molar_mass_g_mol(metal)
    seconds = milligrams / 1000 / molar * electrons * FARADAY_C_MOL / current
    return _number(
        "time",
        f"How long must {current:.2f} A flow to deposit {milligrams} mg of {species_name(metal)} "
        f"(M = {molar:.1f} g/mol), in minutes? {GIVEN}",
        seconds / 60,
        "min",
        f"n = m ÷ M; Q = n × {electrons} × 96 500 C/mol; t = Q ÷ I = {seconds:.0f} s = "
        f"{seconds / 60:.3g} min.",
        level=16,
        marks=4,
        near=(
            NearMiss(seconds, 3, "That is the time in seconds."),
            NearMiss(seconds / 60 / electrons, 3, f"Each ion takes {electrons} electrons."),
        ),
    )


def current_needed(dice: Dice) -> Question:
    """Ask which current a time needs."""
    metal, minutes = dice.one_of(METALS), dice.one_of(MINUTES)
    milligrams = dice.one_of((80, 100, 150, 200, 300))
    electrons, molar = electrons_for(metal), molar_mass_g_mol(metal)
    amperes = milligrams / 1000 / molar * electrons * FARADAY_C_MOL / (60 * minutes)
    return _number(
        "current",
        f"Which steady current deposits {milligrams} mg of {species_name(metal)} (M = {molar:.1f} g/mol) "
        f"in {minutes} "
        f"minutes, in A? {GIVEN}",
        amperes,
        "A",
        f"Q = {milligrams / 1000:g} g ÷ {molar:.1f} g/mol × {electrons} × 96 500 C/mol; I = Q ÷ "
        f"{60 * minutes} s = "
        f"{amperes:.3g} A.",
        level=16,
        marks=4,
        near=(
            NearMiss(amperes * 60, 3, NO_SECONDS),
            NearMiss(amperes / electrons, 3, f"Each ion takes {electrons} electrons."),
        ),
    )


def ratio(dice: Dice) -> Question:
    """Ask for the other gas of water."""
    hydrogen = dice.one_of((8.0, 12.0, 18.0, 24.0, 30.0, 36.0, 44.0))
    backwards = dice.number(2) == 0
    given, asked = ("oxygen", "hydrogen") if backwards else ("hydrogen", "oxygen")
    first = hydrogen / 2 if backwards else hydrogen
    value = hydrogen if backwards else hydrogen / 2
    wrong = first / 2 if backwards else first * 2
    return _number(
        "ratio",
        f"Sodium sulfate solution is electrolysed with inert electrodes. {first:g} cm³ of {given} are "
        "made. How much "
        f"{asked}, in cm³, at the same temperature and pressure?",
        value,
        "cm³",
        "Two volumes of hydrogen form for one of oxygen: 4 electrons make 2 H₂ or 1 O₂.",
        near=(
            NearMiss(wrong, 0, "The ratio is the other way round: hydrogen is the larger volume."),
            NearMiss(first, 0, "The volumes are not equal."),
        ),
    )


def percentage_yield(dice: Dice) -> Question:
    """Ask for a percentage yield."""
    current, minutes, passed = _drawn(dice)
    part = dice.one_of((78, 82, 85, 88, 91, 94, 96))
    expected = passed / (2 * FARADAY_C_MOL) * molar_mass_g_mol("Cu")
    measured = round(1000 * expected * part / 100)
    value = 100 * measured / (1000 * expected)
    return _number(
        "yield",
        f"{current:.2f} A flow for {minutes} minutes through copper(II) sulfate solution; the cathode "
        f"gains {measured} mg. "
        f"What is the percentage yield of copper (M = 63.5 g/mol)? {GIVEN}",
        value,
        "%",
        f"Expected: {1000 * expected:.4g} mg; {measured} over that × 100 = {value:.3g} %.",
        level=16,
        marks=4,
        near=(
            NearMiss(value / 2, 3, "Each copper ion takes 2 electrons."),
            NearMiss(1e4 / value, 3, "Divide what was measured by what was expected."),
        ),
    )


def two_steps(dice: Dice) -> Question:
    """Ask for a mass from the gas at the other electrode."""
    gas_cm3 = dice.one_of((12.0, 18.0, 24.0, 30.0, 36.0, 48.0))
    moles = gas_cm3 / DAY_CM3
    value = moles * 2 * molar_mass_g_mol("Cu")
    return _number(
        "two steps",
        f"Copper(II) sulfate solution is electrolysed with inert electrodes. {gas_cm3:g} cm³ of oxygen "
        "form at the anode "
        "(a mole takes 24 000 cm³). What mass of copper (M = 63.5 g/mol) forms at the cathode, in g?",
        value,
        "g",
        f"n(O₂) = {gas_cm3:g} ÷ 24 000 mol; 4 electrons make 1 O₂ or 2 Cu: n(Cu) = 2 × n(O₂); m = "
        f"{value:.3g} g.",
        level=16,
        marks=4,
        near=(
            NearMiss(value / 2, 2, "For every molecule of oxygen two atoms of copper form."),
            NearMiss(
                value / 4,
                2,
                "Both electrodes pass the same electrons: 4 for O₂, 2 for Cu.",
            ),
        ),
    )


def faraday_found(dice: Dice) -> Question:
    """Ask for the Faraday constant from a class's numbers."""
    coulombs = dice.one_of((240, 300, 360, 450, 480, 600))
    off = dice.one_of((0.97, 0.98, 1.02, 1.03))
    grams = round(coulombs / (2 * FARADAY_C_MOL) * molar_mass_g_mol("Cu") * off, 4)
    value = coulombs * molar_mass_g_mol("Cu") / (2 * grams)
    return _number(
        "Faraday constant",
        f"{coulombs} C deposit {grams:.4f} g of copper (M = 63.5 g/mol) from a copper(II) solution. "
        "Which value of the "
        "Faraday constant follows, in C/mol?",
        value,
        "C/mol",
        f"F = Q × M ÷ (2 × m) = {value:.0f} C/mol.",
        level=16,
        marks=3,
        near=(NearMiss(2 * value, 2, "Each copper ion takes 2 electrons."),),
    )


def gas_at_room(dice: Dice) -> Question:
    """Ask for a gas volume by the ideal gas at a room's temperature."""
    celsius = dice.one_of((15, 18, 20, 22, 25))
    millimoles = dice.one_of((0.20, 0.30, 0.40, 0.50, 0.60))
    value = float(gas_volume_cm3(millimoles / 1000, temperature_C=celsius))
    return _number(
        "gas at room temperature",
        f"{millimoles:.2f} mmol of hydrogen form. Which volume is that at {celsius} °C and 101.3 kPa, "
        "dry, in cm³? Use "
        "R = 8.314 J/(mol K).",
        value,
        "cm³",
        f"V = n R T ÷ p with T = {celsius + 273} K: {value:.3g} cm³.",
        level=16,
        marks=3,
        near=(
            NearMiss(value * celsius / (celsius + 273.15), 1, "The temperature must be in kelvin."),
            NearMiss(value / 1000, 2, "Millimoles were not turned into moles."),
        ),
    )
