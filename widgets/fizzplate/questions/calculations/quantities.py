"""What a calculation gives: what is made, a current for a time or a charge, and the data to take."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fizzplate.chemistry import half_equation, molar_mass_g_mol, parse_formula, pretty
from fizzplate.chemistry.substances import GASES
from fizzplate.lesson.measure import (
    ROUND_FARADAY,
    Step,
    charge_step,
    figures_of,
    particle_of,
    seconds_step,
    significant,
)
from fizzplate.questions.calculations.parts import Link, Slip
from fizzplate.questions.content import Constant, datum
from fizzplate.questions.misconceptions import Idea
from fizzplate.words import NO_BREAK, Rendering, number_text, with_unit

#: as the questions give it, so that every line of a working comes out as it is printed
TAKEN_FARADAY_C_MOL = 96_500.0
FARADAY = Constant("Faraday constant", datum("F", ROUND_FARADAY))
TIME_UNITS = {"min": ("minute", 60), "h": ("hour", 3600), "s": ("second", 1)}


@dataclass(frozen=True, slots=True)
class Product:
    """What a charge makes: its formula, the ion that is discharged, and its name.

    Examples
    --------
    >>> chlorine = Product("Cl2", "Cl-", "chlorine")
    >>> chlorine.electrons, chlorine.molar_g_mol, chlorine.particle
    (2, 70.9, 'molecule of chlorine')
    """

    formula: str
    source: str
    name: str

    @property
    def electrons(self) -> int:
        """Electrons that pass for each atom or molecule."""
        return half_equation(self.formula, source=self.source).electrons

    @property
    def molar_g_mol(self) -> float:
        """Molar mass as a question gives it."""
        return round(molar_mass_g_mol(self.formula), 1)

    @property
    def per_charge_mol(self) -> float:
        """Moles made by one coulomb."""
        return 1 / (self.electrons * TAKEN_FARADAY_C_MOL)

    @property
    def particle(self) -> str:
        """One of it in words."""
        return particle_of(self.formula, self.name)

    @property
    def electrode(self) -> str:
        """Where it forms."""
        return "cathode" if parse_formula(self.source).charge > 0 else "anode"

    @property
    def is_gas(self) -> bool:
        """Whether its volume can be asked for."""
        return self.formula in GASES

    @property
    def molar(self) -> str:
        """Molar mass as a question prints it."""
        return datum(f"M({pretty(self.formula)})", f"{self.molar_g_mol:.1f}{NO_BREAK}g/mol")


@dataclass(frozen=True, slots=True)
class Duration:
    """A time in "min", "h" or "s".

    Examples
    --------
    >>> Duration(20, "min").words, Duration(1, "h").words, Duration(1.5, "h").seconds
    ('20.0 minutes', '1.00 hour', 5400.0)
    """

    time: float
    unit: str

    @property
    def seconds(self) -> float:
        """The time in seconds."""
        return self.time * TIME_UNITS[self.unit][1]

    @property
    def words(self) -> str:
        """The time in words."""
        word = TIME_UNITS[self.unit][0]
        return with_unit(measured(self.time), word if self.time == 1 else f"{word}s")

    def links(self, *, needed: bool = False) -> list[Link]:
        """Return the step from the time to seconds.

        Parameters
        ----------
        needed
            Whether the answer falls as the time grows: a current that is needed.
        """
        if self.unit == "s":
            return []
        word, each = TIME_UNITS[self.unit]
        slips = [Slip(1 / each, f"The {word}s were not converted into seconds.")]
        if self.unit == "h":
            slips.append(Slip(1 / 60, "The hours were converted into minutes, not into seconds."))
        if needed:
            slips = [replace(slip, times=1 / slip.times) for slip in slips]
        return [Link("time", seconds_step(self.time, self.unit), tuple(slips), joined=True)]


@dataclass(frozen=True, slots=True)
class Flow:
    """A steady current for a time.

    Parameters
    ----------
    current_A
        The current.
    time, unit
        How long, in "min", "h" or "s".
    milli
        Whether the current is given in milliamperes.
    verb
        What the current does.
    """

    current_A: float
    time: float
    unit: str = "min"
    milli: bool = False
    verb: str = "flows"

    @property
    def duration(self) -> Duration:
        """The time."""
        return Duration(self.time, self.unit)

    @property
    def charge_C(self) -> float:
        """The charge that passes."""
        return round(self.current_A * self.duration.seconds, 6)

    @property
    def current(self) -> str:
        """The current in words."""
        if self.milli:
            return f"{measured(1000 * self.current_A)}{NO_BREAK}mA"
        return amperes(self.current_A)

    @property
    def passes(self) -> str:
        """What happens, in words.

        Examples
        --------
        >>> Flow(0.25, 20).passes, Flow(0.04, 1, "h", milli=True, verb="passes").passes
        ('a current of 0.250 A flows for 20.0 minutes', 'a current of 40.0 mA passes for 1.00 hour')
        """
        return f"a current of {self.current} {self.verb} for {self.duration.words}"

    def links(self) -> list[Link]:
        """Return the way to the charge."""
        links = self.duration.links()
        if self.milli:
            working = f"Current in amperes: {self.current} ÷ 1000"
            slip = Slip(1000, "The milliamperes were not converted into amperes.")
            step = Step(working, self.current_A, "A", exact=True)
            links.insert(0, Link("amperes", step, (slip,), joined=True))
        return [*links, Link("charge", charge_step(self.current_A, self.duration.seconds))]


@dataclass(frozen=True, slots=True)
class Coulombs:
    """A charge that is given itself; a large one may be written with a power of ten.

    Examples
    --------
    >>> Coulombs(3.33e5, power=True).passes
    'a charge of 3.33 × 10⁵ C passes'
    """

    charge_C: float
    power: bool = False

    @property
    def passes(self) -> str:
        """What happens, in words."""
        shown = measured(self.charge_C)
        if self.power:
            figures = max(3, figures_of(self.charge_C))
            shown = number_text(self.charge_C, Rendering.PAGE, spec=f".{figures - 1}e")
        return f"a charge of {shown}{NO_BREAK}C passes"

    def links(self) -> list[Link]:
        """Return the way to the charge: there is none."""
        return []


def measured(value: float) -> str:
    """Write a number as data give it: with three figures at least, because answers have three.

    Examples
    --------
    >>> measured(20), measured(0.035), measured(2.125)
    ('20.0', '0.0350', '2.125')
    """
    return significant(value, max(3, figures_of(value)))


def amperes(current_A: float) -> str:
    """Write a current as a meter shows it.

    Examples
    --------
    >>> amperes(0.4), amperes(0.035), amperes(100_000)
    ('0.400 A', '0.0350 A', '100 000 A')
    """
    return f"{measured(current_A)}{NO_BREAK}A"


def electron_slips(product: Product, *, needed: bool = False) -> tuple[Slip, ...]:
    """Return what goes wrong with the electrons of a product.

    Parameters
    ----------
    product
        The product.
    needed
        Whether the answer grows with the electrons: it leads to a charge, not from one.

    Examples
    --------
    >>> [slip.times for slip in electron_slips(Product("Ag", "Ag+", "silver"))]
    [0.5, 2]
    """
    right = product.electrons
    passing = "electron passes" if right == 1 else "electrons pass"
    slips = []
    for wrong in dict.fromkeys((1, 2, 2 * right)):
        if wrong == right:
            continue
        times = wrong / right if needed else right / wrong
        if wrong == 1:
            reason = f"The {right} electrons for each {product.particle} were left out."
        else:
            reason = f"{right} {passing} for each {product.particle}, not {wrong}."
        # whoever lets chlorine leave as single atoms counts one electron for each
        is_atoms = wrong == 1 and product.formula == "Cl2"
        idea = Idea.CHLORINE_AS_ATOMS if is_atoms else 0
        slips.append(Slip(times, reason, misconception=idea))
    if right > 1:
        does, not_that = ("Multiply", "divide") if needed else ("Divide", "multiply")
        reason = f"{does} by the {right} electrons; do not {not_that} by them."
        slips.append(Slip(right**-2 if needed else right**2, reason))
    else:
        slips.append(Slip(0.5 if needed else 2, f"{right} {passing} for each {product.particle}."))
    return tuple(slips)
