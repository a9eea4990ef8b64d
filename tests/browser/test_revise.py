"""Revision from a link: the page marks as Python does, and a set is worked through on a phone by keyboard."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from tests.browser.conftest import served
from tests.browser.visit import BEYOND, LOADING_MS, PHONE

from fizzplate.lesson.dice import Dice
from fizzplate.lesson.equation_tasks import known_species
from fizzplate.lesson.questions import MAKERS
from fizzplate.views.modules import join_modules
from fizzplate.views.quiz import plain_question

LOAD = """async (text) => {
  const whole = text + '\\nexport { markAnswer };';
  Object.assign(window, await import(URL.createObjectURL(new Blob([whole], { type: 'text/javascript' }))));
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
]


def answers_to(asked):
    """Give right, wrong and odd answers to a question."""
    given = [asked.answer, *ODD, *(option.text for option in asked.options)]
    given += [f"{miss.value:.5g} {asked.unit}" for miss in asked.near_misses]
    if asked.kind == "number":
        given += [
            f"{asked.value:.4g}",
            f"{asked.value:.8f}{asked.unit}",
            f"{3 * asked.value:.3g} kg",
        ]
    if asked.task:
        given += [
            asked.answer.replace("2", ""),
            f"{asked.answer} + H2O",
            asked.answer.replace("e-", ""),
        ]
    return given


def test_the_page_marks_every_kind_as_python_does(browser):
    context = browser.new_context()
    page = context.new_page()
    page.set_content("<!doctype html><html lang=en><title>marking</title><body></body></html>")
    page.evaluate(LOAD, join_modules("quiz/quiz.js", render="renderQuiz"))
    species = {name: [dict(atoms), charge] for name, (atoms, charge) in known_species().items()}
    for name, (maker, _, _) in MAKERS.items():
        for seed in range(6):
            asked = maker(Dice(seed))
            given = answers_to(asked)
            there = page.evaluate(
                "([asked, given, species]) => given.map((text) => markAnswer(asked, text, species))",
                [plain_question(asked), given, species],
            )
            for text, javascript in zip(given, there, strict=True):
                here = asked.mark(text)
                lines = [{"earned": line.earned, "reason": line.reason} for line in here.lines]
                assert javascript["lines"] == lines, (name, seed, text)
                assert javascript["remark"] == here.remark, (name, seed, text)
                assert javascript["misconception"] == here.misconception, (name, seed, text)
    context.close()


@pytest.fixture(scope="module")
def revise_address():
    """Serve the Revise page for the tests of this file."""
    with served("--page", "revise") as (_, address):
        yield address


@pytest.fixture
def revise(open_at, revise_address):
    def open_page(query="", **options):
        page = open_at(revise_address + query, **options)
        page.get_by_role("heading", name="Question 1 of").wait_for(timeout=LOADING_MS)
        return page

    return open_page


def test_a_set_is_worked_through_by_keyboard_on_a_phone(revise):
    page = revise("?set=4&count=4&level=14", viewport=PHONE)
    expect(page.get_by_role("heading", name="Question 1 of 4")).to_be_visible()
    for k in range(4):
        choice = page.get_by_role("radio")
        if choice.count():
            choice.first.press("Space")
        else:
            page.get_by_role("textbox", name="Your answer").fill("7 C")
        page.get_by_role("button", name="Mark it").press("Enter")
        expect(page.locator(".fp-marks")).to_be_visible()
        assert page.evaluate(BEYOND) == []
        if k < 3:
            page.get_by_role("button", name="Next question").press("Enter")
    expect(page.get_by_role("heading", name="Result")).to_be_visible()
    assert Axe().run(page).response["violations"] == []
    assert page.complaints == []
    page.reload()
    page.get_by_role("heading", name="Result").wait_for(timeout=LOADING_MS)


def test_a_link_gives_everyone_the_same_set(revise):
    texts = []
    for _ in range(2):
        page = revise("?set=31&count=5&level=16&topic=quantities")
        expect(page.get_by_role("heading", name="Question 1 of 5")).to_be_visible()
        texts.append(page.locator(".fp-question").inner_text())
    assert texts[0] == texts[1]
    page.get_by_role("button", name="Another set like this").click()
    page.wait_for_function("() => location.search.includes('set=32')")
    expect(page.get_by_role("combobox", name="Topic")).to_have_value("quantities")


def test_hostile_links_open_the_default_and_say_so(revise):
    page = revise("?set=%3Cscript%3E&count=99999999&topic=cooking&level=16")
    alert = page.get_by_role("alert").filter(has_text="was left out")
    expect(alert).to_contain_text("<script>")
    expect(page.get_by_role("heading", name="Question 1 of 10")).to_be_visible()
    page.get_by_role("textbox", name="Questions").fill("0")
    page.get_by_role("textbox", name="Questions").press("Tab")
    expect(page.get_by_role("alert").filter(has_text="from 1 to 100")).to_be_visible()
