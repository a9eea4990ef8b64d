"""The class answers together: two phones beside the projector, through each round of a lesson."""

from __future__ import annotations

import re

from playwright.sync_api import expect
from tests.browser.class_phones import (
    ask,
    counts,
    open_room,
    panel_of,
    predict,
    rows_of_buttons,
    send,
    what_the_class_said,
)
from tests.browser.test_telling import CELLS, told_in
from tests.browser.visit import (
    BEYOND,
    PROJECTOR,
    SIDEWAYS,
    violations,
)


def test_a_class_predicts_talks_votes_again_and_sees_the_cell_decide(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    first, second = phones(link), phones(link)
    expect(page.get_by_role("dialog")).to_contain_text("2 phones have joined")
    page.get_by_role("button", name="Go on").click()
    predict(first, "hydrogen", "chlorine")
    predict(second, "sodium", "chlorine")
    expect(panel).to_contain_text("2 joined · 2 answered · none missing")
    expect(panel.get_by_role("table")).to_have_count(0)  # hidden until the teacher shows them
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "What forms at the cathode?", "sodium")).to_have_text("1")
    expect(counts(panel, "What forms at the anode?", "chlorine")).to_have_text("2")
    panel.get_by_role("button", name="Vote again").click()
    expect(second.get_by_text("Answer once more")).to_be_visible()
    predict(first, "hydrogen", "chlorine")
    predict(second, "hydrogen", "oxygen")
    expect(counts(panel, "What forms at the cathode?", "hydrogen")).to_have_text("1 → 2")
    expect(counts(panel, "What forms at the anode?", "oxygen")).to_have_text("0 → 1")
    assert "the cell" not in panel.inner_text()  # nothing is told before the cell has run
    lesson.next()
    lesson.expect_step("Watch")
    expect(panel.get_by_role("table")).to_have_count(0)  # folded: the picture is in sight
    panel.get_by_role("button", name="Answers", exact=True).click()
    assert "the cell" not in panel.inner_text()
    for title in ("Test", "Explain"):
        lesson.next()
        lesson.expect_step(title)
    panel.get_by_role("button", name="Answers", exact=True).click()
    expect(panel.get_by_role("rowheader", name="hydrogen ✓ the cell").first).to_be_visible()
    expect(panel.get_by_role("rowheader", name="chlorine ✓ the cell")).to_be_visible()
    assert rows_of_buttons(panel) == 1
    saved = what_the_class_said(lesson)
    asked = ("What will form at each electrode?", "What forms at the cathode?")
    assert [*asked, "hydrogen", "1", "2", "", "yes"] in [row[1:] for row in saved]
    assert [*asked, "sodium", "1", "0", "", "no"] in [row[1:] for row in saved]
    assert {row[0] for row in saved[1:]} == {"NaCl"}
    page.get_by_role("navigation", name="Steps").get_by_role(
        "button", name=re.compile("Record")
    ).click()
    page.get_by_role("button", name="Reveal all").click()
    row = page.get_by_role("region", name="Results table")
    expect(row.get_by_role("textbox", name="Predicted, cathode, NaCl")).to_have_value("hydrogen")
    expect(row).to_contain_text("The class: hydrogen 1, sodium 1; then hydrogen 2")
    expect(row).to_contain_text("The class: chlorine 2; then chlorine 1, oxygen 1")
    save = panel.get_by_role("button", name="Save what the class said")
    for press, offered in (("New class", 0), ("Undo: New class", 1)):
        page.get_by_role("button", name=press, exact=True).click()
        page.get_by_role("navigation", name="Steps").get_by_role(
            "button", name=re.compile("Predict")
        ).click()
        expect(panel.get_by_role("button", name="Show answers")).to_be_visible()
        expect(save).to_have_count(offered)
        page.get_by_role("navigation", name="Steps").get_by_role(
            "button", name=re.compile("Record")
        ).click()
    for phone in (first, second):
        assert phone.complaints == []
    assert lesson.errors == []


def test_while_the_class_answers_nothing_on_the_projector_tells(lesson, phones):
    phone = phones(open_room(lesson))
    lesson.page.get_by_role("button", name="Go on").click()
    predict(phone, "sodium")
    lesson.page.evaluate("() => window.written.clear()")
    lesson.next()
    lesson.expect_step("Watch")
    ask(lesson, "What do you see at the anode?")
    expect(phone.get_by_role("heading", level=1)).to_have_text("What do you see at the anode?")
    expect(panel_of(lesson)).to_contain_text("0 answered")
    assert told_in(lesson.page, CELLS["NaCl"]) == []


def test_each_round_of_a_lesson_is_answered_and_gathered(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    first, second = phones(link), phones(link)
    page.get_by_role("button", name="Go on").click()

    ask(lesson, "Which ions travel where")
    for phone in (first, second):
        group = phone.get_by_role("group", name="Which ions travel to the cathode?")
        group.get_by_label("Na⁺").check()
        send(phone)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "Which ions travel to the cathode?", "Na⁺")).to_have_text("2")

    lesson.next()
    ask(lesson, "What do you see at the cathode?")
    first.get_by_label("bubbles of a colourless gas").check()
    first.get_by_label("In your own words").fill("<b>fizz</b>")
    send(first)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "Pick what fits", "bubbles of a colourless gas")).to_have_text("1")
    expect(panel).to_contain_text("1 written")
    assert "<b>fizz" not in panel.inner_html().replace(
        "&lt;", "<"
    )  # only a press shows what was written
    expect(panel).to_contain_text("Whatever you show, the class sees at once")
    panel.get_by_role("button", name="Show one of 1").click()
    expect(panel.get_by_role("listitem")).to_contain_text("<b>fizz</b>")
    panel.get_by_role("button", name="Hide: <b>fizz</b>").click()
    expect(panel.get_by_role("listitem")).to_have_count(0)

    lesson.next()
    ask(lesson, "Which test for the gas at the anode?")
    first.get_by_label("damp blue litmus").check()
    first.get_by_label("it is bleached").check()
    send(first)
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "Choose a test", "damp blue litmus")).to_have_text("1")
    expect(counts(panel, "What will it show?", "it is bleached")).to_have_text("1")

    lesson.next()
    lesson.expect_step("Explain")
    ask(lesson, "Half-equations")
    first.get_by_label("Half-equation at the anode").fill("2Cl- -> Cl2 + 2e-")
    tiles = second.get_by_role("group", name="Tiles to build it from").last
    for tile in ("2", "Cl⁻", "+", "2", "e⁻", "→", "Cl₂"):
        tiles.get_by_role("button", name=tile, exact=True).click()
    second.reload()
    expect(second.get_by_label("Half-equation at the anode")).to_have_value("2Cl- + 2e- → Cl2")
    send(first)
    send(second)
    panel.get_by_role("button", name="Show answers").click()
    # what it means to show them is said once, not of each electrode
    expect(panel.get_by_text("Whatever you show, the class sees at once")).to_have_count(1)
    half = "Half-equation at the anode"
    expect(counts(panel, half, "right")).to_have_text("1")
    expect(counts(panel, half, "electrons on the wrong side")).to_have_text("1")
    panel.get_by_role("button", name="Stop answers").click()
    expect(second.get_by_text("This round is closed.")).to_be_visible()
    expect(second.get_by_text("Charge: 4− on the left, 0 on the right.")).to_be_visible()

    ask(lesson, "A mass or a volume")
    first.get_by_label("Volume of hydrogen").fill("1,4")
    send(first)
    for typed in ("a lot", "1e13", "1e999"):  # nor more than there is
        second.get_by_label("Volume of hydrogen").fill(typed)
        expect(second.get_by_text("needs a number")).to_have_count(0)
        second.get_by_role("button", name=re.compile("Send")).click()
        expect(second.get_by_text("needs a number")).to_be_visible()
    panel.get_by_role("button", name="Show answers").click()
    plot = panel.get_by_role("img", name="1 answers: 1.40")
    expect(plot).to_be_visible()
    expect(panel).to_contain_text("The model's number stands here once you stop answers")
    assert "The model:" not in panel.inner_text()  # which others could copy
    panel.get_by_role("button", name="Stop answers").click()
    plot = panel.get_by_role("img", name=re.compile("1 answers: 1.40; the model: "))
    expect(plot.locator("circle")).to_have_count(1)

    rounds = panel.get_by_label("Ask another question")
    rounds.select_option(label="Which test for the gas at the anode?")
    expect(counts(panel, "Choose a test", "damp blue litmus ✓ the cell")).to_have_text("1")
    expect(counts(panel, "What will it show?", "it is bleached ✓ the cell")).to_have_text("1")
    rounds.select_option(label="Which ions travel where?")
    expect(counts(panel, "Which ions travel to the cathode?", "Na⁺ ✓ the cell")).to_have_text("2")
    assert lesson.errors == []


def test_the_teachers_phone_reads_what_is_written_before_the_class_sees_it(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    own, other = phones(link), phones(link)
    for phone in (own, other):
        phone.get_by_role("button", name="For the teacher").click()
        expect(phone.get_by_role("heading", name="For the teacher")).to_be_focused()
        assert violations(phone) == []
    code = own.locator(".code").inner_text()
    assert code != other.locator(".code").inner_text()
    dialog = page.get_by_role("dialog")
    dialog.get_by_role("button", name="Teacher's phone").click()
    dialog.get_by_label("Its code").fill("12")
    dialog.get_by_role("button", name="Let it read").click()
    expect(dialog).to_contain_text("A code has six digits.")
    assert violations(page) == []
    dialog.get_by_label("Its code").fill(code)
    dialog.get_by_role("button", name="Let it read").click()
    expect(dialog).to_be_hidden()
    expect(own.get_by_role("heading", level=1)).to_have_text("What the class writes")
    expect(other.locator(".code")).to_have_count(0)
    expect(panel).to_contain_text("1 joined")
    lesson.next()
    ask(lesson, "What do you see at the cathode?")
    other.get_by_label("In your own words").fill("<i>boring</i>")
    send(other)
    expect(own.get_by_role("listitem")).to_contain_text("<i>boring</i>")
    expect(panel).to_contain_text("1 answered")
    panel.get_by_role("button", name="Show answers").click()
    expect(panel).to_contain_text("The teacher's phone shows what was written.")
    assert "boring" not in page.content()
    panel.get_by_role("button", name="Fold").click()
    own.get_by_role("button", name="Show: <i>boring</i>").click()
    expect(panel.get_by_role("listitem")).to_contain_text("<i>boring</i>")  # unfolded
    expect(own.get_by_role("button", name="Hide: <i>boring</i>")).to_be_focused()
    assert rows_of_buttons(panel) == 1
    assert violations(own) == []
    own.set_viewport_size({"width": 320, "height": 568})
    assert own.evaluate(SIDEWAYS) is False
    own.reload()
    own.get_by_role("button", name="Hide: <i>boring</i>").click()
    expect(panel.get_by_role("listitem")).to_have_count(0)
    own.get_by_role("button", name="Answer like the others").click()
    expect(own.get_by_role("button", name=re.compile("Send my answer"))).to_be_visible()
    expect(panel).to_contain_text("2 joined")
    for phone in (own, other):
        assert phone.complaints == []
    assert lesson.errors == []


def test_a_magnified_page_still_steers_and_closes_its_room(lesson, phones):
    page, panel = lesson.page, panel_of(lesson)
    link = open_room(lesson)
    page.get_by_role("button", name="Go on").click()
    phone = phones(link)
    predict(phone, "hydrogen")
    page.set_viewport_size({"width": 480, "height": 270})  # the projector's, at 400 %
    panel.get_by_role("button", name="Show answers").click()
    expect(counts(panel, "What forms at the cathode?", "hydrogen")).to_have_text("1")
    assert page.evaluate(SIDEWAYS) is False
    assert page.evaluate(BEYOND) == []
    page.get_by_role("button", name="Show the code").click()
    page.get_by_role("dialog").get_by_role("button", name="Go on").click()
    panel.get_by_role("button", name="Close the room").click()
    expect(panel).to_be_hidden()
    expect(page.get_by_role("button", name="Ask the class")).to_be_hidden()
    page.set_viewport_size(PROJECTOR)


def test_the_teachers_page_reloads_and_finds_its_room(lesson, phones):
    page = lesson.page
    phone = phones(open_room(lesson))
    page.get_by_role("button", name="Go on").click()
    predict(phone, "hydrogen")
    panel = panel_of(lesson)
    expect(panel).to_contain_text("1 joined · 1 answered")
    save = panel.get_by_role("button", name="Save what the class said")
    expect(save).to_have_count(0)  # nothing was shown
    panel.get_by_role("button", name="Show answers").click()
    expect(save).to_be_visible()
    page.reload()
    expect(panel).to_contain_text("1 joined · 1 answered")
    rows = what_the_class_said(lesson)  # as it was shown before
    assert ["hydrogen", "1", "", "", ""] in [row[3:] for row in rows]
    panel.get_by_role("button", name="Close the room").click()
    expect(phone.get_by_text("The room has been closed")).to_be_visible()
    expect(panel).to_be_hidden()
    assert phone.evaluate("() => localStorage.length") == 0


def test_the_panel_and_the_dialog_are_accessible(lesson, phones):
    page = lesson.page
    page.get_by_role("button", name="Ask the class").click()
    expect(page.get_by_role("dialog")).to_be_visible()
    assert violations(page) == []
    page.get_by_role("button", name="Not now").click()
    phone = phones(open_room(lesson))
    assert violations(page) == []
    page.get_by_role("button", name="Go on").click()
    predict(phone, "hydrogen")
    panel_of(lesson).get_by_role("button", name="Show answers").click()
    expect(panel_of(lesson).get_by_role("button", name="Hide answers")).to_be_focused()
    assert violations(page) == []
