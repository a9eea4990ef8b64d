"""Questions, and the ideas behind wrong answers, as plain data that the page shows and marks from."""

from __future__ import annotations

from dataclasses import asdict
from functools import cache, singledispatch
from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import parse_formula, pretty
from fizzplate.questions import misconceptions
from fizzplate.questions.marking import UNITS
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    Question,
    TextQuestion,
    missing_for,
)
from fizzplate.views.figures import asked_chart
from fizzplate.views.workshop import plain_task
from fizzplate.words import DEFAULT_WORDING

if TYPE_CHECKING:
    from fizzplate.questions import DrawnStep, Part
    from fizzplate.words import Wording


def plain_question(asked: Question) -> dict[str, Any]:
    """Give a question as plain data that the page shows and marks from."""
    common = {
        "maker": asked.maker,
        "topic": asked.topic,
        "level": asked.level,
        "text": asked.text,
        "kind": asked.kind,
        "marks": asked.marks,
        "answer": asked.answer,
        "shown": asked.answer,
        "why": asked.why,
        "options": [],
        "parts": [],
        "points": [],
        "task": None,
        "chart": asked_chart("asked", asked.chart) if asked.chart else "",
        "watch": asked.watch,
        "strict": False,
    }
    return common | own_data(asked)


@singledispatch
def own_data(asked: Question) -> dict[str, Any]:
    """Give what only this type of question sends to the page."""
    raise missing_for(asked, "data for the page", "own_data")


@own_data.register
def _(asked: ChoiceQuestion) -> dict[str, Any]:
    return {"options": [asdict(option) for option in asked.options]}


@own_data.register
def _(asked: NumberQuestion) -> dict[str, Any]:
    return {"parts": [_plain_part(part) for part in asked.parts], "strict": asked.strict}


@own_data.register
def _(asked: EquationQuestion) -> dict[str, Any]:
    return {"task": plain_task(asked.task), "shown": asked.task.hints[-1]}


@own_data.register(TextQuestion)
@own_data.register(ChecklistQuestion)
def _(asked: TextQuestion | ChecklistQuestion) -> dict[str, Any]:
    return {"points": [asdict(point) for point in asked.points]}


def _plain_part(part: Part) -> dict[str, Any]:
    return {
        "value": part.value,
        "unit": part.unit,
        "units": dict(UNITS.get(part.unit, {})),
        "steps": list(part.steps),
        "asks": part.asks,
        "factor": part.factor,
        "nearMisses": [asdict(miss) for miss in part.near_misses],
        "tolerance": part.tolerance,
        "figures": part.figures,
        "answer": part.answer,
    }


@cache
def plain_ideas(wording: Wording = DEFAULT_WORDING) -> dict[str, dict[str, Any]]:
    """Give the ideas of learners by their numbers: what they say, what is right, what shows it."""
    return {
        str(number): {
            "wrong": each.wrong,
            "right": each.right,
            "watch": each.watch,
            "drawn": _plain_step(each.drawn) if each.drawn else None,
        }
        for number, each in misconceptions(wording).items()
    }


def _plain_step(step: DrawnStep) -> dict[str, Any]:
    species = [
        {"label": pretty(each), "charge": parse_formula(each).charge} for each in step.species
    ]
    return {"caption": step.caption, "species": species}
