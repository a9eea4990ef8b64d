"""Labels in the picture do not cover each other, whatever the vessel and the width of the page."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from tests.browser.visit import PROJECTOR, Visit

MAX_COVERED = 0.05  # of the labels' area, in 95 % of the frames
FRAMES = 16
RUN_S = 300.0
WATCH = Path(__file__).parents[1] / "speed" / "labels_drawn.js"
AT = """timeS => {
  const ruler = document.querySelector('.fp-scrubber');
  ruler.value = timeS;
  ruler.dispatchEvent(new Event('input'));
  return labelsDrawn(document.querySelector('.fp-scene canvas'));
}"""
SIZES = [(360, 740), (1366, 768), (1920, 1080)]
LEAST_CAP_SHARE = 22 / 1920  # of the page's width
LEAST_TYPE_PX = {360: 13, 1366: 24, 1920: 34}


@pytest.fixture(scope="module")
def visit(windows, demonstrate_address):
    visits = []

    def open_page(query):
        given = {"viewport": PROJECTOR, "reduced_motion": "reduce"}
        visits.append(
            Visit(
                windows,
                demonstrate_address + query,
                script=WATCH.read_text(encoding="utf-8"),
                **given,
            )
        )
        return visits[-1]

    yield open_page
    for each in visits:
        each.close()


def frames_at(seen, width, height):
    """Measure the labels in frames of the run at a size of the window."""
    seen.page.set_viewport_size({"width": width, "height": height})
    seen.page.wait_for_function(
        "() => { const it = document.querySelector('.fp-scene canvas');"
        " return Math.abs(it.width - it.clientWidth * devicePixelRatio) < 1; }"
    )
    return [seen.page.evaluate(AT, float(each)) for each in np.linspace(RUN_S / 20, RUN_S, FRAMES)]


@pytest.mark.parametrize("vessel", ["", ",in=U-tube", ",in=dish", ",in=paper strip"])
@pytest.mark.parametrize("solution", ["CuSO4", "NaCl"])
def test_labels_do_not_cover_each_other(visit, vessel, solution):
    lamp = ",lamp=none" if vessel else ""
    seen = visit(f"?cells={solution}{vessel.replace(' ', '%20')}{lamp}")
    seen.switch_on()
    seen.page.get_by_role("button", name="Explain").first.click()
    for width, height in SIZES:
        frames = frames_at(seen, width, height)
        covered = np.percentile([each["share"] for each in frames], 95)
        assert covered <= MAX_COVERED, f"{width} px: {covered:.3f}"
        least_px = min(each["type"] for each in frames)
        assert least_px >= LEAST_TYPE_PX[width], f"{width} px: {least_px:.1f}"
        assert all(each["number"] >= 6 for each in frames), "enough is left to be seen"


OUTSIDE = """() => [...document.querySelectorAll('.fp-scene canvas')].map(labelsDrawn)"""


@pytest.mark.parametrize(
    "cells",
    [
        "CuSO4,beside=Na2SO4",
        "NaCl,in=U-tube,lamp=none,beside=KI",
        "CuSO4,in=U-tube,lamp=none,beside=copper",
    ],
)
def test_in_two_pictures_labels_are_as_large_in_the_page_as_in_one(visit, cells):
    seen = visit(f"?cells={cells}")
    seen.switch_on()
    for step in ("Watch", "Explain"):
        seen.page.get_by_role("button", name=step).first.click()
        for width, height in ((1366, 768), (1920, 1080)):
            frames_at(seen, width, height)
            shares = []
            for at_s in np.linspace(RUN_S / 20, RUN_S, FRAMES):
                seen.page.evaluate(AT, float(at_s))
                both = seen.page.evaluate(OUTSIDE)
                assert len(both) == 2
                shares += [each["share"] for each in both]
                assert all(each["number"] >= 4 for each in both)
                assert all(each["cap"] >= LEAST_CAP_SHARE * width for each in both), (
                    step,
                    width,
                    both,
                )
                assert all(each["type"] >= LEAST_TYPE_PX[width] for each in both), (
                    step,
                    width,
                    both,
                )
            covered = np.percentile(shares, 95)
            assert covered <= MAX_COVERED, f"{step}, {width} px: {covered:.3f}"


@pytest.mark.parametrize(
    "cell",
    ["CuSO4,in=U-tube,lamp=none", "NaCl,in=dish,lamp=none", "NaCl", "CuCl2,in=dish,lamp=none"],
)
def test_what_is_written_about_the_acid_leaves_the_labels_free(visit, cell):
    seen = visit(f"?cells={cell}")
    seen.switch_on()
    seen.page.get_by_role("button", name="Explain").first.click()
    seen.page.locator(".fp-indicator select").select_option("universal", force=True)
    for width, height in SIZES:
        covered = np.percentile([each["share"] for each in frames_at(seen, width, height)], 95)
        assert covered <= MAX_COVERED, f"{width} px: {covered:.3f}"
