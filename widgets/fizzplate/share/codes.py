"""A link's QR code as lines of text in the terminal."""

from __future__ import annotations

import io

import segno

QUIET_MODULES = 2  # all round; a terminal has little room


def in_letters(link: str) -> str:
    """Return a link's QR code as lines for a terminal.

    Examples
    --------
    >>> len(in_letters("http://192.0.2.7:8866/").splitlines()) > 10
    True
    """
    lines = io.StringIO()
    segno.make_qr(link).terminal(lines, compact=True, border=QUIET_MODULES)
    return lines.getvalue()
