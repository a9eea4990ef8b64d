"""A class works through a set of questions on its phones, paced by the teacher or free."""

from __future__ import annotations

import re
from types import SimpleNamespace

from playwright.sync_api import expect
from tests.browser.class_phones import (
    ask,
    counts,
    open_room,
    panel_of,
    send,
    what_the_class_said,
)
from tests.browser.visit import (
    LOADING_MS,
    SIDEWAYS,
    violations,
)


def test_every_question_of_a_set_is_asked_or_said_to_be_left_out(open_at, address_of, phones):
    """A longer answer on paper, a question in parts, and the set at each phone's own pace."""
    link = f"{address_of('revise')}?set=36&count=6&level=14&style=board"
    seen = SimpleNamespace(page=open_at(link))
    seen.page.get_by_role("heading", name="Question 1 of 6").wait_for(timeout=LOADING_MS)
    page, panel = seen.page, panel_of(seen)
    phone = phones(open_room(seen))
    phone.set_viewport_size({"width": 320, "height": 568})
    page.get_by_role("button", name="Go on").click()
    rounds = panel.get_by_label("Ask another question")
    on_paper = rounds.locator("option", has_text="Question 1 is answered on paper")
    expect(on_paper).to_be_disabled()
    page.get_by_role("button", name="Reveal the answer").click()
    ask(seen, "Question 1: The level of your own answer")
    phone.get_by_label("Level 2").check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "The level of your own answer", "Level 2")).to_have_text("1")
    for press in ("Next question", "Reveal the answer", "Next question"):
        page.get_by_role("button", name=press).click()
    expect(page.get_by_role("heading", name="Question 3 of 6")).to_be_visible()
    ask(seen, "Question 3 (b)")
    expect(phone.get_by_role("heading", level=1)).to_have_text("Question 3 (b)")
    expect(phone.locator(".stem")).to_contain_text("pure copper")  # what its parts are about
    phone.get_by_role("radio").first.check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    page.get_by_role("button", name="Reveal the answer").click()
    expect(panel).to_contain_text(re.compile(r"[01] of 1 right"))
    ask(seen, "At each phone's own pace: questions 1 to 6, without 1")
    expect(phone.get_by_role("heading", level=1)).to_have_text(
        "At your own pace: questions 1 to 6, without 1"
    )
    expect(phone.get_by_text("answered on paper")).to_be_visible()
    assert phone.evaluate(SIDEWAYS) is False
    assert violations(phone) == []
    for group in phone.get_by_role("group").filter(has=phone.get_by_role("radio")).all():
        group.get_by_role("radio").last.check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    panel.get_by_role("button", name="Stop answers").click()
    expect(panel).to_contain_text(re.compile(r"Fewest are right in question \d: [01] of 1"))
    panel.get_by_role("button", name="Put it on the board").click()
    expect(page.get_by_role("heading", name="Question 2 of 6")).to_be_focused()
    expect(panel.get_by_role("button", name="Watch it in a cell").first).to_be_visible()
    panel.get_by_role("button", name="Close the room").click()
    assert phone.complaints == []


def test_a_set_is_worked_through_together(open_at, address_of, phones):
    """Paced by the teacher, and then at each phone's own pace."""
    link = f"{address_of('revise')}?set=3&count=3&level=14&topics=products&style=board"
    seen = SimpleNamespace(page=open_at(link))
    seen.page.get_by_role("heading", name="Question 1 of 3").wait_for(timeout=LOADING_MS)
    page, panel = seen.page, panel_of(seen)
    phone = phones(open_room(seen))
    page.get_by_role("button", name="Go on").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Question 1")
    phone.get_by_role("radio").first.check()
    send(phone)
    expect(panel).to_contain_text("1 answered")
    panel.get_by_role("button", name="Show answers").click()
    expect(panel.get_by_role("table")).to_be_visible()
    assert "right" not in panel.inner_text()
    page.get_by_role("button", name="Reveal the answer").click()
    expect(panel).to_contain_text(re.compile(r"[01] of 1 right \((0|100) %\)"))
    ask(seen, "At each phone's own pace: questions 1 to 3")
    expect(phone.get_by_role("heading", level=1)).to_contain_text("At your own pace")
    phone.get_by_role("radio").first.check()
    send(phone)
    panel.get_by_role("button", name="Show answers").click()
    assert "right" not in panel.inner_text()
    panel.get_by_role("button", name="Stop answers").click()
    expect(panel).to_contain_text(re.compile(r"[01] of 1 right"))
    saved = what_the_class_said(seen)
    assert any(re.fullmatch(r"[01] of 1 right \((0|100) %\)", row[3]) for row in saved)
    assert violations(page) == []
    panel.get_by_role("button", name="Close the room").click()
    expect(phone.get_by_text("The room has been closed")).to_be_visible()


def test_a_graph_goes_to_the_phone_with_its_questions(open_at, address_of, phones):
    link = f"{address_of('revise')}?set=1&count=5&level=14&topics=charts&style=board"
    seen = SimpleNamespace(page=open_at(link))
    seen.page.get_by_role("heading", name="Question 1 of 5").wait_for(timeout=LOADING_MS)
    phone = phones(open_room(seen), color_scheme="dark")
    seen.page.get_by_role("button", name="Go on").click()
    ask(seen, "At each phone's own pace: questions 1 to 5")
    graphs = phone.locator("form img")
    expect(graphs).to_have_count(5)
    assert graphs.evaluate_all("all => all.every((each) => each.complete && each.naturalWidth)")
    expect(graphs.first).to_have_attribute("alt", re.compile("Time, minutes"))
    assert len({each for each in phone.asked if not each.startswith("data:")}) <= 5
    assert phone.evaluate(SIDEWAYS) is False
    assert violations(phone) == []
    phone.reload()
    expect(graphs).to_have_count(5)
    phone.locator("form").get_by_role("textbox").first.fill("12")
    send(phone)
    panel_of(seen).get_by_role("button", name="Close the room").click()
    assert phone.complaints == []
