"""Count the presses of the large button that a solution takes in the lesson's five steps.

    python tests/speed/compare_presses.py [solutions]

Counted are the presses from a solution's question to the next one's, and apart from them those within the
explanation. Both are compared with their aims. Choosing and typing an answer are besides.
"""

from __future__ import annotations

import argparse
import re
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))

from chromium import chromium
from servers import page_at

AIM, AIM_OF_EXPLANATION = 6, 12
MANY = 40
ONWARD = re.compile(r"^(Next|All results)")


def presses_of(page):
    """Press until the next solution's question, or the end; return (presses, those of the explanation)."""
    button = page.get_by_role("button", name=ONWARD)
    step = page.locator(".fp-path [aria-current=step]")
    presses = explained = 0
    while presses + explained < MANY:
        text = button.inner_text()
        button.click()
        page.locator(".fp-next[aria-disabled=false]").wait_for()
        if text == "Next":
            explained += 1
            continue
        presses += 1
        if "Predict" in step.inner_text() or text.startswith("All results"):
            break
    return presses, explained


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("solutions", nargs="?", default="Na2SO4,NaCl,CuCl2,CuSO4")
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    solutions = options.solutions.split(",")
    with page_at(options.server, "demonstrate") as address, chromium() as browser:
        page = browser.new_page(viewport={"width": 1920, "height": 1080}, reduced_motion="reduce")
        page.goto(f"{address}?cells={';'.join(solutions)}")
        page.get_by_role("button", name=ONWARD).wait_for(timeout=60_000)
        for solution in solutions:
            presses, explained = presses_of(page)
            # the first sentence comes with the press that opens the explanation
            within = explained + 1
            print(
                f"{solution}: {presses} presses, ratio {presses / AIM:.2f} to the aim of {AIM}; "
                f"{within} in the explanation, ratio {within / AIM_OF_EXPLANATION:.2f} "
                f"to the aim of {AIM_OF_EXPLANATION}"
            )


if __name__ == "__main__":
    main()
