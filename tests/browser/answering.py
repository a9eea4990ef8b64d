"""Answer questions of the Revise page by the keyboard, as a learner would who knows them."""

from __future__ import annotations

from playwright.sync_api import expect
from tests.browser.visit import BEYOND, SIDEWAYS

from fizzplate.questions.sets import questions


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


def two_tests():
    """Give the link of two questions about gas tests, the first to be written for two marks."""
    seed = next(
        seed
        for seed in range(100)
        for first in questions(seed=seed, count=2, topics=["tests"])[:1]
        if first.kind == "text" and first.marks == 2
    )
    return f"?set={seed}&count=2&topics=tests"
