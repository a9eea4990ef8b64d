"""The code of a link, for a phone to read from the board."""

from __future__ import annotations

from dataclasses import dataclass

MAX_CODE_CHARACTERS = 2953  # what the largest code holds at its lowest correction
QUIET_MODULES = 4  # light all round, as the standard asks


class TooLongError(ValueError):
    """A link too long for any code; the message says how long it is and what is allowed."""


@dataclass(frozen=True, slots=True)
class Code:
    """A code as a drawing.

    Parameters
    ----------
    path
        The dark modules as the ``d`` of an SVG path, one unit a module.
    modules
        Width and height with the quiet zone, in modules.
    """

    path: str
    modules: int


def code_of(link: str) -> Code:
    """Draw the code of a link.

    Raises
    ------
    TooLongError
        If it does not go into a code.

    Examples
    --------
    >>> code_of("http://127.0.0.1:8866/demonstrate").modules
    37
    >>> code_of("http://127.0.0.1/?" + 3000 * "x")
    Traceback (most recent call last):
        ...
    fizzplate.views.web.address.codes.TooLongError: This link has 3018 characters; a code holds 2953 at most.
    """
    import segno  # wanted by few pages, and a page should open fast

    try:
        matrix = segno.make(link, micro=False, error="l", boost_error=True).matrix
    except segno.DataOverflowError:
        raise TooLongError(
            f"This link has {len(link)} characters; a code holds {MAX_CODE_CHARACTERS} at most."
        ) from None
    path = "".join(
        f"M{x + QUIET_MODULES} {y + QUIET_MODULES}h{length}v1h-{length}z"
        for y, row in enumerate(matrix)
        for x, length in _dark_stretches(row)
    )
    return Code(path, len(matrix) + 2 * QUIET_MODULES)


def _dark_stretches(row: bytes | bytearray | tuple[int, ...]) -> list[tuple[int, int]]:
    """Give where each stretch of dark modules begins, and how long it is."""
    stretches: list[tuple[int, int]] = []
    begun = None
    for x, dark in enumerate([*row, 0]):
        if dark and begun is None:
            begun = x
        elif not dark and begun is not None:
            stretches.append((begun, x - begun))
            begun = None
    return stretches
