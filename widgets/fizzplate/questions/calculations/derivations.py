"""The steps of a calculation: from a charge to its product, and from a wanted product to the charge."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Protocol

from fizzplate.lesson.measure import (
    ROUND_FARADAY,
    Step,
    as_given,
    electrons_per_particle,
    electrons_step,
    figures_of,
    mass_step,
    moles_step,
    needed_charge_step,
    needed_step,
    share_step,
    significant,
)
from fizzplate.questions.calculations.parts import Link, Slip
from fizzplate.questions.calculations.quantities import TAKEN_FARADAY_C_MOL, electron_slips
from fizzplate.words import NO_BREAK, with_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.calculations.quantities import Product

#: room that a mole of gas takes at room temperature, as schools say, in each unit of volume
ROOM = {"cm³": 24_000.0, "dm³": 24.0}
SIZES = {"g": 1.0, "kg": 1e-3, "mg": 1e3}  # of a gram, in each unit of mass
LEFT_OUT = "That is the amount in moles: go on to the mass."


class ChargeSource(Protocol):
    """A charge, however it is given."""

    @property
    def charge_C(self) -> float:
        """The charge."""

    @property
    def passes(self) -> str:
        """What happens, in words."""

    def links(self) -> list[Link]:
        """Return the way to the charge."""


@dataclass(frozen=True, slots=True)
class ProductAmount:
    """How much of a product is wanted, or was found.

    Parameters
    ----------
    product
        The product.
    size, unit
        How much, in mg, g, kg, cm³ or dm³.
    figures
        That are written at least; more where the number has more.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import Product
    >>> copper = Product("Cu", "Cu2+", "copper")
    >>> ProductAmount(copper, 0.5, "g").amount, ProductAmount(copper, 62, "mg").amount
    ('0.500 g', '62.0 mg')
    """

    product: Product
    size: float
    unit: str
    figures: int = 3

    @property
    def amount(self) -> str:
        """The amount in words."""
        return with_unit(self._number, self.unit)

    @property
    def _number(self) -> str:
        return significant(self.size, max(self.figures, figures_of(self.size)))

    @property
    def moles(self) -> float:
        """The amount in moles, with the molar mass, or the room for a mole, that the question gives."""
        if self.unit in ROOM:
            return self.size / ROOM[self.unit]
        return self.size / SIZES[self.unit] / self.product.molar_g_mol

    @property
    def data(self) -> str:
        """What a question has to give with it."""
        return room_data(self.unit) if self.unit in ROOM else self.product.molar

    def link(self) -> Link:
        """Return the step from the amount to moles."""
        if self.unit in ROOM:
            molar = with_unit(as_given(ROOM[self.unit]), f"{self.unit}/mol")
            working = f"Moles of {self.product.name}: {self.amount} ÷ {molar}"
            return Link("moles", Step(working, self.moles, "mol"))
        grams = self._number if self.unit == "g" else as_given(self.size / SIZES[self.unit])
        step = moles_step(self.product.name, grams, f"{self.product.molar_g_mol:.1f}", self.moles)
        if self.unit == "g":
            return Link("moles", step)
        reason = f"The mass was not converted from {self.unit} into g."
        return Link("moles", step, (Slip(SIZES[self.unit], reason),))


def room_data(unit: str) -> str:
    """Say how much room a mole of gas takes."""
    return f"{significant(ROOM[unit], 3)}{NO_BREAK}{unit} for a mole of gas"


def links_to_product(
    charge_source: ChargeSource,
    product: Product,
    unit: str,
    *,
    percent: float = 100.0,
    figures: int = 3,
) -> list[Link]:
    """Return the way from a charge to what it makes.

    Parameters
    ----------
    charge_source
        The charge, or a current for a time.
    product
        The product.
    unit
        Of mass or volume, for the answer.
    percent
        Part of the charge that makes the product.
    figures
        Of the answer.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> way = links_to_product(Flow(0.2, 20), Product("Cu", "Cu2+", "copper"), "g")
    >>> [link.name for link in way], way[-1].step.sentence(3)
    (['time', 'charge', 'electrons', 'moles', 'end'], 'Mass: 0.001244 mol × 63.5 g/mol = 0.0790 g')
    """
    more = figures + 1
    links = charge_source.links()
    charge = charge_source.charge_C * percent / 100
    shown = as_given(charge_source.charge_C)
    if percent != 100:
        links.append(_useful(charge_source.charge_C, percent))
        shown = as_given(charge)
    moles = charge * product.per_charge_mol
    return [
        *links,
        *links_to_moles(shown, charge, product, figures=more),
        end_link(product, moles, unit, figures=figures),
    ]


def links_to_moles(
    shown: str, charge_C: float, product: Product, *, figures: int = 4
) -> list[Link]:
    """Return the way from a charge, as it is shown, to the moles of a product.

    Where one electron passes for each particle there is nothing to divide by, and no mark for it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> [link.step.sentence(3) for link in links_to_moles("240", 240.0, Product("Ag", "Ag+", "silver"))]
    ['Moles of electrons, and of silver (1 electron passes for each atom of silver): \
240 C ÷ 96 500 C/mol = 0.00249 mol']
    """
    of_electrons = charge_C / TAKEN_FARADAY_C_MOL
    slips = electron_slips(product)
    if product.electrons == 1:
        each = electrons_per_particle(product.particle, 1)
        working = (
            f"Moles of electrons, and of {product.name} ({each}): "
            f"{shown}{NO_BREAK}C ÷ {ROUND_FARADAY}"
        )
        return [Link("moles", Step(working, of_electrons, "mol"), slips)]
    share = share_step(product.particle, product.electrons, of_electrons, figures)
    electrons = electrons_step(shown, of_electrons, ROUND_FARADAY)
    return [Link("electrons", electrons), Link("moles", share, slips)]


def with_one_mark_for_moles(links: Sequence[Link]) -> list[Link]:
    """Let moles of electrons share the mark of the product's moles, in a question with other marks enough.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> way = links_to_product(Flow(0.2, 20), Product("Cu", "Cu2+", "copper"), "g")
    >>> [link.name for link in with_one_mark_for_moles(way) if link.joined]
    ['time', 'electrons']
    """
    return [replace(link, joined=link.joined or link.name == "electrons") for link in links]


def links_to_electrons(moles: float, product: Product) -> list[Link]:
    """Return the way from moles of a product to those of electrons: none where they are the same."""
    if product.electrons == 1:
        return []
    step = needed_step(product.particle, product.electrons, moles, 4)
    return [Link("electrons", step, electron_slips(product, needed=True))]


def _useful(charge_C: float, percent: float) -> Link:
    """Return the step to the part of the charge that makes the product."""
    share = percent / 100
    slips = (
        Slip(1 / share, f"Only {as_given(percent)}{NO_BREAK}% of the charge makes the product."),
        Slip(
            share**-2, f"The useful charge is less than the whole: multiply by {as_given(share)}."
        ),
        Slip((1 - share) / share, "That is the part that is lost."),
    )
    working = f"Charge that makes the product: {as_given(charge_C)}{NO_BREAK}C × {as_given(share)}"
    return Link("useful", Step(working, charge_C * share, "C", exact=True), slips)


def end_link(product: Product, moles: float, unit: str, *, figures: int = 3) -> Link:
    """Return the step from moles to a mass or a volume."""
    more = figures + 1
    if unit in ROOM:
        working = (
            f"Volume: {significant(moles, more)}{NO_BREAK}mol × "
            f"{as_given(ROOM[unit])}{NO_BREAK}{unit}/mol"
        )
        slips = (
            Slip(
                22.4 / 24,
                f"At room temperature one mole of gas takes up 24.0{NO_BREAK}dm³, as given.",
            ),
            Slip(1 / ROOM[unit], "That is the amount in moles: go on to the volume."),
        )
        return Link("end", Step(working, moles * ROOM[unit], unit), slips)
    molar = product.molar_g_mol
    step = mass_step(moles, f"{molar:.1f}", moles * molar, more)
    if unit != "g":
        step = Step(step.sentence(more), step.value * SIZES[unit], unit)
    return Link("end", step, (Slip(1 / molar / SIZES[unit], LEFT_OUT),))


def links_from_electrons(of_electrons: float, product: Product, *, figures: int = 4) -> list[Link]:
    """Return the way from moles of electrons to those of a product: none where they are the same."""
    if product.electrons == 1:
        return []
    step = share_step(product.particle, product.electrons, of_electrons, figures)
    return [Link("moles", step, electron_slips(product))]


def links_to_charge(wanted: ProductAmount, *, figures: int = 3) -> list[Link]:
    """Return the way from what is wanted to the charge for it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> way = links_to_charge(ProductAmount(Product("Cu", "Cu2+", "copper"), 79, "mg"))
    >>> [link.step.sentence(3) for link in way][0]
    'Moles of copper: 0.079 g ÷ 63.5 g/mol = 0.00124 mol'
    """
    more, product = figures + 1, wanted.product
    of_electrons = wanted.moles * product.electrons
    charge = of_electrons * TAKEN_FARADAY_C_MOL
    return [
        wanted.link(),
        *links_to_electrons(wanted.moles, product),
        needed_charge_link(of_electrons, charge, product, figures=more),
    ]


def needed_charge_link(
    of_electrons: float, charge_C: float, product: Product, *, figures: int = 4
) -> Link:
    """Return the step from moles of electrons to a charge; it says so where they are the product's moles.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> needed_charge_link(0.002, 193.0, Product("Ag", "Ag+", "silver")).step.sentence(3)
    'Charge (1 electron passes for each atom of silver): 0.002000 mol × 96 500 C/mol = 193 C'
    """
    if product.electrons > 1:
        step = needed_charge_step(of_electrons, charge_C, ROUND_FARADAY, figures)
        return Link("charge", step)
    each = electrons_per_particle(product.particle, 1)
    amount = significant(of_electrons, figures)
    working = f"Charge ({each}): {amount}{NO_BREAK}mol × {ROUND_FARADAY}"
    return Link("charge", Step(working, charge_C, "C"), electron_slips(product, needed=True))
