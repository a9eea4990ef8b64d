"""From current and time to mass and volume, and back, with every step of the arithmetic shown."""

from __future__ import annotations

from fizzplate.chemistry import half_equation, molar_mass_g_mol, pretty, species_name
from fizzplate.chemistry.checks import choice, number
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.chemistry.gases import GASES, gas_volume_cm3

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
    Each copper (Cu) needs 2 electrons: 0.00249 mol ÷ 2 = 0.00124 mol
    Mass: 0.00124 mol × 63.5 g/mol = 0.0790 g
    """
    number("current_A", current_A, unit="A", above=0)
    number("minutes", minutes, unit="minutes", above=0)
    electrons = electrons_for(product)
    seconds = 60 * minutes
    charge = current_A * seconds
    of_electrons = charge / FARADAY_C_MOL
    moles = of_electrons / electrons
    return [
        f"Time in seconds: {_plain(minutes)} min × 60 = {_plain(seconds)} s",
        f"Charge: Q = I × t = {_plain(current_A)} A × {_plain(seconds)} s = {_plain(charge)} C",
        f"Moles of electrons: {_plain(charge)} C ÷ 96 485 C/mol = {_rounded(of_electrons, figures)} mol",
        (
            f"Each {_named(product)} needs {electrons} electron{'s' if electrons > 1 else ''}: "
            f"{_rounded(of_electrons, figures)} mol ÷ {electrons} = {_rounded(moles, figures)} mol"
        ),
        _last_step(product, moles, temperature_C, pressure_kPa, figures),
    ]


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
    electrons = electrons_for(product)
    molar = molar_mass_g_mol(product)
    moles = mass_g / molar
    charge = moles * electrons * FARADAY_C_MOL
    steps = [
        f"Moles: {_plain(mass_g)} g ÷ {molar:.4g} g/mol = {_rounded(moles, figures)} mol",
        (
            f"Moles of electrons: {_rounded(moles, figures)} mol × {electrons} = "
            f"{_rounded(moles * electrons, figures)} mol"
        ),
        f"Charge: {_rounded(moles * electrons, figures)} mol × 96 485 C/mol = {_rounded(charge, figures)} C",
    ]
    if current_A is not None:
        number("current_A", current_A, unit="A", above=0)
        seconds = charge / current_A
        return [
            *steps,
            (
                f"Time: t = Q ÷ I = {_rounded(charge, figures)} C ÷ {_plain(current_A)} A = "
                f"{_rounded(seconds, figures)} s = {_rounded(seconds / 60, figures)} min"
            ),
        ]
    wanted = number("minutes", minutes, unit="minutes", above=0)
    return [
        *steps,
        (
            f"Current: I = Q ÷ t = {_rounded(charge, figures)} C ÷ {_plain(60 * wanted)} s = "
            f"{_rounded(charge / (60 * wanted), figures)} A"
        ),
    ]


def _last_step(
    product: str, moles: float, temperature_C: float, pressure_kPa: float, figures: int
) -> str:
    if product in GASES:
        per_mole = float(
            gas_volume_cm3(1.0, temperature_C=temperature_C, pressure_kPa=pressure_kPa)
        )
        return (
            f"Volume: {_rounded(moles, figures)} mol × {per_mole:.0f} cm³/mol = "
            f"{_rounded(moles * per_mole, figures)} cm³ ({temperature_C:g} °C, {pressure_kPa:g} kPa, dry)"
        )
    molar = molar_mass_g_mol(product)
    return f"Mass: {_rounded(moles, figures)} mol × {molar:.3g} g/mol = {_rounded(moles * molar, figures)} g"


def _named(product: str) -> str:
    return f"{species_name(product)} ({pretty(product)})"


def _plain(value: float) -> str:
    return f"{value:.6g}"


def _rounded(value: float, figures: int) -> str:
    """Write a value to significant figures, zeros at the end kept, as schools do."""
    if value == 0:
        return "0"
    text = f"{value:#.{figures}g}".rstrip(".")
    return (
        text
        if "e" not in text
        else f"{float(text):.0f}"
        if abs(value) >= 1
        else f"{value:.{figures - 1}e}"
    )
