"""From current and time to mass and volume, and back, with every step of the arithmetic shown."""

from __future__ import annotations

from fizzplate.chemistry import (
    FARADAY_C_MOL,
    half_equation,
    molar_mass_g_mol,
    parse_formula,
    species_name,
)
from fizzplate.chemistry.substances import GASES, gas_volume_cm3
from fizzplate.lesson.measure.calculation_steps import (
    EXACT_FARADAY,
    Step,
    as_given,
    charge_step,
    current_step,
    duration_step,
    electrons_step,
    mass_step,
    moles_step,
    needed_charge_step,
    needed_step,
    seconds_step,
    share_step,
    significant,
)
from fizzplate.words import NO_BREAK, choice, number

IONS = {"Fe": "Fe2+", "Cl2": "Cl-", "Br2": "Br-", "I2": "I-"}  # that each product is made of
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
    return half_equation(product, source=IONS.get(product)).electrons


def particle_of(formula: str, name: str) -> str:
    """Name one particle of a substance.

    Examples
    --------
    >>> particle_of("Cu", "copper"), particle_of("Cl2", "chlorine")
    ('atom of copper', 'molecule of chlorine')
    """
    atoms = sum(parse_formula(formula).elements.values())
    return f"{'molecule' if atoms > 1 else 'atom'} of {name}"


def amount_working(
    product: str,
    current_A: float,
    minutes: float,
    *,
    seconds: float = 0.0,
    temperature_C: float = 25.0,
    pressure_kPa: float = 101.325,
    figures: int = 3,
) -> list[str]:
    """Show how much a current makes in a time, step by step.

    Examples
    --------
    >>> for step in amount_working("Cu", 0.2, 20):
    ...     print(step)
    Time in seconds: 20 min × 60 = 1200 s
    Charge: Q = I × t = 0.2 A × 1200 s = 240 C
    Moles of electrons: 240 C ÷ 96 485 C/mol = 0.00249 mol
    2 electrons pass for each atom of copper: 0.00249 mol ÷ 2 = 0.00124 mol
    Mass: 0.00124 mol × 63.5 g/mol = 0.0790 g
    """
    number("current_A", current_A, unit="A", above=0)
    first, lasts_s = _time_step(minutes, seconds)
    electrons = electrons_for(product)
    charge = current_A * lasts_s
    of_electrons = charge / FARADAY_C_MOL
    particle = particle_of(product, species_name(product))
    steps = (
        first,
        charge_step(current_A, lasts_s),
        electrons_step(as_given(charge), of_electrons, EXACT_FARADAY),
        share_step(particle, electrons, of_electrons, figures),
        _last_step(product, of_electrons / electrons, temperature_C, pressure_kPa, figures),
    )
    return [step.sentence(figures) for step in steps]


def time_or_current_working(
    product: str,
    mass_g: float | None = None,
    *,
    volume_cm3: float | None = None,
    current_A: float | None = None,
    minutes: float | None = None,
    seconds: float = 0.0,
    temperature_C: float = 25.0,
    pressure_kPa: float = 101.325,
    figures: int = 3,
) -> list[str]:
    """Show which time a current needs for a mass or a gas's volume, or which current a time needs.

    Examples
    --------
    >>> time_or_current_working("Cu", 0.079, current_A=0.2)[-1]
    'Time: t = Q ÷ I = 240 C ÷ 0.2 A = 1200 s = 20.0 min'
    >>> for step in time_or_current_working("H2", volume_cm3=30, current_A=0.2):
    ...     print(step)
    Moles of hydrogen: 30 cm³ ÷ 24 465 cm³/mol (25 °C, 101.325 kPa, dry) = 0.00123 mol
    2 electrons pass for each molecule of hydrogen: 0.00123 mol × 2 = 0.00245 mol
    Charge: 0.00245 mol × 96 485 C/mol = 237 C
    Time: t = Q ÷ I = 237 C ÷ 0.2 A = 1180 s = 19.7 min = 19 min 40 s
    """
    electrons, name = electrons_for(product), species_name(product)
    if volume_cm3 is not None:
        first = _moles_of_gas(product, volume_cm3, temperature_C, pressure_kPa)
    else:
        molar = molar_mass_g_mol(product)
        mass = number("mass_g", mass_g, unit="g", above=0)
        first = moles_step(name, as_given(mass), f"{molar:.4g}", mass / molar)
    moles = first.value
    charge = moles * electrons * FARADAY_C_MOL
    steps = [
        first,
        needed_step(particle_of(product, name), electrons, moles, figures),
        needed_charge_step(moles * electrons, charge, EXACT_FARADAY, figures),
    ]
    if current_A is not None:
        number("current_A", current_A, unit="A", above=0)
        lasts_s = charge / current_A
        lasts = duration_step(significant(charge, figures), current_A, lasts_s).sentence(figures)
        shown_s = float(f"{lasts_s:.{figures - 1}e}")
        said = f"{lasts} = {significant(lasts_s / 60, figures)}{NO_BREAK}min{_clock(shown_s)}"
        return [*(step.sentence(figures) for step in steps), said]
    _, wanted = _time_step(minutes, seconds)
    steps.append(current_step(significant(charge, figures), wanted, charge / wanted))
    return [step.sentence(figures) for step in steps]


def _time_step(minutes: float | None, seconds: float) -> tuple[Step, float]:
    """Turn minutes and seconds into seconds; with seconds alone or none there is less to write."""
    number("seconds", seconds, unit="s", minimum=0)
    if not seconds:
        step = seconds_step(number("minutes", minutes, unit="minutes", above=0), "min")
    else:
        number("minutes", minutes, unit="minutes", minimum=0)
        working = (
            f"Time in seconds: {as_given(minutes or 0)}{NO_BREAK}min × 60 + "
            f"{as_given(seconds)}{NO_BREAK}s"
        )
        step = Step(working, 60 * (minutes or 0) + seconds, "s", exact=True)
    return step, step.value


def _clock(lasts_s: float) -> str:
    """Write a time in whole minutes and seconds, where it is not a whole number of minutes anyhow."""
    minutes, seconds = divmod(round(lasts_s), 60)
    return f" = {minutes}{NO_BREAK}min {seconds}{NO_BREAK}s" if seconds else ""


def _moles_of_gas(
    product: str, volume_cm3: float, temperature_C: float, pressure_kPa: float
) -> Step:
    choice("product", product, GASES)
    number("volume_cm3", volume_cm3, unit="cm3", above=0)
    per_mole = float(gas_volume_cm3(1.0, temperature_C=temperature_C, pressure_kPa=pressure_kPa))
    return Step(
        f"Moles of {species_name(product)}: {as_given(volume_cm3)}{NO_BREAK}cm³ ÷ "
        f"{significant(per_mole, 5)}{NO_BREAK}cm³/mol "
        f"({temperature_C:g}{NO_BREAK}°C, {pressure_kPa:g}{NO_BREAK}kPa, dry)",
        volume_cm3 / per_mole,
        "mol",
    )


def _last_step(
    product: str, moles: float, temperature_C: float, pressure_kPa: float, figures: int
) -> Step:
    """Find the volume of a gas, or the mass of anything else."""
    if product in GASES:
        per_mole = float(
            gas_volume_cm3(1.0, temperature_C=temperature_C, pressure_kPa=pressure_kPa)
        )
        working = (
            f"Volume: {significant(moles, figures)}{NO_BREAK}mol × "
            f"{significant(per_mole, 5)}{NO_BREAK}cm³/mol"
        )
        room = f"cm³ ({temperature_C:g}{NO_BREAK}°C, {pressure_kPa:g}{NO_BREAK}kPa, dry)"
        return Step(working, moles * per_mole, room)
    molar = molar_mass_g_mol(product)
    return mass_step(moles, f"{molar:.3g}", moles * molar, figures)
