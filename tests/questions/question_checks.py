"""What must hold of every question, whoever made it; ``test_makers`` and ``sweep_questions`` ask it."""

from __future__ import annotations

import functools
import re

import pytest

from fizzplate.lesson import Wording, read_cell
from fizzplate.lesson.equations.equation_judge import judge
from fizzplate.questions.marking.numbers import UNITS
from fizzplate.questions.sets import MAKERS, another

DEFAULT_WORDING = Wording()
SIGNS = Wording(electrode_names="negative")
SEEDS = range(100)
#: makers that go through every misconception
GENERAL = {"true statement", "wrong statement"}
BOARDS = {
    "usual": DEFAULT_WORDING,
    "water, minus, states, signs, dilute": Wording("H2O", "H2O", "minus", True, "negative", 0.1),
    "water at the anode, both names": Wording("H2O", "H+", electrode_names="both"),
    "signs, all chloride dilute": Wording(electrode_names="negative", dilute_below_mol_dm3=1.0),
}
every_maker = pytest.mark.parametrize("name", list(MAKERS))
ELECTRODE = re.compile(r"cathode|anode", re.IGNORECASE)
UNTIDY = re.compile(
    r"\bnan\b|\bNone\b|\binf\b|  |\.\.|[{}]| [.,;?]|\ban? an? |\ba [aeio]node|\bTrue\b"
)
#: what nobody of fifteen says, or what no class does
UNUSUAL = re.compile(
    r"\b(?:an?|one|each) (?:\w+ )?works\b|\breacts? (?:\w+ )?to (?!the )"
    r"|\b(?:student|class|group) electrolyses molten|\bparts an? |[Cc]hlorine bubbles off"
)
MAX_QUESTION_LENGTH = 620


@functools.cache  # several tests look at the same questions
def made(name, seed, wording=DEFAULT_WORDING, *, strict=False):
    return another(name, seed, wording=wording, strict=strict)


def made_by(name, wording=None, seeds=SEEDS):
    return [made(name, seed, wording or DEFAULT_WORDING) for seed in seeds]


def first_of(name, seeds=SEEDS, **wanted):
    """The first question of a maker whose text holds some words."""
    return next(q for q in (made(name, seed) for seed in seeds) if wanted["text"] in q.text)


def shown(question):
    """Every text that a learner may read."""
    parts = [question.text, question.answer, question.why]
    for option in question.options:
        parts += [option.text, option.reason]
    for part in question.parts:
        parts += [part.prompt, *part.steps, *(miss.reason for miss in part.near_misses)]
    parts += [point.statement for point in question.points]
    parts += [text for each in question.sections for text in shown(each)]
    if question.kind == "levels":
        parts += question.levels
    if question.kind == "equation":
        parts += [question.task.prompt, question.task.goal, *question.task.hints]
    if question.chart:
        chart = question.chart
        parts += [chart.title, chart.x_label, chart.y_label, *(line.name for line in chart.lines)]
    return parts


def faults(question, name, wording=DEFAULT_WORDING):
    """What is not as it should be, as sentences."""
    found = [*_form(question, name, wording), *_own_answer(question), *_content(question)]
    for each in question.sections:
        found += [*_form(each, name, wording), *_own_answer(each), *_content(each)]
    return found


def _content(question):
    check = {
        "choice": _choice,
        "number": _number,
        "equation": _equation,
        "text": _points,
        "list": _points,
        "plot": _points,
        "levels": _levels,
        "structured": _sections,
    }[question.kind]
    return check(question)


def _form(question, name, wording):
    maker = MAKERS[name]
    if (question.maker, question.topic, question.level) != (name, maker.topic, maker.level):
        yield f"is of {question.maker}, {question.topic}, {question.level}"
    if not question.text.endswith((".", "?")) or not question.text[0].isupper():
        yield "does not begin and end as a sentence"
    if len(question.text) > MAX_QUESTION_LENGTH:
        yield f"has {len(question.text)} characters"
    for text in shown(question):
        if UNTIDY.search(text):
            yield f"is untidy: {text!r}"
        if UNUSUAL.search(text):
            yield f"is said as no class says it: {text!r}"
        if wording.electrode_names == "negative" and ELECTRODE.search(text):
            yield f"names an electrode otherwise than the board: {text!r}"
    for cell in filter(None, question.watch.split(";")):
        if read_cell(cell)[1]:
            yield f"shows a cell that cannot be read: {cell}"


def _own_answer(question):
    for strict in (False, True):
        marked = question.with_strict_units(strict=strict).mark(question.answer)
        if not marked.earned == question.marks == len(marked.lines) >= 1:
            yield f"gives its own answer {marked.earned} of {question.marks} marks: {question.answer!r}"
    empty = question.mark("")
    if empty.earned or len(empty.lines) != question.marks or not all(e.reason for e in empty.lines):
        yield "does not mark an empty answer with reasons"


def _choice(question):
    texts = [option.text for option in question.options]
    if not 3 <= len({text.lower() for text in texts}) == len(texts) <= 4:
        yield f"offers {texts}"
    if sum(option.right for option in question.options) != 1:
        yield "has not one right option"
    for option in question.options:
        marked = question.mark(option.text)
        if (
            marked.earned != (question.marks if option.right else 0)
            or marked.remark != option.reason
        ):
            yield f"does not give the reason of {option.text!r}"
        if marked.misconception != (0 if option.right else option.misconception):
            yield f"does not tell the idea behind {option.text!r}"
        if not 0 <= option.misconception <= 33:
            yield f"names idea {option.misconception}"
        bare = option.reason.lower().strip(" .!")
        if len(bare) < 12 or bare in {"wrong", "that is wrong", "not right"}:
            yield f"gives no reason: {option.reason!r}"


def _number(question):
    if question.marks != sum(len(part.steps) for part in question.parts):
        yield "has not a mark for each step"
    for part in question.parts:
        if part.unit and part.unit not in UNITS:
            yield f"asks for the unit {part.unit!r}"
        if not 1e-6 < abs(part.value) < 1e9:
            yield f"asks for {part.value}"
        values = [part.value, *(miss.value for miss in part.near_misses)]
        for k, one in enumerate(values):
            for other in values[:k]:
                if abs(one - other) <= 2 * part.tolerance * abs(other):
                    yield f"cannot tell {one} from {other}"


def _equation(question):
    if judge(question.answer, question.task).code != "right":
        yield f"does not accept {question.answer}"
    if question.task.hints[-1] != question.answer:
        yield f"ends its hints with {question.task.hints[-1]}"
    for form in question.task.accepted:
        left = " + ".join(f"{-n}{s}" for s, n in form.items() if n < 0)
        right = " + ".join(f"{n}{s}" for s, n in form.items() if n > 0)
        if question.mark(f"{left} -> {right}").earned != question.marks:
            yield f"does not give full marks to {form}"


def _levels(question):
    if question.marks != 6 or len(set(question.levels)) != 3:
        yield f"has {len(question.levels)} levels for {question.marks} marks"
    if not 5 <= len(question.points) <= 10:
        yield f"lists {len(question.points)} points of content"


def _sections(question):
    if not 3 <= len(question.sections) <= 5:
        yield f"has {len(question.sections)} parts"
    if not all(1 <= each.marks <= 4 for each in question.sections):
        yield f"has parts of {[each.marks for each in question.sections]} marks"
    if len({each.text for each in question.sections}) < len(question.sections):
        yield "asks the same twice"


def _points(question):
    if len(question.points) != question.marks:
        yield "has not a mark for each point"
    for point in question.points:
        for words in (point.words, point.contradictions, point.too_little):
            if any(word != word.lower() or not word.strip() for word in words):
                yield f"looks for words that no answer in small letters holds: {words}"
        both = [word for word in (*point.words, *point.contradictions) if "anode" in word]
        for word in both:
            other = word.replace("an anode", "a positive electrode").replace(
                "anode", "positive electrode"
            )
            if other not in (*point.words, *point.contradictions):
                yield f"knows {word!r} by one name only"
