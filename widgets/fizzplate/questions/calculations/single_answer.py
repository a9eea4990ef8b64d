"""Calculations with one number for an answer, built from explicit quantities.

:mod:`~fizzplate.questions.calculations.makers` draws the quantities and the words; this module calculates.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.measure import (
    Step,
    as_given,
    current_step,
    duration_step,
    needed_step,
    share_step,
    significant,
)
from fizzplate.questions.calculations.derivations import (
    ROOM,
    SIZES,
    Wanted,
    links_to_charge,
    links_to_product,
    room_data,
)
from fizzplate.questions.calculations.parts import Link, Slip, number_question, part
from fizzplate.questions.calculations.quantities import (
    FARADAY,
    Coulombs,
    amperes,
    electron_slips,
)
from fizzplate.words import DEFAULT_WORDING, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import Passed
    from fizzplate.questions.calculations.quantities import Flow, Lasting, Made
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording


def charge(
    flow: Flow,
    *,
    says: str = "In a cell, {passes}.",
    asks: str = "How much charge passes, in C?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for a charge.

    Parameters
    ----------
    flow
        Current and time.
    says, asks
        The situation, with {passes} for what happens, and what is asked.
    watch
        A cell that shows it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow)
    >>> charge(Flow(0.25, 20)).answer
    '300 C'
    """
    text = f"{say(says, wording, passes=flow.passes)} {asks}"
    return number_question(text, [part(flow.links())], watch=watch)


def time_for_charge(
    coulombs: float,
    current_A: float,
    *,
    says: str = "In a cell, {passes}.",
    asks: str = "For how many minutes does a current of {current} flow?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask in how many minutes a current brings a charge.

    Examples
    --------
    >>> time_for_charge(300, 0.25).answer
    '20.0 min'
    """
    links = _time_links(as_given(coulombs), current_A, coulombs / current_A)
    slots = {"passes": Coulombs(coulombs).passes, "current": amperes(current_A)}
    text = say(f"{says} {asks}", wording, **slots)
    return number_question(text, [part(links)], watch=watch)


def current_for_charge(
    coulombs: float,
    lasting: Lasting,
    *,
    says: str = "In a cell, {passes}.",
    asks: str = "It takes {time}. What is the steady current, in A?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask which current brings a charge in a time.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import Lasting
    >>> current_for_charge(300, Lasting(20, "min")).answer
    '0.250 A'
    """
    seconds = lasting.seconds
    step = current_step(as_given(coulombs), seconds, coulombs / seconds)
    links = [*lasting.links(needed=True), Link("end", step)]
    text = f"{say(says, wording, passes=Coulombs(coulombs).passes)} {say(asks, wording, time=lasting.words)}"
    return number_question(text, [part(links)], watch=watch)


def made_by_charge(
    passed: Passed,
    made: Made,
    unit: str,
    *,
    says: str = "In a cell, {passes}.",
    asks: str = "How much {name} forms, in {unit}?",
    figures: int = 3,
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the mass of a metal (unit "g") or the volume of a gas ("cm³", "dm³").

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Made)
    >>> made_by_charge(Flow(0.2, 20), Made("Cu", "Cu2+", "copper"), "g").answer
    '0.0790 g'
    """
    gas = unit in ROOM
    links = links_to_product(passed, made, unit, figures=figures)
    data = (FARADAY, room_data(unit) if gas else made.molar)
    asked = say(
        asks, wording, name=made.name, unit=unit, electrode=board_slots(wording)[made.electrode]
    )
    text = f"{say(says, wording, passes=passed.passes)} {asked}"
    return number_question(text, [part(links, figures=figures)], data=data, watch=watch)


def time_needed(
    wanted: Wanted,
    current_A: float,
    *,
    says: str = "{amount} of {name} is to form in a cell.",
    asks: str = "For how many minutes must a current of {current} flow?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for how many minutes a current must flow.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Made)
    >>> time_needed(Wanted(Made("Cu", "Cu2+", "copper"), 79, "mg"), 0.2).answer
    '20.0 min'
    """
    links = links_to_charge(wanted)
    needed_C = links[-1].step.value
    links += _time_links(significant(needed_C, 4), current_A, needed_C / current_A)
    asked = say(asks, wording, current=amperes(current_A))
    return number_question(
        _wanted_text(says, wanted, asked, wording),
        [part(links)],
        data=(FARADAY, wanted.data),
        watch=watch,
    )


def current_needed(
    wanted: Wanted,
    lasting: Lasting,
    *,
    says: str = "{amount} of {name} is to form in a cell.",
    asks: str = "What steady current, in A, makes it in {time}?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the current that is needed.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Lasting, Made)
    >>> current_needed(Wanted(Made("Cu", "Cu2+", "copper"), 79, "mg"), Lasting(20, "min")).answer
    '0.200 A'
    """
    links = links_to_charge(wanted)
    needed_C, seconds = links[-1].step.value, lasting.seconds
    links += [
        *lasting.links(needed=True),
        Link("end", current_step(significant(needed_C, 4), seconds, needed_C / seconds)),
    ]
    asked = say(asks, wording, time=lasting.words)
    return number_question(
        _wanted_text(says, wanted, asked, wording),
        [part(links)],
        data=(FARADAY, wanted.data),
        watch=watch,
    )


def percentage_yield(
    passed: Passed,
    measured: Wanted,
    *,
    says: str = "In a cell, {passes}.",
    asks: str = "{amount} of {name} is found. What is the percentage yield?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask which percentage of what the charge can make was found.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Made)
    >>> percentage_yield(Flow(0.2, 20), Wanted(Made("Cu", "Cu2+", "copper"), 71, "mg")).answer
    '89.9 %'
    """
    made, unit = measured.made, measured.unit
    full = measured.moles / (passed.charge_C * made.per_charge_mol)
    links = links_to_product(passed, made, "g" if unit in SIZES else unit)
    expected = links[-1].step
    found = f"{as_given(measured.size / SIZES.get(unit, 1.0))} {expected.unit}"
    working = f"Percentage: {found} ÷ {significant(expected.value, 4)} {expected.unit} × 100"
    upside_down = Slip(full**-2, "Divide what was found by what was expected.")
    links = [
        *(Link(link.name, link.step, _inverted(link.slips)) for link in links[:-1]),
        Link("expected", expected),
        Link("percent", Step(working, 100 * full, "%"), (upside_down,)),
    ]
    says = say(says, wording, passes=passed.passes)
    asks = say(asks, wording, amount=measured.amount, name=made.name)
    data = (FARADAY, measured.data)
    return number_question(f"{says} {asks}", [part(links)], data=data, watch=watch)


def two_steps(
    given: Wanted,
    asked: Made,
    unit: str,
    *,
    says: str = "In a cell, {amount} of {name} forms at one electrode.",
    asks: str = "How much {asked}, in {unit}, forms at the other electrode?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for what forms at the other electrode, by the electrons that both pass.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Made)
    >>> oxygen, copper = Made("O2", "OH-", "oxygen"), Made("Cu", "Cu2+", "copper")
    >>> two_steps(Wanted(oxygen, 24, "cm³"), copper, "g").answer
    '0.127 g'
    """
    made = given.made
    of_electrons = given.moles * made.electrons
    moles = of_electrons / asked.electrons
    size = ROOM.get(unit, asked.molar_g_mol)
    ends = f"{as_given(size)} {unit}/mol" if unit in ROOM else f"{size:.1f} g/mol"
    kind = "Volume" if unit in ROOM else "Mass"
    links = [
        given.link(),
        Link(
            "electrons",
            needed_step(made.particle, made.electrons, given.moles, 4),
            electron_slips(made, needed=True),
        ),
        Link(
            "moles",
            share_step(asked.particle, asked.electrons, of_electrons, 4),
            electron_slips(asked),
        ),
        Link("end", Step(f"{kind}: {significant(moles, 4)} mol × {ends}", moles * size, unit)),
    ]
    says = say(says, wording, amount=given.amount, name=made.name)
    asks = say(asks, wording, asked=asked.name, unit=unit, kind=kind.lower())
    data = (given.data, room_data(unit) if unit in ROOM else asked.molar)
    return number_question(f"{says} {asks}", [part(links)], data=data, watch=watch)


def _time_links(charge: str, current_A: float, seconds: float) -> list[Link]:
    """Return the way from a charge that is written to minutes."""
    slip = Slip(60, "That is the time in seconds: divide by 60.")
    minutes = Step(f"Time in minutes: {significant(seconds, 4)} s ÷ 60", seconds / 60, "min")
    return [
        Link("seconds", duration_step(charge, current_A, seconds)),
        Link("minutes", minutes, (slip,)),
    ]


def _wanted_text(says: str, wanted: Wanted, asked: str, wording: Wording) -> str:
    target = say(says, wording, amount=wanted.amount, name=wanted.made.name)
    return f"{target} {asked}"


def _inverted(slips: tuple[Slip, ...]) -> tuple[Slip, ...]:
    """Return slips in what is divided by."""
    return tuple(Slip(1 / slip.times, slip.reason) for slip in slips)
