"""Open each page over a slow line, beside stock Voila with one label, and time until it can be used.

    python tests/serving/compare_slow_lines.py [page ...] [--kbit-per-s 400] [--round-trip-s 0.4]

The line stands between Chromium and the server and holds back all that passes, websockets included: so
many bits a second each way, shared by all connections. A page can be used when its widgets are there and one
of its buttons can be pressed; the label, when it can be read.
"""

from __future__ import annotations

import argparse
import time

from chromium import chromium
from servers import page_at, stock_voila
from slow_line import slow_line

from fizzplate.lesson.state import PAGES

STANDS_MS = 600_000
AIM_S = 40  # at 400 kbit/s and 0.4 s
BUTTON = ".fp-page button:visible"
LABEL = ".widget-label:visible"


def usable_after_s(browser, address, options, sign):
    """Open a page in a browser that has never been there; return the seconds until a sign of it is seen."""
    with slow_line(address, options.kbit_per_s, options.round_trip_s) as slow:
        context = browser.new_context()
        page = context.new_page()
        begun = time.perf_counter()
        page.goto(slow, timeout=STANDS_MS, wait_until="commit")
        page.locator(sign).first.wait_for(timeout=STANDS_MS)
        took_s = time.perf_counter() - begun
        context.close()
    return took_s


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("pages", nargs="*", metavar="page", default=PAGES)
    chosen.add_argument("--kbit-per-s", type=float, default=400)
    chosen.add_argument("--round-trip-s", type=float, default=0.4)
    chosen.add_argument("--server", help="one that runs already")
    options = chosen.parse_args()
    with chromium() as browser:
        with stock_voila() as (_, address):
            label_s = usable_after_s(browser, address, options, LABEL)
        print(f"{'stock Voila, one label':24}{label_s:8.1f} s")
        for page in options.pages:
            with page_at(options.server, page) as address:
                took_s = usable_after_s(browser, address, options, BUTTON)
            print(f"{page:24}{took_s:8.1f} s, ratio {took_s / label_s:.2f}", flush=True)
    print(f"aimed at: {AIM_S} s at 400 kbit/s with 0.4 s there and back")


if __name__ == "__main__":
    main()
