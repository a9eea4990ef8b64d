"""Whether a class will see a result: current, bubbles, colour and balance, from the model."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from fizzplate.lesson.prepare import (
    current_range_A,
    duration_text,
    milliamps,
    visibility,
    visibility_advice,
    visibility_without_lamp,
)
from fizzplate.views.web import render
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Iterable

    from markupsafe import Markup

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.lesson.prepare import Visibility


def visibility_table(setups: Iterable[CellSetup], balance_g: float, wording: Wording) -> Markup:
    """Write a row for each solution, and what helps where something comes late."""
    setups = tuple(setups)
    advised = [
        f"{setup.label_in(wording)}: {each}"
        for setup in setups
        if refusal_of(setup) is None
        for each in _advice(setup, balance_g, wording)
    ]
    rows = [_row(setup, balance_g, wording) for setup in setups]
    return render(
        "pages/templates/visibility.html.j2",
        heads=_heads(balance_g, wording),
        rows=rows,
        advice=advised,
    )


@lru_cache(maxsize=64)
def refusal_of(setup: CellSetup) -> str | None:
    """Say why a set-up cannot be used; nothing if it can."""
    try:
        visibility(setup)
    except InputError as refusal:
        return page_refusal(refusal)
    return None


def _heads(balance_g: float, wording: Wording) -> tuple[str, ...]:
    cathode, anode = (wording.title(role).lower() for role in ("cathode", "anode"))
    return (
        "Solution",
        "Current after a minute",
        f"You will see: {cathode}",
        f"You will see: {anode}",
        f"{balance_g:g} g balance shows enough",
        "Small tube full",
        "Without the lamp",
    )


def _row(setup: CellSetup, balance_g: float, wording: Wording) -> list[str]:
    if refused := refusal_of(setup):
        return [setup.label_in(wording), refused, *[""] * 5]
    found = _cached_visibility(setup, balance_g)
    low, high = map(milliamps, _range_A(setup))
    return [
        setup.label_in(wording),
        f"{milliamps(found.current_A)} mA ({low} to {high})",
        found.seen_text("cathode"),
        "; ".join(filter(None, (found.seen_text("anode"), found.liquid_text()))),
        _minutes(found.balance_min, found.plates),
        _minutes(found.tube_min, any(found.gases)),
        _without_lamp(setup, balance_g),
    ]


def _minutes(minutes: float, expected: bool) -> str:
    return duration_text(minutes) if expected or math.isfinite(minutes) else "none expected"


def _without_lamp(setup: CellSetup, balance_g: float) -> str:
    """Say what the cell does without its lamp."""
    if setup.lamp == "none" or setup.current_A is not None:
        return "the same"
    found = visibility_without_lamp(setup, balance_g=balance_g)
    weighed = f"; balance {duration_text(found.balance_min)}" if found.plates else ""
    return f"{milliamps(found.current_A)} mA{weighed}"


@lru_cache(maxsize=64)
def _cached_visibility(setup: CellSetup, balance_g: float) -> Visibility:
    return visibility(setup, balance_g=balance_g)


@lru_cache(maxsize=64)
def _range_A(setup: CellSetup) -> tuple[float, float]:
    return current_range_A(setup)


@lru_cache(maxsize=64)
def _advice(setup: CellSetup, balance_g: float, wording: Wording) -> tuple[str, ...]:
    return visibility_advice(setup, balance_g=balance_g, wording=wording)
