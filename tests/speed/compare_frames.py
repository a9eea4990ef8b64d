"""Time the scene's frames beside those of an empty canvas of the same size, in one browser.

    python tests/speed/compare_frames.py [seconds]

The script time of every animation frame is measured at 1920 x 1080 while a run plays; what is printed
are the median, the 99th percentile, how many frames were longer than a sixtieth of a second, and the
ratio of the means (a browser's clock is too coarse for the median of an empty frame).
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
from playwright.sync_api import sync_playwright

FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"]
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


def main(seconds):
    command = Path(sys.executable).with_name("fizzplate")
    process = subprocess.Popen(
        [command, "--no-browser", "--port", "0"], stdout=subprocess.PIPE, text=True
    )
    try:
        address = process.stdout.readline().strip()
        with sync_playwright() as playwright:
            path = shutil.which("chromium") or shutil.which("google-chrome")
            browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
            page = browser.new_page(viewport=SIZE)
            page.add_init_script(WATCH)
            page.goto(address)
            page.get_by_role("button", name="Switch on").click(timeout=60_000)
            page.get_by_role("button", name="Switch off").wait_for()
            page.get_by_label("Speed").select_option(label="×5")  # so that it plays throughout
            scene = tell("scene", frames_ms(page, seconds))
            page.goto(EMPTY)
            page.wait_for_timeout(500)
            empty = tell("empty canvas", frames_ms(page, seconds))
            print(f"ratio of the means: {scene / empty:.0f}")
            browser.close()
    finally:
        process.terminate()
        process.wait(timeout=30)
        process.stdout.close()


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 20.0)
