"""Single steps of a calculation with a charge, each with the number that it gives, as schools write it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from fizzplate.words import NO_BREAK, Rendering, number_text, with_unit

EXACT_FARADAY, ROUND_FARADAY = (  # as they stand in a working
    with_unit(number_text(each, Rendering.PAGE, spec=".0f"), "C/mol") for each in (96_485, 96_500)
)
MOST_FIGURES = 12  # that a number is rounded to
PLAIN_POWERS = range(-4, 6)  # of ten, that are written without one


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a working.

    Parameters
    ----------
    working
        What stands left of the last equals sign.
    value, unit
        What stands right of it.
    exact
        Whether the value follows from the data without rounding.
    figures
        That it is written with, where data with as many lead to it; 0 for those of its place in the working.
    """

    working: str
    value: float
    unit: str
    exact: bool = False
    figures: int = 0

    def sentence(self, figures: int) -> str:
        """Write the step, with its number to significant figures.

        Examples
        --------
        >>> charge_step(0.2, 1200).sentence(3)
        'Charge: Q = I × t = 0.2 A × 1200 s = 240 C'
        """
        exact = self.exact and not self.figures
        shown = as_given(self.value) if exact else significant(self.value, self.figures or figures)
        return f"{self.working} = {with_unit(shown, self.unit)}"


def significant(value: float, figures: int) -> str:
    """Write a number to significant figures: zeros at the end kept, thousands apart, powers of ten raised.

    Examples
    --------
    >>> significant(0.079, 3), significant(1200, 3), significant(1.32e6, 3), significant(4.66e-5, 2)
    ('0.0790', '1200', '1.32 × 10⁶', '4.7 × 10⁻⁵')
    >>> significant(36828, 5), significant(-1.35, 3)
    ('36 828', '−1.35')
    >>> significant(16.15, 3), significant(170.5, 3)  # a half is rounded up, as schools do
    ('16.2', '171')
    """
    if value == 0:
        return "0"
    rounded = _rounded(value, figures)
    power = int(f"{rounded:.{figures - 1}e}".split("e")[1])
    if power not in PLAIN_POWERS:
        return number_text(rounded, Rendering.PAGE, spec=f".{figures - 1}e")
    decimals = max(figures - 1 - power, 0)
    return number_text(rounded, Rendering.PAGE, spec=f".{decimals}f")


def _rounded(value: float, figures: int) -> float:
    """Round to significant figures, a half away from zero, whatever its binary fraction is."""
    if figures > MOST_FIGURES:  # as a file from elsewhere may ask
        return value
    exact = Decimal(f"{value:.{MOST_FIGURES - 1}e}")
    place = Decimal(1).scaleb(exact.adjusted() - figures + 1)
    return float(exact.quantize(place, ROUND_HALF_UP))


def with_power_of_ten(value: float) -> str:
    """Write a number that data give with a power of ten.

    Examples
    --------
    >>> with_power_of_ten(333000.0), with_power_of_ten(20000.0)
    ('3.33 × 10⁵', '2 × 10⁴')
    """
    return number_text(value, Rendering.PAGE, spec=f".{figures_of(value) - 1}e")


def as_given(value: float) -> str:
    """Write a number that data give, with as many figures as it has: six at most, of a large one four.

    Examples
    --------
    >>> as_given(1200.0), as_given(0.25), as_given(333000.0), as_given(1.5552e10)
    ('1200', '0.25', '333 000', '1.555 × 10¹⁰')
    """
    return significant(value, min(figures_of(value), 4 if abs(value) >= 1e6 else 6))


def figures_of(value: float) -> int:
    """Return how many significant figures a number of the data has, six at most.

    Examples
    --------
    >>> figures_of(1200.0), figures_of(36828.0), figures_of(0.25)
    (2, 5, 2)
    """
    return len(f"{value:.5e}".split("e")[0].replace(".", "").rstrip("0").lstrip("-")) or 1


def seconds_step(amount: float, unit: str) -> Step:
    """Turn minutes ("min") or hours ("h") into seconds."""
    each = {"min": 60, "h": 3600}[unit]
    working = f"Time in seconds: {as_given(amount)}{NO_BREAK}{unit} × {each}"
    return Step(working, amount * each, "s", exact=True)


def charge_step(current_A: float, seconds: float) -> Step:
    """Find the charge of a current in a time."""
    working = (
        f"Charge: Q = I × t = {as_given(current_A)}{NO_BREAK}A × {as_given(seconds)}{NO_BREAK}s"
    )
    return Step(working, current_A * seconds, "C", exact=True)


def electrons_step(charge: str, of_electrons_mol: float, faraday: str) -> Step:
    """Find the moles of electrons of a charge that is written."""
    return Step(f"Moles of electrons: {charge}{NO_BREAK}C ÷ {faraday}", of_electrons_mol, "mol")


def share_step(particle: str, electrons: int, of_electrons_mol: float, figures: int) -> Step:
    """Find the moles of what is made by moles of electrons.

    Examples
    --------
    >>> share_step("atom of copper", 2, 0.002487, 3).sentence(3)
    '2 electrons pass for each atom of copper: 0.00249 mol ÷ 2 = 0.00124 mol'
    """
    per_particle = electrons_per_particle(particle, electrons)
    working = f"{per_particle}: {significant(of_electrons_mol, figures)}{NO_BREAK}mol ÷ {electrons}"
    return Step(working, of_electrons_mol / electrons, "mol")


def electrons_per_particle(particle: str, electrons: int) -> str:
    """Say how many electrons pass for each atom or molecule."""
    return f"{electrons} electron{'s pass' if electrons > 1 else ' passes'} for each {particle}"


def moles_step(name: str, mass_g: str, molar: str, moles: float) -> Step:
    """Find the moles of a mass, by a molar mass; both are written."""
    return Step(f"Moles of {name}: {mass_g}{NO_BREAK}g ÷ {molar}{NO_BREAK}g/mol", moles, "mol")


def needed_step(particle: str, electrons: int, moles: float, figures: int) -> Step:
    """Find the moles of electrons that moles of a product need."""
    per_particle = electrons_per_particle(particle, electrons)
    working = f"{per_particle}: {significant(moles, figures)}{NO_BREAK}mol × {electrons}"
    return Step(working, moles * electrons, "mol")


def needed_charge_step(
    of_electrons_mol: float, charge_C: float, faraday: str, figures: int
) -> Step:
    """Find the charge of moles of electrons."""
    return Step(
        f"Charge: {significant(of_electrons_mol, figures)}{NO_BREAK}mol × {faraday}", charge_C, "C"
    )


def duration_step(charge: str, current_A: float, seconds: float) -> Step:
    """Find how long a current needs for a charge that is written."""
    return Step(
        f"Time: t = Q ÷ I = {charge}{NO_BREAK}C ÷ {as_given(current_A)}{NO_BREAK}A", seconds, "s"
    )


def current_step(charge: str, seconds: float, current_A: float) -> Step:
    """Find which current brings a charge that is written in a time."""
    return Step(
        f"Current: I = Q ÷ t = {charge}{NO_BREAK}C ÷ {as_given(seconds)}{NO_BREAK}s", current_A, "A"
    )


def mass_step(moles: float, molar: str, mass_g: float, figures: int) -> Step:
    """Find the mass of moles, by a molar mass that is written."""
    return Step(
        f"Mass: {significant(moles, figures)}{NO_BREAK}mol × {molar}{NO_BREAK}g/mol", mass_g, "g"
    )
