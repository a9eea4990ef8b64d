"""A browser as the checks see it: it opens addresses, presses buttons, and tells what went wrong."""

from __future__ import annotations

import json
import shutil
import subprocess
import time
from abc import ABC, abstractmethod
from contextlib import contextmanager, suppress
from urllib.parse import urlsplit

import psutil
import pytest

PATIENCE_MS = (
    60_000  # a kernel starts while the page waits for it, on a machine that does other work too
)
ENDING_S = 20
LAPTOP = (1366, 768)
PHONE = (360, 740)

# calls in the page give text, so that every engine hands back the same values
CALL = (
    "Promise.resolve(({function})(...{arguments})).then((value) => JSON.stringify(value ?? null))"
)

UNTIL = """(patience) => new Promise((settle) => {
  const holds = %s;
  const started = Date.now();
  (function again() {
    const met = Boolean(holds());
    if (met || Date.now() - started > patience) settle(met);
    else setTimeout(again, 30);
  })();
})"""

# in sight, and called by these words to begin with
FIND = """(css, words) => {
  const labels = (node) => [...(node.labels ?? [])].map((label) => label.textContent);
  const names = (node) => [node.getAttribute('aria-label'), node.textContent, ...labels(node)];
  const named = (node) => names(node).some((name) => name?.replace(/\\s+/g, ' ').trim().startsWith(words));
  const shown = { visibilityProperty: true, checkVisibilityCSS: true };
  const usable = (node) => node.checkVisibility(shown) && !node.disabled;
  return [...document.querySelectorAll(css)].find((node) => usable(node) && named(node));
}"""

# where it would be pressed, and what else lies there
PLACE = f"""(css, words) => {{
  const node = ({FIND})(css, words);
  node.scrollIntoView({{ block: 'center', inline: 'center', behavior: 'instant' }});
  const {{ left, top, width, height }} = node.getBoundingClientRect();
  const [x, y] = [left + width / 2, top + height / 2];
  const above = document.elementFromPoint(x, y);
  const meant = [node, ...(node.labels ?? [])].some((each) => each.contains(above));
  return {{ x, y, under: meant ? null : above?.outerHTML.slice(0, 120) ?? 'the edge of the window' }};
}}"""

CHOOSE = f"""(menu, words) => {{
  const select = ({FIND})('select', menu);
  const option = [...select.options].find((each) => each.textContent.replace(/\\s+/g, ' ') === words);
  select.value = option.value;
  select.dispatchEvent(new Event('change', {{ bubbles: true }}));
}}"""


class Engine(ABC):
    """One browser with one page; what it complains of and asks for is collected from its first moment."""

    def __init__(self):
        self.errors: list[str] = []
        self.requested_urls: list[str] = []

    def begin(self):
        """Forget what was collected: another check begins."""
        self.errors.clear()
        self.requested_urls.clear()

    @abstractmethod
    def goto(self, address, size):
        """Open an address in a window of so many pixels, and wait until it is loaded."""

    @abstractmethod
    def resize(self, size):
        """Make the window that is open larger or smaller."""

    @abstractmethod
    def press(self, x, y):
        """Press at a point of the window."""

    @abstractmethod
    def screenshot(self):
        """Return the window's pixels as a PNG."""

    @abstractmethod
    def _evaluate(self, expression):
        """Return the text that an expression promises."""

    def evaluate(self, function, *arguments):
        """Call a function in the page."""
        text = self._evaluate(CALL.format(function=function, arguments=json.dumps(arguments)))
        return json.loads(text)

    def until(self, function):
        """Wait until a function of no arguments gives something true in the page."""
        met = self.evaluate(UNTIL % function, PATIENCE_MS)
        assert met, f"not so after {PATIENCE_MS / 1000:.0f} s: {function}"

    def wait_for(self, css, words=""):
        """Wait for something to be in sight."""
        self.until(f"() => ({FIND})(...{json.dumps([css, words])})")

    def click(self, css, words=""):
        """Press the first thing in sight that a selector finds and that is called so."""
        self.wait_for(css, words)
        place = self.evaluate(PLACE, css, words)
        assert not place["under"], f"{words or css} lies under {place['under']}"
        self.press(place["x"], place["y"])

    def choose(self, menu, words):
        """Choose from a menu."""
        self.wait_for("select", menu)
        self.evaluate(CHOOSE, menu, words)

    def foreign(self, address):
        """Name what was asked of others than an address's own host."""
        own = urlsplit(address).netloc
        parts = [(url, urlsplit(url)) for url in self.requested_urls]
        return [
            url
            for url, part in parts
            if part.scheme in {"http", "https", "ws", "wss"} and part.netloc != own
        ]


def program(name, package):
    """Find a program; where there is none, say how to get it."""
    path = shutil.which(name)
    if path is None:
        pytest.fail(
            f"The tests of Firefox and WebKit need {name}, and none was found. "
            f"On Debian and Ubuntu install it with: apt-get install {package}"
        )
    return path


@contextmanager
def running(command, **options):
    """Run a program, and end it and whatever it started, each by its own number."""
    process = subprocess.Popen(command, **options)
    try:
        yield process
    finally:
        alive = process.poll() is None
        started = psutil.Process(process.pid).children(recursive=True) if alive else []
        process.terminate()
        process.wait(timeout=ENDING_S)
        _, left = psutil.wait_procs(started, timeout=ENDING_S)
        for each in left:
            each.kill()


def awaited(look, process, what):
    """Look until a program that was started shows something."""
    ends = time.monotonic() + PATIENCE_MS / 1000
    while not (found := look()):
        assert time.monotonic() < ends, f"no {what} after {PATIENCE_MS / 1000:.0f} s"
        with suppress(subprocess.TimeoutExpired):
            ended = process.wait(timeout=0.05)
            pytest.fail(f"the browser ended with {ended} and showed no {what}")
    return found
