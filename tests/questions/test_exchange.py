"""Sets of questions as QTI 3.0 packages and as tables: they come back, mark alike, and keep to the standard.

No package was found that carries the published XSD files of QTI 3.0. So the documents are
held against the structure written from the standard in ``qti_structure.py``, which names the sections;
and ``qti_processing.py`` carries out their response processing as the standard says, to see that another
program would give the same marks.
"""

from __future__ import annotations

import io
import sys
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from defusedxml.ElementTree import fromstring
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.questions.content import Chart, ChartLine, Option
from fizzplate.questions.exchange import from_csv, from_qti, to_csv, to_qti
from fizzplate.questions.exchange.equation_forms import spell
from fizzplate.questions.exchange.qti.chart_picture import draw_chart
from fizzplate.questions.exchange.qti.item_types.equation_items import choice_name, formulae
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS
from fizzplate.words.refusals import InputError

sys.path.insert(0, str(Path(__file__).parent))
from exchange_samples import (
    BY_HAND,
    CHOICE,
    EQUATION,
    LIST,
    NUMBER,
    TEXT,
    marks_alike,
)  # beside this file
from qti_processing import processed
from qti_structure import faults, name_of

SEEDS = range(4)


def by_package(question):
    found, said = from_qti(to_qti([question], "One"))
    assert said == []
    return found[0]


def by_table(question):
    return from_csv(to_csv([question]))[0]


BOTH = pytest.mark.parametrize("through", [by_package, by_table])


@BOTH
@pytest.mark.parametrize("kind", list(BY_HAND))
def test_a_question_of_each_kind_comes_back_and_marks_alike(kind, through):
    question = BY_HAND[kind]
    assert question.mark(question.answer).earned == question.marks  # the samples are sound
    assert marks_alike(question, through(question)) > 6
    assert through(question) == question


@BOTH
@pytest.mark.parametrize("name", list(MAKERS))
def test_what_every_maker_asks_comes_back_as_it_was(name, through):
    """Part for part; that a question of each kind then marks alike stands above."""
    for seed in SEEDS:
        question = MAKERS[name](RandomSource(seed))
        assert through(question) == question


def test_marking_alike_can_be_told_from_marking_otherwise():
    changed = {
        "choice": replace(
            CHOICE, options=(CHOICE.options[0], replace(CHOICE.options[1], misconception=2))
        ),
        "number": replace(NUMBER, parts=(NUMBER.parts[0], replace(NUMBER.parts[1], factor=0.0))),
        "equation": replace(
            EQUATION, task=replace(EQUATION.task, accepted=EQUATION.task.accepted[:1])
        ),
        "text": replace(TEXT, points=(TEXT.points[0], replace(TEXT.points[1], too_little=()))),
        "list": replace(LIST, points=LIST.points[:1]),
    }
    for kind, other in changed.items():
        with pytest.raises(AssertionError):
            marks_alike(BY_HAND[kind], other)


def test_a_set_keeps_its_order_and_gives_the_same_bytes_each_time():
    made = [*BY_HAND.values()]
    packed = to_qti(made, "All kinds")
    assert packed == to_qti(made, "All kinds")
    assert from_qti(packed) == (made, [])
    assert from_csv(to_csv(made)) == made
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        # packing differs from one build of zlib to another, and so do clocks
        assert {(e.compress_type, e.date_time) for e in archive.infolist()} == {
            (zipfile.ZIP_STORED, (2000, 1, 1, 0, 0, 0))
        }


ANY_TEXT = st.text(max_size=40)


@settings(max_examples=150, deadline=None)
@given(ANY_TEXT, ANY_TEXT, ANY_TEXT)
def test_any_text_can_be_put_in_a_package(text, option, reason):
    options = (
        Option(f"a{option}", right=True, reason=reason),
        Option("b", right=False, reason=text),
    )
    question = replace(CHOICE, text=f"Q{text}", topic=text, options=options)
    (back,), _ = from_qti(to_qti([question], "One"))
    assert back.topic == text
    assert back.answer == back.options[0].text


def files(packed):
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def documents(packed):
    held = files(packed).items()
    return {name: fromstring(text) for name, text in held if name.endswith(".xml")}


def written(question):
    return documents(to_qti([question], "One"))["items/q001.xml"]


def every_question():
    yield from BY_HAND.values()
    yield from (MAKERS[name](RandomSource(1)) for name in MAKERS)


def test_every_document_has_the_structure_of_the_standard():
    held = documents(to_qti([*every_question()], "All"))
    assert len(held) == len(BY_HAND) + len(MAKERS) + 2
    for name, top in held.items():
        assert faults(top) == [], name


def break_order(held):
    held["qti-assessment-item"].insert(0, held["qti-modal-feedback"])


def break_count(held):
    held["qti-assessment-item"].append(held["qti-item-body"])


def break_place(held):
    held["qti-item-body"].append(held["qti-text-entry-interaction"])


def break_pair(held):
    held["qti-gte"].remove(held["qti-gte"][0])


def break_text(held):
    held["qti-item-body"].text = "loose words"


def break_namespace(held):
    held["ol"].tag = "ol"


def break_needed(held):
    del held["qti-assessment-item"].attrib["time-dependent"]


def break_word(held):
    held["qti-rubric-block"].set("use", "marking")


def break_identifier(held):
    held["qti-modal-feedback"].set("identifier", "1 2")


def break_attribute(held):
    held["qti-item-body"].set("style", "x")


BREAKS = [each for name, each in list(globals().items()) if name.startswith("break_")]


@pytest.mark.parametrize("change", BREAKS)
def test_the_structure_tells_what_is_wrong(change):
    top = written(NUMBER)
    held = {name_of(each): each for each in top.iter()}
    assert faults(top) == []
    change(held)
    assert faults(top)


def test_the_names_in_an_item_hang_together():
    for question in every_question():
        item = written(question)
        named = {
            tag: [e for e in item.iter() if name_of(e) == tag]
            for tag in {name_of(e) for e in item.iter()}
        }
        responses = [e.get("identifier") for e in named["qti-response-declaration"]]
        outcomes = [e.get("identifier") for e in named["qti-outcome-declaration"]]
        bound = [
            e.get("response-identifier") for e in item.iter() if name_of(e).endswith("-interaction")
        ]
        # each response is bound to one and only one interaction (class ResponseDeclaration)
        assert sorted(bound) == sorted(responses) == sorted(set(responses))
        assert len(set(outcomes)) == len(outcomes)
        for each in named.get("qti-set-outcome-value", []):
            assert each.get("identifier") in outcomes
        for tag in ("qti-variable", "qti-correct"):
            for each in named.get(tag, []):
                assert each.get("identifier") in {*responses, *outcomes}
        for each in named.get("qti-modal-feedback", []):
            assert each.get("outcome-identifier") in outcomes
        choices = [e.get("identifier") for e in named.get("qti-simple-choice", [])]
        assert len(set(choices)) == len(choices) == len(question.options)
        if choices:
            assert named["qti-correct-response"][0][0].text in choices


def test_the_package_names_all_that_is_in_it():
    packed = to_qti([*BY_HAND.values()], "All")
    held = documents(packed)
    assert next(iter(held)) == "imsmanifest.xml"
    manifest, test = held["imsmanifest.xml"], held["assessment.xml"]
    named = [e.get("href") for e in manifest.iter() if name_of(e) == "file"]
    assert sorted(named) == sorted(set(files(packed)) - {"imsmanifest.xml"})
    resources = {e.get("identifier"): e for e in manifest.iter() if name_of(e) == "resource"}
    needed = [
        e.get("identifierref") for e in resources["test"].iter() if name_of(e) == "dependency"
    ]
    referred = [e for e in test.iter() if name_of(e) == "qti-assessment-item-ref"]
    assert [(e.get("identifier"), e.get("href")) for e in referred] == [
        (name, resources[name].get("href")) for name in needed
    ]
    assert resources["test"].get("type") == "imsqti_test_xmlv3p0"
    assert {resources[name].get("type") for name in needed} == {"imsqti_item_xmlv3p0"}
    texts = {name_of(e): e.text for e in manifest.iter()}
    assert (texts["schema"], texts["schemaversion"]) == ("QTI Package", "3.0.0")


def score(question, **responses):
    values = processed(written(question), responses)
    said = [value for name, value in values.items() if name.startswith("FEEDBACK")]
    return values["SCORE"], [value for value in said if value]


def test_another_program_marks_choices_as_they_are_marked_here():
    for question in filter(lambda each: each.kind == "choice", every_question()):
        item = written(question)
        feedback = {
            e.get("identifier"): "".join(e.itertext()).strip()
            for e in item.iter()
            if name_of(e) == "qti-modal-feedback"
        }
        for name, option in zip("ABCDEFGH", question.options, strict=False):
            earned, said = score(question, RESPONSE=name)
            assert earned == question.mark(option.text).earned
            assert [feedback[each] for each in said] == [option.reason]


def test_another_program_marks_numbers_as_they_are_marked_here():
    tried = 0
    for question in filter(lambda each: each.kind == "number", every_question()):
        plain = replace(question, strict=False)  # the standard knows neither units nor figures
        right = [part.value for part in question.parts]
        rounded = [float(f"{part.value:.{part.figures}g}") for part in question.parts]
        cases = [right, rounded, [1.5 * value for value in right], [None] * len(right)]
        for k, part in enumerate(question.parts):
            for value in (
                *(m.value for m in part.near_misses),
                part.value * (1 + 0.9 * part.tolerance),
            ):
                cases.append([*right[:k], value, *right[k + 1 :]])
                carried = question.parts[k + 1].factor * value if k + 1 < len(right) else 0.0
                if carried:
                    cases.append([*right[:k], value, carried, *right[k + 2 :]])
        for case in cases:
            names = {f"RESPONSE_{k}": value for k, value in enumerate(case, start=1)}
            typed = "; ".join("" if value is None else f"{value!r}" for value in case)
            assert score(question, **names)[0] == plain.mark(typed).earned, (question.text, typed)
            tried += 1
    assert tried > 12


def test_another_program_says_what_went_wrong_in_a_near_miss():
    earned, said = score(NUMBER, RESPONSE_1=4.0, RESPONSE_2=0.158)
    assert (earned, said) == (3, ["RESPONSE_1_MISS_1", "RESPONSE_2_MISS_1"])


def choices_for(question, form):
    """Choose for each formula what a form has of it; one that it lacks is left open."""
    chosen = {species: choice_name(count) for species, count in form.items()}
    return {
        f"RESPONSE_{k}": chosen.get(species)
        for k, species in enumerate(formulae(question.task), start=1)
    }


def test_another_program_marks_equations_as_they_are_marked_here():
    for question in filter(lambda each: each.kind == "equation", every_question()):
        for form in question.task.accepted:
            twice = {species: 2 * count for species, count in form.items()}
            (first, count), *others = form.items()
            cases = [
                dict(form),
                {species: -count for species, count in form.items()},
                {**form, first: count + (1 if count > 0 else -1)},
                dict(others),
                {**form, "Ag": 1},
                *([twice] if max(map(abs, twice.values())) <= 6 else []),
            ]
            for case in cases:
                if set(case) <= set(formulae(question.task)):
                    earned = score(question, **choices_for(question, case))[0]
                    assert earned == question.mark(spell(case)).earned, (question.text, case)
        nothing = choices_for(question, {})
        assert score(question, **nothing)[0] == 0
        assert score(question, **dict.fromkeys(nothing, "ABSENT"))[0] == 0


def test_texts_are_left_to_a_person_with_the_points_to_look_for():
    for question in (TEXT, LIST):
        item = written(question)
        outcome = next(e for e in item.iter() if e.get("identifier") == "SCORE")
        assert outcome.get("external-scored") == "human"
        assert outcome.get("normal-maximum") == "2"
        assert not [e for e in item.iter() if name_of(e) == "qti-response-processing"]
        listed = [e.text for e in item.iter() if name_of(e) == "li"]
        assert len(listed) == 2
        assert all(
            point.statement in text for point, text in zip(question.points, listed, strict=True)
        )
    first = next(e.text for e in written(TEXT).iter() if name_of(e) == "li")
    assert "Not with: precipitate." in first


def test_a_chart_is_a_picture_of_its_own_whose_figures_are_told_to_whoever_does_not_see_it():
    packed = to_qti([CHOICE, NUMBER], "Two")
    assert [name for name in files(packed) if name.endswith(".svg")] == ["images/q002.svg"]
    shown = next(e for e in documents(packed)["items/q002.xml"].iter() if name_of(e) == "img")
    assert shown.get("src") == "../images/q002.svg"
    assert "copper: 0 at 0, 0.0395 at 10, 0.079 at 20" in shown.get("alt")
    picture = fromstring(files(packed)["images/q002.svg"])
    (line,) = (e for e in picture.iter() if name_of(e) == "polyline")
    (x0, y0), (x1, y1), (x2, y2) = (map(float, at.split(",")) for at in line.get("points").split())
    words = {e.text: e for e in picture.iter() if name_of(e) == "text"}
    labels = {text: (float(e.get("x")), float(e.get("y"))) for text, e in words.items()}
    assert {"time / min", "mass gained / g", "copper", "0.02", "0.06"} <= set(labels)
    # each point is where the numbers along the axes say; these stand 5 below the height that they mark
    assert (x1, x2) == pytest.approx([labels[each][0] for each in ("10", "20")], abs=0.01)
    assert x1 - x0 == pytest.approx(x2 - x1)
    height = (labels["0.02"][1] - labels["0.06"][1]) / 0.04
    for y, mass in ((y0, 0.0), (y1, 0.0394567), (y2, 0.0790)):
        assert y == pytest.approx(labels["0.02"][1] - 5 + height * (0.02 - mass), abs=0.02)
    linked = {name for e in picture.iter() for name in e.attrib if name.endswith("href")}
    assert linked == set()


def test_a_chart_of_any_numbers_is_drawn():
    for x, y in (((0.0,), (0.0,)), ((1.0, 1.0), (-2.0, 5e-300)), ((-1e9, 1e9), (3e8, 3.0000001e8))):
        chart = Chart("<b>", "x & y", "", (ChartLine("one", x, y), ChartLine("", x, y)))
        line = next(e for e in fromstring(draw_chart(chart)).iter() if name_of(e) == "polyline")
        places = [float(each) for at in line.get("points").split() for each in at.split(",")]
        assert all(0 <= place <= 640 for place in places)


def test_a_set_must_have_questions_and_a_title():
    for made, title, name in (
        ([], "One", "questions"),
        ([CHOICE] * 499, "One", "questions"),
        ([NUMBER] * 250, "One", "questions"),
        ([CHOICE], " ", "title"),
        ([CHOICE], "x" * 201, "title"),
    ):
        with pytest.raises(InputError, match=f"^{name}: "):
            to_qti(made, title)
