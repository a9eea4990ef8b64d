"""Revision from a link: the page marks as Python does, and a set is worked through on a phone by keyboard."""

from __future__ import annotations

import json
import re
import sys
from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader
from tests.browser.visit import (
    BEYOND,
    INPUTS,
    LOADING_MS,
    PHONE,
    SIDEWAYS,
    expect_mended,
    expect_wrong,
    only_what_is_picked_looks_picked,
    unfold,
    violations,
)

from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS, questions
from fizzplate.views.quiz import plain_question
from fizzplate.views.web.module_joining import join_modules
from fizzplate.views.workshop import plain_species

sys.path.insert(0, str(Path(__file__).parents[1] / "questions"))
from marking_cases import FILES, cases  # shared with Python's own tests

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
    if question.kind == "levels":
        given += ["0", "3", "7", "about 4 of 6"]
    return given


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
    for case in (case for name in FILES for case in cases(name)):
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


@pytest.fixture(scope="module")
def revise_address(address_of):
    return address_of("revise")


@pytest.fixture
def revise(open_at, revise_address):
    def open_page(query="", heading="", **options):
        count = re.search(r"count=(\d{1,2})(&|$)", query)
        page = open_at(revise_address + query, **options)
        if heading is not None:
            heading = heading or f"Question 1 of {count[1] if count else 10}"
            page.get_by_role("heading", name=heading).wait_for(timeout=LOADING_MS)
        return page

    return open_page


def fill_in(box, question):
    """Answer a question, or a part of one, in its box by the keyboard."""
    if question.kind == "choice":
        box.get_by_role("radio", name=question.answer, exact=True).press("Space")
        return
    texts = question.answer.split("; ") if question.kind == "number" else [question.answer]
    for field, text in zip(box.get_by_role("textbox").all(), texts, strict=True):
        field.fill(text)


def own_answer(page, question):
    """Answer the question that is shown, by the keyboard."""
    card = page.locator(".fp-question-card")
    for letter, each in zip("abcdefgh", question.sections, strict=False):
        fill_in(card.get_by_role("group", name=f"Part ({letter})", exact=True), each)
    if not question.sections:
        fill_in(card, question)
    page.get_by_role("button", name="Mark it").press("Enter")
    if question.kind in {"list", "plot"}:
        for box in page.locator(".fp-question-card").get_by_role("checkbox").all():
            box.press("Space")
    if question.kind == "levels":
        card.get_by_role("radio", name="6 marks", exact=True).press("Space")


PARTS_AND_LEVELS = {"seed": 4, "count": 6, "topics": ["applications"], "level": 16}


def worked_through(page, whole_set):
    """Answer each question by keyboard, and give it once it is marked; nothing sticks out of the page."""
    for k, each in enumerate(whole_set, start=1):
        heading = page.get_by_role("heading", name=f"Question {k} of {len(whole_set)}")
        expect(heading).to_be_visible()
        own_answer(page, each)
        expect(page.locator(".fp-marks")).to_contain_text(f"{each.marks} of {each.marks} mark")
        assert page.evaluate(BEYOND) == []
        assert not page.evaluate(SIDEWAYS)
        yield each
        if k < len(whole_set):
            page.get_by_role("button", name="Next question").press("Enter")


def test_a_question_in_parts_and_a_longer_answer_are_marked_and_kept(revise):
    whole_set = questions(**PARTS_AND_LEVELS)
    assert {"structured", "levels"} <= {each.kind for each in whole_set}
    page = revise("?set=4&count=6&level=16&topics=applications", viewport=PHONE)
    for each in worked_through(page, whole_set):
        if each.kind in {"structured", "levels"}:
            assert violations(page) == []
    page.reload()
    total = sum(each.marks for each in whole_set)
    expect(page.get_by_role("region", name="Result")).to_contain_text(f"{total} of {total} marks")
    assert page.complaints == []


def test_a_set_is_worked_through_by_keyboard_on_a_phone(revise):
    page = revise("?set=4&count=6&level=14", viewport=PHONE)
    whole_set = questions(seed=4, count=6, level=14)
    for _ in worked_through(page, whole_set):
        pass
    total = sum(each.marks for each in whole_set)
    result = page.get_by_role("region", name="Result")
    expect(result).to_contain_text(f"{total} of {total} marks in 6 of 6 questions")
    assert violations(page) == []
    assert page.complaints == []
    page.reload()
    expect(page.get_by_role("region", name="Result")).to_contain_text(
        f"{total} of {total} marks", timeout=LOADING_MS
    )


def test_a_reload_in_the_middle_loses_nothing(revise):
    page = revise("?set=8&count=4&topics=quantities")
    page.locator(".fp-question-card").get_by_role("textbox").first.fill("12.3 half a thought")
    page.reload()
    field = page.locator(".fp-question-card").get_by_role("textbox").first
    expect(field).to_have_value("12.3 half a thought", timeout=LOADING_MS)
    field.fill("plenty")
    page.get_by_role("button", name="Mark it").click()
    expect_wrong(field, "I cannot read this. No number could be read.")
    expect(page.locator(".fp-marks")).to_have_count(0)  # the attempt is open
    expect(page.get_by_role("region", name="Result")).to_have_count(0)
    page.get_by_role("button", name="See the marks anyway").click()
    expect(page.locator(".fp-marks")).to_contain_text("0 of ")
    page.get_by_role("checkbox", name="I have this in another form (own judgement)").first.check()
    expect(page.locator(".fp-marks")).not_to_contain_text("0 of ")
    field.fill("3")
    expect_mended(field)
    page.get_by_role("button", name="Mark it").click()
    expect(page.locator(".fp-marks")).to_contain_text(" of ")


def test_a_link_gives_everyone_the_same_set(revise):
    page = revise("?set=31&count=5&level=16&topics=tests;quantities&units=count")
    expect(page.get_by_role("heading", name="Question 1 of 5")).to_be_visible()
    whole_set = questions(seed=31, count=5, level=16, topics=["tests", "quantities"])
    expect(page.locator(".fp-question")).to_have_text(whole_set[0].text)
    page.get_by_role("button", name="Another set like this").click()
    page.wait_for_function("() => location.search.includes('set=32')")
    assert "topics=tests;quantities" in page.url
    assert "units=count" in page.url


def test_hostile_links_open_the_default_and_say_so(revise):
    page = revise("?set=%3Cscript%3E&count=99999999&topics=cooking&style=exam&level=16")
    notice = page.get_by_role("alert").filter(has_text="was left out")
    for given in ("<script>", "99999999", "cooking", "exam"):
        expect(notice).to_contain_text(given)
    expect(page.get_by_role("heading", name="Question 1 of 10")).to_be_visible()
    unfold(page, "10 questions, units and figures only pointed out")
    page.get_by_role("textbox", name="Questions").fill("0")
    page.get_by_role("textbox", name="Questions").press("Tab")
    expect(page.get_by_role("alert").filter(has_text="0 cannot be used")).to_be_visible()
    expect_wrong(page.get_by_role("textbox", name="Questions"), "from 1 to 100")
    expect(page.get_by_role("heading", name="Question 1 of 10")).to_be_visible()


def test_a_wrong_choice_is_corrected_and_leads_to_a_cell_to_watch(revise):
    seed, k = next(
        (seed, k)
        for seed in range(200)
        for k, question in enumerate(questions(seed=seed, count=3, topics=["products"], level=14))
        if question.kind == "choice" and any(each.misconception for each in question.options)
    )
    question = questions(seed=seed, count=3, topics=["products"], level=14)[k]
    page = revise(f"?set={seed}&count=3&level=14&topics=products")
    for _ in range(k):
        page.get_by_role("button", name="Next question").click()
    wrong = next(each for each in question.options if each.misconception)
    page.get_by_role("radio", name=wrong.text, exact=True).check()
    only_what_is_picked_looks_picked(page.evaluate(INPUTS), page.screenshot())
    page.get_by_role("button", name="Mark it").click()
    expect(page.get_by_role("status").filter(has_text=wrong.reason)).to_be_visible()
    idea = misconceptions()[wrong.misconception]
    expect(page.get_by_role("table", name="Ideas behind wrong choices")).to_contain_text(idea.wrong)
    page.get_by_role("button", name="Watch it in a cell").click()
    expect(page.get_by_role("heading", name="Watch what happens")).to_be_visible()
    expect(page.get_by_role("article", name="Cathode, watched cell")).to_be_visible()
    expect(page.locator(".fp-watched .fp-chart").first).to_be_visible(timeout=LOADING_MS)
    assert violations(page) == []
    assert page.complaints == []


def test_what_no_run_shows_is_drawn(revise):
    seed, k, wrong = next(
        (seed, k, option)
        for seed in range(200)
        for k, question in enumerate(questions(seed=seed, count=3, topics=["melts"], level=14))
        for option in question.options
        if option.misconception == 14
    )
    page = revise(f"?set={seed}&count=3&level=14&topics=melts")
    for _ in range(k):
        page.get_by_role("button", name="Next question").click()
    page.get_by_role("radio", name=wrong.text, exact=True).check()
    page.get_by_role("button", name="Mark it").click()
    drawing = page.get_by_role("img", name="Particles there: Pb²⁺, Br⁻")
    expect(drawing).to_be_visible()
    expect(drawing.locator("circle")).to_have_count(4)
    expect(drawing.locator("polygon")).to_have_count(2)
    assert violations(page) == []


def test_a_result_is_printed_without_the_questions_and_a_paper_in_several_versions(revise):
    page = revise("?set=12&count=6&level=16")
    page.get_by_role("button", name="Mark it").click()
    page.evaluate("() => { window.print = () => dispatchEvent(new Event('beforeprint')); }")
    page.get_by_role("button", name="Print the result").click()
    text = " ".join(PdfReader(BytesIO(page.pdf(format="A4"))).pages[0].extract_text().split())
    assert "Result" in text
    assert "in 1 of 6 questions" in text
    assert "Mark it" not in text
    page.evaluate("() => dispatchEvent(new Event('afterprint'))")
    versions = page.get_by_role("textbox", name="Versions")
    make = page.get_by_role("button", name="Make a paper and its mark scheme")
    versions.fill("0")
    make.click()
    expect_wrong(versions, "'0' cannot be used")
    versions.fill("2")
    versions.press("Tab")
    make.click()
    sheets = page.get_by_role("region", name="Sheets to print")
    expect(sheets.get_by_role("tab")).to_have_count(4)
    page.evaluate("() => { document.documentElement.dataset.fpPrint = 'sheet'; }")
    pages = PdfReader(BytesIO(page.pdf(format="A4"))).pages
    text = " ".join(" ".join(each.extract_text() for each in pages).split())
    for question in questions(seed=12, count=6, level=16):
        begins = " ".join(question.text.split(".")[0].split("?")[0][:60].split())
        assert begins in text, question.text
    assert "Mark it" not in text


def test_a_plan_is_written_first_and_then_held_against_its_list(revise):
    seed = next(
        seed
        for seed in range(50)
        if questions(seed=seed, count=1, topics=["practical work"])[0].kind == "list"
    )
    question = questions(seed=seed, count=1, topics=["practical work"])[0]
    page = revise(f"?set={seed}&count=1&topics=practical%20work")
    card = page.locator(".fp-question-card")
    expect(card.get_by_role("checkbox")).to_have_count(0)
    card.get_by_role("textbox").fill("I weigh the rods before and after")
    page.get_by_role("button", name="Mark it").click()
    expect(page.locator(".fp-marks")).to_contain_text(f"0 of {question.marks} marks")
    card.get_by_role("checkbox", name=question.points[0].statement).check()
    expect(page.locator(".fp-marks")).to_contain_text(f"1 of {question.marks} marks")
    page.reload()
    expect(card.get_by_role("textbox")).to_have_value(
        "I weigh the rods before and after", timeout=LOADING_MS
    )
    expect(card.get_by_role("checkbox", name=question.points[0].statement)).to_be_checked()


def test_a_graph_is_plotted_on_paper_and_then_held_against_its_list_and_the_graph(revise):
    seed = next(
        seed
        for seed in range(200)
        if questions(seed=seed, count=1, topics=["practical work"], level=14)[0].kind == "plot"
    )
    question = questions(seed=seed, count=1, topics=["practical work"], level=14)[0]
    page = revise(f"?set={seed}&count=1&topics=practical%20work&level=14", viewport=PHONE)
    card = page.locator(".fp-question-card")
    expect(card.get_by_role("rowheader", name="Time, minutes")).to_be_visible()
    assert card.locator(".fp-readings-frame").evaluate("(it) => it.scrollWidth <= it.clientWidth")
    expect(card.get_by_role("cell")).to_have_count(14)
    expect(card.locator("svg")).to_have_count(0)
    page.get_by_role("button", name="Mark it").click()
    graph = card.locator("figure svg")
    expect(graph).to_have_count(1)
    assert (
        graph.bounding_box()["y"] < card.get_by_role("checkbox").first.bounding_box()["y"]
    )  # it is compared with before it is judged
    card.get_by_role("checkbox", name=question.points[0].statement).check()
    expect(page.locator(".fp-marks")).to_contain_text(f"1 of {question.marks} marks")


def test_what_was_wrong_is_asked_again_on_another_day_and_taken_up_where_it_was_left(revise):
    page = revise("?set=5&count=3&topics=ions&level=14", apart=True)
    wrong = page.locator(".fp-question").inner_text()
    for k in range(3):
        page.get_by_role("button", name="Mark it").click()
        if k == 0:
            expect(page.get_by_text("1 question comes back")).to_be_visible()
            page.clock.set_system_time("2039-01-01")
            page.reload()
            due = page.get_by_role("button", name="Ask again: 1 question from earlier is due again")
            expect(due).to_be_visible(timeout=LOADING_MS)
            expect(page.get_by_role("heading", name="Question 2 of 3")).to_be_visible()
        if k == 1:
            page.get_by_role("button", name="Next question").click()
    page.clock.set_system_time("2040-01-01")
    page.reload()
    again = page.get_by_role("button", name="Ask again: 3 questions from earlier are due again")
    again.click(timeout=LOADING_MS)
    expect(page.get_by_text("These ask the same things with other numbers")).to_be_visible()
    expect(page.get_by_role("heading", name="Question 1 of 3")).to_be_visible()
    expect(page.locator(".fp-question")).not_to_have_text(wrong)
    page.get_by_role("button", name="Mark it").click()
    page.get_by_role("button", name="Next question").click()
    second = page.locator(".fp-question").inner_text()
    page.reload()
    again = page.get_by_role("button", name="Ask again:")
    again.click(timeout=LOADING_MS)
    expect(page.get_by_role("heading", name="Question 2 of 3")).to_be_visible()
    expect(page.locator(".fp-question")).to_have_text(second)
    expect(page.locator(".fp-marks")).to_have_count(0)
    page.get_by_role("button", name="Forget all that is kept here").click()
    expect(again).to_have_count(0)
    assert page.evaluate("() => localStorage.length") <= 1  # but for the set that is shown


def test_the_address_of_an_opened_file_says_so_elsewhere(revise):
    page = revise("?v=1&set=opened")
    expect(page.get_by_text("This address belongs to a file")).to_be_visible()
    page.wait_for_function("() => location.search.includes('set=1')")


def test_an_old_link_is_understood_and_fewer_questions_than_asked_for_are_said(revise):
    page = revise("?set=2&count=99&topic=drift&level=14", heading="Question 1 of")
    page.wait_for_function("() => location.search.includes('topics=drift')")  # as it is written now
    expect(page.get_by_text("different questions on these topics, not 99")).to_be_visible()


def two_tests():
    """Give the link of two questions about gas tests, the first to be written for two marks."""
    seed = next(
        seed
        for seed in range(100)
        for first in questions(seed=seed, count=2, topics=["tests"])[:1]
        if first.kind == "text" and first.marks == 2
    )
    return f"?set={seed}&count=2&topics=tests"


def test_a_mark_may_be_claimed_for_other_words_and_another_like_it_is_kept_with_the_set(revise):
    page = revise(two_tests())
    page.locator(".fp-question-card").get_by_role("textbox").fill("I would try it")
    page.get_by_role("button", name="Mark it").click()
    expect(page.locator(".fp-marks")).to_contain_text("0 of 2 marks")
    page.get_by_role("checkbox", name="I said it in other words (own judgement)").first.check()
    expect(page.locator(".fp-marks")).to_contain_text("1 of 2 marks")
    expect(page.get_by_role("region", name="Result")).to_contain_text("1 of 2 marks")
    page.get_by_role("button", name="Another like this").click()
    expect(page.get_by_role("heading", name="Question 2 of 3")).to_be_visible()
    more = page.locator(".fp-question").inner_text()
    page.reload()
    expect(page.get_by_role("heading", name="Question 2 of 3")).to_be_visible(timeout=LOADING_MS)
    expect(page.locator(".fp-question")).to_have_text(more)


def test_against_the_clock_nothing_is_marked_before_it_is_handed_in(revise):
    page = revise(f"{two_tests()}&style=clock&min=10", heading="Against the clock")
    page.get_by_role("button", name="Begin").press("Enter")
    expect(page.get_by_role("timer")).to_contain_text("left")
    expect(page.get_by_role("button", name="Mark it")).to_have_count(0)
    page.locator(".fp-question-card").get_by_role("textbox").fill("a glowing splint relights")
    page.get_by_role("button", name="5 more minutes").click()
    expect(page.get_by_role("timer")).to_contain_text("14:")
    hand_in = page.get_by_role("button", name="Hand in", exact=True)
    hand_in.press("Enter")
    question = page.get_by_role("alertdialog", name="Hand in now?")
    expect(question).to_contain_text("1 of 2 questions has no answer yet.")
    expect(page.get_by_role("region", name="Result")).to_have_count(0)
    assert violations(page) == []
    page.keyboard.press("Escape")
    expect(question).to_have_count(0)
    expect(hand_in).to_be_focused()
    expect(page.get_by_role("timer")).to_contain_text("14:")
    page.get_by_role("button", name="Next question").press("Enter")
    field = page.locator(".fp-question-card").get_by_role("textbox")
    (field if field.count() else page.get_by_role("radio")).first.press("Space")
    if field.count():
        field.fill("limewater turns cloudy")
    hand_in.press("Enter")
    expect(question).to_contain_text("Every question has an answer.")
    question.get_by_role("button", name="Hand in now").press("Enter")
    expect(page.get_by_role("region", name="Result")).to_contain_text("in 2 of 2 questions")
    expect(page.get_by_role("timer")).to_have_count(0)
    expect(page.get_by_role("heading", name="Question 1 of 2")).to_be_focused()


def test_when_the_time_is_over_what_was_written_is_handed_in(revise):
    page = revise(f"{two_tests()}&style=clock&min=1", heading="Against the clock", apart=True)
    page.clock.install()
    page.get_by_role("button", name="Begin").click()
    page.locator(".fp-question-card").get_by_role("textbox").fill("a glowing splint relights")
    page.clock.run_for(61_000)
    expect(page.get_by_role("region", name="Result")).to_contain_text("in 2 of 2 questions")
    expect(page.locator(".fp-question-card").get_by_role("textbox")).to_have_value(
        "a glowing splint relights"
    )


def test_on_the_board_answers_are_hidden_until_they_are_asked_for(revise):
    page = revise("?set=3&count=3&level=14&style=board")
    whole_set = questions(seed=3, count=3, level=14)
    expect(page.get_by_role("heading", name="Answer")).to_have_count(0)
    page.get_by_role("button", name="Reveal the answer").click()
    expect(page.get_by_role("heading", name="Answer")).to_be_visible()
    page.keyboard.press("PageDown")
    expect(page.get_by_role("heading", name="Question 2 of 3")).to_be_visible()
    expect(page.locator(".fp-question")).to_have_text(whole_set[1].text)
    expect(page.get_by_role("heading", name="Answer")).to_have_count(0)
    page.keyboard.press("PageUp")
    expect(page.get_by_role("heading", name="Question 1 of 3")).to_be_visible()
    size = page.locator(".fp-question").evaluate(
        "(node) => parseFloat(getComputedStyle(node).fontSize)"
    )
    assert size >= 28  # legible from the back row
    assert violations(page) == []


def test_a_set_goes_to_a_file_and_comes_back(revise, tmp_path):
    page = revise("?set=6&count=4")
    other = revise("?set=99&count=2")
    for seed, name in ((6, "QTI 3.0"), (7, "CSV")):
        with page.expect_download() as saving:
            page.get_by_role("button", name=f"Save set as {name}").click()
        saved = tmp_path / saving.value.suggested_filename
        saving.value.save_as(saved)
        other.get_by_label("Open a set").set_input_files(saved)
        expect(other.get_by_text("4 questions are opened.")).to_be_visible()
        expect(other.get_by_role("heading", name="Question 1 of 4")).to_be_visible()
        expect(other.locator(".fp-question")).to_have_text(
            questions(seed=seed, count=4)[0].text.replace("\n", " ")
        )
        other.reload()
        expect(other.get_by_role("heading", name="Question 1 of 4")).to_be_visible(
            timeout=LOADING_MS
        )
        other.get_by_role("button", name="Make a paper and its mark scheme").click()
        expect(other.get_by_role("tab", name="Paper").first).to_be_visible()
        page.get_by_role("button", name="Another set like this").click()
        page.wait_for_url(f"**set={seed + 1}**")
    broken = tmp_path / "broken.zip"
    broken.write_bytes(b"PK\x03\x04 but no more")
    other.get_by_label("Open a set").set_input_files(broken)
    expect(other.get_by_text("broken.zip:")).to_be_visible()
    expect_wrong(other.get_by_label("Open a set"), "broken.zip:")
    expect(other.get_by_role("heading", name="Question 1 of 4")).to_be_visible()
    large = tmp_path / "large.csv"
    large.write_bytes(b"x" * 5_000_001)
    other.get_by_label("Open a set").set_input_files(large)
    expect(other.get_by_text("use a file of at most 5 MB")).to_be_visible()
    expect_wrong(other.get_by_label("Open a set"), "use a file of at most 5 MB")
    other.get_by_label("Open a set").set_input_files(saved)
    expect(other.get_by_text("4 questions are opened.")).to_be_visible()
    expect_mended(other.get_by_label("Open a set"))


def test_a_board_that_says_negative_electrode_is_followed(revise):
    page = revise("?set=4&count=12&level=14&board=electrode_names=negative")
    seen = []
    for _ in range(11):
        seen.append(page.locator(".fp-question-card").inner_text())
        page.get_by_role("button", name="Next question").click()
    whole = " ".join(seen)
    assert "negative electrode" in whole
    assert "cathode" not in whole.lower()


def test_the_age_is_asked_first_unless_a_link_says_it_and_the_answer_outlasts_a_reload(revise):
    page = revise(heading=None, viewport=PHONE)
    asked = page.get_by_text("First: questions for which age?")
    expect(asked).to_be_visible(timeout=LOADING_MS)
    heading = page.get_by_role("heading", name="Question 1 of 10")
    expect(heading).to_be_hidden()  # nothing else is asked before
    expect(page.get_by_role("combobox", name="Level")).to_be_hidden()
    assert violations(page) == []
    page.get_by_role("button", name="14 to 16", exact=True).press("Enter")
    expect(asked).to_be_hidden()
    page.wait_for_url("**level=14**")
    expect(heading).to_be_visible()
    page.reload()
    expect(heading).to_be_visible(timeout=LOADING_MS)
    expect(asked).to_be_hidden()
    page.goto(page.url.partition("?")[0] + "?set=4&count=3&level=14")
    expect(page.get_by_role("heading", name="Question 1 of 3")).to_be_visible(timeout=LOADING_MS)
    expect(asked).to_be_hidden()
    assert page.complaints == []
