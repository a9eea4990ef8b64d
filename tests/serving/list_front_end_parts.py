"""Print the parts of Voila's front end that the pages ask for: what ``front_end_parts.txt`` holds.

    python tests/serving/list_front_end_parts.py > widgets/fizzplate/share/handlers/front_end_parts.txt

To be run for a new release of Voila. The command is started with nothing sent in front of the program, so
that the browser asks for each part by itself.
"""

from __future__ import annotations

import sys
from urllib.parse import urljoin, urlsplit

from chromium import chromium
from servers import fizzplate

from fizzplate.lesson.state import PAGES

STANDS_MS = 120_000
QUIET_MS = 3_000
BY_THEMSELVES = (
    "from fizzplate.share.handlers.files import FrontEnd;"
    "FrontEnd.before = staticmethod(lambda folder: []);"
    "from fizzplate.share.command import main;"
    "main()"
)


def asked_for(browser, address):
    """Open a page; return the names of the parts that it asks for."""
    names = set()
    page = browser.new_page()
    page.on("request", lambda request: names.add(urlsplit(request.url).path))
    page.goto(address, timeout=STANDS_MS)
    page.locator(".fp-page").first.wait_for(timeout=STANDS_MS)
    page.wait_for_timeout(QUIET_MS)  # a part may be asked for after the page stands
    page.close()
    return {name.rpartition("/")[2] for name in names if name.endswith(".voila.js")}


def main():
    parts = set()
    with (
        chromium() as browser,
        fizzplate(command=[sys.executable, "-c", BY_THEMSELVES]) as (_, address),
    ):
        for page in PAGES:
            parts |= asked_for(browser, urljoin(address, page))
    print("\n".join(sorted(parts)))


if __name__ == "__main__":
    main()
