"""While a class is asked, nothing in the page names what forms: to the eye, to the ear, in the source."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect
from tests.browser.visit import LOADING_MS, PHONE, WATCH_THE_PEN, visits

from fizzplate.chemistry import electrodes, pretty, solutions, species_name

LAPTOP = {"width": 1366, "height": 768}
# what is in the cell, and all that forms there
CELLS = {
    "NaCl": ("H2", "Cl2"),
    "CuSO4,cathode=copper,anode=copper": ("Cu",),
    "KI": ("H2", "I2"),
    "AgNO3,c=0.1": ("Ag", "O2"),
    "HNO3": ("H2", "O2"),
    "NaCl,c=0.01": ("H2", "Cl2", "O2"),
    "ZnSO4": ("Zn", "H2", "O2"),
    "CuCl2": ("Cu", "Cl2"),
    "Na2SO4": ("H2", "O2"),
}
# what is the same whatever is in the cell, or says only what was put into it: the choice of cells and of the
# board's words, the electrodes' materials, what there is to predict (the same at both), the names of tests,
# other tasks
APART = (
    ".fp-setup select, .fp-setup-line, .fp-solutions, .fp-board, .fp-material, .fp-prediction .fp-option, "
    ".fp-testing > .fp-options, .fp-step-test .fp-options, .fp-change-view select, .fp-inquiry, "
    ".fp-workshop, .fp-sweeps select"
)
# all words, attributes and values of fields in the document, hidden or not, and all inline data
EVERYTHING = """(apart) => {
  const page = document.documentElement.cloneNode(true);
  for (const each of page.querySelectorAll(`${apart}, style, script:not([type*=json])`)) each.remove();
  const fields = [...document.querySelectorAll('input, textarea')].filter((each) => !each.closest(apart));
  const found = fields.map(({ value }) => value);
  for (const each of page.querySelectorAll('*')) {
    for (const { name, value } of each.attributes) found.push(`${name}=${value}`);
    if (each.textContent.length < 1000 || !each.childElementCount) found.push(each.textContent);
  }
  return [...new Set(found)];
}"""
APART_FROM_THE_TREE = """([apart, hidden]) => document.querySelectorAll(apart).forEach((each) =>
  hidden ? each.setAttribute('aria-hidden', 'true') : each.removeAttribute('aria-hidden'))"""


def what_tells(products):
    """Return what finds in a text the name of a product, its formula, or the electrons of a half-equation.

    Salts, ions and the materials of the electrodes may be named: they were put into the cell.
    """
    metals = "|".join(electrodes())
    salts = "|".join(re.escape(each.name) for each in solutions().values())
    given = re.compile(
        rf"{salts}|\w+\([IV]+\)|(?:{metals}) (?:electrodes?|cathode|anode|rods)|\w+ ions?",
        re.IGNORECASE,
    )
    names = re.compile("|".join(rf"\b{species_name(each)}\b" for each in products), re.IGNORECASE)
    formulae = re.compile(
        "|".join(rf"(?<![\w⁺⁻]){pretty(each)}(?![\w⁺⁻²³₂₃₄(])" for each in products) + "|e⁻|e−"
    )

    def tells(text):
        plain = given.sub(" ", text)
        return [*names.findall(plain), *formulae.findall(plain)]

    return tells


def everything(page):
    """Return all that the document and the accessibility tree hold, and what was written on the picture."""
    found = page.evaluate(EVERYTHING, APART)
    page.evaluate(APART_FROM_THE_TREE, [APART, True])
    session = page.context.new_cdp_session(page)
    for node in session.send("Accessibility.getFullAXTree")["nodes"]:
        if not node["ignored"]:
            parts = [
                node.get(part, {}).get("value", "") for part in ("name", "description", "value")
            ]
            found += [str(part) for part in parts]
    session.detach()
    page.evaluate(APART_FROM_THE_TREE, [APART, False])
    return [*found, *page.evaluate("() => [...window.written]")]


def told_in(page, products):
    """Return the texts of a page that tell a product."""
    tells = what_tells(products)
    return sorted(text for text in set(everything(page)) if tells(text))


@pytest.fixture
def visit(windows, demonstrate_address):
    every = demonstrate_address.removesuffix("demonstrate")
    with visits(windows, every, script=WATCH_THE_PEN) as open_page:
        yield open_page


def go_to(seen, moment_s):
    """Go to a moment of a run."""
    seen.page.get_by_role("slider", name="Time in the run").first.fill(str(moment_s))
    expect(seen.button("Play").first).to_be_visible()


@pytest.mark.parametrize(
    "words", ["The oxygen", "Cl₂", "forms Cu.", "2H⁺ + 2e⁻ → H₂", "name=iodine.csv"]
)
def test_what_tells_a_product_is_found(words):
    assert what_tells(("O2", "Cl2", "Cu", "H2", "I2"))(words)


@pytest.mark.parametrize(
    "words", ["copper(II) sulfate", "Cu²⁺ and Cl⁻", "CuCl₂", "copper electrode", "zinc ions"]
)
def test_what_was_put_into_the_cell_may_be_named(words):
    assert not what_tells(("O2", "Cl2", "Cu", "Zn"))(words)


def test_while_the_class_is_asked_nothing_names_what_forms(visit):
    seen = visit(f"demonstrate?cells={';'.join(CELLS)}")
    seen.all_controls()
    leaks = {}

    def look(cell, when, products):
        if found := told_in(seen.page, products):
            leaks[f"{cell}, {when}"] = found

    def go_through(cell, products):
        look(cell, "before the switch", products)
        seen.switch_on()
        expect(seen.page.locator(".fp-current")).to_contain_text("Current flows")
        go_to(seen, 60)
        look(cell, "during the run", products)
        go_to(seen, 300)
        look(cell, "after it", products)

    for k, (cell, products) in enumerate(CELLS.items()):
        if k:
            seen.button("Next").click()
            seen.button("Switch on").wait_for()
        go_through(cell, products)
    seen.button("Show both electrodes").click()
    assert told_in(seen.page, ("H2",))  # what looks would see it
    seen.page.evaluate("() => window.written.clear()")
    concentration = seen.page.get_by_label("Concentration, mol/dm³").first
    if not concentration.is_visible():
        seen.page.get_by_role("button", name=re.compile("Set-up")).click()
    concentration.fill("0.2")
    concentration.press("Enter")
    seen.button("Switch on").wait_for()
    go_through("edited", CELLS["Na2SO4"])
    assert leaks == {}
    assert seen.errors == []


def test_no_way_round_tells_a_class_that_is_asked(visit):
    seen = visit("demonstrate?cells=CuCl2;NaCl", viewport=LAPTOP, reduced_motion="no-preference")
    seen.all_controls()
    page, products = seen.page, CELLS["CuCl2"]
    tab = lambda name: page.get_by_role("tab", name=name).click()  # noqa: E731
    tab("Explain")
    page.keyboard.press("PageDown")
    assert told_in(page, products) == []
    seen.switch_on()
    page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    seen.button("Pause").click()  # what moves costs a whole processor
    page.get_by_role("switch", name="All charts").click()
    page.get_by_role("switch", name="Projector size").click()
    expect(seen.button("Close-up")).to_be_disabled()
    seen.button("Lift electrodes").click()
    expect(page.get_by_role("region", name="Electrodes lifted out")).to_contain_text("has settled")
    tab("Test the gas")
    for electrode in ("Cathode", "Anode"):
        page.get_by_role("radio", name=electrode).check()
        for test in ("Lighted splint", "Glowing splint", "Damp blue litmus"):
            seen.button(test).click()
            assert told_in(page, products) == []
    for name in ("Results table", "Charts", "Explain"):
        tab(name)
        assert told_in(page, products) == []
    page.evaluate("() => dispatchEvent(new Event('beforeprint'))")
    page.emulate_media(media="print")
    assert told_in(page, products) == []
    page.emulate_media(media="screen")
    seen.button("Next").click()
    seen.button("Switch on").wait_for()
    seen.button("✓ CuCl₂").click()
    seen.button("Switch off").wait_for()
    assert told_in(page, products) == []
    page.reload()
    seen.button("Switch off").wait_for(timeout=LOADING_MS)
    assert told_in(page, products) == []
    second = seen.page.context.new_page()
    second.add_init_script(WATCH_THE_PEN)
    second.emulate_media(reduced_motion="reduce")
    second.goto(page.url)
    second.get_by_role("button", name="Switch on").click(timeout=LOADING_MS)
    second.get_by_role("button", name="Switch off").wait_for()
    assert told_in(second, products) == []
    second.close()
    seen.button("Show both electrodes").click()
    expect(page.get_by_role("tabpanel", name="Explain")).to_contain_text("Ions in the solution")
    expect(seen.button("Close-up")).to_be_enabled()
    assert told_in(page, products)


def test_one_who_does_not_see_hears_what_is_seen_and_that_current_flows(visit):
    seen = visit("demonstrate?cells=NaCl")
    seen.all_controls()
    happening = seen.page.get_by_role("region", name="What is happening")
    live = happening.locator(".fp-sentence[aria-live=polite]")
    expect(live).to_contain_text("The switch is open")
    seen.switch_on()
    expect(happening.get_by_role("status")).to_contain_text("Current flows: 3")
    expect(happening.get_by_role("status")).to_contain_text("mA, the lamp glows")
    expect(live).to_contain_text("At the cathode: bubbles of a colourless gas.")
    expect(live).to_contain_text("There are more bubbles at the cathode.")
    figures = seen.page.get_by_role("table", name=re.compile("The run in figures"))
    expect(figures.get_by_role("columnheader")).to_have_text(["Time", "Current"])
    seen.page.get_by_role("tab", name="Test the gas").click()
    seen.button("Lighted splint").click()
    tested = seen.page.get_by_role("tabpanel", name="Test the gas").get_by_role("status")
    expect(tested).to_have_text(re.compile("Cathode: lighted splint.*pop"))
    seen.button("Show both electrodes").click()
    expect(tested).to_contain_text("hydrogen")
    expect(live).to_contain_text("electrons pass to hydrogen ions")
    expect(figures.get_by_role("columnheader")).to_have_count(4)
    seen.button("Switch off").click()
    expect(live).to_contain_text("The switch is open")


def test_the_next_class_finds_nothing_and_a_slip_is_undone(visit):
    seen = visit("demonstrate?cells=NaCl")
    seen.all_controls()
    cathode = seen.side_card("Cathode")
    cathode.get_by_label("sodium").check()
    seen.switch_on()
    cathode.get_by_label("What do you see at the cathode?").fill("much fizzing")
    seen.button("Show both electrodes").press("Enter")
    expect(cathode).to_contain_text("Predicted: sodium")
    seen.page.get_by_role("tab", name="Results table").click()
    expect(seen.page.get_by_role("table", name="Results")).to_contain_text("NaCl")
    seen.button("New class").press("Enter")
    panel = seen.page.get_by_role("tabpanel", name="Results table")
    expect(panel.get_by_role("status")).to_have_text(re.compile("are empty for the next class"))
    seen.button("Switch on").wait_for()
    expect(cathode.get_by_label("sodium")).not_to_be_checked()
    expect(seen.button("NaCl")).to_be_visible()  # it has no tick any more
    expect(seen.button("Undo: New class")).to_be_focused()
    seen.switch_on()
    expect(cathode.get_by_label("What do you see at the cathode?")).to_have_value("")
    seen.button("Undo: New class").press("Enter")
    expect(panel.get_by_role("status")).to_have_text("Everything is back.")
    seen.button("Switch on").wait_for()
    expect(cathode.get_by_label("sodium")).to_be_checked()
    expect(seen.button("New class")).to_be_focused()
    seen.switch_on()
    expect(cathode.get_by_label("What do you see at the cathode?")).to_have_value("much fizzing")
    assert seen.errors == []


def test_two_cells_are_compared_when_both_may_be_told(visit):
    seen = visit("explore?cells=NaCl;Na2SO4")
    seen.button("Switch on").first.dblclick()  # the second press came too late to mean anything
    expect(seen.button("Switch off")).to_have_count(1)
    seen.button("Switch on").click()
    expect(seen.button("Switch off")).to_have_count(2)
    compared = seen.page.locator(".fp-comparison")
    expect(compared).to_contain_text("compare what you saw")
    assert told_in(seen.page, ("H2", "O2", "Cl2")) == []
    seen.button("Show both electrodes").first.click()
    expect(seen.button("Show both electrodes")).to_have_count(1)
    expect(compared).to_contain_text("compare what you saw")
    rows = seen.page.locator(".fp-results tbody")
    expect(rows).to_have_count(1)  # the first cell's table does not tell of the second
    expect(rows).to_contain_text("NaCl")
    seen.button("Show both electrodes").click()
    expect(compared).to_contain_text("chlorine")
    expect(rows.filter(has_text="Na₂SO₄")).to_have_count(1)


def test_the_keyboard_goes_on_at_what_was_compared(visit):
    seen = visit("demonstrate?cells=NaCl;CuCl2")
    seen.all_controls()
    the_keyboard_goes_on(seen)
    seen.button("Next").first.press("Enter")
    seen.button("Switch on").wait_for()
    seen.page.set_viewport_size(PHONE)
    the_keyboard_goes_on(seen)


def the_keyboard_goes_on(seen):
    seen.button("Switch on").press("Enter")
    seen.button("Switch off").wait_for()
    expect(seen.button("Switch off")).to_be_focused()
    cathode, anode = seen.side_card("Cathode"), seen.side_card("Anode")
    cathode.get_by_label("What do you see at the cathode?").fill("bubbles")
    cathode.get_by_role("button", name="Compare").press("Enter")
    expect(cathode.locator(".fp-feedback")).to_be_focused()
    anode.get_by_role("button", name="Show").press("Enter")
    expect(anode.locator(".fp-product")).to_be_focused()
    seen.page.get_by_role("tab", name="Explain").press("Enter")
    following = seen.page.get_by_role("tabpanel", name="Explain").get_by_role("button", name="Next")
    while following.get_attribute("aria-disabled") == "false":
        following.press("Enter")
    expect(following).to_be_focused()
