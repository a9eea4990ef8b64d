"""A question in the board's names for the electrodes."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any

from fizzplate.questions.question_types import EquationQuestion
from fizzplate.words.electrode_names import by_sign

if TYPE_CHECKING:
    from fizzplate.questions.content import Part, Point
    from fizzplate.questions.question_types import Question
    from fizzplate.words.wording import Wording


def in_board_names(asked: Question, wording: Wording) -> Question:
    """Return a question that names the electrodes as the board does, and accepts either name.

    Examples
    --------
    >>> from fizzplate.questions.dice import Dice
    >>> from fizzplate.questions.makers.ions import which_way
    >>> from fizzplate.words.wording import Wording
    >>> board = Wording(electrode_names="negative")
    >>> in_board_names(which_way(Dice(1, board)), board).answer
    'to the positive electrode'
    """
    held = {each.name for each in fields(asked)}
    changed: dict[str, Any] = {}
    if "points" in held:
        changed["points"] = tuple(_either_name(point) for point in asked.points)
    if wording.electrode_names != "negative":
        return replace(asked, **changed)
    changed |= {"text": by_sign(asked.text), "why": by_sign(asked.why)}
    if "points" in held:
        changed["points"] = tuple(
            replace(point, says=by_sign(point.says)) for point in changed["points"]
        )
    if "options" in held:
        changed["options"] = tuple(
            replace(each, text=by_sign(each.text), reason=by_sign(each.reason))
            for each in asked.options
        )
    if "parts" in held:
        changed["parts"] = tuple(map(_part, asked.parts))
    if "answer" in held:
        changed["answer"] = by_sign(asked.answer)
    if isinstance(asked, EquationQuestion):
        changed["task"] = replace(
            asked.task,
            asks=by_sign(asked.task.asks),
            goal=by_sign(asked.task.goal),
            hints=tuple(map(by_sign, asked.task.hints)),
        )
    if asked.chart:
        changed["chart"] = replace(
            asked.chart,
            title=by_sign(asked.chart.title),
            y_label=by_sign(asked.chart.y_label),
            lines=tuple(replace(line, name=by_sign(line.name)) for line in asked.chart.lines),
        )
    return replace(asked, **changed)


def _part(part: Part) -> Part:
    return replace(
        part,
        asks=by_sign(part.asks),
        steps=tuple(map(by_sign, part.steps)),
        near_misses=tuple(replace(miss, reason=by_sign(miss.reason)) for miss in part.near_misses),
    )


def _either_name(point: Point) -> Point:
    """Accept, and hold against, both names of an electrode."""
    return replace(
        point,
        words=_both(point.words),
        contradictions=_both(point.contradictions),
        too_little=_both(point.too_little),
        within=_both(point.within),
        besides=_both(point.besides),
    )


def _both(words: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*words, *map(by_sign, words))))
