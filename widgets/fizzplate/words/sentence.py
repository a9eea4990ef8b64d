"""A sentence as a template with named slots, before it is filled for a board and a place."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.words.rendering import Rendering, SentenceValue

if TYPE_CHECKING:
    from collections.abc import Mapping

#: which electrode is which, in words
SIGNS = MappingProxyType({"cathode": "negative", "anode": "positive"})
#: what a gas of water may come from, by the board's wording: the usual one first
SOURCES = MappingProxyType({"O2": ("OH-", "H2O"), "H2": ("H+", "H2O")})
_SOURCE_NAMES = {"OH-": "hydroxide ions", "H2O": "water", "H+": "hydrogen ions"}


@dataclass(frozen=True, slots=True)
class Sentence:
    """A template and what fills its slots; the board's slots come when it is filled.

    Parameters
    ----------
    template
        As for :func:`fizzplate.words.say.say`.
    slots
        Words, sentences that are a part of this one, or values that know how they are written
        (:class:`~fizzplate.words.rendering.SentenceValue`). ``role`` is the electrode, "cathode" or "anode",
        that ``electrode`` and its forms name.
    """

    template: str
    slots: Mapping[str, object] = field(default_factory=lambda: MappingProxyType({}))

    def fill(self, board: Mapping[str, str], rendering: Rendering = Rendering.PLAIN) -> str:
        """Fill the slots.

        Parameters
        ----------
        board
            What the board's wording fills.
        rendering
            Where the sentence is written.
        """
        return self.template.format_map(_Slots(self, board, rendering))


def begin(text: str) -> str:
    """Write words as the beginning of a sentence, their other letters as they are.

    Examples
    --------
    >>> begin("copper(II) ions")
    'Copper(II) ions'
    """
    return text[:1].upper() + text[1:]


class _Slots(dict[str, object]):
    """The slots of a template: those given, and those that the board's wording fills."""

    def __init__(self, sentence: Sentence, board: Mapping[str, str], rendering: Rendering) -> None:
        super().__init__()
        self._board = board  # looked up, not copied: a sentence needs few of its slots
        if "role" in sentence.slots:
            self.update(_electrode_slots_of(str(sentence.slots["role"]), board))
        for name, value in sentence.slots.items():
            if isinstance(value, Sentence):
                self[name] = value.fill(board, rendering)
            elif isinstance(value, SentenceValue):
                self[name] = value.text(rendering)
            else:
                self[name] = value
        self._template = sentence.template

    def __missing__(self, name: str) -> str:
        if name in self._board:
            return self._board[name]
        small = name[:1].lower() + name[1:]
        if small == name or (small not in self and small not in self._board):
            raise KeyError(f"nothing fills {{{name}}} in {self._template!r}")
        return begin(str(self[small]))


def _electrode_slots_of(role: str, board: Mapping[str, str]) -> dict[str, str]:
    """Return what the board calls one electrode, under names that fit both, and the other one."""
    other = {"cathode": "anode", "anode": "cathode"}[role]
    return {
        "electrode": board[role],
        "the_electrode": board[f"the_{role}"],
        "the_other_electrode": board[f"the_{other}"],
    }


def electrode_slots(
    electrode_names: str, oxygen_from: str, hydrogen_from: str
) -> Mapping[str, str]:
    """Return the slots that a board's wording fills, by its settings.

    Examples
    --------
    >>> electrode_slots("both", "OH-", "H+")["anode_in_full"]
    'anode (positive electrode)'
    """
    slots = {
        "oxygen_source": _SOURCE_NAMES[oxygen_from],
        "hydrogen_source": _SOURCE_NAMES[hydrogen_from],
    }
    for role, sign in SIGNS.items():
        name = f"{sign} electrode" if electrode_names == "negative" else role
        article = "an" if name == "anode" else "a"
        slots |= {
            role: name,
            f"{role}s": f"{name}s",
            f"the_{role}": f"the {name}",
            f"{'an' if role == 'anode' else 'a'}_{role}": f"{article} {name}",
            f"{role}_in_full": f"{role} ({sign} electrode)" if electrode_names == "both" else name,
        }
    return MappingProxyType(slots)


#: of a board with the usual settings
DEFAULT_SLOTS = electrode_slots("cathode", SOURCES["O2"][0], SOURCES["H2"][0])
