"""Every page in every engine, on a laptop and on a phone: it plays, remembers, marks and fits."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO

import pytest
from matplotlib.image import imread
from tests.browser.visit import BEYOND
from tests.pages import for_every_page

LAPTOP = (1366, 768)
PHONE = (360, 740)
SET = "?set=1&count=2&level=16"  # begins with a question whose answer is picked

# frames are drawn one after the other, and no two alike
NEXT_PICTURE = """(() => {
  const picture = () => document.querySelector('.fp-scene canvas').toDataURL();
  const before = picture();
  return () => picture() !== before;
})()"""
CLOCK = "document.querySelector('.fp-clock').textContent"
NEXT_TICK = f"(() => {{ const before = {CLOCK}; return () => {CLOCK} !== before; }})()"

# the served pages scroll in a frame of their own, the others in the window
SIDEWAYS = """() => [document.documentElement, document.querySelector('#rendered_cells')]
  .some((frame) => frame && frame.scrollWidth > frame.clientWidth)"""

# the middle of each round box of a question, and how far beside it the ground is seen
INPUTS = """() => [...document.querySelectorAll('.fp-question-card .fp-option input')].map((input) => {
  const { left, top, width, height } = input.getBoundingClientRect();
  const beside = Math.round(width / 2 + 3);
  return { x: left + width / 2, y: top + height / 2, beside, picked: input.checked };
})"""


@dataclass(frozen=True)
class Page:
    """What a page has: something to wait for, a menu that reaches its link, a run, a question to mark."""

    path: str
    ready: str
    menu: str = ""
    choice: str = ""
    key: str = ""
    usual: str = ""
    folded: str = ""
    plays: bool = False
    marks: bool = False


VESSEL = {"menu": "Vessel", "choice": "U-tube", "key": "in=U-tube", "usual": "beaker"}
PAGES_AND_FILE = for_every_page({
    "home": Page("", "ul.pages a"),
    "demonstrate": Page("demonstrate", ".fp-scene", **VESSEL, folded="Set-up", plays=True),
    "explore": Page("explore", ".fp-scene", **VESSEL, folded="Set-up", plays=True),
    "measure": Page("measure", ".fp-grid", "Metal", "silver", "metal=Ag", "copper"),
    "prepare": Page("prepare", ".fp-sheet", **VESSEL, folded="Set-up"),
    "revise": Page(
        f"revise{SET}", ".fp-question-card", "Level", "14 to 16", "level=14", "16 to 18", "Set 1",
        marks=True,
    ),
    "file": Page("", ".fp-scene", plays=True, marks=True),
})  # fmt: skip


def play(engine):
    """Close the switch, and see the clock go on and the picture change."""
    engine.click("button", "Switch on")
    engine.wait_for("button", "Switch off")
    engine.until(NEXT_TICK)
    engine.until(NEXT_PICTURE)
    engine.until(NEXT_TICK)


def mark(engine):
    """Pick an answer and have it marked."""
    engine.click(".fp-question-card .fp-option input")
    engine.click("button", "Mark it")
    engine.until(
        "() => /^[01] of 1 mark/.test(document.querySelector('.fp-marks')?.textContent ?? '')"
    )


def expect_to_fit(engine):
    """See that nothing is wider than the window."""
    engine.until(f"() => !({SIDEWAYS})() && !({BEYOND})().length")


def use_on_a_laptop(engine, page):
    """Mark a question, choose from a menu and find it in the address, play."""
    if page.marks and not page.plays:
        mark(engine)
    if page.menu:
        engine.choose(page.menu, page.choice)
        engine.until(f"() => location.search.includes('{page.key}')")
    if page.plays:
        play(engine)
    expect_to_fit(engine)


def use_on_a_phone(engine, page):
    """Do the same there, where the menu may be behind a fold."""
    expect_to_fit(engine)
    if page.folded:
        engine.click("button", page.folded)
    if page.menu:
        engine.choose(page.menu, page.usual)
        engine.until(f"() => !location.search.includes('{page.key}')")
    if page.plays and page.menu:
        play(engine)
    if page.plays and page.marks:
        engine.click("a", "Questions")
        mark(engine)
    expect_to_fit(engine)


@pytest.mark.parametrize("name", PAGES_AND_FILE)
def test_a_page_works(engine, home, request, name):
    page = PAGES_AND_FILE[name]
    address = request.getfixturevalue("lesson_file") if name == "file" else home + page.path
    engine.begin()
    engine.goto(address, LAPTOP)
    engine.wait_for(page.ready)
    use_on_a_laptop(engine, page)
    engine.resize(PHONE)
    use_on_a_phone(engine, page)
    assert engine.foreign(home) == []
    assert engine.errors == []


def test_only_what_is_picked_looks_picked(engine, home):
    engine.goto(f"{home}revise{SET}", LAPTOP)
    engine.click(".fp-question-card .fp-option input")
    middle, ground = {}, {}
    dots = imread(BytesIO(engine.screenshot()))[..., :3].mean(axis=2)
    for place in engine.evaluate(INPUTS):
        x, y, picked = round(place["x"]), round(place["y"]), place["picked"]
        middle.setdefault(picked, []).append(dots[y - 1 : y + 2, x - 1 : x + 2].mean())
        ground.setdefault(picked, []).append(dots[y, x + place["beside"]])
    assert len(ground[True]) == 1
    assert len(ground[False]) >= 2
    assert max(ground[True]) < min(ground[False]) - 0.3  # the picked answer lies on a dark ground
    assert middle[False] == pytest.approx(ground[False], abs=0.1)


def test_a_page_is_left_without_a_complaint(engine, home):
    engine.begin()
    engine.goto(f"{home}demonstrate", LAPTOP)
    engine.wait_for(".fp-scene")
    engine.goto(home, LAPTOP)
    engine.wait_for("ul.pages a")
    assert engine.errors == []
