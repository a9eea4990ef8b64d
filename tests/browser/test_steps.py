"""A lesson in five steps, predict, watch, test, explain and record, by pointer, keyboard and remote."""

from __future__ import annotations

import re
from io import BytesIO

import numpy as np
import pytest
from matplotlib.image import imread
from playwright.sync_api import expect
from tests.browser.test_telling import CELLS, told_in
from tests.browser.visit import BEYOND, LOADING_MS, NEXT, PHONE, PROJECTOR, violations

MAX_PRESSES_TO_EXPLAIN = 13  # a sentence each, or a pair of them
MAX_PRESSES = 6  # of the large button for one solution, besides those of the explanation
LAPTOP = {"width": 1366, "height": 768}
BOARD = {"width": 1024, "height": 768}
LARGE = {"width": 3840, "height": 2160}
STEPS = ("Predict", "Watch", "Test", "Explain", "Record")
# parts of the stage that lie over each other
COVERED = """() => {
  const parts = [...document.querySelectorAll(
    '.fp-choice, .fp-setup-line, .fp-change, .fp-switch, .fp-screen-switches button, .fp-path,'
    + ' .fp-side-card, .fp-scene, .fp-commentary, .fp-onward, .fp-ruler'
  )].filter((node) => node.checkVisibility({ visibilityProperty: true }));
  const boxes = parts.map((node) => [node.className, node.getBoundingClientRect()]);
  const over = [];
  boxes.forEach(([name, a], k) => boxes.slice(k + 1).forEach(([other, b]) => {
    const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
    const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
    if (wide > 1 && high > 1) over.push(`${name} / ${other}`);
  }));
  return over;
}"""

# buttons of the results table that hang out of their fields
OUT_OF_FIELD = """() => [...document.querySelectorAll('.fp-results td[data-hidden]')].filter((cell) => {
  const box = (name) => cell.querySelector(name).getBoundingClientRect();
  const [field, button] = [box('textarea'), box('button')];
  return button.bottom > field.bottom || button.right > field.right || button.top < field.top;
}).map((cell) => cell.dataset.title)"""

# of words in a button
LINES = """(node) => {
  const words = document.createRange();
  words.selectNodeContents(node);
  return new Set([...words.getClientRects()].map(({ top }) => Math.round(top))).size;
}"""

# labels of the set-up that are wider than their fields, or stand on the next one
TOO_WIDE = """() => {
  const labels = [...document.querySelectorAll('.fp-field .widget-label')];
  const right = (part) => part.getBoundingClientRect().right;
  const ends = labels.filter((each) => each.checkVisibility()).map((each) => {
    const words = document.createRange();
    words.selectNodeContents(each);
    return [each.textContent, right(words), right(each.closest('.fp-field'))];
  });
  return ends.filter(([, words, field]) => words > field + .5).map(([name]) => name);
}"""


def step_button(seen, title):
    """Find the button of a step in the bar."""
    return seen.page.get_by_role("navigation", name="Steps").get_by_role(
        "button", name=re.compile(rf"\d {title}")
    )


def test_a_solution_takes_few_presses_and_each_step_shows_what_it_needs(visit):
    seen = visit("?cells=NaCl;CuSO4")
    page, products = seen.page, CELLS["NaCl"]
    cathode, anode = seen.side_card("Cathode"), seen.side_card("Anode")
    heading = page.locator(".fp-step-head")
    button = page.get_by_role("button", name=NEXT)
    presses = 0

    def onward(to):
        nonlocal presses
        expect(button).to_have_text(f"Next: {to}")
        seen.next()
        presses += 1
        expect(heading).to_be_focused()

    seen.expect_step("Predict")
    cathode.get_by_label("sodium").check()
    anode.get_by_label("chlorine").check()
    expect(cathode.get_by_label("What do you see")).to_have_count(0)
    liquid = page.get_by_label("What do you see in the liquid?")
    expect(liquid).to_have_count(0)
    heading.focus()  # what has the keyboard is not left out
    assert told_in(page, products) == []
    onward("Watch")
    seen.expect_step("Watch")
    expect(page.locator(".fp-step-line")).to_contain_text("electrons move in the wire")
    tallies = [card.locator(".fp-tally-count").inner_text() for card in (cathode, anode)]
    assert tallies[0] == tallies[1] != "0"
    cathode.get_by_label("What do you see at the cathode?").fill("bubbles")
    liquid.fill("no change")  # asked of every solution: a question asked only of some would tell
    assert told_in(page, products) == []
    onward("Test")
    anode.get_by_role("button", name="Damp blue litmus").click()
    expect(anode.get_by_role("status")).to_contain_text("bleached white")
    expect(anode).not_to_contain_text("hlorine")
    anode.get_by_role("button", name="What does it mean?").click()
    expect(anode).to_contain_text("chlorine")
    onward("Explain")
    expect(heading).to_contain_text("Ions in the solution")
    expect(cathode.locator(".fp-product")).to_have_count(0)  # not before the rule gives it
    sentences = 1
    while button.inner_text() == "Next":
        button.click()
        sentences += 1
        expect(heading).to_have_text(re.compile(rf"^{sentences} of "))
    assert sentences <= MAX_PRESSES_TO_EXPLAIN
    expect(cathode).to_contain_text("hydrogen")
    expect(cathode.locator(".fp-equation")).to_contain_text("2H+ + 2e− → H2")
    expect(cathode).to_contain_text("Predicted: sodium (the rule says hydrogen")
    expect(anode.locator(".fp-equation")).to_contain_text("Cl2 + 2e−")
    onward("Record")
    row = page.get_by_role("table", name="Results")
    expect(row.locator("tbody")).to_have_count(1)
    expect(row.get_by_role("textbox", name="Observed, cathode, NaCl")).to_have_value("bubbles")
    page.evaluate("() => window.written.clear()")
    onward("CuSO₄")
    assert presses <= MAX_PRESSES
    seen.expect_step("Predict")
    expect(seen.button("✓ NaCl")).to_be_visible()
    assert told_in(page, CELLS["ZnSO4"]) == []
    assert seen.errors == []


def test_any_step_can_be_pressed_and_going_back_to_watch_hides_what_was_told(visit):
    seen = visit("?cells=CuCl2")
    page, products = seen.page, CELLS["CuCl2"]
    for title in ("Explain", "Watch", "Record", "Watch", "Test", "Predict", "Watch"):
        page.evaluate("() => window.written.clear()")
        step_button(seen, title).click()
        seen.expect_step(title)
        if title in ("Predict", "Watch"):
            assert told_in(page, products) == [], title
        if title == "Record":
            assert told_in(page, products)  # what looks would see it
    done = step_button(seen, "Explain")
    expect(done).to_contain_text("✓")
    expect(done).to_have_accessible_name(re.compile("4 Explain ?, done"))
    step_button(seen, "Explain").click()
    page.reload()
    page.get_by_role("article").first.wait_for(timeout=LOADING_MS)
    seen.expect_step("Explain")
    page.keyboard.press("PageUp")
    seen.expect_step("Test")
    page.evaluate("() => window.written.clear()")
    page.keyboard.press("ArrowLeft")
    seen.expect_step("Watch")
    assert told_in(page, products) == []
    page.keyboard.press("ArrowRight")
    seen.expect_step("Test")
    seen.button("Switch off").click()
    seen.expect_step("Predict")
    assert seen.errors == []


def test_a_mixture_is_chosen_in_the_set_up_and_has_the_whole_lesson(visit):
    seen = visit("?cells=CuSO4")
    page = seen.page
    seen.button("Change").click()
    page.get_by_label("Also dissolved").select_option("sodium chloride NaCl")
    page.get_by_label("Second concentration").fill("0.4")
    page.get_by_label("Second concentration").press("Enter")
    expect(page.locator(".fp-setup-line")).to_contain_text("0.5 and 0.4")
    seen.button("Done").click()
    expect(seen.button("CuSO₄ 0.5 + NaCl 0.4 mol/dm³")).to_be_visible()
    seen.expect_step("Predict")
    for option in ("copper", "chlorine", "hydrogen", "oxygen"):
        expect(seen.side_card("Anode").get_by_label(option, exact=True)).to_be_visible()
    assert told_in(page, ("Cu", "Cl2")) == []
    for title in STEPS[1:4]:
        step_button(seen, title).click()
        seen.expect_step(title)
    button = page.get_by_role("button", name=NEXT)
    while button.inner_text() == "Next":
        button.click()
    expect(seen.side_card("Cathode")).to_contain_text("copper")
    expect(seen.side_card("Anode")).to_contain_text("chlorine")
    step_button(seen, "Record").click()
    row = page.get_by_role("table", name="Results").locator("tbody")
    expect(row).to_contain_text("CuSO₄ 0.5 + NaCl 0.4")
    assert seen.errors == []


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE])
def test_a_melt_has_three_steps_with_quantities_and_says_what_is_only_drawn(visit, viewport):
    seen = visit("?cells=NaCl(l),A=1,min=10;CuSO4", viewport=viewport)
    page = seen.page
    cathode, anode = seen.side_card("Cathode"), seen.side_card("Anode")
    button = page.get_by_role("button", name=NEXT)
    steps = page.get_by_role("navigation", name="Steps").get_by_role("button")
    expect(steps.filter(visible=True)).to_have_count(3)
    expect(page.locator(".fp-notes")).to_contain_text("Only drawn")
    expect(page.locator(".fp-notes")).to_contain_text("never in a school")
    asked = page.locator(".fp-commentary")
    expect(asked).not_to_contain_text(re.compile("bubble|metal"))
    assert told_in(page, ("Cl2",)) == []
    assert violations(page) == []
    cathode.get_by_label("hydrogen").check()
    expect(button).to_have_text("Next: Explain")
    seen.next()
    expect(page.locator(".fp-step-head")).to_contain_text("Ions in the melt")
    lines = []
    while button.inner_text() == "Next":
        button.click()
        lines.append(page.locator(".fp-step-line").inner_text())
    assert any("600\u00a0C" in line for line in lines)
    assert any("0.143\u00a0g of sodium" in line for line in lines)
    expect(cathode.locator(".fp-equation")).to_contain_text("Na+ + e− → Na")
    expect(cathode).to_contain_text("So far: 140 mg sodium")
    expect(cathode).to_contain_text("Predicted: hydrogen (the rule says sodium")
    expect(anode).to_contain_text("So far: 76 cm³ chlorine")
    assert violations(page) == []
    assert page.evaluate(COVERED) == [] or viewport == PHONE
    assert page.evaluate(BEYOND) == []
    seen.next()
    row = page.get_by_role("table", name="Results").locator("tbody")
    expect(row).to_contain_text("molten NaCl")
    seen.button("Reveal all").click()
    expect(row).to_contain_text("0.143\u00a0g of sodium")
    assert seen.errors == []


#: how far each count of electrons reaches out of its card, px
TALLIES_CUT = """() => [...document.querySelectorAll('.fp-tally')].map((tally) => {
  const card = tally.closest('.fp-side-card').getBoundingClientRect();
  const words = tally.querySelector('p').getBoundingClientRect();
  return Math.max(words.bottom - card.bottom, card.top - words.top);
})"""


def test_no_note_pushes_the_count_of_electrons_out_of_the_cards_of_two_cells(visit):
    seen = visit("?cells=CuSO4,beside=copper", viewport={"width": 1366, "height": 768})
    for _ in range(3):
        seen.next()
    seen.expect_step("Explain")
    heading = seen.page.locator(".fp-step-head")
    for _ in range(30):
        cut = seen.page.evaluate(TALLIES_CUT)
        assert len(cut) == 4
        assert max(cut) <= 0, heading.inner_text()
        if "copper rods: 11 of 11" in heading.inner_text():  # with the notes of both
            break
        seen.next()
    assert "11 of 11" in heading.inner_text()
    assert violations(seen.page) == []


def test_two_cells_go_through_one_lesson_with_one_ruler_and_one_next(visit):
    seen = visit("?cells=CuSO4;NaCl")
    page = seen.page
    seen.button("Change").click()
    page.get_by_label("Compare with").select_option("the same with copper electrodes")
    seen.button("Done").click()
    first, second = "CuSO₄", "CuSO₄, copper rods"
    expect(page.get_by_role("heading", name=second, exact=True)).to_be_visible()
    expect(page.locator("canvas")).to_have_count(2)
    cards = {
        (side, cell): page.get_by_role("article", name=f"{side}, {cell}", exact=True)
        for side in ("Cathode", "Anode")
        for cell in (first, second)
    }
    cards["Anode", first].get_by_label("oxygen").check()
    cards["Anode", second].get_by_label("the electrode dissolves").check()
    expect(cards["Anode", first].get_by_label("oxygen")).to_be_checked()  # each cell has its own
    assert told_in(page, ("Cu", "O2")) == []
    assert violations(page) == []
    button = page.get_by_role("button", name=NEXT)
    seen.next()
    seen.expect_step("Watch")
    assert told_in(page, ("Cu", "O2")) == []
    assert page.evaluate(COVERED) == []
    ruler = page.get_by_role("slider", name="Time in the run")
    expect(ruler).to_have_count(1)
    tallies = {place: card.locator(".fp-tally-count") for place, card in cards.items()}
    for cell in (first, second):
        assert tallies["Cathode", cell].inner_text() == tallies["Anode", cell].inner_text() != "0"
    assert int(tallies["Anode", second].inner_text()) > int(tallies["Anode", first].inner_text())
    ruler.fill("0")
    for each in tallies.values():
        expect(each).to_have_text("0")
    cards["Anode", second].get_by_label("What do you see").fill("thinner")
    seen.next()
    cards["Anode", first].get_by_role("button", name="Glowing splint").click()
    expect(cards["Anode", first].get_by_role("status")).to_contain_text("relights")
    expect(cards["Anode", second].get_by_role("status")).to_be_empty()
    seen.next()
    headings = []
    while button.inner_text() == "Next":
        headings.append(page.locator(".fp-step-head").inner_text())
        button.click()
    owners = [heading.partition(":")[0] for heading in headings]
    assert owners == sorted(owners, key=[first, second].index)
    assert set(owners) == {first, second}
    expect(cards["Anode", first]).to_contain_text("Predicted: oxygen (right by the rule")
    expect(cards["Anode", second]).to_contain_text("copper dissolves")
    assert violations(page) == []
    assert page.evaluate(COVERED) == []
    page.keyboard.press("PageUp")  # the remote leads back within the second cell
    expect(page.locator(".fp-step-head")).to_contain_text(second)
    page.keyboard.press("PageDown")
    seen.next()
    rows = page.get_by_role("table", name="Results").locator("tbody")
    expect(rows).to_have_count(2)
    expect(rows.nth(1).get_by_role("textbox", name="Observed, anode")).to_have_value("thinner")
    seen.next()
    seen.expect_step("Predict")
    expect(page.locator("canvas")).to_have_count(1)
    assert seen.errors == []


def test_on_a_phone_one_of_two_cells_is_seen_at_a_time(visit):
    seen = visit("?cells=NaCl,beside=KI", viewport=PHONE)
    page = seen.page
    tabs = page.get_by_role("group", name="Which cell is seen")
    pictures = page.locator("canvas").filter(visible=True)
    expect(pictures).to_have_accessible_name(re.compile("sodium chloride"))
    tabs.get_by_role("button", name="KI").click()
    expect(pictures).to_have_accessible_name(re.compile("potassium iodide"))
    expect(page.get_by_role("article", name="Anode, KI")).to_be_visible()
    expect(page.get_by_role("article", name="Anode, NaCl")).to_be_hidden()
    assert violations(page) == []
    assert page.evaluate(BEYOND) == []
    step_button(seen, "Explain").click()
    expect(pictures).to_have_accessible_name(re.compile("sodium chloride"))
    button = page.get_by_role("button", name=NEXT)
    while "KI:" not in page.locator(".fp-step-head").inner_text():
        button.click()
    expect(pictures).to_have_accessible_name(re.compile("potassium iodide"))
    assert violations(page) == []
    assert seen.errors == []


def test_a_remote_gives_the_whole_lesson(visit):
    seen = visit("?cells=Na2SO4;CuSO4")
    page = seen.page
    button = page.get_by_role("button", name=NEXT)
    for title in STEPS[1:4]:
        page.keyboard.press("PageDown")
        seen.expect_step(title)
    while button.inner_text() == "Next":
        page.keyboard.press("PageDown")
    page.keyboard.press("PageDown")
    seen.expect_step("Record")
    solution = page.get_by_role("table", name="Results").locator("tbody")
    for size in (PROJECTOR, LAPTOP):  # four solutions fit on one screen
        page.set_viewport_size(size)
        assert solution.bounding_box()["height"] < 0.21 * size["height"]
    page.set_viewport_size(PROJECTOR)
    page.keyboard.press("PageDown")
    seen.expect_step("Predict")
    expect(page.locator(".fp-chosen")).to_have_text("CuSO₄")


def test_one_who_does_not_see_hears_in_watch_only_what_is_seen(visit):
    seen = visit("?cells=Na2SO4")
    happening = seen.page.get_by_role("region", name="What is happening")
    live = happening.locator(".fp-sentence[aria-live=polite]")
    expect(live).to_contain_text("The switch is open")
    seen.next()
    expect(live).to_contain_text("At the cathode: bubbles of a colourless gas.")
    expect(live).to_contain_text("more bubbles at the cathode")
    expect(happening.get_by_role("status")).to_contain_text("the lamp glows")


def test_the_set_up_is_one_line_and_its_fields_open_over_the_picture(visit):
    seen = visit("?cells=NaCl")
    page = seen.page
    field = page.get_by_role("textbox", name="Concentration, mol/dm³")
    expect(page.locator(".fp-setup-line")).to_have_text("0.5 mol/dm³, graphite, 6 V, 5 min")
    expect(field).to_be_hidden()
    before = page.locator(".fp-scene").bounding_box()
    seen.button("Change").click()
    field.fill("strong")
    field.press("Tab")
    expect(page.get_by_role("alert")).to_contain_text("'strong' cannot be used")
    field.fill("0.2")
    field.press("Tab")
    expect(page.locator(".fp-setup-line")).to_contain_text("0.2 mol/dm³")
    assert page.locator(".fp-scene").bounding_box() == before
    assert violations(page) == []
    # nothing that the fields cover is offered meanwhile
    expect(page.locator(".fp-path")).to_be_hidden()
    expect(page.get_by_role("switch", name="All controls")).to_be_hidden()
    expect(seen.button("Full screen")).to_be_hidden()
    field.press("Escape")
    expect(field).to_be_hidden()
    expect(seen.button("Change")).to_be_focused()
    expect(page.locator(".fp-path")).to_be_visible()
    seen.button("Change").press("Enter")
    seen.button("Done").click()
    expect(field).to_be_hidden()


@pytest.mark.parametrize("viewport", [BOARD, LAPTOP, PROJECTOR, LARGE])
def test_nothing_covers_anything_and_every_solution_can_be_reached(visit, viewport):
    cells = ("Na2SO4", "NaCl", "CuCl2", "CuSO4", "KI", "ZnSO4", "AgNO3", "HCl", "KBr")
    seen = visit("?cells=" + ";".join(cells), viewport=viewport)
    page = seen.page
    for title in STEPS:
        step_button(seen, title).click()
        seen.expect_step(title)
        assert page.evaluate(COVERED) == [], title
        assert page.evaluate(BEYOND) == [], title
        last = seen.page.locator(".fp-choice").last.bounding_box()
        assert last["x"] + last["width"] <= viewport["width"]
        button = page.get_by_role("button", name=NEXT).bounding_box()
        assert button["y"] + button["height"] <= viewport["height"], title


# sentences that stand together, the picture's box, and where the cards begin
EXPLAINED = """() => {
  const box = (node) => node.getBoundingClientRect();
  const shown = (name) => [...document.querySelectorAll(name)].filter((node) => node.checkVisibility());
  const { x, y, width, height } = box(shown('.fp-scene canvas')[0]);
  return {
    sentences: document.querySelector('.fp-step-line').textContent.split(/[.?!] (?=\\p{Lu})/u).length,
    picture: [x, y, width, height].map(Math.round),
    tops: shown('.fp-side-card').map((card) => Math.round(box(card).top)),
  };
}"""


@pytest.mark.parametrize("viewport", [PROJECTOR, BOARD], ids=str)
@pytest.mark.parametrize("cells", ["CuSO4,min=10", "NaCl,beside=copper"])
def test_the_picture_keeps_its_size_and_place_while_a_pair_of_sentences_at_most_is_explained(
    visit, cells, viewport
):
    seen = visit(f"?cells={cells}", viewport=viewport)
    button = seen.page.get_by_role("button", name=NEXT)
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    presses = [seen.page.evaluate(EXPLAINED)]
    while button.inner_text() == "Next":
        button.click()
        presses.append(seen.page.evaluate(EXPLAINED))
    assert len(presses) > 8
    assert {press["sentences"] for press in presses} == {1, 2}
    assert {tuple(press["picture"]) for press in presses} == {tuple(presses[0]["picture"])}
    assert all(len(set(press["tops"])) == 1 for press in presses)
    assert seen.page.evaluate(COVERED) == []


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE])
def test_every_step_is_accessible_in_a_light_and_a_dim_room(visit, viewport):
    seen = visit("?cells=NaCl", viewport=viewport)
    for title in STEPS:
        step_button(seen, title).click()
        seen.expect_step(title)
        assert seen.page.evaluate(BEYOND) == [], title
        for scheme in ("light", "dark"):
            seen.page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
            assert violations(seen.page) == [], f"{title}, {scheme}"
    assert seen.errors == []


@pytest.mark.parametrize("viewport", [PROJECTOR, BOARD], ids=str)
def test_the_close_up_takes_the_place_of_the_picture_while_it_is_explained(visit, viewport):
    seen = visit("?cells=CuSO4", viewport=viewport)
    page = seen.page
    for title in ("Watch", "Test"):  # before what forms may be told
        step_button(seen, title).click()
        seen.expect_step(title)
        expect(seen.button("Close-up")).to_be_hidden()
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    seen.button("Close-up").click()
    panel = page.get_by_role("region", name="Close-up")
    picture = page.locator(".fp-scene").bounding_box()
    assert panel.bounding_box()["height"] >= 0.98 * picture["height"]
    expect(page.locator(".fp-tally")).to_have_count(2)
    for tally in page.locator(".fp-tally").all():  # one count at a time
        expect(tally).to_be_hidden()
    label = panel.locator("svg text").first.bounding_box()["height"]
    assert label >= 34 / 1920 * viewport["width"]  # read from eight metres
    for _ in range(2):
        seen.button("Next step").click()
    expect(panel).to_contain_text("One Cu has formed")
    seen.button("Play by itself").click()
    assert violations(page) == []  # under the pointer too
    assert page.evaluate(COVERED) == []
    step_button(seen, "Test").click()
    expect(panel).to_be_hidden()
    assert seen.errors == []


def saved_still(seen):
    """Save the picture; give its name, its dots, and what was written since on it and on the page."""
    seen.page.evaluate("() => window.written.clear()")
    with seen.page.expect_download() as download:
        seen.button("Save picture").click()
    dots = imread(BytesIO(download.value.path().read_bytes()))[..., :3]
    return (
        download.value.suggested_filename,
        dots,
        seen.page.evaluate("() => [...window.written]"),
    )


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=str)
def test_a_still_holds_both_cells_with_their_names_and_tells_nothing_too_early(visit, viewport):
    seen = visit("?cells=NaCl,beside=CuSO4", viewport=viewport)
    if viewport == PROJECTOR:  # a phone offers it once there is something to see
        name, _, written = saved_still(seen)
        assert name == "NaCl-CuSO4.png"
        assert {"NaCl", "CuSO₄", "Na⁺", "Cu²⁺"} <= set(written)
    seen.next()
    seen.expect_step("Watch")
    name, dots, written = saved_still(seen)
    assert name == "NaCl-CuSO4-5min0s.png"
    assert {"NaCl, 5 min 0 s", "CuSO₄, 5 min 0 s", "Na⁺", "Cu²⁺"} <= set(written)
    assert {"H₂", "Cl₂", "O₂", "Cu"}.isdisjoint(written)  # the class is still to see and say it
    width = dots.shape[1]
    assert width >= 2 * 1920
    copper = np.abs(dots - np.array([0xB8, 0x61, 0x2A]) / 255).max(axis=2) < 0.02
    assert copper[:, width // 2 :].mean() > 1e-4 > copper[:, : width // 2].mean()
    strip = dots[-round(0.06 * 0.49 * width) :]  # where the names stand, as large as of one picture
    is_letter = np.abs(strip - strip[-1, 0]).max(axis=2) > 0.5
    for half in np.array_split(is_letter, 2, axis=1):
        rows = np.flatnonzero(half.any(axis=1))
        assert np.ptp(rows) >= 0.02 * width / 2
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    assert {"H₂", "Cl₂"} & set(saved_still(seen)[2])


def test_on_a_phone_the_close_up_is_as_wide_as_the_page_in_either_view(visit):
    seen = visit("?cells=CuSO4", viewport=PHONE)
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    for turn in range(2):
        if turn:
            seen.all_controls()
            for button in seen.page.get_by_role("button", name="Show", exact=True).all():
                button.click()
        seen.button("Close-up").click()
        panel = seen.page.get_by_role("region", name="Close-up")
        faces = [each.bounding_box() for each in panel.locator("svg").all()]
        assert len(faces) == 2
        assert all(face["width"] >= 0.9 * PHONE["width"] for face in faces)
        assert all(face["height"] >= 150 for face in faces)
        assert faces[0]["y"] + faces[0]["height"] <= faces[1]["y"]
        expect(seen.button("Next step")).to_be_in_viewport()
        assert violations(seen.page) == []
        assert seen.page.evaluate(BEYOND) == []


def test_with_all_controls_the_close_up_is_no_small_panel(visit):
    seen = visit("?cells=CuSO4", viewport=LAPTOP)
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    seen.all_controls()
    seen.button("Close-up").click()
    panel = seen.page.get_by_role("region", name="Close-up")
    for face in panel.locator("svg").all():
        assert face.bounding_box()["height"] >= 0.28 * LAPTOP["height"]


def test_of_two_cells_the_close_up_is_of_the_one_that_is_explained(visit):
    seen = visit("?cells=CuSO4,beside=copper", viewport=LAPTOP)
    step_button(seen, "Explain").click()
    seen.expect_step("Explain")
    seen.button("Close-up").click()
    panel = seen.page.get_by_role("region", name="Close-up")
    expect(panel.get_by_role("heading")).to_have_text("Close-up of CuSO₄: one event at a time")
    expect(panel).to_contain_text("4 OH⁻ arrive")
    box = panel.bounding_box()
    assert box["width"] >= 0.95 * LAPTOP["width"]
    assert box["height"] >= 0.5 * LAPTOP["height"]
    button = seen.page.locator(".fp-next")
    while not seen.page.locator(".fp-step-head").inner_text().startswith("CuSO₄, copper rods"):
        button.click()
    expect(panel.get_by_role("heading")).to_have_text(re.compile("^Close-up of CuSO₄, copper rods"))
    expect(panel).to_contain_text("An atom of the metal is at the surface")
    expect(button).to_be_focused()
    assert seen.errors == []


def test_all_controls_are_one_press_away_and_the_step_is_kept(visit):
    seen = visit("?cells=NaCl")
    step_button(seen, "Watch").click()
    seen.expect_step("Watch")
    for name in ("Close-up", "Lift electrodes", "Restart"):
        expect(seen.button(name)).to_be_hidden()
    with seen.page.expect_download():
        seen.button("Save picture").click()
    seen.all_controls()
    for name in ("Close-up", "Lift electrodes", "Save picture", "Restart"):
        expect(seen.button(name)).to_be_visible()
    expect(seen.page.get_by_role("tab", name="Charts")).to_be_visible()
    assert told_in(seen.page, CELLS["NaCl"]) == []
    seen.page.get_by_role("switch", name="All controls").click()
    seen.expect_step("Watch")


@pytest.mark.parametrize("viewport", [PROJECTOR, LAPTOP, BOARD, PHONE], ids=str)
def test_labels_of_the_set_up_keep_apart(visit, viewport):
    seen = visit("?cells=NaCl,also=KI", viewport=viewport)
    seen.button("Change").click()
    expect(seen.page.get_by_label("Concentration, mol/dm³").first).to_be_visible()
    assert seen.page.evaluate(TOO_WIDE) == []


@pytest.mark.parametrize("viewport", [PROJECTOR, LAPTOP, BOARD, PHONE], ids=str)
def test_the_large_button_names_the_next_step_on_one_line(visit, viewport):
    seen = visit("?cells=NaCl", viewport=viewport)
    button = seen.page.get_by_role("button", name=NEXT)
    for step in ("Predict", "Test", "Explain"):
        if step != "Predict":
            step_button(seen, step).click()
            seen.expect_step(step)
        assert button.evaluate(LINES) == 1, button.inner_text()


def test_the_row_to_record_is_read_from_the_back_row_and_the_next_mixture_fits_on_two_lines(visit):
    seen = visit("?cells=CuCl2;NaCl,also=CuSO4:0.4", viewport=BOARD)
    button = seen.page.get_by_role("button", name=NEXT)
    for viewport in (BOARD, PROJECTOR):
        seen.page.set_viewport_size(viewport)
        step_button(seen, "Record").click()
        seen.expect_step("Record")
        expect(button).to_have_text("Next: NaCl + CuSO₄")
        assert button.evaluate(LINES) <= 2
        seen.button("Hide all").click()
        assert seen.page.evaluate(OUT_OF_FIELD) == []
        seen.button("Reveal all").click()
        frame = seen.page.get_by_role("region", name="Results table")
        assert frame.evaluate("(node) => node.scrollWidth <= node.clientWidth")
    row = frame.get_by_text("an orange-brown deposit")
    assert row.evaluate("(node) => parseFloat(getComputedStyle(node).fontSize)") >= 25


@pytest.mark.parametrize("cells", ["NaCl", "NaCl,beside=Na2SO4"])
def test_on_a_phone_each_step_begins_with_its_heading_in_sight(visit, cells):
    seen = visit(f"?cells={cells}", viewport=PHONE)
    page = seen.page
    heading, scene = page.locator(".fp-step-head"), page.locator(".fp-scene").first
    for step in ("Watch", "Test", "Explain", "Explain", "Record"):
        page.locator(".fp-caution").last.evaluate("(node) => node.scrollIntoView({ block: 'end' })")
        if step == "Record":
            step_button(seen, step).click()
        else:
            seen.next()
        seen.expect_step(step)
        expect(heading).to_be_in_viewport(ratio=1)
        if step != "Record":
            box, picture = heading.bounding_box(), scene.bounding_box()
            assert box["y"] >= picture["y"] + picture["height"] - 1, step
    assert seen.errors == []


def test_a_new_class_begins_with_nothing_and_a_slip_is_undone(visit):
    seen = visit("?cells=NaCl;CuSO4")
    cathode = seen.side_card("Cathode")
    cathode.get_by_label("sodium").check()
    step_button(seen, "Record").click()
    seen.expect_step("Record")
    seen.button("New class").click()
    seen.expect_step("Predict")
    expect(cathode.get_by_label("sodium")).not_to_be_checked()
    expect(step_button(seen, "Record")).not_to_contain_text("✓")
    seen.button("Undo: New class").click()
    expect(cathode.get_by_label("sodium")).to_be_checked()


def test_a_student_alone_on_a_phone_gets_no_teachers_cautions_and_is_offered_the_first_try_once(
    visit,
):
    seen = visit("?cells=NaCl,min=0.2;CuSO4", viewport=PHONE, apart=True)
    page = seen.page
    offer = page.get_by_text("Try this first (five minutes)")
    button = page.get_by_role("button", name=NEXT)
    expect(offer).to_be_visible()
    for step in STEPS:
        seen.expect_step(step)
        expect(page.get_by_text("autions for the teacher")).to_be_hidden()
        if step == "Explain":
            while button.inner_text() == "Next":
                button.click()
        seen.next()
    seen.expect_step("Predict")
    expect(
        offer
    ).to_be_hidden()  # the first solution has been recorded: its room belongs to the picture
    assert violations(page) == []


@pytest.mark.parametrize("viewport", [LAPTOP, PROJECTOR], ids=str)
def test_the_large_button_stays_in_sight_under_two_cells_below_two_lines_of_solutions(
    visit, viewport
):
    cells = (
        "Na2SO4;H2SO4;Cu(NO3)2;KI;NaCl,in=U-tube,lamp=none;Na2SO4,beside=copper;CuSO4,beside=copper"
    )
    seen = visit(f"?cells={cells}&open=6", viewport=viewport)
    expect(seen.page.locator("canvas")).to_have_count(2)
    choices = seen.page.locator(".fp-choice")
    assert len(set(choices.evaluate_all("all => all.map((each) => each.offsetTop)"))) > 1
    for step in ("Predict", "Watch", "Test", "Record"):
        if step == "Record":
            step_button(seen, step).click()
        seen.expect_step(step)
        box = seen.page.get_by_role("button", name=NEXT).bounding_box()
        assert box["y"] + box["height"] <= viewport["height"]
        assert seen.page.evaluate(COVERED) == []
        if step in ("Predict", "Watch"):
            seen.next()


def test_the_whole_table_says_how_to_leave_it_and_gives_the_keyboard_back(visit):
    page = (seen := visit("?cells=CuSO4")).page
    step_button(seen, "Record").click()
    seen.expect_step("Record")
    button = page.get_by_role("button", name="All results")
    button.click()
    leave = page.get_by_role("button", name="Leave full screen (Esc)")
    expect(leave).to_be_focused()
    page.get_by_text("Kept lessons").click()
    page.get_by_label("Name of this lesson").fill("copper")
    page.get_by_role("button", name="Keep lesson").click()
    expect(page.get_by_role("button", name="Keep lesson")).to_be_focused()
    leave.click()
    expect(button).to_be_focused()
    page.get_by_role("button", name="Table on full screen").click()
    page.get_by_role("button", name="Leave full screen (Esc)").click()
    expect(page.get_by_role("button", name="Table on full screen")).to_be_focused()
    assert seen.errors == []


def test_the_set_up_folds_as_the_lesson_goes_on_and_keeps_what_is_typed(visit):
    page = (seen := visit("?cells=CuSO4")).page
    page.get_by_role("button", name="Change", exact=True).click()
    field = page.get_by_label("Concentration, mol/dm³", exact=True)
    field.fill("0.3")
    seen.next()
    seen.expect_step("Watch")
    expect(field).to_be_hidden()
    expect(page.locator(".fp-setup-line")).to_contain_text("0.3 mol/dm³")
    expect(page.locator(".fp-step-head")).to_be_focused()
    assert seen.errors == []


@pytest.mark.parametrize("viewport", [BOARD, LAPTOP, PROJECTOR])
@pytest.mark.parametrize("cell", ["NaCl", "AgNO3,c=0.1"])
def test_the_picture_keeps_its_size_through_a_lesson_and_its_ions_through_a_test(
    visit, viewport, cell
):
    seen = visit(f"?cells={cell}", viewport=viewport)
    picture = seen.page.locator(".fp-scene canvas")
    sizes = {"Predict": picture.bounding_box()}
    for title in ("Watch", "Test", "Explain"):
        step_button(seen, title).click()
        seen.expect_step(title)
        sizes[title] = picture.bounding_box()
        if title == "Test":
            before = seen.picture()
            for name in ("Cathode", "Anode"):
                card = seen.side_card(name)
                card.get_by_role("button", name="Lighted splint").click()
                # each electrode's test has its tube beside its result
                expect(card.locator("canvas.fp-tube")).to_be_in_viewport()
                pixels = card.locator("canvas").evaluate(
                    "(canvas) => canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height)"
                    ".data.reduce((sum, each) => sum + each, 0)"
                )
                assert pixels > 0
            assert seen.picture() == before
            for name in ("Cathode", "Anode"):
                seen.side_card(name).get_by_role("button", name="What does it mean?").click()
                expect(seen.side_card(name).locator(".fp-outcome")).to_be_in_viewport()
            sizes["after"] = picture.bounding_box()
    least, most = (pick(box["height"] for box in sizes.values()) for pick in (min, max))
    assert most - least <= 5, {step: box["height"] for step, box in sizes.items()}
    assert seen.errors == []


@pytest.mark.parametrize("viewport", [BOARD, LAPTOP, PROJECTOR])
def test_the_row_with_all_revealed_leaves_the_large_button_in_sight(visit, viewport):
    page = (seen := visit("?cells=NaCl", viewport=viewport)).page
    step_button(seen, "Record").click()
    seen.expect_step("Record")
    page.get_by_role("button", name="Reveal all").click()
    expect(page.get_by_role("table", name="Results")).to_contain_text("squeaky pop")
    expect(page.get_by_role("button", name=NEXT)).to_be_in_viewport(ratio=1)
    last = page.locator(".fp-new-class button").first
    last.focus()
    expect(last).to_be_in_viewport(ratio=1)
    assert violations(page) == []
    assert seen.errors == []
