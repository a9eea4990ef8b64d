"""Calculations: right by an independent computation, worked step by step, in words of many kinds."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise
from pathlib import Path

import periodictable
import pytest

from fizzplate.lesson import read_cell
from fizzplate.questions.calculations import draws, multi_part_makers
from fizzplate.questions.calculations import makers as number_makers
from fizzplate.questions.calculations.draws import phrase
from fizzplate.questions.calculations.targets import layers
from fizzplate.questions.content import Part
from fizzplate.questions.question_types import NumberQuestion
from fizzplate.questions.random_source import EDITION, RandomSource
from fizzplate.questions.tables import rows
from fizzplate.views.paper.scheme_numbers import right_numbers

sys.path.insert(0, str(Path(__file__).parent))
from number_cases import MAKERS, every_maker, made_by  # beside this file
from number_reader import PLAIN, work_out
from plain_spaces import with_plain_spaces

ROUNDED_MOLAR_MASSES = 1.5e-3  # molar masses are given to 0.1 g/mol, kelvin without 0.15


# right


@every_maker
def test_answers_agree_with_an_independent_computation(name):
    for question in made_by(name):
        found = [part.value for part in question.parts]
        assert found == pytest.approx(work_out(question), rel=ROUNDED_MOLAR_MASSES), question.text


@every_maker
def test_the_data_that_are_given_lead_to_the_very_digits_of_the_answer(name):
    for question in made_by(name):
        for part, value in zip(question.parts, work_out(question, stated=True), strict=True):
            shown = number_at(part.answer)
            exact = Decimal(f"{value:.11e}")
            place = Decimal(1).scaleb(exact.adjusted() - part.figures + 1)
            assert shown == float(exact.quantize(place, ROUND_HALF_UP)), question.text


def test_the_independent_computation_notices_a_wrong_answer():
    question = MAKERS["mass"](RandomSource(0))
    doubled = replace(
        question, parts=(replace(question.parts[0], value=2 * question.parts[0].value),)
    )
    assert work_out(doubled) != pytest.approx([doubled.parts[0].value], rel=0.1)


def number_at(text):
    """Read the number that a text begins with."""
    found = re.match(r"([\d ]*\d(?:\.\d+)?)(?: × 10([⁰¹²³⁴⁵⁶⁷⁸⁹⁻]+))?", with_plain_spaces(text))
    power = int((found[2] or "0").translate(PLAIN))
    return float(found[1].replace(" ", "")) * 10.0**power


def worked_out(expression):
    """Work out "a unit × b unit ÷ c unit", a ratio "a : b", or a sum."""
    if " + " in expression:
        return sum(map(float, expression.split(" + ")))
    first, *rest = re.split(r" ([×÷:]) (?!10[⁰¹²³⁴⁵⁶⁷⁸⁹⁻])", expression)
    value = number_at(first)
    for sign, text in zip(rest[::2], rest[1::2], strict=True):
        factor = number_at(text)
        value = value * factor if sign == "×" else value / factor
    return value


def equations(step):
    """Give both sides of each equals sign of a mark, which may have several sentences."""
    for sentence in step[:-1].split(". "):
        yield from pairwise(sentence.split(" = "))


@every_maker
def test_each_line_of_working_is_a_sentence_whose_arithmetic_is_right(name):
    checked = 0
    for question in made_by(name):
        for part in question.parts:
            for step in with_plain_spaces(part.steps):
                assert step.endswith(".")
                assert step[0].isupper() or step[0].isdigit()
                for expression, result in equations(step):
                    text = re.split(r"(?<! ): |, so", expression)[-1].strip()
                    if not text[0].isdigit():
                        continue  # letters only, as in Q = I × t
                    if "rounded to a whole number" in text:
                        assert number_at(result) == round(number_at(text))
                        continue
                    size = 1e-3 if result.endswith(" kg") else 1.0  # from grams
                    # numbers in a working are rounded to three figures or more
                    worked = pytest.approx(size * worked_out(text), rel=0.006)
                    assert number_at(result) == worked, step
                    checked += 1
            assert number_at(part.steps[-1].rsplit(" = ", 1)[1]) == pytest.approx(
                number_at(part.answer), rel=1e-9
            )
    assert checked > 100


@every_maker
def test_a_mark_is_given_for_every_step(name):
    for question in made_by(name):
        assert question.marks == sum(len(part.steps) for part in question.parts)
        assert 1 <= question.marks <= 4
        assert all(len(set(part.steps)) == len(part.steps) for part in question.parts)
        assert question.mark(question.answer).earned == question.marks


@every_maker
def test_numbers_are_within_what_schools_use(name):
    for question in made_by(name):
        for part in question.parts:
            most = 1e6 if part.unit == "kg" else 2e5
            assert 0.001 <= part.value <= most, question.text
            assert "e" not in part.answer.split()[0]


def test_densities_agree_with_another_library():
    for layer in layers(EDITION):
        published = getattr(periodictable, layer.product.formula).density
        assert layer.density_g_cm3 == pytest.approx(published, rel=0.01)


# natural and various


@every_maker
def test_text_is_whole_sentences(name):
    for question in made_by(name):
        for text in (question.text, *(part.prompt for part in question.parts if part.prompt)):
            assert text[0].isupper()
            assert text.endswith((".", "?"))
            assert not re.search(r"[{}]|  |\.\.|\bNone\b|\b1 hours|\bnan\b", text), text
        assert len(question.text) < 420
        assert all(bool(part.prompt) == (len(question.parts) > 1) for part in question.parts)
        assert not question.watch or read_cell(question.watch)[1] == []


@every_maker
def test_an_hour_of_revision_does_not_feel_the_same(name):
    questions = made_by(name)
    whole = {(each.text, tuple(part.prompt for part in each.parts)) for each in questions}
    assert len(whole) >= 85
    assert len({each.text[:20] for each in questions}) >= (3 if name == "Faraday constant" else 5)
    if name != "charge number":  # which is one, two or three
        assert len({each.answer for each in questions}) >= 25


def test_every_phrase_of_the_table_is_used_and_its_slots_are_filled(monkeypatch):
    used = set()

    def recording(rng, name):
        text = phrase(rng, name)
        used.add((name, text))
        return text

    for module in (draws, number_makers, multi_part_makers):
        monkeypatch.setattr(module, "phrase", recording)
    for name in MAKERS:
        for question in made_by(name):
            assert not set("{}") & set(question.text)
    table = {(row["phrase"], row["text"]) for row in rows("calculation_phrases")}
    assert table == used


def test_a_class_a_bath_and_a_works_are_met():
    said = with_plain_spaces(" ".join(question.text for question in made_by("mass")))
    assert all(
        word in said for word in ("class practical", "-plating bath", "in a factory", " mA ")
    )
    units = {part.unit for question in made_by("mass from a melt") for part in question.parts}
    assert units == {"g", "kg"}
    melted = with_plain_spaces(" ".join(question.text for question in made_by("mass from a melt")))
    metals = ("M(Al)", "M(Ca)", "M(Mg)", "M(Cr)", "M(Na)", "M(Pb)")
    assert all(metal in melted for metal in metals)
    assert "× 10⁵ C" in melted


def test_a_reading_from_a_list_is_given_as_it_stands():
    part = Part(101.0, "mg", ("101 mg is far from the others.",), tolerance=0.001)
    question = NumberQuestion("", "", 14, "Which reading is an outlier?", "", parts=(part,))
    assert question.mark("101 mg").earned == 1
    assert question.mark("100 mg").earned == 0
    assert with_plain_spaces([right_numbers(part)]) == ["Accept 101 mg."]
