"""A paused picture is the same picture at every size, and a still is one of a moving picture's."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect
from tests.browser.visit import PROJECTOR, RECORD_DRAWING, Visit

DRAWN = "() => lastDrawn(document.querySelector('.fp-scene canvas'))"
SEEK = """timeS => {
  const ruler = document.querySelector('.fp-scrubber');
  ruler.value = timeS;
  ruler.dispatchEvent(new Event('input'));
}"""
SIZE = """() => {
  const canvas = document.querySelector('.fp-scene canvas');
  return [canvas.clientWidth, canvas.clientHeight];
}"""


@pytest.fixture
def visit(windows, demonstrate_address):
    visits = []

    def open_page(query, **context):
        visits.append(Visit(windows, demonstrate_address + query, viewport=PROJECTOR, **context))
        visits[-1].page.evaluate(RECORD_DRAWING)
        return visits[-1]

    yield open_page
    for each in visits:
        each.close()


def in_order(marks):
    """Give the order from the surface down, at either electrode, in which marks of a kind stand."""
    return [
        sorted(range(len(marks)), key=lambda k: (marks[k]["side"] != side, round(marks[k]["y"], 3)))
        for side in (0, 1)
    ]


def same_picture(now, before, parts=("bubbles", "products", "electrons")):
    """Compare what is drawn at two sizes: how many of each, where from above to below, how thick."""
    for part in parts:
        assert [each["side"] for each in now[part]] == [each["side"] for each in before[part]], part
        assert in_order(now[part]) == in_order(before[part]), part
    assert now["layers"] == pytest.approx(before["layers"], rel=0.03)


def test_a_time_of_the_run_has_one_picture_whatever_is_opened_or_enlarged_round_it(visit):
    seen = visit("?cells=CuSO4&ask=off")
    page = seen.page
    clock = page.get_by_role("status", name="Clock")
    seen.switch_on()
    page.wait_for_function(  # copper, bubbles, and something that is just being made
        """() => {
          const { bubbles, products, electrons } = lastDrawn(document.querySelector('.fp-scene canvas'));
          const clock = document.querySelector('.fp-clock').textContent;
          if (!/min/.test(clock) || bubbles.length < 5 || !(products.length + electrons.length)) return false;
          document.querySelector('.fp-play').click();
          return true;
        }"""
    )
    expect(seen.button("Play")).to_be_visible()
    at, size, first, picture = (
        clock.inner_text(),
        page.evaluate(SIZE),
        page.evaluate(DRAWN),
        seen.picture(),
    )
    assert first["layers"]

    def compare(*, resized):
        page.wait_for_function(
            f"size => ({SIZE})().some((px, k) => px !== size[k]) === {str(resized).lower()}",
            arg=size,
        )
        same_picture(page.evaluate(DRAWN), first)
        assert clock.inner_text() == at

    for width, height in ((1366, 768), (1500, 1000), (390, 800)):
        page.set_viewport_size({"width": width, "height": height})
        compare(resized=True)
    page.set_viewport_size(PROJECTOR)
    compare(resized=False)
    assert seen.picture() == picture
    projector = page.get_by_role("switch", name="Projector size")
    projector.click()
    expect(projector).to_be_checked()
    same_picture(page.evaluate(DRAWN), first)
    projector.click()
    seen.button("Full screen").click()
    compare(resized=True)
    page.keyboard.press("Escape")
    page.evaluate("() => document.fullscreenElement && document.exitFullscreen()")
    compare(resized=False)
    for panel in ("Explain", "Test the gas", "Results table", "Charts"):
        page.get_by_role("tab", name=panel).click()
        same_picture(page.evaluate(DRAWN), first)
    page.get_by_role("switch", name="All charts").click()
    page.get_by_role("switch", name="All charts").click()
    page.wait_for_function(f"size => ({SIZE})().every((px, k) => px === size[k])", arg=size)
    assert seen.picture() == picture
    page.evaluate(SEEK, 150)
    first, picture = page.evaluate(DRAWN), seen.picture()
    assert len(first["bubbles"]) > 3
    for other in (0, 300, 120):
        page.evaluate(SEEK, other)
        assert seen.picture() != picture
        page.evaluate(SEEK, 150)
        assert page.evaluate(DRAWN) == first
        assert seen.picture() == picture
    assert seen.errors == []


def test_a_still_answers_what_is_seen(visit):
    moving, still = visit("?cells=CuSO4&ask=off"), visit("?cells=CuSO4", reduced_motion="reduce")
    still.all_controls()
    moving.switch_on()
    moving.button("Pause").click()
    still.switch_on()
    expect(still.page.get_by_text("What do you see").first).to_be_visible()
    for time_s in (150, 60, 240):
        for each in (moving, still):
            each.page.evaluate(SEEK, time_s)
        drawn = still.page.evaluate(DRAWN)
        assert len(drawn["bubbles"]) > 3
        assert drawn["layers"][0] > 1  # copper, wider than the rod
        assert drawn["products"] == drawn["electrons"] == []  # not before it is explained
        same_picture(drawn, moving.page.evaluate(DRAWN), ("bubbles",))
    before = still.picture()
    still.page.get_by_role("slider", name="Time in the run").press("Home")
    still.picture_changes(before)
