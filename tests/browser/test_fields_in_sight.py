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
# buttons in the first screen whose ground is the accent
FILLED = """() => {
  const probe = document.createElement('i');
  probe.style.color = 'var(--fp-accent)';
  document.querySelector('.fp-page').append(probe);
  const accent = getComputedStyle(probe).color;
  probe.remove();
  return [...document.querySelectorAll('.fp-page button')]
    .filter((button) => button.checkVisibility() && button.getBoundingClientRect().top < innerHeight)
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
