"""Calculations about ions: the Faraday constant found, moles at both electrodes, an unknown charge."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import (
    ROUND_FARADAY,
    Step,
    as_given,
    electrons_step,
    figures_of,
    moles_step,
    needed_step,
    share_step,
    significant,
)
from fizzplate.questions.calculations.parts import Link, Slip, number_question, part
from fizzplate.questions.calculations.quantities import (
    FARADAY,
    TAKEN_FARADAY_C_MOL,
    electron_slips,
)
from fizzplate.questions.content import NearMiss
from fizzplate.words import DEFAULT_WORDING, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import Passed, Wanted
    from fizzplate.questions.calculations.quantities import Made
    from fizzplate.questions.content import Part
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

BOOKS_C_MOL = 96_500.0  # what schools use; an experiment finds another value


def faraday_found(
    passed: Passed,
    measured: Wanted,
    *,
    says: str = "In a cell, {passes} and deposits {amount} of {name}.",
    asks: str = "What value of the Faraday constant follows, in C/mol?",
    liquid: str = "",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the Faraday constant that a measurement gives.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Coulombs, Made)
    >>> from fizzplate.questions.calculations.derivations import Wanted
    >>> faraday_found(Coulombs(600), Wanted(Made("Cu", "Cu2+", "copper"), 0.2, "g")).answer
    '95 200 C/mol'
    """
    made = measured.made
    of_electrons = measured.moles * made.electrons
    value = passed.charge_C / of_electrons
    links = [
        *passed.links(),
        _inverted(measured.link()),
        _inverted(
            Link(
                "electrons",
                needed_step(made.particle, made.electrons, measured.moles, 4),
                electron_slips(made, needed=True),
            )
        ),
        Link(
            "end",
            Step(
                f"Faraday constant: {as_given(passed.charge_C)} C ÷ {significant(of_electrons, 4)} mol",
                value,
                "C/mol",
            ),
        ),
    ]
    words = {
        "passes": passed.passes,
        "amount": measured.amount,
        "name": made.name,
        "liquid": liquid,
    }
    text = f"{say(says, wording, **words)} {asks}"
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
    given: Made,
    moles: float,
    asked: Made,
    *,
    says: str = "In a cell, {moles} of {given} forms at one electrode.",
    asks: str = "How many moles of {name} form at the other electrode?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask which moles form at the other electrode, by the electrons that both pass.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Made)
    >>> aluminium = Made("Al", "Al3+", "aluminium")
    >>> mole_ratio(Made("O2", "O2-", "oxygen"), 0.3, aluminium).answer
    '0.400 mol'
    """
    of_electrons = moles * given.electrons
    electrons = needed_step(given.particle, given.electrons, moles, 3)
    links = [
        Link(
            "electrons",
            replace(electrons, exact=True),
            electron_slips(given, needed=True),
        ),
        Link(
            "moles",
            share_step(asked.particle, asked.electrons, of_electrons, 3),
            electron_slips(asked),
        ),
    ]
    words = {
        "moles": f"{significant(moles, max(2, figures_of(moles)))} mol",
        "given": given.name,
        "name": asked.name,
        "electrode": board_slots(wording)[asked.electrode],
    }
    text = f"{say(says, wording, **words)} {say(asks, wording, **words)}"
    return number_question(text, [part(links)], watch=watch)


def charge_number(
    passed: Passed,
    deposited: Wanted,
    *,
    says: str = "Ions of a metal M are discharged at {a_cathode}: {passes} and {amount} of it forms.",
    asks: str = "How many positive charges does one ion of the metal carry?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask how many charges the ions of an unknown metal carry.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Made)
    >>> from fizzplate.questions.calculations.derivations import Wanted
    >>> chromium = Made("Cr", "Cr3+", "chromium")
    >>> charge_number(Flow(2.0, 1, "h"), Wanted(chromium, 1.29, "g")).answer
    '3'
    """
    made = deposited.made
    of_electrons = passed.charge_C / TAKEN_FARADAY_C_MOL
    ratio = of_electrons / deposited.moles
    working = f"Charges: {significant(of_electrons, 3)} mol ÷ {significant(deposited.moles, 3)} mol"
    links = [
        *passed.links(),
        Link("electrons", electrons_step(as_given(passed.charge_C), of_electrons, ROUND_FARADAY)),
        Link(
            "moles",
            moles_step(
                "the metal", as_given(deposited.size), f"{made.molar_g_mol:.1f}", deposited.moles
            ),
        ),
        Link(
            "end",
            Step(
                f"{working} = {significant(ratio, 3)}, rounded to a whole number",
                made.electrons,
                "",
            ),
            (Slip(made.electrons**-2, "Divide the moles of electrons by those of the metal."),),
        ),
    ]
    words = {"passes": passed.passes, "amount": deposited.amount}
    molar = f"{made.molar_g_mol:.1f} g/mol for the molar mass of the metal"
    data = (FARADAY, molar)
    text = f"{say(says, wording, **words)} {asks}"
    return number_question(text, [part(links, figures=1)], data=data, watch=watch)


def _inverted(link: Link) -> Link:
    """Return a link whose number the answer is divided by."""
    return Link(link.name, link.step, tuple(Slip(1 / s.times, s.reason) for s in link.slips))
