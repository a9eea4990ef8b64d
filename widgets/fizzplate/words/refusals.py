"""Refuse bad input in one clear sentence that names what was given and what is allowed."""

from __future__ import annotations

import difflib
import math
from typing import TYPE_CHECKING

from fizzplate.words.rendering import Quantity, Rendering, Unit, number_text
from fizzplate.words.sentence import DEFAULT_SLOTS, Sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


class InputError(ValueError):
    """An argument that cannot be used.

    Parameters
    ----------
    argument
        Name of the argument.
    given
        What was given.
    allowed
        What is allowed: what follows "Use" in a sentence.
    nearest
        The nearest valid name, where there is one.
    why
        Why it cannot be used, where what is allowed does not show that; it follows a colon.
    details
        More sentences, after all of these.

    Examples
    --------
    >>> print(InputError("anode", "grafite", "copper, graphite or platinum", nearest="graphite"))
    anode: 'grafite' cannot be used. Use copper, graphite or platinum. Did you mean 'graphite'?
    >>> print(InputError("anode", "steel", "iron or graphite", why="it gives off chromium(VI)"))
    anode: 'steel' cannot be used: it gives off chromium(VI). Use iron or graphite.
    """

    def __init__(
        self,
        argument: str,
        given: object,
        allowed: str | Sentence,
        *,
        nearest: str | None = None,
        why: str | Sentence = "",
        details: Iterable[str] = (),
    ) -> None:
        self.argument = argument
        self.given = given
        self.allowed = allowed
        self.nearest = nearest
        self.why = why
        self.details = tuple(details)
        super().__init__(refusal_text(self, argument))


def refusal_text(
    refusal: InputError,
    name: str,
    rendering: Rendering = Rendering.PLAIN,
    board: Mapping[str, str] = DEFAULT_SLOTS,
) -> str:
    """Say what was given, why it is refused, and what to use instead.

    Parameters
    ----------
    refusal
        The refusal.
    name
        What the reader calls the argument: its own name in Python, its field's label on a page.
    rendering
        Where the sentence is written.
    board
        What the board's wording fills.
    """
    allowed, why = (_filled(part, board, rendering) for part in (refusal.allowed, refusal.why))
    given = refusal.given
    if isinstance(given, (int, float)) and rendering is not Rendering.PLAIN:
        shown = number_text(given, rendering, spec=".12g")
    else:
        shown = repr(given)
        shown = f"{shown[:57]}..." if len(shown) > 60 else shown
    hint = f" Did you mean {refusal.nearest!r}?" if refusal.nearest else ""
    because = f": {why}" if why else ""
    refused = f"{name}: {shown} cannot be used{because}. Use {allowed}.{hint}"
    return " ".join([refused, *refusal.details])


def _filled(part: str | Sentence, board: Mapping[str, str], rendering: Rendering) -> str:
    return part.fill(board, rendering) if isinstance(part, Sentence) else part


def choice(argument: str, given: object, names: Iterable[str]) -> str:
    """Return ``given`` if it is one of ``names``; otherwise refuse it with the nearest name."""
    offered = list(names)
    if isinstance(given, str) and given in offered:
        return given
    by_lower = {name.lower(): name for name in offered}
    close = difflib.get_close_matches(str(given).lower(), by_lower, n=1, cutoff=0.5)
    nearest = by_lower[close[0]] if close else None
    raise InputError(argument, given, list_choices(offered), nearest=nearest)


def number(
    argument: str,
    given: object,
    *,
    unit: str,
    where: str = "",
    above: float | None = None,
    minimum: float | None = None,
    maximum: float | None = None,
    limit_reason: str = "",
) -> float:
    """Return ``given`` as a finite float within the limits; otherwise refuse it.

    Parameters
    ----------
    argument, given
        Name and value of the argument.
    unit
        Unit in which the limits are given, named in the refusal; empty for a pure number.
    where
        Where these limits hold, such as "in a beaker".
    above, minimum, maximum
        Limits; ``above`` excludes the limit itself.
    limit_reason
        Why there is this limit, in brackets behind it.
    """

    def refused() -> InputError:
        allowed = _limits(unit, where, above, minimum, maximum, limit_reason)
        return InputError(argument, given, allowed)

    if isinstance(given, bool) or not isinstance(given, (int, float)):
        try:
            plain = float(given)  # type: ignore[arg-type]  # numpy scalars and the like
        except (TypeError, ValueError):
            raise refused() from None
        if isinstance(given, (bool, str)):
            raise refused()
    else:
        plain = float(given)
    outside = (
        not math.isfinite(plain)
        or (above is not None and plain <= above)
        or (minimum is not None and plain < minimum)
        or (maximum is not None and plain > maximum)
    )
    if outside:
        raise refused()
    return plain


_LIMITS = {
    (): "a number",
    ("above",): "a number above {above}",
    ("minimum",): "a number of at least {minimum}",
    ("maximum",): "a number of at most {maximum}",
    ("above", "maximum"): "a number above {above} and at most {maximum}",
    ("minimum", "maximum"): "a number from {minimum} to {maximum}",
}


def _limits(
    unit: str,
    where: str,
    above: float | None,
    minimum: float | None,
    maximum: float | None,
    limit_reason: str,
) -> Sentence:
    """Say which numbers are allowed, the unit after the last limit."""
    limits = {
        slot: limit
        for slot, limit in (("above", above), ("minimum", minimum), ("maximum", maximum))
        if limit is not None
    }
    slots: dict[str, object] = {"where": where, "limit_reason": limit_reason, "unit": Unit(unit)}
    for slot, limit in limits.items():
        slots[slot] = Quantity(limit, unit if slot == next(reversed(limits)) else "")
    template = _LIMITS[tuple(limits)]
    template += " in {unit}" if unit and not limits else ""
    template += " {where}" if where else ""
    return Sentence(template + " ({limit_reason})" if limit_reason else template, slots)


def list_choices(names: Iterable[str]) -> str:
    """Join names as a sentence does.

    Examples
    --------
    >>> list_choices(["copper", "graphite", "platinum"])
    'copper, graphite or platinum'
    """
    every = list(names)
    return every[0] if len(every) == 1 else f"{', '.join(every[:-1])} or {every[-1]}"
