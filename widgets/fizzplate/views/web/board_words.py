"""Say what is said in the words that the board uses for the electrodes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.words.electrode_names import by_sign

if TYPE_CHECKING:
    from fizzplate.lesson import Wording

#: parts that are names for the page's own use, not words for its readers
CODES = ("role", "goes", "key", "picture", "names", "species", "html", "svg")


def in_board_words(value: Any, wording: Wording) -> Any:
    """Name the electrodes by their signs wherever a sentence does, if the board wants that.

    Examples
    --------
    >>> from fizzplate.lesson import Wording
    >>> in_board_words({"says": "At the cathode", "role": "cathode"}, Wording(electrode_names="negative"))
    {'says': 'At the negative electrode', 'role': 'cathode'}
    """
    if wording.electrode_names != "negative":
        return value
    return _renamed(value)


def _renamed(value: Any) -> Any:
    if isinstance(value, str):
        return by_sign(value)
    if isinstance(value, dict):
        return {key: part if key in CODES else _renamed(part) for key, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [_renamed(part) for part in value]
    return value
