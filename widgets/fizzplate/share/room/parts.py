"""What a round asks: its parts, which answers each takes, and how answers are counted."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable

MAX_TEXT = 140  # characters of a short text
MAX_EQUATION = 200  # characters, as many as the judge of equations reads
MAX_SIZE = 1e12  # of a number, whatever its unit
#: what can be wrong with a half-equation, as the phone judges it; "unjudged" where its judge did not load
FAULTS = (
    "right",
    "charge",
    "atoms",
    "single",
    "missing",
    "side",
    "species",
    "unread",
    "unjudged",
)


@dataclass(frozen=True, slots=True)
class Part:
    """One question of a round.

    Parameters
    ----------
    name
        By which answers and counts call it.
    kind
        "choice" (one option), "several" (any number of options), "text", "number" or "equation".
    label
        The question in words.
    stem
        What stands above it on a phone: what several parts are about.
    options
        What can be chosen.
    unit
        Of a number, as it is shown.
    judge
        Of an equation, what the phone judges it by; the server only passes it on.

    Examples
    --------
    >>> part = Part("cathode", "choice", "What forms?", ("copper", "hydrogen"))
    >>> part.accepts(1), part.accepts(2), part.accepts("copper")
    (True, False, False)
    """

    name: str
    kind: str
    label: str
    options: tuple[str, ...] = ()
    stem: str = ""
    unit: str = ""
    judge: dict[str, Any] = field(default_factory=dict)

    @property
    def is_written(self) -> bool:
        """Whether it is answered in a pupil's own words or signs, which the teacher sees first."""
        return self.kind in {"text", "equation"}

    def accepts(self, value: Any) -> bool:
        """Tell whether an answer is one that this part takes."""
        accepted: bool = _ACCEPTS[self.kind](self, value)
        return accepted

    def count(self, values: Iterable[Any]) -> list[Any]:
        """Count answers, without saying whose they are.

        Returns
        -------
        list
            Of options, how many chose each, in their order; of equations the same for each of `FAULTS`;
            the numbers themselves, in order of size; of texts how many there are.
        """
        if self.kind == "number":
            return sorted(values)
        if self.kind == "text":
            return [sum(1 for _ in values)]
        if self.kind == "equation":
            faults = Counter(value["fault"] for value in values)
            return [faults[fault] for fault in FAULTS]
        chosen: Counter[int] = Counter()
        for value in values:
            chosen.update([value] if self.kind == "choice" else set(value))
        return [chosen[index] for index in range(len(self.options))]

    def as_plain(self) -> dict[str, Any]:
        """Give what a phone needs in order to ask."""
        return {
            "name": self.name,
            "kind": self.kind,
            "label": self.label,
            "stem": self.stem,
            "options": list(self.options),
            "unit": self.unit,
            "judge": self.judge,
        }


def _is_option(part: Part, value: Any) -> bool:
    return type(value) is int and 0 <= value < len(part.options)


def _are_options(part: Part, value: Any) -> bool:
    return (
        isinstance(value, list)
        and len(value) <= len(part.options)
        and all(_is_option(part, each) for each in value)
    )


def _is_text(_: Part, value: Any) -> bool:
    return isinstance(value, str) and bool(value.strip()) and len(value) <= MAX_TEXT


def _is_number(_: Part, value: Any) -> bool:
    return type(value) in {int, float} and abs(value) <= MAX_SIZE  # also refuses what is no number


def _is_equation(_: Part, value: Any) -> bool:
    return (
        isinstance(value, dict)
        and value.keys() == {"fault", "written"}
        and value["fault"] in FAULTS
        and isinstance(value["written"], str)
        and 0 < len(value["written"]) <= MAX_EQUATION
    )


_ACCEPTS = {
    "choice": _is_option,
    "several": _are_options,
    "text": _is_text,
    "number": _is_number,
    "equation": _is_equation,
}
KINDS = tuple(_ACCEPTS)
