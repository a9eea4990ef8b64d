"""A teacher changes the blueprint of a paper in the page, also on a phone, and passes on its link."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect
from tests.browser.visit import (
    BEYOND,
    LOADING_MS,
    PHONE,
    SIDEWAYS,
    expect_mended,
    expect_wrong,
    violations,
)

SET = "set=5&level=16&count=4&topics=tests"


@pytest.fixture
def planning(open_at, address_of):
    def open_page(**options):
        page = open_at(f"{address_of('revise')}?{SET}", **options)
        page.get_by_role("heading", name="Question 1 of 4").wait_for(timeout=LOADING_MS)
        page.get_by_role("button", name="Change the blueprint").click()
        expect(page.get_by_role("textbox", name="tests: questions")).to_have_value("4")
        return page

    return open_page


def type_in(page, field, text):
    box = page.get_by_role("textbox", name=field)
    box.fill(text)
    box.press("Tab")
    return box


def test_a_blueprint_is_changed_refused_and_kept_in_the_link(planning):
    page = planning(viewport=PHONE)
    assert violations(page) == []
    assert page.evaluate(BEYOND) == []
    assert not page.evaluate(SIDEWAYS)
    page.get_by_role("button", name="Make a paper and its mark scheme").click()
    expect(page.get_by_role("tab", name="Paper 5", exact=True)).to_be_visible()
    paper = page.locator(".fp-paper:visible").inner_text()
    use = page.get_by_role("button", name="Use this blueprint")
    marks = type_in(page, "tests: marks", "50")
    expect(page.get_by_text("In all 4 questions, 50 marks, about 50 minutes")).to_be_visible()
    use.click()
    expect_wrong(marks, "Use 4 to 8 marks for so many questions.")
    assert page.locator(".fp-paper:visible").inner_text() == paper, "the last good paper stays"
    assert "blueprint=" not in page.url
    type_in(page, "tests: marks", "6")
    type_in(page, "half-equations: questions", "2")
    type_in(page, "half-equations: marks", "3")
    use.click()
    page.wait_for_url(re.compile("blueprint=tests:4:6:0;half-equations:2:3:0"))
    expect_mended(marks)
    expect(page.locator(".fp-paper:visible")).to_contain_text("6 questions")
    expect(page.locator(".fp-paper:visible")).to_contain_text("9 marks")
    expect(page.get_by_role("heading", name="Question 1 of 6")).to_be_visible()
    asked = page.locator(".fp-question").inner_text()
    page.reload()
    expect(page.get_by_role("heading", name="Question 1 of 6")).to_be_visible(timeout=LOADING_MS)
    expect(page.locator(".fp-question")).to_have_text(asked)
    expect(page.get_by_role("textbox", name="half-equations: marks")).to_have_value("3")
    page.get_by_role("button", name="Leave it to the number of the set").click()
    page.wait_for_url(lambda url: "blueprint=" not in url)
    assert page.complaints == []
