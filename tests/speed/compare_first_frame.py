"""Time a change of a control to the first frame of the new cell, beside a bare slider's label.

    python tests/speed/compare_first_frame.py [changes] [--server ADDRESS]

In one browser, against one server: the concentration of the Demonstrate page is changed and the scene
of the new cell waited for; the switch is closed on cells of ever another strength and the run's first
frame waited for; and in a notebook that holds a slider and a label, the slider is moved and the label
waited for, with half a second between two acts. What is printed are the medians, the 95th percentiles
and their ratios, and how long page, server and the page's program worked and waited for a processor: what
waits long was measured while something else was running.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urljoin

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from processor_waits import Times, main_threads, wait_until_idle
from servers import fizzplate, stock_voila, write_notebook

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


@contextmanager
def page_at(server):
    """Give the page's address: at a server that runs, or at a new one that has done its work ahead."""
    if server:
        yield urljoin(server, "demonstrate")
        return
    with fizzplate(page="demonstrate") as (process, address):
        wait_until_idle(process.pid)
        yield address


def page_ms(browser, changes, server):
    """Time the changes of a strength, and the runs of ever another strength; each with what was waited."""
    with page_at(server) as address:
        page = browser.new_page(viewport={"width": 1920, "height": 1080})
        page.goto(address)
        page.get_by_role("article", name="Cathode").wait_for(timeout=60_000)
        threads = main_threads()

        def timed(act):
            page.wait_for_timeout(PAUSE_MS)
            before = Times.of(threads)
            took_ms = page.evaluate(WATCH, [act, ".fp-side-card-cathode", False])
            return took_ms, Times.of(threads).since(before)

        changed, run = [], []
        for k in range(changes):
            changed.append(timed(TYPE % f"{0.3 + 0.01 * k:.2f}"))
            run.append(timed(PRESS))
            page.get_by_role("button", name="Switch off").wait_for()
        page.close()
    return changed, run


def tell_page(name, timed, bare_ms):
    """Print the times, and what page, server and program did in them."""
    tell(name, [took_ms for took_ms, _ in timed], bare_ms)
    slowest = sorted(timed, key=lambda each: each[0])[-max(1, len(timed) // 10) :]
    for which, some in (("all", timed), ("the slowest tenth", slowest)):
        worked, waited = (
            np.median([getattr(times, part) for _, times in some])
            for part in ("worked_ms", "waited_ms")
        )
        print(f"  {which}: worked {worked:.0f} ms, waited {waited:.0f} ms for a processor")


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("changes", nargs="?", type=int, default=50)
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    with chromium() as browser:
        bare = tell("a bare slider's label", bare_slider_ms(browser, options.changes))
        changed, run = page_ms(browser, options.changes, options.server)
        tell_page("a control of the page to the new cell", changed, bare)
        tell_page("the switch to the run's first frame", run, bare)


if __name__ == "__main__":
    main()
