"""A real command and a real browser."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from contextlib import ExitStack, contextmanager
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import pytest
from playwright.sync_api import expect
from tests.browser.class_phones import SOCKETS
from tests.browser.visit import (
    LOADING_MS,
    PHONE,
    PROJECTOR,
    WATCH_THE_PEN,
    Visit,
    is_foreign,
    visits,
)
from tests.browser.windows import Windows
from tests.playwright_driver import playwright_driver

from fizzplate.share.forking.warming import ONLY
from fizzplate.share.takeaway import take_away_page

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
#: Chromium without its own windows, which takes a third less of the processor
WINDOWLESS = "chromium-headless-shell"
CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--process-per-site",  # what a page has compiled is there for the next in the same window
    # pages of the browser's own that each window would load: a fifth of what opening ours takes
    "--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup",
]
PATIENCE_MS = 20_000  # a page may answer late on a machine that does other work too
LIST = "v=1&cells=NaCl;CuSO4"  # of the page to take away
SET = "set=4&count=4&topics=half-equations"
HOW_TO_INSTALL = (
    "The browser tests need Chromium, and none was found on the path. "
    "On Debian and Ubuntu install it with: apt-get install chromium"
)


@contextmanager
def served(*options, command=None, **environment):
    """Start the command as a user does, or another; give the process and the address that it prints."""
    ours = Path(sys.executable).with_name("fizzplate")
    process = subprocess.Popen(
        command or [ours, "--no-browser", "--port", "0", *(options or ("--page", "demonstrate"))],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, **environment},
    )
    try:
        address = process.stdout.readline().strip()
        if not address.startswith("http://127.0.0.1:"):
            pytest.fail(f"the command printed no address, but {address!r}")
        yield process, address
    finally:
        process.terminate()
        process.wait(timeout=30)
        process.stdout.close()


def served_for_one_test(*options, **more):
    """Start a server of which a test asks one page: the others are not worked out ahead."""
    return served(*options, **more, **{ONLY: "demonstrate"})


@pytest.fixture(scope="session")
def address_of():
    """Serve the pages for all tests; give the address of one by its name."""
    with served() as (_, address):
        yield lambda name: urljoin(address, name)


@pytest.fixture(scope="session")
def demonstrate_address(address_of):
    return address_of("demonstrate")


@pytest.fixture(scope="session")
def file(tmp_path_factory):
    """A page to take away, as a file; the last cell of its list is not the one that it opens on."""
    path = tmp_path_factory.mktemp("stick") / "lesson.html"
    path.write_text(take_away_page(LIST, set_query=SET, workers=2), encoding="utf-8")
    return path


def chromium_path(*, windowless=False):
    """Find the system's Chromium; if it may be the one without windows, that where there is one."""
    path = next(filter(None, map(shutil.which, [WINDOWLESS] * windowless + [*BROWSERS])), None)
    if path is None:
        pytest.fail(HOW_TO_INSTALL)
    return path


@pytest.fixture(scope="session")
def browser():
    """Start the system's Chromium."""
    path = chromium_path(windowless=True)
    expect.set_options(timeout=PATIENCE_MS)
    started = playwright_driver().chromium.launch(executable_path=path, args=CHROMIUM_FLAGS)
    yield started
    started.close()


@pytest.fixture(scope="session")
def windows(browser):
    """Give the windows that tests share, one after the other."""
    return Windows(browser)


@pytest.fixture
def visit(windows, demonstrate_address):
    """Open Demonstrate; what is written on its picture is kept."""
    with visits(windows, demonstrate_address, script=WATCH_THE_PEN) as open_page:
        yield open_page


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    """Add to what is said of a failed test what stood on its pages."""
    report = yield
    if report.failed and call.when == "call" and "windows" in item.funcargs:
        report.sections.append(("what stood on the pages", item.funcargs["windows"].shown()))
    return report


@pytest.fixture
def open_at(windows):
    """Open addresses in windows that tests share, and take the pages back; none may ask another host.

    No picture moves, unless that is asked for: it costs more than all the rest of a page.
    """
    foreign = []
    with ExitStack() as stack:

        def open_page(address, **options):
            page = windows.lend(**{"viewport": PROJECTOR, "reduced_motion": "reduce", **options})
            stack.callback(windows.take_back, page)
            page.complaints = complaints = []
            complain = lambda error: complaints.append(str(error))  # noqa: E731
            hear = lambda said: said.type == "error" and complaints.append(said.text)  # noqa: E731
            host = urlsplit(address).netloc
            notice = lambda asked: is_foreign(asked.url, host) and foreign.append(asked.url)  # noqa: E731
            for event, listener in (
                ("pageerror", complain),
                ("console", hear),
                ("request", notice),
            ):
                page.on(event, listener)
                stack.callback(page.remove_listener, event, listener)
            page.goto(address, timeout=LOADING_MS)
            return page

        yield open_page
    assert foreign == []


@pytest.fixture
def revise(open_at, address_of):
    """Open Revise with the query of a link, and wait for its first question or for another heading."""

    def open_page(query="", heading="", **options):
        count = re.search(r"count=(\d{1,2})(&|$)", query)
        page = open_at(address_of("revise") + query, **options)
        if heading is not None:
            heading = heading or f"Question 1 of {count[1] if count else 10}"
            page.get_by_role("heading", name=heading).wait_for(timeout=LOADING_MS)
        return page

    return open_page


@pytest.fixture
def lesson(windows, demonstrate_address):
    seen = Visit(
        windows,
        f"{demonstrate_address}?cells=NaCl;CuSO4",
        viewport=PROJECTOR,
        reduced_motion="reduce",
        script=WATCH_THE_PEN,
    )
    yield seen
    again = seen.page.get_by_role("button", name="Show the code")
    if again.is_visible():  # at any step
        again.click()
        seen.page.get_by_role("dialog").get_by_role("button", name="Close the room").click()
        expect(seen.page.get_by_role("button", name="Ask the class")).to_be_visible()
    seen.close()


@pytest.fixture
def phones(browser):
    """Windows of their own: a phone keeps its mark."""
    opened = []

    def open_phone(link, **options):
        context = browser.new_context(viewport=PHONE, **options)
        context.add_init_script(SOCKETS)
        page = context.new_page()
        page.complaints = []
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.on("console", lambda m: m.type == "error" and page.complaints.append(m.text))
        page.asked = []
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("websocket", lambda socket: page.asked.append(socket.url))
        page.goto(link)
        opened.append(context)
        return page

    yield open_phone
    for context in opened:
        context.close()
