"""Calculations about ions: the Faraday constant found, moles at both electrodes, an unknown charge."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import (
    ROUND_FARADAY,
    Step,
    as_given,
    electrons_per_particle,
    electrons_step,
    moles_step,
    needed_step,
    significant,
)
from fizzplate.questions.calculations.derivations import (
    links_from_electrons,
    links_to_electrons,
)
from fizzplate.questions.calculations.gases import ratio_step
from fizzplate.questions.calculations.parts import Link, Slip, number_question, part
from fizzplate.questions.calculations.quantities import (
    FARADAY,
    TAKEN_FARADAY_C_MOL,
    electron_slips,
)
from fizzplate.questions.calculations.quantities import measured as amount_of
from fizzplate.questions.content import NearMiss
from fizzplate.words import DEFAULT_WORDING, NO_BREAK, say

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import ChargeSource, ProductAmount
    from fizzplate.questions.calculations.quantities import Product
    from fizzplate.questions.content import Part
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

BOOKS_C_MOL = 96_500.0  # what schools use; an experiment finds another value


def faraday_found(
    charge_source: ChargeSource,
    measured: ProductAmount,
    *,
    situation: str = "In a cell, {passes} and deposits {amount} of {name}.",
    prompt: str = "What value of the Faraday constant follows, in C/mol?",
    liquid: str = "",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the Faraday constant that a measurement gives.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Coulombs, Product)
    >>> from fizzplate.questions.calculations.derivations import ProductAmount
    >>> faraday_found(Coulombs(600), ProductAmount(Product("Cu", "Cu2+", "copper"), 0.2, "g")).answer
    '95 300 C/mol'
    """
    product = measured.product
    of_electrons = measured.moles * product.electrons
    value = charge_source.charge_C / of_electrons
    heading = "Faraday constant"
    slips: tuple[Slip, ...] = ()
    if product.electrons == 1:
        heading += f" ({electrons_per_particle(product.particle, 1)})"
        slips = electron_slips(product)
    links = [
        *charge_source.links(),
        _inverted(measured.link()),
        *map(_inverted, links_to_electrons(measured.moles, product)),
        Link(
            "end",
            Step(
                f"{heading}: {as_given(charge_source.charge_C)}{NO_BREAK}C ÷ "
                f"{significant(of_electrons, 4)}{NO_BREAK}mol",
                value,
                "C/mol",
            ),
            slips,
        ),
    ]
    words = {
        "passes": charge_source.passes,
        "amount": measured.amount,
        "name": product.name,
        "liquid": liquid,
    }
    text = f"{say(situation, wording, **words)} {prompt}"
    parts = [_not_from_a_book(part(links))]
    return number_question(text, parts, data=(measured.data,), watch=watch)


def _not_from_a_book(found: Part) -> Part:
    """Give no marks for the textbook constant: a learner can write it without any working."""
    book = NearMiss(
        BOOKS_C_MOL,
        tuple(range(len(found.steps))),
        "That is the textbook value: calculate it from the values measured here.",
    )
    others = (each for each in found.near_misses if not 0.97 < each.value / BOOKS_C_MOL < 1.03)
    return replace(found, near_misses=(book, *others))


def mole_ratio(
    given: Product,
    moles: float,
    wanted: Product,
    *,
    situation: str = "In a cell, {moles} of {given} forms at one electrode.",
    prompt: str = "How many moles of {name} form at the other electrode?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask which moles form at the other electrode, by the electrons that both pass.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> aluminium = Product("Al", "Al3+", "aluminium")
    >>> mole_ratio(Product("O2", "O2-", "oxygen"), 0.3, aluminium).answer
    '0.400 mol'
    """
    if 1 in {given.electrons, wanted.electrons}:
        links = _by_ratio(given, moles, wanted)
    else:
        electrons = needed_step(given.particle, given.electrons, moles, 3)
        stopped = Slip(
            wanted.electrons, f"Those are the moles of electrons: go on to {wanted.name}."
        )
        after = links_from_electrons(moles * given.electrons, wanted, figures=3)
        taken = electron_slips(given, needed=True)
        links = [
            Link(
                "electrons",
                replace(electrons, figures=3),
                (
                    *_wrong_ratios(given, wanted),
                    *(slip for slip in taken if slip.times != stopped.times),
                ),
            ),
            *(replace(link, slips=(stopped, *link.slips)) for link in after),
        ]
    words = {
        "moles": f"{amount_of(moles)}{NO_BREAK}mol",
        "given": given.name,
        "name": wanted.name,
    }
    situation = say(situation, wording, role=given.electrode, **words)
    prompt = say(prompt, wording, role=wanted.electrode, **words)
    text = f"{situation} {prompt}"
    return number_question(text, [part(links)], watch=watch)


def _by_ratio(given: Product, moles: float, wanted: Product) -> list[Link]:
    """Return the way by the ratio of the products: multiplying or dividing by one electron is no step."""
    share = given.electrons / wanted.electrons
    slips = (
        *_wrong_ratios(given, wanted),
        *electron_slips(given, needed=True),
        *electron_slips(wanted),
    )
    working = f"Moles of {wanted.name}: {amount_of(moles)}{NO_BREAK}mol × {as_given(share)}"
    return [
        Link("ratio", ratio_step(given, wanted, "n"), slips),
        Link("moles", Step(working, moles * share, "mol")),
    ]


def _wrong_ratios(given: Product, wanted: Product) -> tuple[Slip, Slip]:
    """Return the ratios of moles that learners take instead: a number by one of them earns nothing.

    Who shows the moles of electrons on the way still earns those.
    """
    share = given.electrons / wanted.electrons
    more = (wanted if share > 1 else given).name
    return (
        Slip(
            share**-2, f"The ratio is the other way round: more moles of {more} form.", whole=True
        ),
        Slip(1 / share, f"The moles of {given.name} and {wanted.name} are not equal.", whole=True),
    )


def charge_number(
    charge_source: ChargeSource,
    deposited: ProductAmount,
    *,
    situation: str = "Ions of a metal M are discharged at {a_cathode}: {passes} and {amount} of it forms.",
    prompt: str = "How many positive charges does one ion of the metal carry?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask how many charges the ions of an unknown metal carry, by the moles of electrons and of the metal.

    The charge alone could be guessed, so each number on the way is asked for.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> from fizzplate.questions.calculations.derivations import ProductAmount
    >>> chromium = Product("Cr", "Cr3+", "chromium")
    >>> charge_number(Flow(2.0, 1, "h"), ProductAmount(chromium, 1.29, "g")).answer
    '0.0746 mol; 0.0248 mol; 3'
    """
    product = deposited.product
    of_electrons = charge_source.charge_C / TAKEN_FARADAY_C_MOL
    ratio = of_electrons / deposited.moles
    working = (
        f"Charges: {significant(of_electrons, 4)}{NO_BREAK}mol ÷ "
        f"{significant(deposited.moles, 4)}{NO_BREAK}mol"
    )
    electrons = Link(
        "electrons",
        electrons_step(as_given(charge_source.charge_C), of_electrons, ROUND_FARADAY),
    )
    moles = Link(
        "moles",
        moles_step(
            "the metal", as_given(deposited.size), f"{product.molar_g_mol:.1f}", deposited.moles
        ),
    )
    end = Link(
        "end",
        Step(
            f"{working} = {significant(ratio, 3)}, rounded to a whole number",
            product.electrons,
            "",
        ),
        (Slip(product.electrons**-2, "Divide the moles of electrons by those of the metal."),),
    )
    parts = [
        part([*charge_source.links(), electrons], prompt="How many moles of electrons pass?"),
        part([moles], prompt="How many moles of the metal form?"),
        replace(part([end], prompt=prompt, figures=1), formula="a b ÷"),
    ]
    words = {"passes": charge_source.passes, "amount": deposited.amount}
    molar = f"{product.molar_g_mol:.1f}{NO_BREAK}g/mol for the molar mass of the metal"
    data = (FARADAY, molar)
    text = say(situation, wording, **words)
    return number_question(text, parts, data=data, watch=watch)


def _inverted(link: Link) -> Link:
    """Return a link whose number the answer is divided by."""
    return replace(link, slips=tuple(replace(s, times=1 / s.times) for s in link.slips))
