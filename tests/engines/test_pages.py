"""Every page in Firefox and WebKit, on a laptop and on a phone: it plays, remembers, marks and fits."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from tests.browser.visit import BEYOND, INPUTS, SIDEWAYS, only_what_is_picked_looks_picked
from tests.engines.engine import LAPTOP, PHONE
from tests.pages import for_every_page

SET = "?set=1&count=2&level=16"  # begins with a question whose answer is picked

# frames are drawn one after the other, and no two alike
NEXT_PICTURE = """(() => {
  const picture = () => document.querySelector('.fp-scene canvas').toDataURL();
  const before = picture();
  return () => picture() !== before;
})()"""
CLOCK = "document.querySelector('.fp-clock').textContent"
NEXT_TICK = f"(() => {{ const before = {CLOCK}; return () => {CLOCK} !== before; }})()"


@dataclass(frozen=True)
class Page:
    """What a page has: something to wait for, a menu that reaches its link, a question to mark, a run.

    Attributes
    ----------
    plays
        The sizes of the window in which its run is played.
    """

    path: str
    ready: str
    menu: str = ""
    choice: str = ""
    key: str = ""
    usual: str = ""
    folded: str = ""
    plays: tuple[tuple[int, int], ...] = ()
    marks: bool = False


VESSEL = {"menu": "Vessel", "choice": "U-tube", "key": "in=U-tube", "usual": "beaker"}
SALT = {
    "menu": "Solution",
    "choice": "potassium chloride KCl",
    "key": "cells=KCl",
    "usual": "sodium chloride NaCl",
}
PAGES_AND_FILE = for_every_page({
    "home": Page("", "ul.pages a"),
    "demonstrate": Page("demonstrate?ask=off", ".fp-scene", **VESSEL, folded="Set-up", plays=(LAPTOP, PHONE)),
    "explore": Page("explore", ".fp-scene", **SALT, folded="Set-up", plays=(PHONE,)),
    "measure": Page("measure", ".fp-grid", "Metal", "silver", "metal=Ag", "copper"),
    "prepare": Page("prepare?cells=NaCl", ".fp-sheet", **SALT, folded="Set-up"),
    "revise": Page(
        f"revise{SET}", ".fp-question-card", "Level", "14 to 16", "level=14", "16 to 18", "Set 1",
        marks=True,
    ),
    "file": Page("", ".fp-scene", plays=(LAPTOP,), marks=True),
})  # fmt: skip


def play(engine):
    """Close the switch, see the clock go on and the picture change, and let it stand again."""
    engine.click("button", "Switch on")
    engine.wait_for("button", "Switch off")
    engine.until(NEXT_TICK)
    engine.until(NEXT_PICTURE)
    engine.until(NEXT_TICK)
    engine.click("button", "Pause")  # what moves costs a whole processor


def pick(engine):
    """Pick an answer."""
    engine.click(".fp-question-card .fp-option input")


def mark(engine):
    """Have the answer marked."""
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
        pick(engine)
        only_what_is_picked_looks_picked(engine.evaluate(INPUTS), engine.screenshot())
        mark(engine)
    if page.menu:
        engine.choose(page.menu, page.choice)
        engine.until(f"() => location.search.includes('{page.key}')")
    if LAPTOP in page.plays:
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
    if PHONE in page.plays:
        play(engine)
    if page.plays and page.marks:
        engine.click("a", "Questions")
        pick(engine)
        mark(engine)
    expect_to_fit(engine)


@pytest.mark.parametrize("name", PAGES_AND_FILE)
def test_a_page_works_and_is_left_without_a_complaint(engine, home, request, name):
    page = PAGES_AND_FILE[name]
    address = request.getfixturevalue("lesson_file") if name == "file" else home + page.path
    engine.begin()
    engine.goto(address, LAPTOP)
    engine.wait_for(page.ready)
    use_on_a_laptop(engine, page)
    engine.resize(PHONE)
    use_on_a_phone(engine, page)
    if page.plays and page.menu:  # what moved has to end
        engine.goto(home, LAPTOP)
        engine.wait_for(PAGES_AND_FILE["home"].ready)
    assert engine.foreign(home) == []
    assert engine.errors == []
