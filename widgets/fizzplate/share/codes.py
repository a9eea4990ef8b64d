"""Links as pictures that a phone reads."""

from __future__ import annotations

import io

import segno

QUIET_ZONE = 4  # modules; what the standard asks for


def picture(link: str) -> str:
    """Return a link's QR code as an SVG drawing that takes the size it is given.

    Examples
    --------
    >>> "<svg" in picture("http://192.0.2.7:8866/")
    True
    """
    drawing = io.BytesIO()
    segno.make_qr(link).save(
        drawing,
        kind="svg",
        xmldecl=False,
        svgns=True,
        omitsize=True,
        border=QUIET_ZONE,
        light="#fff",
    )
    return drawing.getvalue().decode()


def in_letters(link: str) -> str:
    """Return a link's QR code as lines for a terminal.

    Examples
    --------
    >>> len(in_letters("http://192.0.2.7:8866/").splitlines()) > 10
    True
    """
    lines = io.StringIO()
    segno.make_qr(link).terminal(lines, compact=True, border=2)
    return lines.getvalue()
