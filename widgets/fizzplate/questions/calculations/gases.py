"""Calculations with gases: volumes side by side, and the room that a gas takes in a real room."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import TYPE_CHECKING

from fizzplate.chemistry import pretty
from fizzplate.lesson.measure import (
    Step,
    as_given,
    significant,
)
from fizzplate.questions.calculations.derivations import links_to_moles
from fizzplate.questions.calculations.parts import Link, Slip, number_question, part
from fizzplate.questions.calculations.quantities import FARADAY, measured
from fizzplate.questions.content import Constant, datum
from fizzplate.questions.misconceptions import Idea
from fizzplate.words import DEFAULT_WORDING, NO_BREAK, Rendering, number_text, say

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import ChargeSource
    from fizzplate.questions.calculations.quantities import Product
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

KELVIN = 273  # at 0 °C, as schools take it
ROUND_GAS_J_MOL_K = 8.314
GAS_CONSTANT = f"{ROUND_GAS_J_MOL_K}{NO_BREAK}J/(mol K)"


def ratio(
    given: Product,
    volume_cm3: float,
    wanted: Product,
    *,
    situation: str = "Water is split in a cell.",
    prompt: str = "{volume} of {given} forms. What volume of {name}, in cm³, forms in the same time?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the volume of the gas at the other electrode.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> ratio(Product("H2", "H+", "hydrogen"), 24, Product("O2", "OH-", "oxygen")).answer
    '12.0 cm³'
    """
    share = given.electrons / wanted.electrons
    value = volume_cm3 * share
    slips = _ratio_slips(share, wanted, given)
    working = f"Volume: {as_given(volume_cm3)}{NO_BREAK}cm³ × {as_given(share)}"
    links = [
        Link("ratio", ratio_step(given, wanted), slips),
        Link("end", Step(working, value, "cm³")),
    ]
    if share == 1:  # nothing to multiply by
        both = f"{given.name} and of {wanted.name}"
        working = f"{given.electrons} electrons pass for each molecule of {both}: equal volumes"
        links = [Link("end", Step(working, value, "cm³"), slips)]
    shown = say(
        prompt,
        wording,
        volume=f"{measured(volume_cm3)}{NO_BREAK}cm³",
        given=given.name,
        name=wanted.name,
    )
    text = f"{situation} {shown} Both gases are measured at the same temperature and pressure."
    return number_question(text, [part(links)], watch=watch)


def share_of_both(
    first: Product,
    other: Product,
    total_cm3: float,
    *,
    situation: str = "Water is split in a cell.",
    prompt: str = "Together the two gases take up {volume}. How much of that is {name}, in cm³?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask how much of both gases together is the first of them.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> share_of_both(Product("O2", "OH-", "oxygen"), Product("H2", "H+", "hydrogen"), 36).answer
    '12.0 cm³'
    """
    share = other.electrons / (first.electrons + other.electrons)
    value = total_cm3 * share
    slips = (
        Slip(
            (1 - share) / share,
            f"That is the volume of {other.name}.",
            misconception=_idea_of_reversed(first, other),
        ),
        Slip(
            0.5 / share, f"The volumes of {first.name} and {other.name} are not equal.", whole=True
        ),
    )
    volumes, whole = Fraction(other.electrons, first.electrons + other.electrons).as_integer_ratio()
    times = f" × {volumes}" if volumes > 1 else ""
    working = (
        f"Volume ({volumes} of {whole} parts): {as_given(total_cm3)}{NO_BREAK}cm³{times} ÷ {whole}"
    )
    links = [
        Link("ratio", ratio_step(other, first), slips),
        Link("end", Step(working, value, "cm³")),
    ]
    shown = say(prompt, wording, volume=f"{measured(total_cm3)}{NO_BREAK}cm³", name=first.name)
    text = f"{situation} {shown} Both gases are measured at the same temperature and pressure."
    return number_question(text, [part(links)], watch=watch)


def gas_at_room(
    charge_source: ChargeSource,
    product: Product,
    celsius: float,
    pressure_kPa: float,
    *,
    situation: str = "In a cell, {passes}.",
    prompt: str = "What volume of dry {name}, in cm³, forms {room}?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the volume of a gas by the ideal gas, in a room of its own temperature and pressure.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Coulombs, Product)
    >>> gas_at_room(Coulombs(60), Product("H2", "H+", "hydrogen"), 25, 101.3).answer
    '7.60 cm³'
    """
    moles = charge_source.charge_C * product.per_charge_mol
    million = number_text(1e6, Rendering.PAGE, spec=".0f")
    kelvin = celsius + KELVIN
    value = moles * ROUND_GAS_J_MOL_K * kelvin / (1e3 * pressure_kPa) * 1e6
    pascal = f"{as_given(1000 * pressure_kPa)}{NO_BREAK}Pa"
    with_numbers = (
        f"{significant(moles, 4)}{NO_BREAK}mol × {GAS_CONSTANT} × "
        f"{as_given(kelvin)}{NO_BREAK}K ÷ {pascal}"
    )
    links = [
        *charge_source.links(),
        *links_to_moles(as_given(charge_source.charge_C), charge_source.charge_C, product),
        Link(
            "kelvin",
            Step(f"Temperature in kelvin: {as_given(celsius)} + {KELVIN}", kelvin, "K", exact=True),
            (Slip(celsius / kelvin, "The temperature was not converted into kelvin."),),
            joined=True,
        ),
        Link(
            "volume",
            Step(f"Volume: V = n × R × T ÷ p = {with_numbers}", value * 1e-6, "m³"),
            (Slip(1e3, "The pressure was not converted into pascals."),),
        ),
        Link(
            "end",
            Step(
                f"Volume in cm³: {significant(value * 1e-6, 4)}{NO_BREAK}m³ × {million}",
                value,
                "cm³",
            ),
            (Slip(1e-3, "A cubic metre holds a million cm³, not a thousand."),),
        ),
    ]
    room = f"at {as_given(celsius)}{NO_BREAK}°C and {pressure_kPa:.1f}{NO_BREAK}kPa"
    question_text = say(prompt, wording, name=product.name, room=room)
    data = (FARADAY, Constant("gas constant", datum("R", GAS_CONSTANT)))
    text = f"{say(situation, wording, passes=charge_source.passes)} {question_text}"
    return number_question(text, [part(links)], data=data, watch=watch)


def ratio_step(given: Product, wanted: Product, quantity: str = "V") -> Step:
    """Return how the electrons give the ratio of two products: of volumes (V), or of moles (n).

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> ratio_step(Product("Cl2", "Cl-", "chlorine"), Product("K", "K+", "potassium"), "n").sentence(3)
    '2 electrons make 1 Cl₂ or 2 K, so n(K) : n(Cl₂) = 2 : 1 = 2'
    """
    shared = math.lcm(given.electrons, wanted.electrons)
    first, second = shared // given.electrons, shared // wanted.electrons
    given_as, wanted_as = pretty(given.formula), pretty(wanted.formula)
    makes = f"{shared} electrons make {first} {given_as} or {second} {wanted_as}"
    working = f"{makes}, so {quantity}({wanted_as}) : {quantity}({given_as}) = {second} : {first}"
    return Step(working, second / first, "", exact=True)


def _ratio_slips(share: float, wanted: Product, given: Product) -> tuple[Slip, ...]:
    """Return the ratios that learners take instead: with a wrong one nothing is left to earn."""
    if share == 1:
        reason = (
            f"The volumes are equal: {given.electrons} electrons pass for each molecule of both."
        )
        return Slip(2, reason), Slip(0.5, reason)
    larger = (wanted if share > 1 else given).name
    return (
        Slip(
            share**-2,
            f"The ratio is the other way round: {larger} takes up more room.",
            whole=True,
            misconception=_idea_of_reversed(given, wanted),
        ),
        Slip(
            1 / share, f"The volumes of {given.name} and {wanted.name} are not equal.", whole=True
        ),
    )


def _idea_of_reversed(one: Product, other: Product) -> int:
    """Return the idea of who takes the volumes of two gases the other way round, where they are water's."""
    return Idea.TWICE_AS_MUCH_OXYGEN if {one.formula, other.formula} == {"H2", "O2"} else 0
