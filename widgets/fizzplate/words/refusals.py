"""Refuse bad input in one clear sentence that names what was given and what is allowed."""

from __future__ import annotations

import difflib
import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


class InputError(ValueError):
    """An argument that cannot be used.

    Parameters
    ----------
    argument
        Name of the argument.
    given
        What was given.
    allowed
        What is allowed, as the end of a sentence.
    nearest
        The nearest valid name, where there is one.
    why
        Why it cannot be used, as the middle of a sentence, where what is allowed does not tell.

    Examples
    --------
    >>> print(InputError("anode", "grafite", "copper, graphite or platinum", nearest="graphite"))
    anode: 'grafite' cannot be used; allowed is copper, graphite or platinum. Did you mean 'graphite'?
    >>> print(InputError("anode", "steel", "iron or graphite", why="it gives off chromium(VI)"))
    anode: 'steel' cannot be used: it gives off chromium(VI). Allowed is iron or graphite.
    """

    def __init__(
        self,
        argument: str,
        given: object,
        allowed: str,
        *,
        nearest: str | None = None,
        why: str = "",
    ) -> None:
        self.argument = argument
        self.given = given
        self.allowed = allowed
        self.nearest = nearest
        self.why = why
        hint = f" Did you mean {nearest!r}?" if nearest else ""
        shown = repr(given)
        if len(shown) > 60:
            shown = f"{shown[:57]}..."
        #: what follows on what was given: that it cannot be used, why, and what is allowed
        self.says = (
            f"cannot be used: {why}. Allowed is {allowed}."
            if why
            else f"cannot be used; allowed is {allowed}."
        )
        super().__init__(f"{argument}: {shown} {self.says}{hint}")


def choice(argument: str, given: object, names: Iterable[str]) -> str:
    """Return ``given`` if it is one of ``names``; otherwise refuse it with the nearest name."""
    offered = list(names)
    if isinstance(given, str) and given in offered:
        return given
    by_lower = {name.lower(): name for name in offered}
    close = difflib.get_close_matches(str(given).lower(), by_lower, n=1, cutoff=0.5)
    nearest = by_lower[close[0]] if close else None
    raise InputError(argument, given, listed(offered), nearest=nearest)


def number(
    argument: str,
    given: object,
    *,
    unit: str,
    above: float | None = None,
    at_least: float | None = None,
    at_most: float | None = None,
    because: str = "",
) -> float:
    """Return ``given`` as a finite float within the limits; otherwise refuse it.

    Parameters
    ----------
    argument, given
        Name and value of the argument.
    unit
        Unit in which the limits are given, named in the refusal.
    above, at_least, at_most
        Limits; ``above`` excludes the limit itself.
    because
        Reason for the limit, added to the sentence.
    """
    lower = (
        f"above {above:g}"
        if above is not None
        else f"at least {at_least:g}"
        if at_least is not None
        else ""
    )
    upper = f"at most {at_most:g}" if at_most is not None else ""
    limits = " and ".join(part for part in (lower, upper) if part)
    allowed = f"a number {limits} {unit}".strip() if limits else f"a number in {unit}"
    if because:
        allowed += f" ({because})"
    if isinstance(given, bool) or not isinstance(given, (int, float)):
        try:
            plain = float(given)  # type: ignore[arg-type]  # numpy scalars and the like
        except (TypeError, ValueError):
            raise InputError(argument, given, allowed) from None
        if isinstance(given, (bool, str)):
            raise InputError(argument, given, allowed)
    else:
        plain = float(given)
    outside = (
        not math.isfinite(plain)
        or (above is not None and plain <= above)
        or (at_least is not None and plain < at_least)
        or (at_most is not None and plain > at_most)
    )
    if outside:
        raise InputError(argument, given, allowed)
    return plain


def listed(names: Iterable[str]) -> str:
    """Join names as a sentence does.

    Examples
    --------
    >>> listed(["copper", "graphite", "platinum"])
    'copper, graphite or platinum'
    """
    every = list(names)
    return every[0] if len(every) == 1 else f"{', '.join(every[:-1])} or {every[-1]}"
