"""Time the scene's frames beside those of an empty canvas of the same size, in one browser.

    python tests/speed/compare_frames.py [seconds [minutes]] [--server ADDRESS]

The script time of every animation frame is measured at 1920 x 1080 while a run plays, with the usual
ions and with as many as are drawn at most; what is printed are the median, the 99th percentile, how many
frames were longer than a sixtieth of a second, and the ratio of the means (a browser's clock is too
coarse for the median of an empty frame). With minutes, the run is played over and over for so long, and
the page's heap at the end is printed beside that at the beginning.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from servers import page_at

SIZE = {"width": 1920, "height": 1080}
SIXTIETH_MS = 1000 / 60
# every callback of an animation frame is timed; those of one frame have the same time
WATCH = """
window.frameTimes = new Map();
const ask = window.requestAnimationFrame.bind(window);
window.requestAnimationFrame = (callback) => ask((now) => {
  const before = performance.now();
  callback(now);
  const took = performance.now() - before;
  window.frameTimes.set(now, (window.frameTimes.get(now) ?? 0) + took);
});
"""
EMPTY = """data:text/html,<canvas style="width:1022px;height:574px"></canvas><script>
const canvas = document.querySelector("canvas");
canvas.width = 1022; canvas.height = 574;
const pen = canvas.getContext("2d");
const draw = () => { pen.clearRect(0, 0, canvas.width, canvas.height); requestAnimationFrame(draw); };
draw();
</script>
"""


def frames_ms(page, seconds):
    """Return the script time of the frames of some seconds."""
    page.evaluate("window.frameTimes.clear()")
    page.wait_for_timeout(1000 * seconds)
    return np.array(page.evaluate("[...window.frameTimes.values()]"))


def tell(name, times_ms):
    """Print a line and return the mean."""
    median, high = np.median(times_ms), np.percentile(times_ms, 99)
    long = float((times_ms > SIXTIETH_MS).mean())
    print(
        f"{name}: {times_ms.size} frames, median {median:.2f} ms, 99 % within {high:.2f} ms, "
        f"{100 * long:.2f} % longer than a sixtieth of a second"
    )
    return float(times_ms.mean())


def heap_MB(inspector):
    """Return what the page's scripts hold after a collection."""
    inspector.send("HeapProfiler.collectGarbage")
    found = inspector.send("Performance.getMetrics")["metrics"]
    return next(each["value"] for each in found if each["name"] == "JSHeapUsedSize") / 1e6


def watch_heap(page, minutes):
    """Play over and over, and print how the heap has grown."""
    inspector = page.context.new_cdp_session(page)
    inspector.send("Performance.enable")
    page.evaluate(
        "window.frameTimes = { get: () => 0, set() {}, clear() {} }"
    )  # the watch itself grows
    page.wait_for_timeout(10_000)
    first = heap_MB(inspector)
    for _ in range(round(2 * minutes)):
        page.get_by_role("button", name="Restart").click()
        page.wait_for_timeout(30_000)
    last = heap_MB(inspector)
    print(
        f"heap after {minutes:g} minutes: {last:.2f} MB, {first:.2f} MB at first, {last / first:.3f} times"
    )


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("seconds", nargs="?", type=float, default=20.0)
    chosen.add_argument("minutes", nargs="?", type=float, default=0.0)
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    with page_at(options.server, "demonstrate") as address, chromium() as browser:
        page = browser.new_page(viewport=SIZE)
        page.add_init_script(WATCH)
        page.goto(f"{address}?ask=off")  # with all controls
        page.get_by_role("button", name="Switch on").click(timeout=60_000)
        page.get_by_role("button", name="Switch off").wait_for()
        page.get_by_label("Speed").select_option(label="×5")  # so that it plays throughout
        scene = tell("scene", frames_ms(page, options.seconds))
        page.get_by_role("button", name="Restart").click()
        page.get_by_label("Particles").select_option(label="more ions, smaller")
        many = tell("scene with most ions", frames_ms(page, options.seconds))
        if options.minutes:
            watch_heap(page, options.minutes)
        page.goto(EMPTY)
        page.wait_for_timeout(500)
        empty = tell("empty canvas", frames_ms(page, options.seconds))
        print(f"ratios of the means: {scene / empty:.1f}, {many / empty:.1f}")


if __name__ == "__main__":
    main()
