"""How much a page asks at once: the usual fields in sight, the rest behind words, one filled action."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect
from tests.browser.visit import FIELDS_IN_SIGHT, LOADING_MS, PHONE, PROJECTOR, unfold

# of the pages with rows of fields: how many are in sight on a wide window, and what is said of the rest
PAGES = {
    "explore": (3, "60 cm³, graphite electrodes, lamp 6 V, 0.06 A, beaker, 25 °C, 5 min"),
    "prepare": (6, "10 % spare, balance reads to 0.1 g, room 200 m³, 2 air changes an hour"),
    # the metal, and what the calculator is asked
    "measure": (6, "Oxygen at the anode, collected over water; balance reads to 0.001 g"),
    "revise": (2, "10 questions, units and figures only pointed out, set 1"),
}
# buttons in the window whose ground is the accent: what calls to act, not what is chosen or switched on
FILLED = """() => {
  const probe = document.createElement('i');
  probe.style.color = 'var(--fp-accent)';
  document.querySelector('.fp-page').append(probe);
  const accent = getComputedStyle(probe).color;
  probe.remove();
  const isIn = ({ top, bottom }) => bottom > 0 && top < innerHeight;
  return [...document.querySelectorAll('.fp-page :is(button, a, label.fp-button)')]
    .filter((button) => button.checkVisibility({ visibilityProperty: true }))
    .filter((button) => isIn(button.getBoundingClientRect()))
    .filter((button) => !button.matches(
      '[aria-pressed=true], [aria-checked=true], [aria-current], [aria-selected=true]'
    ))
    .filter((button) => getComputedStyle(button).backgroundColor === accent)
    .map((button) => button.textContent);
}"""


@pytest.mark.parametrize("name", PAGES)
def test_the_usual_fields_are_in_sight_and_the_rest_is_said_in_words(open_at, address_of, name):
    most, words = PAGES[name]
    link = "?set=1" if name == "revise" else ""  # else it asks for the age alone
    page = open_at(address_of(name) + link, viewport=PROJECTOR)
    line = page.get_by_role("button", name=re.compile(f"{re.escape(words)}.*: change$"))
    expect(line).to_be_visible(timeout=LOADING_MS)
    assert len(page.evaluate(FIELDS_IN_SIGHT)) == most
    assert len(page.evaluate(FILLED)) <= 1, page.evaluate(FILLED)
    unfold(page, words)
    page.wait_for_function(f"() => ({FIELDS_IN_SIGHT})().length > {most}")
    page.reload()  # what is unfolded stays so
    expect(line).to_be_visible(timeout=LOADING_MS)
    page.wait_for_function(f"() => ({FIELDS_IN_SIGHT})().length > {most}")
    line.press("Enter")
    page.wait_for_function(f"() => ({FIELDS_IN_SIGHT})().length === {most}")
    page.set_viewport_size(PHONE)
    assert len(page.evaluate(FIELDS_IN_SIGHT)) <= most
    assert page.complaints == []


def one_main_action(page, state, name=None):
    """Expect at most one filled button in any window-full of a page; one of this name where it begins."""
    down = "top => (document.querySelector('#rendered_cells') ?? document.scrollingElement).scrollTo(0, top)"
    height = page.viewport_size["height"]
    end = page.evaluate(
        "() => (document.querySelector('#rendered_cells') ?? document.scrollingElement).scrollHeight"
    )
    for top in range(0, end, height // 2):
        page.evaluate(down, top)
        filled = page.evaluate(FILLED)
        assert len(filled) <= 1, f"{state}, {top} px down: {filled}"
    page.evaluate(down, 0)
    if name is not None:
        assert page.evaluate(FILLED) == [name], state


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=str)
def test_a_lesson_has_one_main_action_a_screen(open_at, address_of, viewport):
    page = open_at(address_of("demonstrate") + "?cells=NaCl", viewport=viewport)
    page.get_by_role("article").first.wait_for(timeout=LOADING_MS)
    path = page.get_by_role("navigation", name="Steps")
    one_main_action(page, "Predict", "Next: Watch")
    page.get_by_role("button", name="Change", exact=True).click()
    one_main_action(page, "set-up")
    page.keyboard.press("Escape")
    following = {"Watch": "Next: Test", "Test": "Next: Explain", "Explain": "Next", "Record": None}
    for step, name in following.items():
        path.get_by_role("button", name=re.compile(step)).click()
        expect(path.locator("[aria-current=step]")).to_contain_text(step)
        one_main_action(page, step, name or "All results")
        if step == "Watch":
            page.get_by_role("button", name="Change something").click()
            assert page.evaluate(FILLED) == ["Change it"]
            page.keyboard.press("Escape")
        if step == "Explain":
            page.get_by_role("button", name="Close-up", exact=True).click()
            one_main_action(page, "close-up")
            page.get_by_role("button", name="Close-up", exact=True).click()
    page = open_at(address_of("demonstrate") + "?cells=NaCl&ask=off", viewport=viewport)
    page.get_by_role("button", name="Switch on").click()
    page.get_by_role("button", name="Switch off").wait_for()
    one_main_action(page, "all controls", "Switch off")
    for tab in ("Explain", "Test the gas", "Results table"):
        page.get_by_role("tab", name=tab).click()
        one_main_action(page, tab, "Switch off")


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=str)
def test_each_other_page_has_one_main_action_a_screen(open_at, address_of, viewport):
    page = open_at(address_of("explore") + "?cells=CuSO4;NaCl", viewport=viewport)
    page.get_by_role("article").first.wait_for(timeout=LOADING_MS)
    one_main_action(page, "Explore, two cells")
    page = open_at(address_of("explore"), viewport=viewport)
    page.get_by_role("button", name="Switch on").click(timeout=LOADING_MS)
    page.get_by_role("button", name="Switch off").wait_for()
    one_main_action(page, "Explore", "Switch off")
    page = open_at(address_of("measure"), viewport=viewport)
    page.get_by_role("button", name="Try an invented class").click(timeout=LOADING_MS)
    page.locator(".fp-graph").first.wait_for()
    one_main_action(page, "Measure", "Add a group")
    page = open_at(address_of("prepare"), viewport=viewport)
    page.get_by_role("tab", name="Technician's order").wait_for(timeout=LOADING_MS)
    one_main_action(page, "Prepare", "Print the sheets")


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=str)
def test_a_question_has_one_main_action_which_leads_on(revise, viewport):
    page = revise(heading=None, viewport=viewport)
    page.get_by_role("button", name="14 to 16").wait_for(timeout=LOADING_MS)
    assert page.evaluate(FILLED) == []  # a choice between equals
    page = revise("?set=1&level=14&count=3", viewport=viewport)
    one_main_action(page, "a question")
    main = page.locator(".fp-main-action:visible")
    expect(main).to_have_text("Mark it")
    main.click()
    expect(main).to_have_text("Next question")
    one_main_action(page, "its marks")
    main.click()
    page.get_by_role("heading", name="Question 2 of 3").wait_for()
    expect(main).to_have_text("Mark it")


def test_a_question_fills_a_wide_window_and_is_marked_beside_what_it_asks(revise):
    page = revise("?set=1&level=14&count=4", viewport=PROJECTOR)
    asked, answering = page.locator(".fp-asked"), page.locator(".fp-answering")
    for _ in range(4):
        left, right = asked.bounding_box(), answering.bounding_box()
        assert right["x"] >= left["x"] + left["width"]
        assert right["x"] + right["width"] > 0.95 * PROJECTOR["width"]
        page.get_by_role("button", name="Mark it").click()
        expect(page.locator(".fp-marks")).to_be_in_viewport()
        expect(page.get_by_role("heading", name="Result")).to_be_visible()
        following = page.get_by_role("button", name="Next question")
        if following.is_enabled():
            following.click()
    page.set_viewport_size(PHONE)
    assert answering.bounding_box()["y"] > asked.bounding_box()["y"]


def right_of(page, selector):
    """Give how far to the right a part of a page reaches, px."""
    box = page.locator(selector).first.bounding_box()
    return box["x"] + box["width"]


def test_a_wide_window_is_filled_to_its_right_edge(open_at, address_of):
    page = open_at(address_of("demonstrate") + "?cells=NaCl", viewport=PROJECTOR)
    page.get_by_role("article").first.wait_for(timeout=LOADING_MS)
    edge = right_of(page, ".fp-onward")
    assert right_of(page, ".fp-switch") == pytest.approx(edge, abs=1)
    page = open_at(address_of("explore"), viewport=PROJECTOR)
    page.locator(".fp-workshop").wait_for(timeout=LOADING_MS)
    assert right_of(page, ".fp-workshop") == pytest.approx(edge, abs=2)
    page = open_at(address_of("measure"), viewport=PROJECTOR)
    page.get_by_role("button", name="Try an invented class").click(timeout=LOADING_MS)
    page.locator(".fp-graphs .fp-scroll").first.wait_for()
    assert right_of(page, ".fp-graphs .fp-scroll") == pytest.approx(edge, abs=2)


def test_a_wide_table_keeps_its_rows_low_on_a_phone(open_at, address_of):
    page = open_at(address_of("prepare"), viewport=PHONE)
    page.get_by_role("tab", name="Technician's order").wait_for(timeout=LOADING_MS)
    rows = page.locator(".fp-prepared .fp-scroll tbody tr:has(> :nth-child(5))")
    heights = [row.bounding_box()["height"] for row in rows.all()]
    assert len(heights) >= 8
    assert max(heights) < 150


def test_the_home_page_keeps_its_shape_on_a_larger_screen(open_at, address_of):
    shares = {}
    for width, height in ((1920, 1080), (3840, 2160)):
        page = open_at(address_of("/"), viewport={"width": width, "height": height})
        box = page.locator(".pages").bounding_box()
        letters = page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)")
        shares[width] = (box["width"] / width, letters / width)
        assert box["width"] >= 0.7 * width
        assert box["y"] + box["height"] <= height  # all five pages in the first screen
    assert shares[3840] == pytest.approx(shares[1920], rel=0.02)
