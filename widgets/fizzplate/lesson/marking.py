"""Questions and how an answer is marked: point by point, each with its reason."""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from fizzplate.lesson.equation_tasks import judge

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson.equation_tasks import EquationTask

LONGEST_ANSWER = 10_000
_READ = re.compile(r"^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?)(.*)$", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Option:
    """An option to pick.

    Parameters
    ----------
    text
        What is offered.
    right
        Whether it is the right one.
    reason
        What is said when it is chosen.
    misconception
        Number of the idea behind a wrong one; 0 for none.
    """

    text: str
    right: bool
    reason: str
    misconception: int = 0


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A wrong number that shows what went wrong, with the marks that it still earns."""

    value: float
    marks: int
    reason: str


@dataclass(frozen=True, slots=True)
class Point:
    """A mark for saying something: any of its words earns it, unless a contradiction is said too."""

    says: str
    words: tuple[str, ...]
    contradictions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One mark: whether it was earned, and why."""

    earned: bool
    reason: str


@dataclass(frozen=True, slots=True)
class Marked:
    """A marked answer.

    Parameters
    ----------
    lines
        Mark by mark.
    remark
        What else is said to the learner.
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


@dataclass(frozen=True, slots=True)
class Question:
    """A question with its marks.

    Parameters
    ----------
    maker, topic, level
        Which maker made it, about what, and for whom: 14 or 16.
    text
        What is asked.
    kind
        "choice", "number", "equation", "text" or "list" (self-marked).
    marks
        How many there are.
    options
        Of a choice.
    value, unit, tolerance, figures, near_misses
        Of a number: the answer, its unit, how far off it may be (relative), the significant figures that are
        expected, and wrong numbers that still earn something.
    points
        Of a text, or what a self-marked list holds.
    task
        Of an equation.
    answer
        A full answer.
    why
        The reason, as a sentence.
    watch
        A cell that shows it, as links write it.
    """

    maker: str
    topic: str
    level: int
    text: str
    kind: str
    marks: int
    answer: str
    why: str
    options: tuple[Option, ...] = ()
    value: float = math.nan
    unit: str = ""
    tolerance: float = 0.01
    figures: int = 3
    near_misses: tuple[NearMiss, ...] = ()
    points: tuple[Point, ...] = ()
    task: EquationTask | None = None
    watch: str = ""
    data: Mapping[str, str] = field(default_factory=dict)

    def mark(self, answer: str) -> Marked:
        """Mark an answer; every mark has its reason.

        Examples
        --------
        >>> from fizzplate.lesson.questions import questions
        >>> asked = questions(seed=1, count=1)[0]
        >>> asked.mark(asked.answer).earned == asked.marks
        True
        """
        plain = _plain(answer)
        return {
            "choice": self._mark_choice,
            "number": self._mark_number,
            "equation": self._mark_equation,
            "text": self._mark_text,
            "list": self._mark_list,
        }[self.kind](plain)

    def _nothing(self, remark: str) -> Marked:
        return Marked(tuple(Line(earned=False, reason=remark) for _ in range(self.marks)), remark)

    def _mark_choice(self, answer: str) -> Marked:
        for option in self.options:
            if answer == _plain(option.text):
                lines = tuple(Line(option.right, option.reason) for _ in range(self.marks))
                return Marked(lines, option.reason, 0 if option.right else option.misconception)
        return self._nothing("None of the options was chosen.")

    def _mark_number(self, answer: str) -> Marked:
        found = _READ.match(answer.replace(" ", ""))
        if not found:
            return self._nothing("No number could be read.")
        value = float(found[1].replace(",", "."))
        remark = self._about_unit(found[2]) + self._about_figures(found[1])
        if abs(value - self.value) <= self.tolerance * abs(self.value):
            return Marked((Line(earned=True, reason=self.why),) * self.marks, remark.strip())
        for miss in self.near_misses:
            if abs(value - miss.value) <= self.tolerance * abs(miss.value):
                lines = tuple(Line(k < miss.marks, miss.reason) for k in range(self.marks))
                return Marked(lines, f"{miss.reason} {remark}".strip())
        return self._nothing(f"The answer is {self.answer}: {self.why}")

    def _about_unit(self, unit: str) -> str:
        if not unit:
            return f"Give the unit: {self.unit}. " if self.unit else ""
        same = unit.replace("³", "3").lower() == self.unit.replace("³", "3").lower()
        return "" if same else f"The unit asked for is {self.unit}. "

    def _about_figures(self, digits: str) -> str:
        shown = len(re.sub(r"[eE].*$", "", digits).replace(",", "").replace(".", "").lstrip("+-0"))
        if shown > self.figures + 1:
            return f"That is more figures than the data allow: {self.figures} are enough. "
        return ""

    def _mark_equation(self, answer: str) -> Marked:
        if self.task is None:
            raise TypeError("a question for an equation needs its task")
        verdict = judge(answer, self.task)
        said = " ".join(verdict.says)
        if verdict.code in {"right", "multiple"}:
            return Marked((Line(earned=True, reason=said),) * self.marks, said)
        atoms_right = verdict.code == "unbalanced" and all(
            text.startswith("Charge") for text in verdict.says
        )
        earned = 1 if verdict.code == "cancel" or atoms_right else 0
        lines = tuple(Line(k < min(earned, self.marks - 1), said) for k in range(self.marks))
        return Marked(lines, said)

    def _mark_text(self, answer: str) -> Marked:
        lower = f" {answer.lower()} "
        lines = []
        for point in self.points:
            word = next((word for word in point.words if word in lower), "")
            against = next((word for word in point.contradictions if word in lower), "")
            if word and not against:
                lines.append(Line(earned=True, reason=f"{point.says}: “{word.strip()}” says it."))
            elif against:
                lines.append(
                    Line(earned=False, reason=f"{point.says}: “{against.strip()}” takes it back.")
                )
            else:
                lines.append(Line(earned=False, reason=f"{point.says}: not said."))
        return Marked(tuple(lines))

    def _mark_list(self, answer: str) -> Marked:
        """Mark a self-marked list: the numbers of the points that the learner found in the own answer."""
        ticked = {int(number) for number in re.findall(r"\d{1,2}", answer)}
        return Marked(
            tuple(
                Line(k in ticked, f"{point.says} (own judgement)")
                for k, point in enumerate(self.points, start=1)
            ),
            "Marked by yourself.",
        )


def _plain(answer: str) -> str:
    """Return an answer with plain signs: look-alikes made the same, unseen marks left out."""
    text = unicodedata.normalize("NFKC", answer[:LONGEST_ANSWER]).replace("−", "-")
    kept = "".join(c for c in text if unicodedata.category(c) != "Cf")
    return " ".join(kept.split())
