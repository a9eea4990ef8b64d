"""What learners mark themselves in Revise: plans, graphs, longer answers, and marks that they claim."""

from __future__ import annotations

from playwright.sync_api import expect
from tests.browser.answering import two_tests, worked_through
from tests.browser.visit import (
    LOADING_MS,
    PHONE,
    violations,
)

from fizzplate.questions.sets import questions

PARTS_AND_LEVELS = {"seed": 11, "count": 6, "topics": ["applications"], "level": 16}


def test_a_question_in_parts_and_a_longer_answer_are_marked_and_kept(revise):
    whole_set = questions(**PARTS_AND_LEVELS)
    assert {"structured", "levels"} <= {each.kind for each in whole_set}
    page = revise("?set=11&count=6&level=16&topics=applications", viewport=PHONE)
    for each in worked_through(page, whole_set):
        if each.kind in {"structured", "levels"}:
            assert violations(page) == []
    page.reload()
    total = sum(each.marks for each in whole_set)
    expect(page.get_by_role("region", name="Result")).to_contain_text(f"{total} of {total} marks")
    assert page.complaints == []


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
