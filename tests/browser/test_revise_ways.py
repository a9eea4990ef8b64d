"""Other ways to use a set in Revise: against the clock, on the board, on another day, on paper, in a file."""

from __future__ import annotations

from io import BytesIO

from playwright.sync_api import expect
from pypdf import PdfReader
from tests.browser.answering import two_tests
from tests.browser.visit import (
    LOADING_MS,
    expect_mended,
    expect_wrong,
    violations,
)

from fizzplate.questions.sets import questions


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


def test_the_address_of_an_opened_file_says_so_elsewhere(revise):
    page = revise("?v=1&set=opened")
    expect(page.get_by_text("This address belongs to a file")).to_be_visible()
    page.wait_for_function("() => location.search.includes('set=1')")


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
