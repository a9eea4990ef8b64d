"""Fill a sentence's named slots: the one way in which a sentence is made."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.words.wording import Wording

if TYPE_CHECKING:
    from collections.abc import Mapping

USUAL_WORDING = Wording()
_SIGNS = {"cathode": "negative", "anode": "positive"}
_SOURCES = {"OH-": "hydroxide ions", "H2O": "water", "H+": "hydrogen ions"}


def say(template: str, wording: Wording = USUAL_WORDING, /, **slots: object) -> str:
    """Fill the slots of a sentence.

    Parameters
    ----------
    template
        A sentence with named slots: ``"{Metal} forms at {the_cathode}."``. A slot whose name begins with a
        capital begins the sentence with what the same name in small letters holds.
    wording
        The board's wording. It fills these slots by itself: ``cathode``, ``cathodes``, ``a_cathode``,
        ``the_cathode``, ``cathode_in_full`` (which gives both names to a board that wants both), the
        same of the anode (``an_anode``), ``oxygen_source`` and ``hydrogen_source``.
    slots
        What fills the others: words, or numbers and formulae that are written out already.

    Raises
    ------
    KeyError
        If nothing fills a slot; the message names the slot and the template.

    Examples
    --------
    >>> say("{Metal} forms at {the_cathode}.", metal="copper")
    'Copper forms at the cathode.'
    >>> board = Wording(electrode_names="negative", oxygen_from="H2O")
    >>> say("At {an_anode} of carbon {oxygen_source} lose electrons.", Wording())
    'At an anode of carbon hydroxide ions lose electrons.'
    >>> say("{A_cathode} faces {an_anode}.", board)
    'A negative electrode faces a positive electrode.'
    """
    return template.format_map(_Slots(template, wording, slots))


def begin(text: str) -> str:
    """Write words as the beginning of a sentence, their other letters as they are.

    Examples
    --------
    >>> begin("copper(II) ions")
    'Copper(II) ions'
    """
    return text[:1].upper() + text[1:]


class _Slots(dict[str, object]):
    """What was given for the slots of a template, and beside it the board's wording."""

    def __init__(self, template: str, wording: Wording, given: Mapping[str, object]) -> None:
        super().__init__(board_slots(wording) | given)
        self._template = template

    def __missing__(self, name: str) -> str:
        small = name[:1].lower() + name[1:]
        if small == name or small not in self:
            raise KeyError(f"nothing fills {{{name}}} in {self._template!r}")
        return begin(str(self[small]))


@cache
def board_slots(wording: Wording) -> MappingProxyType[str, str]:
    """Return the slots that a board's wording fills by itself.

    Examples
    --------
    >>> board_slots(Wording(electrode_names="both"))["anode_in_full"]
    'anode (positive electrode)'
    """
    slots = {
        "oxygen_source": _SOURCES[wording.oxygen_from],
        "hydrogen_source": _SOURCES[wording.hydrogen_from],
    }
    for role, sign in _SIGNS.items():
        by_sign = wording.electrode_names == "negative"
        name = f"{sign} electrode" if by_sign else role
        article = "an" if name == "anode" else "a"
        slots |= {
            role: name,
            f"{role}s": f"{name}s",
            f"the_{role}": f"the {name}",
            f"{'an' if role == 'anode' else 'a'}_{role}": f"{article} {name}",
            f"{role}_in_full": (
                f"{role} ({sign} electrode)" if wording.electrode_names == "both" else name
            ),
        }
    return MappingProxyType(slots)
