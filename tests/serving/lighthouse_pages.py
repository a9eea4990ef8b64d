"""Have Lighthouse judge each page, and those of a site of files: on a desk, without windows.

    python tests/serving/lighthouse_pages.py [page ...] [--runs 3] [--server ADDRESS] [--site FOLDER]

Lighthouse is npm's (`npm ci` in `tests/javascript`), the browser the system's Chromium. Each page is opened
once before it is judged, because a server works pages out as it starts. Scores go from 0 to 1; the
largest paint and what blocks the page are what its desktop preset calculates for a line of 10 Mbit/s,
and blocking grows with whatever else the computer does: "index" is Lighthouse's own measure of how fast
it was meanwhile. Each figure is the median of the runs. With `--site` only the folder's pages are judged,
served as plain files.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import urllib.request
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median

from chromium import BROWSERS, FLAGS
from servers import ROOT, page_at

from fizzplate.lesson.state import PAGES

JAVASCRIPT = Path(os.environ.get("FIZZPLATE_JAVASCRIPT", ROOT / "tests" / "javascript"))
LIGHTHOUSE = JAVASCRIPT / "node_modules" / "lighthouse" / "cli" / "index.js"
CATEGORIES = ("performance", "accessibility", "best-practices")
TIMES = {
    "largest paint": "largest-contentful-paint",
    "blocked": "total-blocking-time",
    "shift": "cumulative-layout-shift",
}
AT_LEAST = {"performance": 0.8, "accessibility": 1.0, "best-practices": 1.0}
AT_MOST = {"largest paint": 1500, "blocked": 200, "shift": 0.1}
OF_A_SITE = {"performance": 0.95}


def judge(address):
    """Return the figures of one run, and the names of what its checks found wrong."""
    browser = next(filter(None, map(shutil.which, BROWSERS)))
    with tempfile.TemporaryDirectory(prefix="lighthouse-") as folder:
        report = Path(folder, "report.json")
        told = subprocess.run(
            [
                *("node", str(LIGHTHOUSE), address, "--preset=desktop", "--quiet", "--output=json"),
                *(f"--output-path={report}", f"--only-categories={','.join(CATEGORIES)}"),
                f"--chrome-flags={' '.join(FLAGS)}",
            ],
            env={**os.environ, "CHROME_PATH": browser},
            capture_output=True,
            text=True,
            check=False,
        )
        if not report.is_file():
            raise RuntimeError(f"Lighthouse wrote no report, but: {told.stdout}{told.stderr}")
        found = json.loads(report.read_text("utf-8"))
    audits = found["audits"]
    figures = {name: found["categories"][name]["score"] for name in CATEGORIES}
    figures |= {name: audits[key]["numericValue"] for name, key in TIMES.items()}
    figures["index"] = found["environment"]["benchmarkIndex"]
    wrong = {
        each["id"]
        for name in ("accessibility", "best-practices")
        for each in found["categories"][name]["auditRefs"]
        if each["weight"] and audits[each["id"]]["score"] == 0
    }
    return figures, wrong


def judged(name, address, runs):
    """Judge a page several times; print its medians and return them with what was found wrong."""
    with urllib.request.build_opener().open(address, timeout=120) as answer:
        answer.read()
    made = [judge(address) for _ in range(runs)]
    middle = {key: median(figures[key] for figures, _ in made) for key in made[0][0]}
    wrong = set().union(*(each for _, each in made))
    print(
        f"{name:20}{middle['performance']:12.2f}{middle['accessibility']:15.2f}"
        f"{middle['best-practices']:16.2f}{middle['largest paint'] / 1000:17.2f}"
        f"{middle['blocked']:13.0f}{middle['shift']:8.3f}{middle['index']:8.0f}",
        flush=True,
    )
    return middle, wrong


def misses(name, figures, wrong, aims):
    """Say what is outside its aim."""
    below = [key for key, least in aims.items() if figures[key] < least]
    above = [key for key, most in AT_MOST.items() if figures[key] > most]
    said = [f"{name}: {key} {figures[key]:.3g}" for key in below + above]
    return said + [f"{name}: {each}" for each in sorted(wrong)]


class Quiet(SimpleHTTPRequestHandler):
    """A plain server of files that does not tell the terminal who asked."""

    def log_message(self, *_):
        """Say nothing."""


@contextmanager
def plain_files(folder):
    """Serve a folder as any web space would; give its address."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder)) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("pages", nargs="*", metavar="page")
    chosen.add_argument("--runs", type=int, default=3)
    chosen.add_argument("--server", help="one that runs already")
    chosen.add_argument("--site", type=Path, help="a folder that `fizzplate site` wrote")
    options = chosen.parse_args()
    heads = ("performance", "accessibility", "good practice", "largest paint, s", "blocked, ms")
    print("{:20}{:>12}{:>15}{:>16}{:>17}{:>13}{:>8}{:>8}".format("page", *heads, "shift", "index"))
    missed = []
    if options.site:
        pages = options.pages or sorted(at.stem for at in options.site.glob("*.html"))
        if not pages:
            chosen.error(f"{options.site} holds no page: give a folder that `fizzplate site` wrote")
        with plain_files(options.site) as address:
            for page in pages:
                figures = judged(f"site, {page}", f"{address}{page}.html", options.runs)
                missed += misses(f"site, {page}", *figures, AT_LEAST | OF_A_SITE)
    else:
        for page in options.pages or PAGES:
            with page_at(options.server, page) as address:
                missed += misses(page, *judged(page, address, options.runs), AT_LEAST)
    print("\n".join(f"misses its aim: {miss}" for miss in missed) or "all within their aims")


if __name__ == "__main__":
    if not LIGHTHOUSE.is_file():
        sys.exit(f"Lighthouse is missing: run npm ci in {JAVASCRIPT}")
    main()
