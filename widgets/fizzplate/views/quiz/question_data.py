"""Questions, and the ideas behind wrong answers, as plain data that the page shows and marks from."""

from __future__ import annotations

from dataclasses import asdict
from functools import cache, singledispatch
from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import parse_formula, pretty
from fizzplate.questions import cell_to_watch, misconceptions
from fizzplate.questions.marking import distinct_words
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    LevelsQuestion,
    NumberQuestion,
    PlotQuestion,
    Question,
    StructuredQuestion,
    TextQuestion,
    labelled,
    missing_for,
)
from fizzplate.views.figures import question_chart
from fizzplate.views.workshop import plain_task
from fizzplate.words import DEFAULT_WORDING

if TYPE_CHECKING:
    from fizzplate.questions import NearMiss, Part, ParticleDrawing
    from fizzplate.questions.practice import PracticeItem
    from fizzplate.words import Wording


def plain_question(question: Question) -> dict[str, Any]:
    """Give a question as plain data that the page shows and marks from."""
    cells, is_its_own = cell_to_watch(question)
    common = {
        "maker": question.maker,
        "topic": question.topic,
        "level": question.level,
        "text": question.text,
        "kind": question.kind,
        "marks": question.marks,
        "answer": question.answer,
        "shown": question.answer,
        "why": question.why,
        "options": [],
        "parts": [],
        "points": [],
        "levels": [],
        "sections": [],
        "task": None,
        "chart": question_chart("question", question.shown_chart) if question.shown_chart else "",
        "table": [],
        "model": "",
        "watch": cells,
        "watchesItself": is_its_own,
        "strict": False,
    }
    return common | own_data(question)


def plain_item(item: PracticeItem) -> dict[str, Any]:
    """Give what a practice asks next as plain data: its question, and how it is asked."""
    asked = {
        "key": item.key,
        "because": item.because,
        "follows": item.follows,
        "left": item.left,
        "steps": item.steps,
        "shown": list(item.shown),
        "inSteps": item.in_two_steps,
        "waiting": item.waiting,
    }
    return plain_question(item.question) | {"practice": asked}


@singledispatch
def own_data(question: Question) -> dict[str, Any]:
    """Give what only this type of question sends to the page."""
    raise missing_for(question, "data for the page", "own_data")


@own_data.register
def _(question: ChoiceQuestion) -> dict[str, Any]:
    return {"options": [asdict(option) for option in question.options]}


@own_data.register
def _(question: NumberQuestion) -> dict[str, Any]:
    return {"parts": [_plain_part(part) for part in question.parts], "strict": question.strict}


@own_data.register
def _(question: EquationQuestion) -> dict[str, Any]:
    return {"task": plain_task(question.task), "shown": question.task.hints[-1]}


@own_data.register(TextQuestion)
@own_data.register(ChecklistQuestion)
def _(question: TextQuestion | ChecklistQuestion) -> dict[str, Any]:
    listed = ("words", "contradictions", "too_little")
    return {
        "points": [
            asdict(point) | {each: distinct_words(getattr(point, each)) for each in listed}
            for point in question.points
        ]
    }


@own_data.register
def _(question: PlotQuestion) -> dict[str, Any]:
    return {
        "points": [asdict(point) for point in question.points],
        "table": question.table,
        "model": question_chart("model", question.chart, crosses=True) if question.chart else "",
    }


@own_data.register
def _(question: LevelsQuestion) -> dict[str, Any]:
    points = [asdict(point) for point in question.points]
    return {"levels": list(question.levels), "points": points}


@own_data.register
def _(question: StructuredQuestion) -> dict[str, Any]:
    sections = [plain_question(each) for each in question.sections]
    shown = " ".join(labelled(tuple(each["shown"] for each in sections)))
    return {"sections": sections, "shown": shown}


def _plain_part(part: Part) -> dict[str, Any]:
    return {
        "value": part.value,
        "unit": part.unit,
        "steps": list(part.steps),
        "prompt": part.prompt,
        "factor": part.factor,
        "nearMisses": [_plain_miss(miss) for miss in part.near_misses],
        "tolerance": part.tolerance,
        "figures": part.figures,
        "answer": part.answer,
        "stepValues": list(part.step_values),
        "stepUnits": list(part.step_units),
        "formula": part.formula,
        "afterwards": [asdict(each) for each in part.afterwards],
    }


def _plain_miss(miss: NearMiss) -> dict[str, Any]:
    plain = {"value": miss.value, "lost": list(miss.lost), "reason": miss.reason}
    return plain | ({"misconception": miss.misconception} if miss.misconception else {})


@cache
def plain_ideas(wording: Wording = DEFAULT_WORDING) -> dict[str, dict[str, Any]]:
    """Give the ideas of learners by their numbers: what they say, what is right, what shows it."""
    return {
        str(number): {
            "wrong": each.wrong,
            "right": each.right,
            "watch": each.watch,
            "drawing": _plain_drawing(each.drawing) if each.drawing else None,
        }
        for number, each in misconceptions(wording).items()
    }


def _plain_drawing(step: ParticleDrawing) -> dict[str, Any]:
    species = [
        {"label": pretty(each), "charge": parse_formula(each).charge} for each in step.species
    ]
    return {"caption": step.caption, "species": species}
