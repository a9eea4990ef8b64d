"""Fill a sentence's named slots: the one way in which a sentence is made."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from fizzplate.words.sentence import Sentence, begin, electrode_slots
from fizzplate.words.wording import Wording

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["DEFAULT_WORDING", "begin", "board_slots", "say"]

DEFAULT_WORDING = Wording()


def say(template: str, wording: Wording = DEFAULT_WORDING, /, **slots: object) -> str:
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
        What fills the others: words, sentences that are a part of this one, or numbers and formulae that
        are written out already. With ``role="cathode"`` or ``role="anode"``, the wording fills
        ``electrode``, ``the_electrode`` and ``the_other_electrode`` too.

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
    >>> say("{Metal} forms at {the_electrode}.", board, metal="copper", role="cathode")
    'Copper forms at the negative electrode.'
    """
    return Sentence(template, slots).fill(board_slots(wording))


@cache
def board_slots(wording: Wording) -> Mapping[str, str]:
    """Return the slots that a board's wording fills by itself.

    Examples
    --------
    >>> board_slots(Wording(electrode_names="both"))["anode_in_full"]
    'anode (positive electrode)'
    """
    return electrode_slots(wording.electrode_names, wording.oxygen_from, wording.hydrogen_from)
