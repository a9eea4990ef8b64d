"""Revision from a link: a set is worked through by keyboard on a phone, and a reload loses nothing."""

from __future__ import annotations

from playwright.sync_api import expect
from tests.browser.answering import worked_through
from tests.browser.visit import (
    INPUTS,
    LOADING_MS,
    PHONE,
    expect_mended,
    expect_wrong,
    only_what_is_picked_looks_picked,
    unfold,
    violations,
)

from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.sets import questions


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


def test_an_old_link_is_understood_and_fewer_questions_than_asked_for_are_said(revise):
    page = revise("?set=2&count=99&topic=drift&level=14", heading="Question 1 of")
    page.wait_for_function("() => location.search.includes('topics=drift')")  # as it is written now
    expect(page.get_by_text("different questions on these topics, not 99")).to_be_visible()


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


#: of a drawing in the page: the height of its smallest letters, px
SMALLEST_LETTERS = """(svg) => {
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  const sizes = [...svg.querySelectorAll('text')].map((text) => parseFloat(getComputedStyle(text).fontSize));
  return scale * Math.min(...sizes);
}"""


def test_on_a_phone_a_chart_can_be_read_and_the_marks_below_a_long_question_come_into_sight(revise):
    seed, k = next(
        (seed, k)
        for seed in range(200)
        for k, question in enumerate(questions(seed=seed, count=4, level=14))
        if question.shown_chart and question.kind == "choice"
    )
    page = revise(f"?set={seed}&count=4&level=14", viewport=PHONE)
    for _ in range(k):
        page.get_by_role("button", name="Next question").click()
    assert page.locator(".fp-question-card .fp-graph svg").evaluate(SMALLEST_LETTERS) >= 12
    page.get_by_role("radio").first.check()
    mark = page.get_by_role("button", name="Mark it")
    mark.evaluate("(node) => node.scrollIntoView({ block: 'end' })")
    mark.press("Enter")
    marks = page.locator(".fp-verdicts")
    expect(marks).to_be_in_viewport(ratio=0.9)
    page.set_viewport_size({"width": PHONE["width"], "height": 300})  # lower than the marks
    mark.press("Enter")
    expect(page.locator(".fp-marks")).to_be_in_viewport()
