"""The page to take away, opened from a file without any network: played, varied, marked and kept."""

from __future__ import annotations

import re
from itertools import product

import pytest
from playwright.sync_api import expect
from tests.browser.conftest import SET
from tests.browser.visit import BEYOND, NEXT, PHONE, PROJECTOR, Visit, violations

import fizzplate as fp
from fizzplate.lesson import Wording
from fizzplate.lesson.rule import WIDE
from fizzplate.questions.set_state import read_set
from fizzplate.views.bench import certainty_of

PARTS = ("Cell", "Equations", "Questions", "About")
LAMP = fp.Lamp(6.0, 0.06)


@pytest.fixture
def opened(windows, file):
    """Open the file without a network; nothing may be asked for, and nothing may go wrong."""
    visits = []

    def visit(*, in_steps=False, **options):
        given = {"viewport": PROJECTOR, "reduced_motion": "reduce", "offline": True, **options}
        made = Visit(windows, file.as_uri(), **given)
        visits.append(made)
        if not in_steps:
            made.all_controls()
        return made

    yield visit
    for each in visits:
        assert each.errors == []
        assert [
            url for url in each.requested_urls if not url.startswith(("data:", "blob:", "file:"))
        ] == []
        each.close()


def go(visit, part):
    visit.page.get_by_role("link", name=part, exact=True).click()
    expect(visit.page.locator(f"#{part.lower()}")).to_be_visible()


def show_both(visit):
    """Pass over what is asked after the switch is closed."""
    for electrode in ("Cathode", "Anode"):
        visit.side_card(electrode).get_by_role("button", name="Show", exact=True).click()


def cell(formula, strength=0.5, **parts):
    """Work the cell out anew, as the file says that it is."""
    made = fp.Cell(formula, concentration_mol_dm3=strength, lamp=LAMP, **parts)
    return made.run(minutes=5, samples=61)


def milliamperes(run):
    return f"now {1e3 * float(run.current_A[-1]):.1f} mA"


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE])
def test_it_opens_in_the_steps_of_a_lesson_and_tells_nothing_before(opened, viewport):
    visit = opened(in_steps=True, viewport=viewport)
    page = visit.page
    visit.expect_step("Predict")
    heading = page.locator(".fp-step-head")
    for part in (".fp-product", ".fp-equation", ".fp-difference", ".fp-chart", ".fp-made"):
        expect(page.locator(f"#cell {part}")).to_have_count(0)
    expect(page.locator("#cell .fp-setup-line")).to_contain_text("0.5 mol/dm³, both graphite")
    visit.button("Change").click()
    visit.choose("Concentration, mol/dm³", "0.1")
    expect(page.locator("#cell .fp-setup-line")).to_contain_text("0.1 mol/dm³, both graphite")
    visit.button("Change").click()
    visit.expect_step("Predict")
    visit.side_card("Anode").get_by_label("chlorine").check()
    for title in ("Watch", "Test"):
        visit.next()
        visit.expect_step(title)
        expect(page.locator("#cell .fp-product")).to_have_count(0)
    visit.next()
    visit.expect_step("Explain")
    button = page.get_by_role("button", name=NEXT)
    for press in range(2, 13):
        button.click()
        expect(heading).to_have_text(re.compile(f"^{press} of 12"))
    expect(visit.side_card("Anode")).to_contain_text("Predicted: chlorine (right by the rule")
    visit.next()
    visit.expect_step("Record")
    expect(button).to_have_text("Next: CuSO₄")
    visit.next()
    visit.expect_step("Predict")
    expect(visit.button("✓ NaCl")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(page) == []


def test_the_cell_plays_after_the_switch_is_closed(opened):
    visit = opened(reduced_motion="no-preference")
    before = visit.picture()
    visit.switch_on()
    visit.picture_changes(before)
    clock = visit.page.locator(".fp-clock")
    expect(clock).not_to_have_text("0 s")
    show_both(visit)
    visit.page.get_by_role("slider").press("End")
    run = cell("NaCl")
    expect(visit.side_card("Cathode")).to_contain_text("hydrogen")
    expect(visit.side_card("Cathode")).to_contain_text(milliamperes(run))
    made = f"{float(run.cathode.gas_cm3('H2')[-1]):.2g} cm³ hydrogen"
    expect(visit.side_card("Cathode").locator(".fp-made")).to_have_text(made)
    expect(visit.page.locator(".fp-data-table td", has_text=made)).to_have_count(1)


def test_strength_and_electrodes_change_picture_and_side_card(opened):
    visit = opened()
    visit.button("CuSO₄").click()
    visit.switch_on()
    show_both(visit)
    weak = cell("CuSO4")
    expect(visit.side_card("Anode")).to_contain_text("oxygen")
    expect(visit.side_card("Anode")).to_contain_text(milliamperes(weak))
    before = visit.picture()
    visit.choose("Concentration, mol/dm³", "1")
    visit.picture_changes(before)
    visit.switch_on()
    show_both(visit)
    strong = cell("CuSO4", 1.0)
    assert milliamperes(strong) != milliamperes(weak)
    expect(visit.side_card("Anode")).to_contain_text(milliamperes(strong))
    before = visit.picture()
    visit.choose("Electrodes", "both copper")
    visit.picture_changes(before)
    lamp = visit.page.get_by_role("combobox", name="Lamp", exact=True)
    expect(lamp.get_by_role("option", name="none")).to_be_disabled()  # no such run is in the file
    visit.switch_on()
    show_both(visit)
    copper = cell("CuSO4", 1.0, cathode="copper", anode="copper")
    expect(visit.side_card("Anode")).to_contain_text("copper dissolves")
    expect(visit.side_card("Anode")).to_contain_text(milliamperes(copper))
    visit.button("NaCl").click()
    visit.button("✓ CuSO₄").click()  # comes back as it was left
    expect(visit.side_card("Anode")).to_contain_text("copper dissolves")


def test_a_share_that_is_not_sure_has_its_range(opened):
    visit = opened()
    visit.choose("Concentration, mol/dm³", "0.1")
    visit.switch_on()
    show_both(visit)
    anode = visit.side_card("Anode")
    sure = certainty_of(cell("NaCl", 0.1), Wording())[1]
    low, high = (int(100 * sure[end][-1] + 0.5) for end in ("low", "high"))
    assert high - low > 100 * WIDE
    expect(anode.locator(".fp-range")).to_have_text(f"not sure: {low} to {high} %")
    expect(anode).to_contain_text(sure["sentences"][0])
    visit.button("CuSO₄").click()  # no range stays from the cell before
    visit.switch_on()
    show_both(visit)
    expect(anode.locator(".fp-range")).to_be_hidden()
    expect(anode).not_to_contain_text("How sure is this")


def test_a_class_works_through_the_panels(opened):
    visit = opened()
    visit.page.get_by_role("radio", name="hydrogen").first.check()
    visit.switch_on()
    show_both(visit)
    expect(visit.side_card("Cathode")).to_contain_text("Predicted: hydrogen (right by the rule")
    visit.page.get_by_role("tab", name="Explain").click()
    visit.button("Next").click()
    expect(visit.page.locator(".fp-count")).to_have_text(re.compile("^2 of "))
    visit.page.get_by_role("tab", name="Test the gas").click()
    before = visit.picture()
    visit.page.get_by_role("button", name="Lighted splint").click()
    expect(visit.page.locator(".fp-result")).to_contain_text("pop")
    visit.picture_changes(before)
    visit.page.get_by_role("tab", name="Results table").click()
    visit.button("Reveal all").click()
    expect(visit.page.get_by_role("region", name="Results table")).to_contain_text(
        "2Cl⁻ → Cl₂ + 2e⁻"
    )


def test_answers_are_marked_and_outlast_a_reload(opened):
    visit = opened()
    written = visit.page.get_by_role("radio", name="chlorine").last
    written.check()
    go(visit, "Equations")
    workshop = visit.page.get_by_role("region", name="Cathode", exact=True)
    visit.choose("Cell", "copper(II) sulfate, CuSO₄")
    workshop.get_by_role("textbox").fill("Cu2+ + e- -> Cu")
    workshop.get_by_role("button", name="Check").click()
    expect(workshop.get_by_role("status")).to_contain_text(
        "Charge: 1+ on the left, 0 on the right."
    )
    workshop.get_by_role("textbox").fill("Cu2+ + 2e- -> Cu")
    workshop.get_by_role("button", name="Check").click()
    expect(workshop).to_have_attribute("data-code", "right")
    go(visit, "Questions")
    first = read_set(SET)[0].questions()[0]
    questions = visit.page.get_by_role("region", name="Questions", exact=True)
    if first.options:
        questions.get_by_role("radio", name=first.answer, exact=True).check()
    else:
        questions.get_by_role("textbox").fill(first.answer)
    visit.button("Mark it").click()
    full = f"{first.marks} of {first.marks} mark"
    expect(questions.locator(".fp-marks")).to_contain_text(full)
    visit.page.reload()  # the address keeps the part, the browser the answers
    expect(questions.get_by_role("heading", name="Question 2 of 4")).to_be_visible()
    visit.button("Back").click()
    expect(questions.locator(".fp-marks")).to_contain_text(full)
    visit.button("Another like this").click()
    expect(questions.get_by_role("heading", name="Question 2 of 5")).to_be_visible()
    go(visit, "Cell")
    expect(visit.page.get_by_role("radio", name="chlorine").last).to_be_checked()


def test_every_part_can_be_read_by_everyone(opened):
    visit = opened()
    visit.switch_on()
    show_both(visit)
    for viewport, part in product((PROJECTOR, PHONE), PARTS):
        visit.page.set_viewport_size(viewport)
        go(visit, part)
        assert visit.page.evaluate(BEYOND) == []
        assert visit.page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        assert violations(visit.page) == []


def test_rooms_and_keys_follow_the_part_that_is_shown(opened):
    visit = opened(viewport={"width": 1366, "height": 768})
    visit.page.get_by_role("switch", name="Projector size").click()
    go(visit, "About")  # no switch of the room lies over it
    visit.page.get_by_role("switch", name="Dim room").click()
    go(visit, "Questions")
    expect(visit.page.get_by_role("switch", name="Dim room")).to_be_checked()
    visit.page.keyboard.press("PageDown")
    expect(visit.page.get_by_role("heading", name="Question 2 of 4")).to_be_visible()
    visit.page.get_by_role("switch", name="Dim room").click()
    go(visit, "Cell")
    expect(visit.page.get_by_role("switch", name="Dim room")).not_to_be_checked()
    visit.page.keyboard.press("PageDown")
    go(visit, "Questions")
    expect(visit.page.get_by_role("heading", name="Question 2 of 4")).to_be_visible()


def test_a_browser_that_cannot_unpack_says_so(open_at, file):
    page = open_at(file.as_uri(), offline=True, script="delete globalThis.DecompressionStream")
    expect(page.get_by_role("alert")).to_contain_text("This browser is too old")
