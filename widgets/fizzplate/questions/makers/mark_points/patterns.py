"""What marking looks for in a learner's words, for one point."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Patterns:
    """The words of a point that earns a mark, as :class:`~fizzplate.questions.content.Point` holds them."""

    words: tuple[str, ...]
    contradictions: tuple[str, ...] = ()
    too_little: tuple[str, ...] = ()
    within: tuple[str, ...] = ()
    besides: tuple[str, ...] = ()
