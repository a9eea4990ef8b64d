"""Marks that were earned or not, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """One mark: whether it was earned, and why."""

    earned: bool
    reason: str


@dataclass(frozen=True, slots=True)
class MarkedAnswer:
    """A marked answer.

    Parameters
    ----------
    lines
        Mark by mark.
    remark
        What else the learner reads.
    misconception
        Number of the idea behind a wrong choice; 0 for none.
    """

    lines: tuple[Line, ...]
    remark: str = ""
    misconception: int = 0

    @property
    def earned(self) -> int:
        """Marks earned."""
        return sum(line.earned for line in self.lines)


def repeat_line(marks: int, reason: str, *, earned: bool) -> tuple[Line, ...]:
    """Return the same line for every mark."""
    return (Line(earned, reason),) * marks
