"""From current and time to mass and volume, and back, with every step of the arithmetic shown."""

from __future__ import annotations

from fizzplate.chemistry import half_equation, molar_mass_g_mol, parse_formula, species_name
from fizzplate.chemistry.checks import choice, number
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.chemistry.gases import GASES, gas_volume_cm3
from fizzplate.lesson.steps import (
    EXACT_FARADAY,
    Step,
    charge_step,
    current_step,
    duration_step,
    electrons_step,
    exact,
    mass_step,
    moles_step,
    needed_charge_step,
    needed_step,
    seconds_step,
    share_step,
    written,
)

SOURCES = {"Fe": "Fe2+", "H2": "H+", "O2": "OH-", "Cl2": "Cl-", "Br2": "Br-", "I2": "I-"}
PRODUCTS = ("Cu", "Ag", "Zn", "Pb", "Ni", "Fe", "Al", "Na", "H2", "O2", "Cl2", "Br2", "I2")


def electrons_for(product: str) -> int:
    """Return the electrons that one atom or molecule of a product needs.

    Examples
    --------
    >>> electrons_for("Al"), electrons_for("O2"), electrons_for("Cl2")
    (3, 4, 2)
    """
    choice("product", product, PRODUCTS)
    if product == "Al":
        return 3
    return half_equation(product, source=SOURCES.get(product)).electrons


def particle_of(formula: str, name: str) -> str:
    """Name one particle of a substance.

    Examples
    --------
    >>> particle_of("Cu", "copper"), particle_of("Cl2", "chlorine")
    ('atom of copper', 'molecule of chlorine')
    """
    atoms = sum(parse_formula(formula).elements.values())
    return f"{'molecule' if atoms > 1 else 'atom'} of {name}"


def forwards(
    product: str,
    current_A: float,
    minutes: float,
    *,
    temperature_C: float = 25.0,
    pressure_kPa: float = 101.325,
    figures: int = 3,
) -> list[str]:
    """Show how much a current makes in a time, step by step.

    Examples
    --------
    >>> for step in forwards("Cu", 0.2, 20):
    ...     print(step)
    Time in seconds: 20 min × 60 = 1200 s
    Charge: Q = I × t = 0.2 A × 1200 s = 240 C
    Moles of electrons: 240 C ÷ 96 485 C/mol = 0.00249 mol
    2 electrons pass for each atom of copper: 0.00249 mol ÷ 2 = 0.00124 mol
    Mass: 0.00124 mol × 63.5 g/mol = 0.0790 g
    """
    number("current_A", current_A, unit="A", above=0)
    number("minutes", minutes, unit="minutes", above=0)
    electrons = electrons_for(product)
    seconds = 60 * minutes
    charge = current_A * seconds
    of_electrons = charge / FARADAY_C_MOL
    particle = particle_of(product, species_name(product))
    steps = (
        seconds_step(minutes, "min"),
        charge_step(current_A, seconds),
        electrons_step(exact(charge), of_electrons, EXACT_FARADAY),
        share_step(particle, electrons, of_electrons, figures),
        _last_step(product, of_electrons / electrons, temperature_C, pressure_kPa, figures),
    )
    return [step.says(figures) for step in steps]


def backwards(
    product: str,
    mass_g: float,
    *,
    current_A: float | None = None,
    minutes: float | None = None,
    figures: int = 3,
) -> list[str]:
    """Show which time a current needs for a mass, or which current a time needs, step by step.

    Examples
    --------
    >>> backwards("Cu", 0.079, current_A=0.2)[-1]
    'Time: t = Q ÷ I = 240 C ÷ 0.2 A = 1200 s = 20.0 min'
    """
    number("mass_g", mass_g, unit="g", above=0)
    electrons, name = electrons_for(product), species_name(product)
    molar = molar_mass_g_mol(product)
    moles = mass_g / molar
    charge = moles * electrons * FARADAY_C_MOL
    steps = [
        moles_step(name, exact(mass_g), f"{molar:.4g}", moles),
        needed_step(particle_of(product, name), electrons, moles, figures),
        needed_charge_step(moles * electrons, charge, EXACT_FARADAY, figures),
    ]
    if current_A is not None:
        number("current_A", current_A, unit="A", above=0)
        seconds = charge / current_A
        lasts = duration_step(written(charge, figures), current_A, seconds).says(figures)
        return [
            *(step.says(figures) for step in steps),
            f"{lasts} = {written(seconds / 60, figures)} min",
        ]
    wanted = 60 * number("minutes", minutes, unit="minutes", above=0)
    steps.append(current_step(written(charge, figures), wanted, charge / wanted))
    return [step.says(figures) for step in steps]


def _last_step(
    product: str, moles: float, temperature_C: float, pressure_kPa: float, figures: int
) -> Step:
    """Find the volume of a gas, or the mass of anything else."""
    if product in GASES:
        per_mole = float(
            gas_volume_cm3(1.0, temperature_C=temperature_C, pressure_kPa=pressure_kPa)
        )
        working = f"Volume: {written(moles, figures)} mol × {per_mole:.0f} cm³/mol"
        room = f"cm³ ({temperature_C:g} °C, {pressure_kPa:g} kPa, dry)"
        return Step(working, moles * per_mole, room)
    molar = molar_mass_g_mol(product)
    return mass_step(moles, f"{molar:.3g}", moles * molar, figures)
