"""While the page loads: words, and from the first frame the ground that the page will have."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest
from matplotlib.colors import to_rgb
from tests.browser.visit import LOADING_MS

from fizzplate.views.web.theme import tokens

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))
from slow_line import slow_line  # a measuring script's

EVERY_FRAME = """
  window.grounds = new Set();
  window.words = new Set();
  const look = () => {
    if (document.body) grounds.add(getComputedStyle(document.body).backgroundColor);
    for (const each of document.querySelectorAll('[role=status]')) {
      if (each.checkVisibility()) words.add(each.textContent.trim());
    }
    requestAnimationFrame(look);
  };
  look();
"""

# a line so slow that what is waited for 4 s or 10 s is not there yet
SOONER = """
  const real = setTimeout;
  window.setTimeout = (call, ms, ...rest) => real(call, { 4000: 1, 10000: 500 }[ms] ?? ms, ...rest);
"""

EVERY_FIGURE = """
  window.figures = new Set();
  setInterval(() => {
    for (const each of document.querySelectorAll("#waiting p")) {
      if (each.checkVisibility()) figures.add(each.textContent.trim());
    }
  }, 50);
"""

# the browser has other work as the first widget's module begins to load
SLOW = """
  const make = URL.createObjectURL;
  URL.createObjectURL = (blob) => {
    URL.createObjectURL = make;
    for (const started = Date.now(); Date.now() - started < 2500;);
    return make(blob);
  };
"""


@pytest.mark.parametrize("room", ["light", "dark"])
def test_the_ground_never_flashes(open_at, demonstrate_address, room):
    page = open_at(demonstrate_address, script=EVERY_FRAME, color_scheme=room)
    page.get_by_role("article", name="Cathode").wait_for(timeout=LOADING_MS)
    assert any("Filling the beaker" in each for each in page.evaluate("[...words]"))
    paper = [round(255 * part) for part in to_rgb(getattr(tokens(), room)["paper"])]
    assert page.evaluate("[...grounds]") == ["rgb({}, {}, {})".format(*paper)]


def test_a_slow_computer_waits_longer_and_gets_the_whole_page(browser, demonstrate_address):
    context = browser.new_context()
    page = context.new_page()
    complaints = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.add_init_script(SLOW)
    page.goto(demonstrate_address)
    page.get_by_role("button", name="Switch on").click(timeout=LOADING_MS)
    page.get_by_role("button", name="Switch off").wait_for()
    assert complaints == []
    context.close()


def test_a_slow_line_is_told_how_much_has_come_and_its_widgets_come_in_one_message(
    browser, demonstrate_address
):
    context = browser.new_context()
    page = context.new_page()
    asked = []
    page.on(
        "websocket",
        lambda wire: wire.on(
            "framesent", lambda frame: asked.append(frame) if b"request_state" in frame else None
        ),
    )
    page.add_init_script(SOONER + EVERY_FIGURE)
    with slow_line(demonstrate_address, kbit_per_s=1500, round_trip_s=0.2) as address:
        page.goto(address)
        page.get_by_role("button", name="Switch on").wait_for(timeout=2 * LOADING_MS)
    figures = page.evaluate("[...figures]")
    assert any(re.fullmatch(r"\d\.\d of \d\.\d MB, about \d+ s more", each) for each in figures)
    assert any(each.startswith("This line is slow") for each in figures)
    assert len(asked) == 1
    assert page.locator("#waiting").count() == 0
    context.close()


WHAT_JUMPS = """
  window.shift = 0;
  new PerformanceObserver((list) => {
    for (const each of list.getEntries()) if (!each.hadRecentInput) shift += each.value;
  }).observe({ type: "layout-shift", buffered: true });
  new PerformanceObserver((list) => { window.largest = list.getEntries().at(-1).element?.id; })
    .observe({ type: "largest-contentful-paint", buffered: true });
"""


@pytest.mark.parametrize("name", ["explore", "measure"])
def test_a_still_comes_first_and_nothing_jumps_when_the_page_takes_its_place(
    browser, demonstrate_address, name
):
    context = browser.new_context(viewport={"width": 1350, "height": 940})
    page = context.new_page()
    page.add_init_script(WHAT_JUMPS)
    page.goto(demonstrate_address.replace("demonstrate", name))
    still = page.locator("#still")
    still.wait_for()
    assert (
        still.evaluate("async (image) => { await image.decode(); return image.naturalWidth; }") > 0
    )
    page.get_by_role("button", name="Settings").wait_for(timeout=LOADING_MS)
    page.wait_for_timeout(500)
    assert page.evaluate("shift") < 0.02
    assert page.evaluate("largest") == "still"
    context.close()
