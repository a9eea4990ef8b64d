"""The Revise page marks every kind of answer as Python does, line by line."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS
from fizzplate.views.quiz import plain_question
from fizzplate.views.web.module_joining import join_modules
from fizzplate.views.workshop import plain_species

sys.path.insert(0, str(Path(__file__).parents[1] / "questions"))
from marking_cases import cases, rounds  # shared with Python's own tests

LOAD = """async (text) => {
  const whole = text + '\\nexport const { markAnswer } = quiz$mark$js;';
  Object.assign(window, await import(URL.createObjectURL(new Blob([whole], { type: 'text/javascript' }))));
}"""


# as text, which goes to the page much faster than values do
MARK = """(text) => {
  const [question, given] = JSON.parse(text);
  return JSON.stringify(given.map((each) => markAnswer(question, each, species)));
}"""


ODD = [
    "",
    "x" * 300,
    "１２，５ cm³",
    "−5",
    "<b>copper</b>",
    "1 3 5",
    "a red precipitate, orange layer",
    "1e3 C",
    "The paper is not bleached. No damp litmus.",
    "no bubbles,\ncolourless; a brown deposit isn’t seen",
    "With copper the blue fades, and oxygen bubbles off, when with carbon it stays and it wears away",
    "When it loses e⁻, it is oxidised, and when it doesn't, it is reduced",
    "éwater is reduced: 2H₂O + 2e⁻ → H₂ + 2OH⁻; hydroxide ions left over",
    "litmus is damp: it goes white",
]


def answers_to(question):
    """Give right, wrong and odd answers to a question."""
    given = [question.answer, *ODD, *(option.text for option in question.options)]
    if question.kind == "number":
        given += numbers_to(question.parts)
    if question.kind == "equation":
        given += [
            question.answer.replace("2", ""),
            f"{question.answer} + H2O",
            question.answer.replace("e-", ""),
            question.answer.lower(),
        ]
    whole = [each.answer for each in question.sections]
    for k, each in enumerate(question.sections):
        given += [" ¦ ".join([*whole[:k], part, *whole[k + 1 :]]) for part in answers_to(each)]
    given += list(after_wrong_equations(question.sections))
    if question.kind == "levels":
        given += ["0", "3", "7", "about 4 of 6"]
    return given


def after_wrong_equations(sections):
    """Give numbers that follow from wrong equations in a section before."""
    wrong = ("Cu+ + e- -> Cu", "Ag2+ + 2e- -> Ag", "2Cu = Cu2+ + e-", "Ag -> Ag+", "e-", "")
    if sections and sections[-1].kind == "number":
        *before, last = sections
        for equation in wrong:
            typed = [equation if each.kind == "equation" else each.answer for each in before]
            for times in (0.5, 1, 2, 4):
                yield " ¦ ".join([*typed, f"{times * last.parts[0].value:.4g}"])


def slips_in_every_part(parts):
    """Give slips that are repeated, and what follows from wrong answers before by more than a factor."""
    several = [part.near_misses for part in parts if part.near_misses]
    for k in range(max(map(len, several), default=0)):
        misses = [part.near_misses[k % (len(part.near_misses) or 1) :][:1] for part in parts]
        yield "; ".join(
            f"{(miss[0] if miss else part).value:.5g} {part.unit}"
            for miss, part in zip(misses, parts, strict=True)
        )
    for given in {each.given for part in parts for each in part.afterwards}:
        known = [[each for each in part.afterwards if each.given == given] for part in parts]
        yield "; ".join(f"{each[0].value if each else given:.5g}" for each in known)
    wrong = [f"{1.3 * part.value:.5g}" for part in parts]
    for k in range(len(parts)):
        yield "; ".join([*wrong[:k], *([""] * (len(parts) - k - 1)), wrong[-1]])
    if parts[-1].formula:
        letters = {"abcdefgh"[k]: 1.3 * part.value for k, part in enumerate(parts)}
        a, b = letters["a"], letters["b"]
        melted = next((float(n) for n in parts[-1].formula.split() if n[0].isdigit()), 0.0)
        yield "; ".join(
            [*wrong[:-1], f"{a / b if len(parts) == 3 else 100 * (a - melted) / a:.5g}"]
        )


def numbers_to(parts):
    """Give numbers that are right, near, wrong, carried forward, and written in many ways."""
    ways = [
        "{:.4g}",
        "{:.1g} ",
        "{:.2g}",
        "{:.8f}{unit}",
        "{:.3e} {unit}",
        "{:.6g} mg",
        "{:,.3f} {unit}",
    ]
    for way in ways:
        yield "; ".join(way.format(part.value, unit=part.unit) for part in parts)
    for part in parts:
        for miss in part.near_misses:
            yield "; ".join(f"{miss.value:.5g} {part.unit}" for _ in parts)
    yield from (step for part in parts for step in part.steps)
    yield from slips_in_every_part(parts)
    for wrong in (3.0, 1 / 60):
        value = wrong * parts[0].value
        carried = [value]
        for part in parts[1:]:
            value *= part.factor
            carried.append(value)
        yield "; ".join(
            f"{each:.4g} {part.unit}" for each, part in zip(carried, parts, strict=True)
        )


def test_the_page_marks_every_kind_as_python_does(windows):
    page = windows.lend()
    page.set_content("<!doctype html><html lang=en><title>marking</title><body></body></html>")
    page.evaluate(LOAD, join_modules("quiz/quiz.js", render="renderQuiz"))
    page.evaluate("(species) => Object.assign(window, { species })", plain_species())
    for maker in MAKERS.values():
        for seed in range(4):
            question = maker(RandomSource(seed)).with_strict_units(strict=seed % 2 == 1)
            marks_alike(page, question, answers_to(question))
    every: dict[object, tuple[object, list[str]]] = {}
    for case in (case for written in rounds() for case in cases(written)):
        every.setdefault(id(case.question), (case.question, []))[1].append(case.answer)
    for question, answers in every.values():
        marks_alike(page, question, answers)
    windows.take_back(page)


def marks_alike(page, question, given):
    """Check that the page marks answers as Python does."""
    there = json.loads(
        page.evaluate(MARK, json.dumps([plain_question(question), given], default=dict))
    )
    for text, javascript in zip(given, there, strict=True):
        here = question.mark(text)
        lines = [{"earned": line.earned, "reason": line.reason} for line in here.lines]
        assert javascript["lines"] == lines, (question.text, text)
        assert javascript["remark"] == here.remark, (question.text, text)
        assert javascript["misconception"] == here.misconception, (question.text, text)
