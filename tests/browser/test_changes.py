"""Something is changed while a cell runs: what was seen and written stays, and nothing tells too early."""

from __future__ import annotations

import re

from playwright.sync_api import expect
from tests.browser.test_steps import COVERED, step_button
from tests.browser.test_telling import CELLS, told_in
from tests.browser.visit import BEYOND, LOADING_MS, PHONE, expect_wrong, violations

PART_OF_RULER = """(ruler, share) => {
  ruler.value = String(share * Number(ruler.max));
  ruler.dispatchEvent(new Event('input'));
}"""
SALT_WATER = CELLS["NaCl"]


def go_to(seen, share):
    seen.page.get_by_role("slider", name="Time in the run").evaluate(PART_OF_RULER, share)


def open_panel(seen, kind, steps):
    """Open the panel by keyboard, and go to a kind of change by so many arrows."""
    seen.button("Change something").focus()
    seen.page.keyboard.press("Enter")
    panel = seen.page.get_by_role("region", name="Change something")
    expect(panel.get_by_role("radio").first).to_be_focused()
    for _ in range(steps):
        seen.page.keyboard.press("ArrowRight")
    expect(panel.get_by_role("radio", name=kind)).to_be_checked()
    return panel


def do_it(seen, panel, marks):
    panel.get_by_role("button", name="Change it").focus()
    seen.page.keyboard.press("Enter")
    expect(seen.page.locator(".fp-mark")).to_have_count(marks)
    expect(seen.button("Change something")).to_be_focused()
    expect(panel).to_be_hidden()


def test_each_kind_of_change_is_a_stage_and_what_was_noted_stays(visit):
    seen = visit("?cells=NaCl;CuSO4")
    page = seen.page
    seen.next()
    seen.expect_step("Watch")
    seen.side_card("Cathode").get_by_label("What do you see").fill("many bubbles")
    go_to(seen, 0.25)
    first = seen.picture()
    go_to(seen, 0.4)
    panel = open_panel(seen, "Swap the wires", 0)
    assert violations(page) == []
    do_it(seen, panel, 1)
    expect(page.locator(".fp-mark")).to_contain_text("2:00 wires swapped")
    expect(page.locator(".fp-changed")).to_contain_text("At 2 min 0 s: wires swapped")
    expect(page.locator(".fp-step-head")).to_contain_text("Since 2 min 0 s (wires swapped)")
    # the electrode on the left is the anode now, and its card asks anew
    left, right = (seen.page.locator(f".fp-side-card-{each}") for each in ("cathode", "anode"))
    expect(left).to_have_accessible_name("Anode")
    expect(right.get_by_label("What do you see at the cathode?")).to_have_value("")
    assert told_in(page, SALT_WATER) == []
    go_to(seen, 0.25)
    expect(left.get_by_label("What do you see at the cathode?")).to_have_value("many bubbles")
    assert seen.picture() == first  # the same time, the same picture
    go_to(seen, 0.5)
    panel = open_panel(seen, "Add a solution", 4)
    panel.get_by_label("To add, cm³").fill("2")
    panel.get_by_role("combobox").select_option("AgNO3")
    do_it(seen, panel, 2)
    expect(page.locator(".fp-notes")).to_contain_text("Silver salts stain skin")
    assert told_in(page, SALT_WATER) == []
    go_to(seen, 0.6)
    panel = open_panel(seen, "Voltage", 2)
    panel.get_by_label("Supply, V").fill("9")
    do_it(seen, panel, 3)
    go_to(seen, 0.7)
    do_it(seen, open_panel(seen, "Add water", 3), 4)
    go_to(seen, 0.8)
    plain = seen.picture()
    panel = open_panel(seen, "Indicator", 5)
    panel.get_by_label("A few drops of").select_option("litmus")
    do_it(seen, panel, 5)
    assert seen.picture() != plain
    go_to(seen, 0.9)
    do_it(seen, open_panel(seen, "Open the switch", 1), 6)
    expect(page.locator(".fp-step-line")).to_contain_text("No current flows")
    assert page.evaluate(COVERED) == []
    step_button(seen, "Record").click()
    observed = page.get_by_role("textbox", name="Observed, cathode, NaCl")
    expect(observed).to_have_value("many bubbles")
    expect(page.locator(".fp-setup-line")).to_contain_text("changed at 2:00, 2:30, 3:00")
    expect(page).to_have_url(re.compile("at=120:swap"))
    assert seen.errors == []


def test_a_refusal_stands_at_its_field_a_change_is_taken_back_and_a_link_brings_it_back(visit):
    seen = visit("?cells=NaCl,at=120:swap")
    page = seen.page
    expect(page.locator(".fp-mark")).to_have_count(
        0
    )  # before the switch is closed nothing has changed
    seen.next()
    expect(page.locator(".fp-mark")).to_contain_text("2:00 wires swapped")
    go_to(seen, 0.8)
    before = seen.picture()
    panel = open_panel(seen, "Add water", 3)
    field = panel.get_by_label("Water, cm³")
    field.fill("500")
    field.press("Enter")
    expect_wrong(field, "at most 40")
    expect(field).to_be_focused()
    page.keyboard.press("Escape")
    expect(seen.button("Change something")).to_be_focused()
    assert seen.picture() == before
    panel = open_panel(seen, "Add a solution", 4)
    panel.get_by_role("combobox").select_option("HCl")
    panel.get_by_role("button", name="Change it").click()
    expect(panel.get_by_role("alert")).to_contain_text("toxic")
    panel.get_by_role("button", name="Take back: wires swapped").click()
    expect(page.locator(".fp-mark")).to_have_count(0)
    expect(page.locator(".fp-changed")).to_have_text("The last change is taken back.")
    expect(seen.page.locator(".fp-side-card-cathode")).to_have_accessible_name("Cathode")
    expect(page).not_to_have_url(re.compile("at="))
    assert seen.errors == []


def test_the_explanation_is_that_of_the_stage_and_a_change_leads_back_to_watching(visit):
    seen = visit("?cells=CuSO4")
    page = seen.page
    seen.next()
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    page.evaluate("() => window.written.clear()")
    go_to(seen, 0.5)
    do_it(seen, open_panel(seen, "Swap the wires", 0), 1)
    seen.expect_step("Watch")
    assert told_in(page, ("Cu", "O2")) == []
    step_button(seen, "Explain").click()
    heading = page.locator(".fp-step-head")
    expect(heading).to_contain_text("Since 2 min 30 s (wires swapped): 1 of")
    while page.locator(".fp-next").inner_text() == "Next":
        page.locator(".fp-next").click()
    left, right = (page.locator(f".fp-side-card-{each}") for each in ("cathode", "anode"))
    expect(right).to_have_accessible_name("Cathode")
    expect(right).to_contain_text("copper")
    expect(left).to_contain_text("copper dissolves")
    go_to(seen, 0.2)
    expect(heading).to_contain_text("1 of")
    expect(heading).not_to_contain_text("Since")
    seen.all_controls()
    go_to(seen, 0.2)  # both stages have been explained
    expect(left.locator(".fp-product")).to_have_text("copper")
    go_to(seen, 0.9)
    expect(left.locator(".fp-product")).to_have_text("copper dissolves")
    expect(page.locator(".fp-chart-mark").first).to_be_attached()
    expect(page.locator(".fp-chart-mark title").first).to_have_text("2 min 30 s: wires swapped")
    assert seen.errors == []


def test_on_a_phone_the_panel_holds_all_within_reach(visit):
    seen = visit("?cells=NaCl", viewport=PHONE)
    page = seen.page
    seen.next()
    go_to(seen, 0.4)
    panel = open_panel(seen, "Add a solution", 4)
    for each in panel.get_by_role("button").all():
        each.scroll_into_view_if_needed()
        expect(each).to_be_in_viewport(ratio=0.9)
    assert page.evaluate(BEYOND) == []
    panel.get_by_label("To add, cm³").fill("2")
    do_it(seen, panel, 1)
    assert seen.errors == []


def test_a_new_class_begins_with_the_list_as_it_was_set_up(visit):
    seen = visit("?cells=NaCl,at=120:swap;CuSO4,at=60:water:40")
    page, marks = seen.page, seen.page.locator(".fp-mark")
    line = page.locator(".fp-setup-line")
    expect(line).to_contain_text("changed at 2:00")
    step_button(seen, "Record").click()
    seen.expect_step("Record")
    seen.button("New class").click()
    seen.expect_step("Predict")
    expect(page).not_to_have_url(re.compile("at="))
    expect(line).not_to_contain_text("changed")
    seen.next()
    expect(marks).to_have_count(0)
    step_button(seen, "Record").click()
    seen.expect_step("Record")
    seen.button("Undo: New class").click()
    seen.expect_step("Predict")
    expect(line).to_contain_text("changed at 2:00")
    page.get_by_role("button", name="CuSO₄").click()
    expect(line).to_contain_text("0.5 mol/dm³, then diluted to 0.3")
    assert seen.errors == []


def test_of_two_cells_side_by_side_both_are_changed(visit):
    seen = visit("?cells=CuSO4,beside=copper")
    page, cards = seen.page, seen.page.locator(".fp-side-card")
    seen.next()
    notes = page.get_by_label("What do you see at the cathode?")
    notes.nth(1).fill("orange")
    go_to(seen, 0.5)
    panel = open_panel(seen, "Swap the wires", 0)
    expect(panel).to_contain_text("Change something in both cells at 2 min 30 s")
    do_it(seen, panel, 1)
    page.wait_for_url("**beside=copper,at=150:swap**")
    expect(cards.nth(0)).to_have_accessible_name("Anode, CuSO₄")
    expect(cards.nth(2)).to_have_accessible_name("Anode, CuSO₄, copper rods")
    expect(cards.nth(3)).to_contain_text("Cathode")
    heard = page.locator(".fp-sentence .fp-cell-seen")
    expect(heard.nth(0)).to_contain_text(
        "At the anode: the deposit on the electrode becomes thinner"
    )
    expect(page.locator(".fp-current")).to_contain_text("CuSO₄, copper rods: Current flows")
    go_to(seen, 0.2)
    expect(notes.nth(1)).to_have_value("orange")
    go_to(seen, 0.9)
    expect(notes.nth(1)).to_have_value("")
    step_button(seen, "Explain").click()
    heading = page.locator(".fp-step-head")
    expect(heading).to_contain_text("CuSO₄: Since 2 min 30 s (wires swapped): 1 of")
    page.reload()
    expect(page.locator(".fp-mark")).to_have_count(1, timeout=LOADING_MS)
    panel = open_panel(seen, "Add water", 3)
    panel.get_by_role("button", name="Take back: wires swapped").click()
    expect(page.locator(".fp-mark")).to_have_count(0)
    expect(cards.nth(2)).to_have_accessible_name("Cathode, CuSO₄, copper rods")
    assert seen.errors == []


def test_what_becomes_of_the_liquid_is_asked_and_stands_in_the_table(visit):
    seen = visit("?cells=AgNO3,c=0.1,at=150:add:5:NaCl:0.1")
    page = seen.page
    asked = page.get_by_label("What do you see in the liquid?")
    seen.next()
    go_to(seen, 0.3)
    expect(asked).to_be_visible()  # a question that comes only with the cloud would tell of it
    go_to(seen, 0.9)
    asked.fill("it turns milky")
    assert told_in(page, ("Ag", "O2")) == []
    step_button(seen, "Record").click()
    cell = page.locator("td[data-title='Solution becomes']")
    cell.get_by_role("button", name="Reveal").click()
    expect(cell).to_contain_text(
        "Since 2 min 30 s (5 cm³ of NaCl, 0.1 mol/dm³): in the liquid: a white cloud"
    )
    expect(cell).to_contain_text("noted in the liquid: it turns milky")
    assert seen.errors == []


def test_the_close_up_is_of_the_stage_at_the_time_on_the_ruler(visit):
    seen = visit("?cells=NaCl,at=120:swap")
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    left = seen.page.get_by_role("region", name="Close-up").locator("figure").first
    go_to(seen, 0.2)
    seen.button("Close-up").click()
    expect(left).to_contain_text("Cathode")
    expect(left).to_contain_text("taken from the wire")
    go_to(seen, 0.8)
    expect(left).to_contain_text("Anode")
    expect(left).to_contain_text("given to the wire")
    expect(left).to_contain_text("2Cl")
    assert seen.errors == []
