"""Time the marking of an answer in the page, beside the page's echo of a key.

    python tests/speed/compare_marking.py [questions] [--server ADDRESS]

In one browser, on one Revise page: a key is typed into an answer and the frame that shows it waited for;
then the answer is marked and the frame with its marks waited for, over questions of every kind. What is
printed are medians, 95th percentiles and the difference in frames of a 60 Hz screen.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from servers import page_at

FRAME_MS = 1000 / 60
TO_FRAME = """(act) => new Promise((done) => {
  const began = performance.now();
  Function(act)();
  requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - began)));
})"""
CARD = "document.querySelector('.fp-question-card')"
ECHO = f"""
const field = {CARD}.querySelector('input, textarea');
if (field.type === 'radio' || field.type === 'checkbox') field.click();
else {{ field.value += '4'; field.dispatchEvent(new Event('input', {{ bubbles: true }})); }}
"""
MARK = f"[...{CARD}.querySelectorAll('button')].find((each) => each.textContent === 'Mark it').click();"


def tell(name, times_ms):
    """Print a line; return the 95th percentile."""
    high = float(np.percentile(times_ms, 95))
    print(f"{name}: median {np.median(times_ms):.1f} ms, 95 % within {high:.1f} ms")
    return high


def main():
    """Open the page and time both."""
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("questions", nargs="?", type=int, default=60)
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    count = options.questions
    with page_at(options.server, "revise") as address, chromium() as browser:
        page = browser.new_page(viewport={"width": 1920, "height": 1080})
        page.goto(f"{address}?set=9&count={count}")
        page.get_by_role("heading", name=f"Question 1 of {count}").wait_for(timeout=60_000)
        echoes, marks = [], []
        for k in range(count):
            echoes.append(page.evaluate(TO_FRAME, ECHO))
            marks.append(page.evaluate(TO_FRAME, MARK))
            if k < count - 1:
                page.get_by_role("button", name="Next question").click()
    echo = tell("a key shown in its field", echoes)
    mark = tell("an answer marked", marks)
    print(
        f"difference: {(mark - echo) / FRAME_MS:.1f} frames (aim: within 1), ratio {mark / echo:.2f}"
    )


if __name__ == "__main__":
    main()
