"""Calculations with one number for an answer, built from explicit quantities.

:mod:`~fizzplate.questions.calculations.makers` draws the quantities and the words; this module calculates.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import (
    Step,
    as_given,
    current_step,
    duration_step,
    electrons_per_particle,
    significant,
)
from fizzplate.questions.calculations.derivations import (
    ROOM,
    SIZES,
    ProductAmount,
    links_from_electrons,
    links_to_charge,
    links_to_electrons,
    links_to_product,
    room_data,
    with_one_mark_for_moles,
)
from fizzplate.questions.calculations.parts import (
    Link,
    Slip,
    apart,
    number_question,
    part,
)
from fizzplate.questions.calculations.quantities import (
    FARADAY,
    Coulombs,
    amperes,
    electron_slips,
)
from fizzplate.words import DEFAULT_WORDING, NO_BREAK, board_slots, say, with_unit

if TYPE_CHECKING:
    from fizzplate.questions.calculations.derivations import ChargeSource
    from fizzplate.questions.calculations.quantities import Duration, Flow, Product
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording


def charge(
    flow: Flow,
    *,
    situation: str = "In a cell, {passes}.",
    prompt: str = "How much charge passes, in C?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for a charge.

    Parameters
    ----------
    flow
        Current and time.
    situation, prompt
        The situation, with {passes} for what happens, and what is asked.
    watch
        A cell that shows it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow)
    >>> charge(Flow(0.25, 20)).answer
    '300 C'
    """
    text = f"{say(situation, wording, passes=flow.passes)} {prompt}"
    return number_question(text, [part(apart(flow.links()))], watch=watch)


def time_for_charge(
    coulombs: float,
    current_A: float,
    *,
    situation: str = "In a cell, {passes}.",
    prompt: str = "For how many minutes does a current of {current} flow?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask in how many minutes a current brings a charge.

    Examples
    --------
    >>> time_for_charge(300, 0.25).answer
    '20.0 min'
    """
    links = apart(_time_links(as_given(coulombs), current_A, coulombs / current_A))
    slots = {"passes": Coulombs(coulombs).passes, "current": amperes(current_A)}
    text = say(f"{situation} {prompt}", wording, **slots)
    return number_question(text, [part(links)], watch=watch)


def current_for_charge(
    coulombs: float,
    duration: Duration,
    *,
    situation: str = "In a cell, {passes}.",
    prompt: str = "It takes {time}. What is the steady current, in A?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask which current brings a charge in a time.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import Duration
    >>> current_for_charge(300, Duration(20, "min")).answer
    '0.250 A'
    """
    seconds = duration.seconds
    step = current_step(as_given(coulombs), seconds, coulombs / seconds)
    links = apart([*duration.links(needed=True), Link("end", step)])
    passes = Coulombs(coulombs).passes
    text = say(f"{situation} {prompt}", wording, passes=passes, time=duration.words)
    return number_question(text, [part(links)], watch=watch)


def made_by_charge(
    charge_source: ChargeSource,
    product: Product,
    unit: str,
    *,
    situation: str = "In a cell, {passes}.",
    prompt: str = "How much {name} forms, in {unit}?",
    figures: int = 3,
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the mass of a metal (unit "g") or the volume of a gas ("cm³", "dm³").

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> made_by_charge(Flow(0.2, 20), Product("Cu", "Cu2+", "copper"), "g").answer
    '0.0790 g'
    """
    gas = unit in ROOM
    links = links_to_product(charge_source, product, unit, figures=figures)
    data = (FARADAY, room_data(unit) if gas else product.molar)
    question_text = say(
        prompt,
        wording,
        name=product.name,
        unit=unit,
        electrode=board_slots(wording)[product.electrode],
    )
    text = f"{say(situation, wording, passes=charge_source.passes)} {question_text}"
    return number_question(text, [part(links, figures=figures)], data=data, watch=watch)


def time_needed(
    wanted: ProductAmount,
    current_A: float,
    *,
    situation: str = "{amount} of {name} is to form in a cell.",
    prompt: str = "For how many minutes must a current of {current} flow?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for how many minutes a current must flow.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> time_needed(ProductAmount(Product("Cu", "Cu2+", "copper"), 79, "mg"), 0.2).answer
    '20.0 min'
    """
    links = links_to_charge(wanted)
    needed_C = links[-1].step.value
    links += _time_links(significant(needed_C, 4), current_A, needed_C / current_A)
    question_text = say(prompt, wording, current=amperes(current_A))
    return number_question(
        _wanted_text(situation, wanted, question_text, wording),
        [part(links)],
        data=(FARADAY, wanted.data),
        watch=watch,
    )


def current_needed(
    wanted: ProductAmount,
    duration: Duration,
    *,
    situation: str = "{amount} of {name} is to form in a cell.",
    prompt: str = "What steady current, in A, makes it in {time}?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the current that is needed.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Duration, Product)
    >>> current_needed(ProductAmount(Product("Cu", "Cu2+", "copper"), 79, "mg"), Duration(20, "min")).answer
    '0.200 A'
    """
    links = links_to_charge(wanted)
    needed_C, seconds = links[-1].step.value, duration.seconds
    links += [
        *duration.links(needed=True),
        Link("end", current_step(significant(needed_C, 4), seconds, needed_C / seconds)),
    ]
    question_text = say(prompt, wording, time=duration.words)
    return number_question(
        _wanted_text(situation, wanted, question_text, wording),
        [part(links)],
        data=(FARADAY, wanted.data),
        watch=watch,
    )


def percentage_yield(
    charge_source: ChargeSource,
    measured: ProductAmount,
    *,
    situation: str = "In a cell, {passes}.",
    prompt: str = "{amount} of {name} is found. What is the percentage yield?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask which percentage of what the charge can make was found.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> percentage_yield(Flow(0.2, 20), ProductAmount(Product("Cu", "Cu2+", "copper"), 71, "mg")).answer
    '89.9 %'
    """
    product, unit = measured.product, measured.unit
    full = measured.moles / (charge_source.charge_C * product.per_charge_mol)
    links = links_to_product(charge_source, product, "g" if unit in SIZES else unit)
    expected = links[-1].step
    found = with_unit(as_given(measured.size / SIZES.get(unit, 1.0)), expected.unit)
    whole = with_unit(significant(expected.value, 4), expected.unit)
    working = f"Percentage: {found} ÷ {whole} × 100"
    upside_down = Slip(full**-2, "Divide what was found by what was expected.")
    links = [
        *with_one_mark_for_moles(
            [replace(link, slips=_inverted(link.slips)) for link in links[:-1]]
        ),
        Link("expected", expected),
        Link("percent", Step(working, 100 * full, "%"), (upside_down,)),
    ]
    situation = say(situation, wording, passes=charge_source.passes)
    prompt = say(prompt, wording, amount=measured.amount, name=product.name)
    data = (FARADAY, measured.data)
    return number_question(f"{situation} {prompt}", [part(links)], data=data, watch=watch)


def two_steps(
    given: ProductAmount,
    wanted: Product,
    unit: str,
    *,
    situation: str = "In a cell, {amount} of {name} forms at one electrode.",
    prompt: str = "How much {wanted}, in {unit}, forms at the other electrode?",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for what forms at the other electrode, by the electrons that both pass.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> oxygen, copper = Product("O2", "OH-", "oxygen"), Product("Cu", "Cu2+", "copper")
    >>> two_steps(ProductAmount(oxygen, 24, "cm³"), copper, "g").answer
    '0.127 g'
    """
    product = given.product
    of_electrons = given.moles * product.electrons
    moles = of_electrons / wanted.electrons
    size = ROOM.get(unit, wanted.molar_g_mol)
    ends = f"{as_given(size)}{NO_BREAK}{unit}/mol" if unit in ROOM else f"{size:.1f}{NO_BREAK}g/mol"
    kind = "Volume" if unit in ROOM else "Mass"
    one_each = wanted.electrons == 1
    heading = f"{kind} ({electrons_per_particle(wanted.particle, 1)})" if one_each else kind
    links = [
        _with_electrons(given),
        *links_to_electrons(given.moles, product),
        *(
            replace(link, slips=(*link.slips, *_swapped(product, wanted)))
            for link in links_from_electrons(of_electrons, wanted)
        ),
        Link(
            "end",
            Step(f"{heading}: {significant(moles, 4)}{NO_BREAK}mol × {ends}", moles * size, unit),
            electron_slips(wanted) if one_each else (),
        ),
    ]
    situation = say(
        situation, wording, role=product.electrode, amount=given.amount, name=product.name
    )
    prompt = say(
        prompt, wording, role=wanted.electrode, wanted=wanted.name, unit=unit, kind=kind.lower()
    )
    data = (given.data, room_data(unit) if unit in ROOM else wanted.molar)
    return number_question(f"{situation} {prompt}", [part(links)], data=data, watch=watch)


def _with_electrons(given: ProductAmount) -> Link:
    """Return the step to moles; where they are those of the electrons too, it says so."""
    link, product = given.link(), given.product
    if product.electrons > 1:
        return link
    each = electrons_per_particle(product.particle, 1)
    heading, _, numbers = link.step.working.partition(":")
    working = f"{heading}, and of electrons ({each}):{numbers}"
    return replace(link, step=replace(link.step, working=working))


def _swapped(given: Product, wanted: Product) -> tuple[Slip, ...]:
    """Return the slip of one who takes the electrons of each product for those of the other."""
    reason = f"The electrons of {given.name} and {wanted.name} were swapped."
    return (Slip((wanted.electrons / given.electrons) ** 2, reason),)


def _time_links(charge: str, current_A: float, seconds: float) -> list[Link]:
    """Return the way from a charge that is written to minutes."""
    slip = Slip(60, "That is the time in seconds: divide by 60.")
    minutes = Step(
        f"Time in minutes: {significant(seconds, 4)}{NO_BREAK}s ÷ 60", seconds / 60, "min"
    )
    return [
        Link("seconds", duration_step(charge, current_A, seconds), joined=True),
        Link("minutes", minutes, (slip,)),
    ]


def _wanted_text(
    situation: str, wanted: ProductAmount, question_text: str, wording: Wording
) -> str:
    target = say(situation, wording, amount=wanted.amount, name=wanted.product.name)
    return f"{target} {question_text}"


def _inverted(slips: tuple[Slip, ...]) -> tuple[Slip, ...]:
    """Return slips in what is divided by."""
    return tuple(replace(slip, times=1 / slip.times) for slip in slips)
