"""Name the electrodes as a board does, in sentences that were written with cathode and anode."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fizzplate.words.wording import Wording

_ROLE = re.compile(r"\b(cathode|anode)\b", re.IGNORECASE)
_ELECTRODE = re.compile(r"\b(an? )?(cathode|anode)(s?)\b", re.IGNORECASE)


def by_sign(text: str) -> str:
    """Write negative and positive electrode for cathode and anode.

    Examples
    --------
    >>> by_sign("An anode of copper faces a cathode; both electrodes are rods.")
    'A positive electrode of copper faces a negative electrode; both electrodes are rods.'
    """
    return _ELECTRODE.sub(_sign_of, text)


def _sign_of(found: re.Match[str]) -> str:
    article, name, plural = found[1] or "", found[2], found[3]
    sign = "negative" if name.lower() == "cathode" else "positive"
    article = f"{article[0]} " if article else ""
    return f"{article}{sign.capitalize() if name[0].isupper() else sign} electrode{plural}"


def named(text: str, wording: Wording) -> str:
    """Name the electrodes in a text as the board does.

    Examples
    --------
    >>> from fizzplate.words.wording import Wording
    >>> named("copper gained at the cathode", Wording(electrode_names="both"))
    'copper gained at the cathode (negative electrode)'
    """
    if wording.electrode_names == "negative":
        return by_sign(text)
    if wording.electrode_names == "both":
        signs = {"cathode": "negative", "anode": "positive"}
        return _ROLE.sub(lambda found: f"{found[0]} ({signs[found[0].lower()]} electrode)", text)
    return text
