"""Practice that follows one's answers, by keyboard and on a phone; no question comes back as it was."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect
from tests.browser.visit import BEYOND, LOADING_MS, PHONE, violations

from fizzplate.questions import read_set
from fizzplate.questions.practice import Attempt, next_item
from fizzplate.questions.sets import questions

FOLLOW = "set=3&level=14&style=follow&topics=drift"
WORKED = "set=1&level=14&style=follow&topics=quantities"


@pytest.fixture
def practice(open_at, address_of):
    def open_page(query, heading="Question 1", **options):
        page = open_at(f"{address_of('revise')}?{query}", **options)
        page.get_by_role("heading", name=heading, exact=True).wait_for(timeout=LOADING_MS)
        return page

    return open_page


def as_asked(query, record):
    """Give what practice asks next after a record."""
    return next_item(read_set(query)[0], record)


def pick(page, group, option):
    """Pick an option of a part by the keyboard."""
    box = page.get_by_role("group", name=f"Part ({group})", exact=True)
    box.get_by_role("radio", name=option, exact=True).press("Space")


def say_how_sure(page, text):
    page.get_by_role("group", name="How sure are you?").get_by_role(
        "radio", name=text, exact=True
    ).press("Space")


def test_a_sure_mistake_brings_a_sibling_and_a_reload_keeps_the_practice(practice):
    page = practice(FOLLOW, viewport=PHONE)
    first = as_asked(FOLLOW, [])
    assert first.in_two_steps
    expect(page.locator(".fp-question").first).to_have_text(first.question.text)
    answer, reason = first.question.sections
    wrong = next(each for each in answer.options if not each.right)
    expect(page.get_by_role("group", name="Part (b)", exact=True)).to_be_hidden()
    pick(page, "a", wrong.text)
    page.get_by_role("button", name="Go on to the reason").press("Enter")
    expect(page.get_by_text("First say how sure you are")).to_be_visible()
    say_how_sure(page, "sure")
    page.get_by_role("button", name="Go on to the reason").press("Enter")
    expect(page.get_by_role("group", name="Part (b)", exact=True)).to_be_visible()
    assert violations(page) == []
    pick(page, "b", reason.answer)
    page.get_by_role("button", name="Mark it").press("Enter")
    expect(page.locator(".fp-marks")).to_contain_text("1 of 2 marks")
    right = page.get_by_role("group", name="Part (a)", exact=True).get_by_role(
        "radio", name=f"{answer.answer} ✓ the one to pick"
    )
    expect(right).to_have_count(1)
    chosen = page.get_by_role("radio", name=f"{wrong.text} ✗ your choice")
    expect(chosen).to_be_checked()
    expect(chosen).to_be_disabled()
    link = page.get_by_role("link", name=re.compile("Open th(is cell|ese cells)"))
    assert "cells=" in link.get_attribute("href")
    onward = page.get_by_role("button", name="Next question")
    expect(onward).to_be_focused()
    last = page.locator(".fp-verdicts").bounding_box()
    assert onward.bounding_box()["y"] >= last["y"] + last["height"]
    assert violations(page) == []
    assert page.evaluate(BEYOND) == []
    onward.press("Enter")
    expect(page.get_by_role("heading", name="Question 2", exact=True)).to_be_focused()
    attempt = Attempt(
        first.question.maker, first.key, right=False, idea=wrong.misconception, sure="sure"
    )
    second = as_asked(FOLLOW, [attempt])
    expect(page.locator(".fp-question").first).to_have_text(second.question.text)
    expect(page.locator(".fp-because")).to_have_text(second.because)
    assert second.question.maker == first.question.maker
    assert second.question.text != first.question.text
    result = page.get_by_role("region", name="Result")
    expect(result).to_contain_text("0 of 1 question right.")
    expect(result).to_contain_text("Sure and not right: 1.")
    page.reload()
    expect(page.get_by_role("heading", name="Question 2", exact=True)).to_be_visible(
        timeout=LOADING_MS
    )
    expect(page.locator(".fp-question").first).to_have_text(second.question.text)
    page.get_by_role("button", name="Back", exact=True).click()
    expect(page.locator(".fp-question").first).to_have_text(first.question.text)
    assert page.complaints == []


def first_calculation(page):
    """Go on to the first worked example, answering nothing right."""
    example = page.get_by_role("heading", name="Worked example")
    for k in range(2, 14):
        if example.count():
            return
        say_how_sure(page, "think so")
        step = page.get_by_role("button", name="Go on to the reason")
        if step.count():
            step.click()
        page.get_by_role("button", name="Mark it").click()
        page.get_by_role("button", name="Next question").click()
        page.get_by_role("heading", name=f"Question {k}", exact=True).wait_for()
    pytest.fail("no calculation came")


def test_a_calculation_is_shown_whole_and_then_without_its_last_step(practice):
    page = practice(WORKED)
    first_calculation(page)
    shown = page.locator(".fp-worked li").count()
    assert shown >= 1
    whole = page.locator(".fp-question").inner_text()
    expect(page.get_by_role("button", name="Mark it")).to_have_count(0)
    page.get_by_role("button", name="Go on: the last step of the next one is mine").press("Enter")
    expect(page.locator(".fp-question")).not_to_have_text(whole)
    if shown > 1:
        expect(page.get_by_role("heading", name="Worked so far")).to_be_visible()
        expect(page.locator(".fp-because")).to_contain_text("The last step is left to you.")
        assert violations(page) == []
    page.locator(".fp-question-card").get_by_role("textbox").first.fill("3 C")
    say_how_sure(page, "guess")
    page.get_by_role("button", name="Mark it").click()
    expect(page.locator(".fp-marks")).to_contain_text("of 1 mark")
    expect(page.locator(".fp-question-card").get_by_role("textbox").first).to_be_disabled()
    assert page.complaints == []


def test_what_was_not_right_in_a_set_comes_back_as_other_questions(practice):
    query = "set=8&count=3&level=14&topics=current"
    page = practice(query, heading="Question 1 of 3")
    first = questions(seed=8, count=3, level=14, topics=["current"])[0]
    wrong = next(each for each in first.options if not each.right)
    page.get_by_role("radio", name=wrong.text, exact=True).check()
    page.get_by_role("button", name="Mark it").click()
    expect(page.get_by_role("radio", name=f"{first.answer} ✓ the one to pick")).to_be_visible()
    assert violations(page) == []
    page.get_by_role("button", name="Ask others like those that were not right").click()
    expect(page.get_by_role("heading", name="Question 1 of 1")).to_be_focused()
    again = page.locator(".fp-question").inner_text()
    assert again != first.text
    expect(page.get_by_text("These ask the same things with other numbers")).to_be_visible()
    page.get_by_role("button", name="Back to the set").click()
    expect(page.get_by_role("heading", name="Question 2 of 3")).to_be_visible()
    page.get_by_role("button", name="Back", exact=True).click()
    expect(page.locator(".fp-question")).to_have_text(first.text)
    assert page.complaints == []


def test_a_question_leads_to_a_cell_on_the_page_that_shows_it(practice):
    page = practice("set=8&count=3&level=14&topics=current", heading="Question 1 of 3")
    page.get_by_role("button", name="Mark it").click()
    link = page.get_by_role("link", name="Open this cell in Demonstrate")
    expect(link).to_be_visible()
    link.click()
    expect(page.get_by_text("What forms at the cathode?").first).to_be_visible(timeout=LOADING_MS)
    assert "/demonstrate?" in page.url
    assert "cells=" in page.url
