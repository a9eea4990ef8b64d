"""Time a change of a control to the first frame of the new cell, beside a bare slider's label.

    python tests/speed/compare_first_frame.py [changes] [--server ADDRESS]

In one browser, against one server: the concentration of the Demonstrate page is changed and the scene
of the new cell waited for; the switch is closed on cells of ever another strength and the run's first
frame waited for; and in a notebook that holds a slider and a label, the slider is moved and the label
waited for, with half a second between two acts. What is printed are the medians, the 95th percentiles
and their ratios.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from servers import page_at, stock_voila, write_notebook

PAUSE_MS = 500  # between two acts, as a person's hand needs at least
BARE = """
import ipywidgets
slider = ipywidgets.IntSlider(description="bare")
label = ipywidgets.Label()
slider.observe(lambda change: setattr(label, "value", str(change["new"])), names="value")
ipywidgets.VBox([slider, label])
"""
# milliseconds from an act to the first change inside a node, which the page makes after it has drawn
WATCH = """([act, node, deep]) => new Promise((done) => {
  const began = performance.now();
  const seen = new MutationObserver(() => {
    seen.disconnect();
    requestAnimationFrame(() => done(performance.now() - began));
  });
  seen.observe(document.querySelector(node), { subtree: deep, childList: true, characterData: deep });
  Function(act)();
})"""
TYPE = """
const field = [...document.querySelectorAll('.fp-field-concentration input')][0];
field.value = '%s';
field.dispatchEvent(new Event('input', { bubbles: true }));
field.dispatchEvent(new KeyboardEvent('keypress', { key: 'Enter', keyCode: 13, bubbles: true }));
field.dispatchEvent(new Event('change', { bubbles: true }));
"""
PRESS = "document.querySelector('.fp-switch').click();"
SLIDE = """
const handle = document.querySelector('.noUi-handle');
handle.dispatchEvent(new KeyboardEvent('keydown', { key: '%s', keyCode: 39, bubbles: true }));
"""


def tell(name, times_ms, bare_ms=None):
    """Print a line and return the 95th percentile."""
    high = float(np.percentile(times_ms, 95))
    beside = f", {high / bare_ms:.1f} times the bare slider's" if bare_ms else ""
    print(f"{name}: median {np.median(times_ms):.0f} ms, 95 % within {high:.0f} ms{beside}")
    return high


def bare_slider_ms(browser, changes):
    """Serve a notebook with a slider and a label, and time the label."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bare.ipynb"
        write_notebook(path, BARE)
        with stock_voila(path) as (_, address):
            page = browser.new_page()
            page.goto(address)
            page.locator(".noUi-handle").wait_for(timeout=60_000)
            act = SLIDE % "ArrowRight"
            times = []
            for _ in range(changes):
                page.wait_for_timeout(PAUSE_MS)
                times.append(page.evaluate(WATCH, [act, ".widget-vbox > :last-child", True]))
            assert page.locator(".widget-label:not([title=bare])").count()
            page.close()
    return times


def page_ms(browser, changes, server):
    """Time the changes of a strength, and the runs of ever another strength."""
    with page_at(server, "demonstrate") as address:
        page = browser.new_page(viewport={"width": 1920, "height": 1080})
        page.goto(address)
        page.get_by_role("article", name="Cathode").wait_for(timeout=60_000)
        changed, run = [], []
        for k in range(changes):
            act = TYPE % f"{0.3 + 0.01 * k:.2f}"
            page.wait_for_timeout(PAUSE_MS)
            changed.append(page.evaluate(WATCH, [act, ".fp-side-card-cathode", False]))
            page.wait_for_timeout(PAUSE_MS)
            run.append(page.evaluate(WATCH, [PRESS, ".fp-side-card-cathode", False]))
            page.get_by_role("button", name="Switch off").wait_for()
        page.close()
    return changed, run


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("changes", nargs="?", type=int, default=50)
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    with chromium() as browser:
        bare = tell("a bare slider's label", bare_slider_ms(browser, options.changes))
        changed, run = page_ms(browser, options.changes, options.server)
        tell("a control of the page to the new cell", changed, bare)
        tell("the switch to the run's first frame", run, bare)


if __name__ == "__main__":
    main()
