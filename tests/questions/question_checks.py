"""What must hold of every question, whoever made it; ``test_makers`` and ``sweep_questions`` ask it."""

from __future__ import annotations

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
MAX_QUESTION_LENGTH = 620


def made(name, seed, wording=DEFAULT_WORDING, *, strict=False):
    return another(name, seed, wording=wording, strict=strict)


def made_by(name, wording=None, seeds=SEEDS):
    return [made(name, seed, wording or DEFAULT_WORDING) for seed in seeds]


def first_of(name, seeds=SEEDS, **wanted):
    """The first question of a maker whose text holds some words."""
    return next(q for q in made_by(name, seeds=seeds) if wanted["text"] in q.text)


def shown(asked):
    """Every text that a learner may read."""
    parts = [asked.text, asked.answer, asked.why]
    for option in asked.options:
        parts += [option.text, option.reason]
    for part in asked.parts:
        parts += [part.asks, *part.steps, *(miss.reason for miss in part.near_misses)]
    parts += [point.says for point in asked.points]
    if asked.kind == "equation":
        parts += [asked.task.asks, asked.task.goal, *asked.task.hints]
    if asked.chart:
        chart = asked.chart
        parts += [chart.title, chart.x_label, chart.y_label, *(line.name for line in chart.lines)]
    return parts


def faults(asked, name, wording=DEFAULT_WORDING):
    """What is not as it should be, as sentences."""
    found = [*_form(asked, name, wording), *_own_answer(asked)]
    check = {
        "choice": _choice,
        "number": _number,
        "equation": _equation,
        "text": _points,
        "list": _points,
    }[asked.kind]
    return [*found, *check(asked)]


def _form(asked, name, wording):
    maker = MAKERS[name]
    if (asked.maker, asked.topic, asked.level) != (name, maker.topic, maker.level):
        yield f"is of {asked.maker}, {asked.topic}, {asked.level}"
    if not asked.text.endswith((".", "?")) or not asked.text[0].isupper():
        yield "does not begin and end as a sentence"
    if len(asked.text) > MAX_QUESTION_LENGTH:
        yield f"has {len(asked.text)} characters"
    for text in shown(asked):
        if UNTIDY.search(text):
            yield f"is untidy: {text!r}"
        if wording.electrode_names == "negative" and ELECTRODE.search(text):
            yield f"names an electrode otherwise than the board: {text!r}"
    for cell in filter(None, asked.watch.split(";")):
        if read_cell(cell)[1]:
            yield f"shows a cell that cannot be read: {cell}"


def _own_answer(asked):
    for strict in (False, True):
        marked = asked.with_strict_units(strict=strict).mark(asked.answer)
        if not marked.earned == asked.marks == len(marked.lines) >= 1:
            yield f"gives its own answer {marked.earned} of {asked.marks} marks: {asked.answer!r}"
    empty = asked.mark("")
    if empty.earned or len(empty.lines) != asked.marks or not all(e.reason for e in empty.lines):
        yield "does not mark an empty answer with reasons"


def _choice(asked):
    texts = [option.text for option in asked.options]
    if not 3 <= len({text.lower() for text in texts}) == len(texts) <= 4:
        yield f"offers {texts}"
    if sum(option.right for option in asked.options) != 1:
        yield "has not one right option"
    for option in asked.options:
        marked = asked.mark(option.text)
        if marked.earned != (asked.marks if option.right else 0) or marked.remark != option.reason:
            yield f"does not give the reason of {option.text!r}"
        if marked.misconception != (0 if option.right else option.misconception):
            yield f"does not tell the idea behind {option.text!r}"
        if not 0 <= option.misconception <= 30:
            yield f"names idea {option.misconception}"
        bare = option.reason.lower().strip(" .!")
        if len(bare) < 12 or bare in {"wrong", "that is wrong", "not right"}:
            yield f"gives no reason: {option.reason!r}"


def _number(asked):
    if asked.marks != sum(len(part.steps) for part in asked.parts):
        yield "has not a mark for each step"
    for part in asked.parts:
        if part.unit and part.unit not in UNITS:
            yield f"asks for the unit {part.unit!r}"
        if not 1e-6 < abs(part.value) < 1e9:
            yield f"asks for {part.value}"
        values = [part.value, *(miss.value for miss in part.near_misses)]
        for k, one in enumerate(values):
            for other in values[:k]:
                if abs(one - other) <= 2 * part.tolerance * abs(other):
                    yield f"cannot tell {one} from {other}"


def _equation(asked):
    if judge(asked.answer, asked.task).code != "right":
        yield f"does not accept {asked.answer}"
    if asked.task.hints[-1] != asked.answer:
        yield f"ends its hints with {asked.task.hints[-1]}"
    for form in asked.task.accepted:
        left = " + ".join(f"{-n}{s}" for s, n in form.items() if n < 0)
        right = " + ".join(f"{n}{s}" for s, n in form.items() if n > 0)
        if asked.mark(f"{left} -> {right}").earned != asked.marks:
            yield f"does not give full marks to {form}"


def _points(asked):
    if len(asked.points) != asked.marks:
        yield "has not a mark for each point"
    for point in asked.points:
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
