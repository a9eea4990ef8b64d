"""Measure the labels in the picture: how high their letters are, and how much of them is covered.

    python tests/speed/compare_labels.py [frames] [--vessels beaker,...] [--widths 1920,...]
        [--solution CuSO4] [--indicator litmus]

For each vessel and width of the page the step Explain of a run is shown at so many times. What is printed
are the width of the picture, the type of the largest label and its cap height in CSS pixels, the angle of
that height (page 2 m wide, seen from 8 m) against the eye's limit of 5 minutes of arc, and the share of the
labels' area that something drawn later covers: its median, and what 95 % of the frames stay below.
"""

from __future__ import annotations

import argparse
import math
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from servers import page_at

#: height of the window by its width; a phone is held upright
WINDOWS = {1024: 768, 1366: 768, 1920: 1080, 3840: 2160, 360: 740}
VESSELS = {
    "beaker": "",
    "U-tube": ",in=U-tube,lamp=none",
    "dish": ",in=dish,lamp=none",
    "paper strip": ",in=paper strip,lamp=none",
}
PICTURE_M, AWAY_M = 2.0, 8.0
LIMIT_ARCMIN = 5.0  # of a person who sees well
WATCH = (Path(__file__).parent / "labels_drawn.js").read_text(encoding="utf-8")
AT = """timeS => {
  const ruler = document.querySelector('.fp-scrubber');
  ruler.value = timeS;
  ruler.dispatchEvent(new Event('input'));
  return labelsDrawn(document.querySelector('.fp-scene canvas'));
}"""
RUN_S = 300


def arc_minutes(height_px, page_px):
    """Return the angle of a height on a page that is so many pixels wide.

    Examples
    --------
    >>> round(arc_minutes(22, 1920), 1)
    9.8
    """
    return math.degrees(height_px / page_px * PICTURE_M / AWAY_M) * 60


def tell(vessel, width, seen):
    """Print a line of what was seen in the frames at one width."""
    first = seen[0]
    share = np.array([each["share"] for each in seen])
    angle = arc_minutes(first["cap"], width)
    afar = f", {angle:.1f} minutes of arc, ratio {angle / LIMIT_ARCMIN:.2f}" if width > 700 else ""
    print(
        f"{vessel}, page {width} px: picture {first['width']} px, {first['number']} labels, "
        f"type {first['type']:.1f} px, cap height {first['cap']:.1f} px{afar}; "
        f"covered {100 * np.median(share):.1f} %, "
        f"95 % of frames within {100 * np.percentile(share, 95):.1f} %"
    )


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("frames", nargs="?", type=int, default=60)
    chosen.add_argument("--vessels", default=",".join(VESSELS))
    chosen.add_argument("--widths", default=",".join(map(str, WINDOWS)))
    chosen.add_argument("--solution", default="CuSO4")
    chosen.add_argument("--indicator", help="whose pH is written in the picture, such as litmus")
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    times_s = np.linspace(RUN_S / 20, RUN_S, options.frames)
    with page_at(options.server, "demonstrate") as address, chromium() as browser:
        for vessel in options.vessels.split(","):
            page = browser.new_page(
                viewport={"width": 1920, "height": 1080}, reduced_motion="reduce"
            )
            page.add_init_script(WATCH)
            page.goto(f"{address}?cells={options.solution}{VESSELS[vessel].replace(' ', '%20')}")
            page.get_by_role("button", name="Switch on").first.click(timeout=60_000)
            page.get_by_role("button", name="Switch off").first.wait_for()
            page.get_by_role("button", name="Explain").first.click()
            if options.indicator:
                page.locator(".fp-indicator select").select_option(options.indicator, force=True)
            for width in map(int, options.widths.split(",")):
                page.set_viewport_size({"width": width, "height": WINDOWS[width]})
                page.wait_for_timeout(300)
                tell(vessel, width, [page.evaluate(AT, float(each)) for each in times_s])
            page.close()


if __name__ == "__main__":
    main()
