"""The Explore page: one cell or two, a whole investigation on a phone, sweeps, the workshop beside them."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect
from tests.browser.test_old_results import RECORD
from tests.browser.test_telling import what_tells
from tests.browser.visit import (
    BEYOND,
    LOADING_MS,
    PHONE,
    SIDEWAYS,
    expect_mended,
    expect_wrong,
    unfold,
    violations,
    visits,
)

from fizzplate.cell import Cell
from fizzplate.chemistry import solutions
from fizzplate.lesson.classroom import SWEEPS
from fizzplate.lesson.equations.equation_judge import judge
from fizzplate.lesson.equations.equation_tasks import half_task


@pytest.fixture(scope="module")
def explore_address(address_of):
    return address_of("explore")


@pytest.fixture
def visit(windows, explore_address):
    with visits(windows, explore_address) as open_page:
        yield open_page


def test_two_cells_one_change_apart_are_compared_and_share_no_name_and_no_place(visit):
    seen = visit("?cells=CuSO4;CuSO4,anode=copper&ask=off")
    expect(seen.page.get_by_role("button", name="Switch on")).to_have_count(2)
    for _ in range(2):
        seen.page.get_by_role("button", name="Switch on").first.click()
        seen.page.get_by_role("button", name="Switch off").last.wait_for()
    table = seen.page.get_by_role("table", name="What differs")
    expect(table).to_contain_text("anode")
    expect(table.get_by_role("row")).to_have_count(2)
    expect(seen.page.get_by_text("Why: an anode of an active metal dissolves")).to_be_visible()
    expect(seen.page.get_by_role("img", name="Current, mA, both cells")).to_be_visible()
    assert violations(seen.page) == []
    seen.page.locator(".fp-chart").last.wait_for(state="attached")
    expect(seen.page.get_by_role("img", name="pH at each electrode’s face")).to_have_count(2)
    names = seen.page.evaluate("() => [...document.querySelectorAll('[id]')].map(({ id }) => id)")
    assert len(names) == len(set(names))
    for part in (".fp-panels", ".fp-charts", ".fp-commentary"):
        for each in seen.page.locator(part).all():
            assert each.bounding_box()["height"] > 100
    below = seen.page.locator(".fp-comparison").bounding_box()["y"]
    for each in seen.page.locator(".fp-foot").all():
        box = each.bounding_box()
        assert box["y"] + box["height"] <= below
    # the clock of one bench leaves the charts of the other alone
    cursors = seen.page.locator(".fp-chart:not(.fp-further) .fp-cursor")
    other = cursors.last.get_attribute("x1")
    seen.page.get_by_role("slider", name="Time in the run").first.press("Home")
    assert cursors.last.get_attribute("x1") == other
    assert cursors.first.get_attribute("x1") != other
    seen.page.set_viewport_size(PHONE)
    expect(table).to_be_visible()
    seen.page.wait_for_function(f"() => ({BEYOND})().length === 0")
    dim = seen.page.get_by_role("switch", name="Dim room")
    dim.click()
    seen.button("Remove the second cell").click()
    expect(seen.page.get_by_role("article", name="Cathode")).to_have_count(1)
    expect(dim).to_be_checked()
    assert seen.errors == []
    assert seen.foreign == []


def test_the_boards_names_are_used_in_comparison_investigations_and_a_sweep_that_is_awaited(visit):
    seen = visit(
        "?cells=CuSO4;CuSO4,anode=copper,cathode=copper&ask=off&board=electrode_names=negative"
    )
    for _ in range(2):
        seen.page.get_by_role("button", name="Switch on").first.click()
        seen.page.get_by_role("button", name="Switch off").last.wait_for()
    expect(seen.page.get_by_role("table", name="What differs")).to_contain_text("electrodes")
    panel = seen.page.get_by_role("region", name="Investigations")
    panel.get_by_role("combobox").select_option(label="Carbon or copper")
    panel.get_by_label("My conclusion").fill("Copper moves.")
    panel.get_by_role("button", name="Show a model answer").click()
    expect(panel).to_contain_text("the positive electrode loses", timeout=LOADING_MS)
    seen.page.evaluate(RECORD)
    for kind in ("shares against concentration", "gas against time"):
        seen.choose("Sweep", kind)
        seen.button("Draw it").click()
        expect(seen.page.get_by_role("status").filter(has_text=".").last).to_be_visible()
        expect(seen.page.locator(".fp-sweeps svg")).to_be_visible(timeout=LOADING_MS)
    said = seen.page.evaluate(
        "() => document.querySelector('.fp-column-page').innerText.toLowerCase()"
    )
    chosen = seen.page.evaluate(
        "() => [...document.querySelectorAll('svg')].map((e) => e.textContent)"
    )
    board = "cathode, anode"  # the name of the setting's first choice
    assert "cathode" not in said.replace(board, "")
    assert "anode" not in said.replace(board, "")
    assert not [text for text in chosen if "cathode" in text.lower() or "anode" in text.lower()]
    assert seen.page.evaluate("seen.some((at) => at.said.includes('Calculating the curves'))")
    changed = seen.page.get_by_text(
        "You have changed the first cell since then. Press Draw it again."
    )
    strength = seen.page.get_by_role("textbox", name="Concentration, mol/dm³", exact=True).first
    for value, count in (("0.3", 1), ("0.5", 0)):
        strength.fill(value)
        strength.press("Tab")
        expect(changed).to_have_count(count)


def test_the_workshop_follows_the_cell_and_loses_nothing_that_is_written(visit):
    seen = visit()
    page = seen.page
    workshop = page.get_by_role("region", name="Half-equation workshop")
    cell, fields = workshop.get_by_role("combobox"), workshop.get_by_role("textbox")
    salt, mixture = "sodium chloride, NaCl", "copper(II) sulfate and sodium chloride, CuSO₄ + NaCl"
    expect(workshop).to_contain_text(f"the cell above, {salt}, can be written here once")
    expect(fields).to_have_count(0)  # what there is to write names what forms
    assert what_tells(("H2", "Cl2"))(workshop.inner_text()) == []
    seen.switch_on()
    expect(fields).to_have_count(0)
    seen.button("Show both electrodes").click()
    expect(cell).to_have_value(salt)
    expect(fields).to_have_count(3)
    expect(workshop.get_by_text("The cell above")).to_have_count(0)
    seen.choose("Solution", "copper(II) sulfate CuSO₄")
    expect(workshop).to_contain_text("copper(II) sulfate, CuSO₄, can be written here once")
    expect(cell).to_have_value("")
    page.get_by_role("button", name="Settings").click()
    page.get_by_label("Let the class predict first").uncheck()
    expect(cell).to_have_value("copper(II) sulfate, CuSO₄")
    unfold(page, "graphite electrodes")
    seen.choose("Also dissolved", "sodium chloride NaCl")
    expect(cell).to_have_value(mixture)
    fields.first.fill("Cu2+ + 2e- -> Cu")
    seen.choose("Also dissolved", "nothing else")
    turn = workshop.get_by_role("button", name="Turn to it")
    expect(turn).to_be_visible()
    expect(cell).to_have_value(mixture)
    expect(fields.first).to_have_value("Cu2+ + 2e- -> Cu")
    page.reload()
    expect(turn).to_be_visible(timeout=LOADING_MS)
    expect(fields.first).to_have_value("Cu2+ + 2e- -> Cu")
    turn.click()
    expect(cell).to_have_value("copper(II) sulfate, CuSO₄")
    expect(fields.first).to_have_value("")
    expect(turn).to_have_count(0)
    cell.select_option(mixture)
    expect(fields.first).to_have_value("Cu2+ + 2e- -> Cu")
    assert seen.errors == []


def test_what_stands_in_an_empty_line_of_the_workshop_is_no_answer(visit):
    seen = visit("?ask=off")
    fields = seen.page.locator(".fp-workshop input[type=text]")
    shown = {fields.nth(k).get_attribute("placeholder") for k in range(fields.count())}
    assert shown
    for formula in solutions():
        rule = Cell(formula, concentration_mol_dm3=0.05).rule()
        for role in ("cathode", "anode"):
            each = getattr(rule, role)
            task = half_task(each.half_equation, each.product, role)
            assert {judge(text, task).code for text in shown} == {"unread"}


def test_a_sweep_is_drawn_with_the_present_cell_on_it(visit):
    seen = visit("?cells=NaCl,lamp=none")
    seen.button("Draw it").click()
    expect(seen.page.locator(".fp-sweeps")).to_contain_text("Then you can draw this sweep")
    expect(seen.page.locator(".fp-sweeps svg")).to_have_count(0)
    seen.switch_on()
    seen.button("Show both electrodes").click()
    seen.button("Draw it").click()
    drawing = seen.page.get_by_role("img", name="Share of the charge against concentration")
    expect(drawing).to_be_visible(timeout=LOADING_MS)
    expect(drawing).to_contain_text("your cell")
    expect(seen.page.get_by_text("The more dilute the solution")).to_be_visible()
    seen.choose("Sweep", "current against voltage")
    seen.button("Draw it").click()
    expect(seen.page.get_by_text("The decomposition voltage (onset) is 2.8 V")).to_be_visible(
        timeout=LOADING_MS
    )
    drawing = seen.page.get_by_role("img", name="Current against voltage, without the lamp")
    expect(drawing).to_contain_text("onset 2.8 V")
    expect(drawing).to_have_accessible_description(re.compile(r"marked: onset 2.8\sV"))
    seen.page.locator("summary", has_text="Figures as a table").click()
    figures = seen.page.get_by_role("table", name="Current after one minute, mA")
    expect(figures.get_by_role("columnheader")).to_have_text(
        ["Voltage between the electrodes, V", "current"]
    )
    expect(figures.get_by_role("row")).to_have_count(28)
    seen.page.set_viewport_size(PHONE)
    seen.page.wait_for_function(f"() => ({BEYOND})().length === 0")
    assert seen.errors == []


def test_a_whole_investigation_on_a_phone(visit):
    seen = visit(viewport=PHONE)
    panel = seen.page.get_by_role("region", name="Investigations")
    # before there is a run nothing of it stands between the cell and the question
    expect(seen.page.get_by_role("slider", name="Time in the run")).to_be_hidden()
    expect(seen.page.get_by_role("switch", name="Dim room")).to_have_count(1)
    expect(seen.page.get_by_role("switch", name="Projector size")).to_have_count(0)
    seen.button("Investigate").click()
    panel.get_by_role("combobox").select_option(label="Zinc and the rule")
    expect(panel).to_contain_text("Does zinc sulfate follow the rule")
    panel.get_by_role("button", name="Set it up").click()
    expect(seen.page.get_by_role("button", name="Set-up: zinc sulfate")).to_be_visible()
    to_vary = seen.page.get_by_role("textbox", name="Concentration, mol/dm³", exact=True)
    expect(to_vary).to_be_focused()
    expect(to_vary).to_be_in_viewport()
    said = seen.page.get_by_role("status").filter(has_text="Set up: Zinc and the rule.")
    expect(said).to_contain_text("Now change: Concentration, mol/dm³")
    seen.button("Observe").click()
    cathode = seen.side_card("Cathode")
    cathode.get_by_label("hydrogen").check()
    seen.switch_on()
    cathode.get_by_label("What do you see at the cathode?").fill("a grey deposit")
    cathode.get_by_role("button", name="Compare").click()
    expect(cathode).to_contain_text(
        "Predicted: hydrogen (right by the rule; in this run it is zinc"
    )
    seen.button("Investigate").click()
    panel.get_by_role("button", name="Show a model answer").click()
    expect(panel).to_contain_text("Write a conclusion of your own first.")
    panel.get_by_role("textbox", name="My conclusion").fill("No: zinc plates.")
    panel.get_by_role("button", name="Show a model answer").click()
    expect(panel).to_contain_text("of the charge plates zinc", timeout=LOADING_MS)
    expect(panel).to_contain_text("Your conclusion makes 1 of 3 points")
    points = panel.get_by_role("listitem")
    expect(points.filter(has_text="✓ You say")).to_have_text("✓ You say: zinc forms in this cell.")
    expect(points.filter(has_text="Not in your words")).to_have_count(2)
    assert seen.page.evaluate(BEYOND) == []
    assert not seen.page.evaluate(SIDEWAYS)
    assert violations(seen.page) == []
    picture = seen.page.get_by_role("img", name="The cell")
    for part in ("Observe", "Charts", "Investigate", "Vary", "Equations"):
        seen.button(part).click()  # whatever is shown and however far down, the cell stays in sight
        seen.page.evaluate("document.querySelector('#rendered_cells').scrollTo(0, 1e6)")
        expect(picture).to_be_in_viewport(ratio=0.95)
        expect(seen.button(part)).to_be_in_viewport(ratio=0.95)
        expect(seen.button("Switch off")).to_be_in_viewport(ratio=0.95)
        height = picture.bounding_box()["height"]
        assert 0.25 * PHONE["height"] < height < 0.4 * PHONE["height"]
    seen.button("Investigate").click()
    seen.page.reload()
    seen.button("Switch off").wait_for(timeout=LOADING_MS)  # the run comes back too
    panel.get_by_role("combobox").select_option(label="✓ Zinc and the rule")
    expect(panel.get_by_role("textbox", name="My conclusion")).to_have_value("No: zinc plates.")
    expect(panel).to_contain_text("1 of 9 investigations concluded")


def test_on_a_phone_a_part_begins_below_its_tab_and_the_scales_are_one_folded_line(visit):
    seen = visit("?ask=off", viewport=PHONE)
    seen.switch_on()
    page = seen.page
    for part, first in {
        "Observe": page.get_by_role("heading", name="Cathode"),
        "Charts": page.get_by_role("tab", name="Test the gas"),
        "Investigate": page.get_by_role("heading", name="Investigations"),
        "Vary": page.get_by_role("heading", name="One thing varied"),
        "Equations": page.get_by_role("heading", name="Half-equation workshop"),
    }.items():
        tab = seen.button(part)
        tab.click()
        page.evaluate("document.querySelector('#rendered_cells').scrollTo(0, 0)")
        end = tab.bounding_box()
        assert 0 <= first.first.bounding_box()["y"] - end["y"] - end["height"] < 60, part
        expect(seen.button("Play").or_(seen.button("Pause"))).to_be_visible()
    scale = page.locator(".fp-ruler .fp-scale")
    expect(scale).to_be_hidden()
    page.get_by_text("Not to scale", exact=True).click()
    expect(scale).to_contain_text("one bubble")
    page.get_by_text("Not to scale", exact=True).click()
    expect(scale).to_be_hidden()
    assert violations(page) == []
    assert seen.errors == []


def test_a_mixture_and_a_held_current_can_be_set_up(visit):
    seen = visit("?ask=off")
    unfold(seen.page, "graphite electrodes")
    seen.choose("Also dissolved", "potassium iodide KI")
    strength = seen.page.get_by_role("textbox", name="Second concentration, mol/dm³")
    strength.fill("much")
    strength.press("Tab")
    expect_wrong(strength, "'much' cannot be used")
    strength.fill("0.2")
    strength.press("Tab")
    seen.choose("Supply holds", "current")
    held = seen.page.get_by_role("textbox", name="Supply, A")
    held.fill("0.1")
    held.press("Tab")
    seen.page.wait_for_function("() => location.search.includes('also=KI:0.2')")
    seen.switch_on()
    expect(seen.side_card("Anode")).to_contain_text("iodine")
    expect(seen.side_card("Anode")).to_contain_text("now 100 mA")
    expect_mended(strength)
    assert seen.errors == []


#: letters of charts, as high as they are shown, that are too small for a phone
SMALL_LETTERS = """() => [...document.querySelectorAll('.fp-page svg text')]
  .filter((text) => text.checkVisibility() && text.textContent.trim())
  .flatMap((text) => [text, ...text.querySelectorAll('tspan')].map((part) => {
    const { a, b } = text.getScreenCTM();
    return [part.textContent.trim(), parseFloat(getComputedStyle(part).fontSize) * Math.hypot(a, b)];
  }))
  .filter(([, px]) => px < 12)"""

TITLES = {
    "shares against concentration": "Share of the charge against concentration",
    "metal against charge": "Metal against charge",
    "gas against time": "Gas against time",
    "current against voltage": "Current against voltage",
}


def test_on_a_phone_every_sweep_has_letters_of_a_readable_size(visit):
    seen = visit("?cells=CuSO4,c=0.1,min=1&ask=off", viewport=PHONE)
    seen.button("Switch on").click()
    seen.button("Switch off").wait_for()
    seen.button("Vary").click()
    for name in SWEEPS:
        seen.choose("Sweep", name)
        seen.button("Draw it").click()
        chart = seen.page.locator(".fp-sweeps svg title")
        expect(chart).to_contain_text(TITLES[name], timeout=LOADING_MS)
        assert seen.page.evaluate(SMALL_LETTERS) == [], name
        assert not seen.page.evaluate(SIDEWAYS)
