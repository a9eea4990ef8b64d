"""A whole lesson from the Demonstrate page alone: asked, compared, tested, explained, recorded."""

from __future__ import annotations

import csv
import re

import pytest
from playwright.sync_api import expect
from tests.browser.visit import BEYOND, LOADING_MS, PHONE, violations, visits


@pytest.fixture
def visit(windows, demonstrate_address):
    with visits(windows, demonstrate_address) as open_page:
        yield open_page


def compare(seen, electrode, words):
    """Write an observation and compare it."""
    side_card = seen.side_card(electrode)
    side_card.get_by_label(f"What do you see at the {electrode.lower()}?").fill(words)
    side_card.get_by_role("button", name="Compare").click()
    return side_card


def test_a_prediction_is_kept_and_compared(visit):
    seen = visit("?cells=NaCl")
    seen.all_controls()
    cathode, anode = seen.side_card("Cathode"), seen.side_card("Anode")
    nothing_is_told(seen)
    cathode.get_by_label("sodium").check()
    anode.get_by_label("chlorine").check()
    cathode.get_by_text("Which ions travel here?").click()
    cathode.get_by_label("Na⁺").check()
    seen.switch_on()
    expect(cathode.get_by_text("Hydrogen is less reactive")).to_be_hidden()
    expect(cathode.get_by_text("Gases may form that burn or irritate")).to_be_visible()
    nothing_is_told(seen)
    compare(seen, "Cathode", "bubbles of a clear gas")
    expect(cathode.get_by_text("Hydrogen burns")).to_be_visible()
    expect(anode.get_by_text("Chlorine irritates")).to_be_hidden()
    expect(cathode.get_by_text("Hydrogen is less reactive")).to_be_visible()
    expect(cathode).to_contain_text("Predicted: sodium (the rule says hydrogen")
    expect(cathode).to_contain_text("They are Na⁺, H⁺")
    expect(cathode).to_contain_text("Say colourless, not clear")
    expect(cathode).to_contain_text("You left out: colourless")
    compare(seen, "Anode", "green bubbles with a sharp smell")
    expect(anode).to_contain_text("Predicted: chlorine (right by the rule, and in this run")
    expect(anode).to_contain_text("You mentioned: bubbles, its colour")
    expect(anode.get_by_text("Chlorine irritates")).to_be_visible()
    expect(seen.page.get_by_text("Cautions for the teacher")).to_be_hidden()
    beside = seen.page.locator(".fp-notes > .fp-caution")
    expect(beside.filter(has_text="turns alkaline: keep it off skin")).to_be_visible()
    expect(seen.page.get_by_role("img", name="Gas made, cm³")).to_be_visible()
    assert seen.errors == []


def nothing_is_told(seen):
    """No caution in the page names what will form; the teacher opens a fold to read it."""
    spoilers = seen.page.get_by_text(re.compile("Chlorine irritates|Hydrogen burns|alkaline"))
    expect(spoilers).to_have_count(0)
    general = seen.page.locator(".fp-notes").get_by_text("Gases may form that burn or irritate")
    expect(general).to_be_visible()
    fold = seen.page.get_by_text("Cautions for the teacher")
    fold.click()
    teachers = seen.page.locator(".fp-teacher")
    expect(teachers.get_by_text("Chlorine irritates")).to_be_visible()
    fold.click()
    expect(spoilers).to_have_count(0)


def test_where_no_class_is_asked_cautions_stand_at_once_and_keys_step_and_blank(
    visit,
):
    seen = visit("?cells=NaCl&ask=off")
    expect(seen.page.locator(".fp-notes").get_by_text("Chlorine irritates").last).to_be_visible()
    expect(seen.page.get_by_text("Cautions for the teacher")).to_be_hidden()
    seen.switch_on()
    panel = seen.page.get_by_role("tabpanel", name="Explain")
    seen.page.keyboard.press("PageDown")
    expect(panel).to_contain_text("The solution contains Na⁺ and Cl⁻")
    before = seen.picture()
    seen.page.keyboard.press("PageDown")
    expect(panel).to_contain_text("compete there")
    expect(panel).to_contain_text("Hydrogen is less reactive than sodium")
    seen.picture_changes(before)  # the ions that are meant stand out
    seen.page.keyboard.press("PageUp")
    expect(panel).to_contain_text("The solution contains Na⁺ and Cl⁻")
    curtain = seen.page.get_by_text("The screen is blank")
    seen.page.keyboard.press("b")
    expect(curtain).to_be_visible()
    seen.page.keyboard.press("b")
    expect(curtain).to_be_hidden()
    seen.page.get_by_role("switch", name="Remote keys").click()
    seen.page.keyboard.press("b")
    expect(curtain).to_be_hidden()
    assert violations(seen.page) == []


def test_the_table_gives_rule_and_run_where_they_differ_and_accepts_either(visit):
    seen = visit("?cells=ZnSO4&ask=off")
    seen.switch_on()
    seen.page.get_by_role("tab", name="Results table").click()
    for title, answers in (
        ("Product, cathode", ("hydrogen", "zinc", "exam: hydrogen; bench: zinc")),
        ("Half-equation, cathode", ("2H+ + 2e- -> H2", "Zn2+ + 2e- -> Zn")),
        ("Solution becomes", ("as before",)),
    ):
        field = seen.page.get_by_role("textbox", name=f"{title}, ZnSO₄")
        cell = seen.page.locator("td").filter(has=field)
        for answer in answers:
            field.fill(answer)
            seen.page.get_by_role("button", name=f"Reveal: {title}, ZnSO₄").click()
            expect(cell.locator(".fp-verdict")).to_contain_text("✓")
            seen.page.get_by_role("button", name=f"Hide: {title}, ZnSO₄").click()
        field.fill("copper")
        seen.page.get_by_role("button", name=f"Reveal: {title}, ZnSO₄").click()
        expect(cell.locator(".fp-verdict")).not_to_contain_text("✓")
    seen.button("Reveal all").click()
    row = seen.page.get_by_role("table", name="Results").locator("tbody")
    expect(row).to_contain_text("a grey deposit on the electrode")
    expect(row).to_contain_text("exam: hydrogen; bench: zinc")


def test_hands_are_counted_and_what_is_typed_is_never_markup_nor_a_formula(visit):
    seen = visit("?cells=CuSO4")
    seen.all_controls()
    cathode = seen.side_card("Cathode")
    cathode.get_by_role("button", name="Count hands").click()
    cathode.get_by_role("spinbutton", name="copper").fill("17")
    cathode.get_by_role("spinbutton", name="hydrogen").fill("9")
    cathode.get_by_role("spinbutton", name="hydrogen").press("Tab")
    seen.switch_on()
    compare(seen, "Cathode", "<img src=x onerror=alert(1)> =1+1")
    expect(cathode).to_contain_text("Predicted: copper")
    expect(cathode).to_contain_text("<img src=x")
    assert seen.page.locator(".fp-side-card img").count() == 0
    seen.side_card("Anode").get_by_role("button", name="Show").click()
    seen.page.get_by_role("tab", name="Results table").click()
    field = seen.page.get_by_role("textbox", name="Test, cathode, CuSO₄")
    field.fill("=cmd()")
    field.press("Tab")
    with seen.page.expect_download() as download:
        seen.button("Save table as CSV").click()
    assert ",'=cmd()," in download.value.path().read_text("utf-8")


def test_a_gas_test_shows_what_the_run_gives_and_electrodes_are_lifted_wet_or_dried(visit):
    tests = {
        "Na2SO4,min=10": [
            ("Anode", "Glowing splint", "The splint relights."),
            ("Cathode", "Lighted splint", "squeaky pop"),
            ("Cathode", "Glowing splint", "does not relight"),
        ],
        "NaCl": [("Anode", "Damp blue litmus", "bleached white")],
        "KI": [("Anode", "Damp starch-iodide paper", "blue-black")],
        "Na2SO4,min=0.5": [("Anode", "Glowing splint", "too little gas")],
        "CuSO4": [("Cathode", "Lighted splint", "no gas to test")],
    }
    seen = visit(f"?cells={';'.join(tests)}&ask=off")
    panel = seen.page.get_by_role("tabpanel", name="Test the gas")
    seen.switch_on()
    seen.button("Lift electrodes").click()
    lifted = seen.page.get_by_role("region", name="Electrodes lifted out")
    expect(lifted).to_be_visible()
    seen.page.get_by_role("tab", name="Test the gas").click()
    before = seen.picture()
    seen.button("Lighted splint").click()
    expect(lifted).to_be_hidden()
    expect(seen.button("Lift electrodes")).to_have_attribute("aria-expanded", "false")
    seen.picture_changes(before)
    for point in (0.3, 0.5, 0.7):  # nothing lies over the picture
        assert (
            seen.page.evaluate(
                """(across) => {
              const canvas = document.querySelector('.fp-scene canvas');
              const { left, top, width, height } = canvas.getBoundingClientRect();
              return document.elementFromPoint(left + across * width, top + height / 2).tagName;
            }""",
                point,
            )
            == "CANVAS"
        )
    for k, (cell, made) in enumerate(tests.items()):
        if k:
            seen.button("Next").click()
            seen.button("Switch on").wait_for()
            seen.switch_on()
        seen.page.get_by_role("tab", name="Test the gas").click()
        for electrode, test, result in made:
            seen.page.get_by_role("radio", name=electrode).check()
            before = seen.picture()
            seen.button(test).click()
            said = panel.get_by_role("status")
            expect(said, f"{cell}, {electrode}, {test}").to_contain_text(result)
            seen.picture_changes(before)
            expect(panel).to_contain_text("Never light gas at the cell")
    seen.button("Lift electrodes").click()
    expect(lifted).to_contain_text("mg of copper has settled")
    expect(lifted).to_contain_text("Nothing has settled on it")
    lifted.get_by_role("checkbox").uncheck()
    expect(lifted).to_contain_text("the balance shows about 50 mg more")
    seen.button("Close-up").click()
    expect(lifted).to_be_hidden()


def test_the_boards_wording_is_used_in_the_table_everywhere_and_after_a_reload(visit):
    seen = visit("?cells=NaCl;Na2SO4&ask=off&board=electrode_names=negative")
    seen.switch_on()
    seen.page.get_by_role("tab", name="Results table").click()
    title = "Half-equation, positive electrode"
    field = seen.page.get_by_role("textbox", name=f"{title}, NaCl")
    for written, sentence in (
        ("Cl- -> Cl2 + 2e-", "Cl atoms: 1 on the left, 2 on the right."),
        ("2Cl- - 2e- -> Cl2", "✓ Right: atoms and charge balance."),
    ):
        field.fill(written)
        seen.page.get_by_role("button", name=f"Reveal: {title}, NaCl").click()
        expect(seen.page.locator("td").filter(has=field)).to_contain_text(sentence)
        seen.page.get_by_role("button", name=f"Hide: {title}, NaCl").click()
    assert seen.page.locator(".fp-results").get_by_text("cathode", exact=False).count() == 0
    seen.button("Next").click()
    seen.button("Lesson settings").click()
    seen.choose("Electrodes are called", "cathode, anode")
    expect(seen.side_card("Anode")).to_be_visible()
    seen.switch_on()
    expect(seen.side_card("Anode")).to_contain_text("4OH")
    seen.choose("Oxygen comes from", "water")
    expect(seen.side_card("Anode")).to_contain_text("2H2O → O2 + 4H+ + 4e−")
    seen.choose("Electrons lost", "taken away on the left")
    expect(seen.side_card("Anode")).to_contain_text("2H2O − 4e− → O2 + 4H+")
    seen.choose("Electrodes are called", "both")
    expect(seen.side_card("Anode")).to_contain_text("Anode (positive electrode)")
    seen.page.wait_for_function("() => location.search.includes('electrode_names=both')")
    seen.page.reload()
    seen.button("Switch off").wait_for(timeout=LOADING_MS)  # the run comes back too
    expect(seen.side_card("Anode")).to_contain_text("Anode (positive electrode)")


def a_lesson(seen, cells):
    """Give the lesson for each solution: predict, run, observe, test, explain."""
    for at, (cathode, anode) in enumerate(cells):
        if at:
            seen.button("Next").press("Enter")
        seen.side_card("Cathode").get_by_label(cathode, exact=True).press("Space")
        seen.side_card("Anode").get_by_label(anode, exact=True).press("Space")
        seen.button("Switch on").press("Enter")
        seen.button("Switch off").wait_for()
        for electrode in ("Cathode", "Anode"):
            side_card = seen.side_card(electrode)
            side_card.get_by_role("combobox", name="Phrases").press("ArrowDown")
            side_card.get_by_role("button", name="Compare").press("Enter")
            expect(side_card).to_contain_text("Expected:")
        tab = seen.page.get_by_role("tab", name="Charts")
        tab.press("ArrowRight")
        panel = seen.page.get_by_role("tabpanel", name="Explain")
        while panel.get_by_role("button", name="Next").is_enabled():
            panel.get_by_role("button", name="Next").press("Enter")
        expect(panel).to_contain_text("Back to what was seen")
        seen.page.get_by_role("tab", name="Explain").press("ArrowLeft")


def test_a_whole_lesson_by_keyboard_and_its_table_survives_a_reload(visit):
    seen = visit()
    seen.all_controls()
    a_lesson(
        seen,
        [
            ("hydrogen", "oxygen"),
            ("hydrogen", "chlorine"),
            ("copper", "chlorine"),
            ("copper", "oxygen"),
        ],
    )
    seen.page.get_by_role("tab", name="Charts").press("End")
    table = seen.page.get_by_role("table", name="Results")
    expect(table.locator("tbody")).to_have_count(4)  # a solution each, of two lines
    product = table.get_by_role("textbox", name="Product, cathode, CuSO₄")
    product.fill("copper")
    product.press("Tab")
    seen.page.get_by_role("button", name="Reveal: Product, cathode, CuSO₄").press("Enter")
    row = table.get_by_role("row").filter(has_text="CuSO₄")
    expect(row).to_contain_text("✓")
    seen.page.emulate_media(reduced_motion="no-preference")  # the class has been told, and stays so
    expect(row).to_contain_text("✓")
    seen.page.emulate_media(reduced_motion="reduce")
    expect(row).to_contain_text("✓")
    assert seen.errors == []
    seen.page.reload()
    seen.button("Switch off").wait_for(timeout=LOADING_MS)  # the run comes back too
    seen.page.get_by_role("tab", name="Results table").click()
    expect(table.locator("tbody")).to_have_count(4)  # a solution each, of two lines
    expect(product).to_have_value("copper")
    with seen.page.expect_download() as download:
        seen.button("Save table as CSV").click()
    lines = list(csv.reader(download.value.path().read_text("utf-8-sig").splitlines()))
    assert [line[0] for line in lines[1:]] == ["Na₂SO₄", "NaCl", "CuCl₂", "CuSO₄"]
    head = lines[0]
    assert lines[4][head.index("Product, anode: expected")] == "oxygen"
    assert lines[4][head.index("Product, cathode: class")] == "copper"
    assert violations(seen.page) == []


def test_on_a_phone_the_lesson_fits_and_is_accessible(visit):
    seen = visit("?cells=CuCl2", viewport=PHONE)
    seen.all_controls()
    assert violations(seen.page) == []
    seen.switch_on()
    for electrode in ("Cathode", "Anode"):
        seen.side_card(electrode).get_by_role("button", name="Show").click()
    for tab in ("Explain", "Test the gas", "Results table"):
        seen.page.get_by_role("tab", name=tab).click()
        assert seen.page.evaluate(BEYOND) == []
        assert violations(seen.page) == []
