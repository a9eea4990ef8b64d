"""A page as a person uses it: by label and role, with what it complained of and asked of others."""

from __future__ import annotations

import os
import re
import signal
from contextlib import ExitStack, contextmanager
from io import BytesIO
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from axe_playwright_python.sync_playwright import Axe
from matplotlib.image import imread
from playwright.sync_api import expect

PROJECTOR = {"width": 1920, "height": 1080}
PHONE = {"width": 360, "height": 740}
LOADING_MS = 60_000  # a kernel starts while the page waits for it
POLLING_MS = 50  # a page that is asked at each frame draws each frame
NEXT = re.compile(r"^(Next|All results)")  # how the large button of a lesson in steps begins
PICTURE = "() => document.querySelector('.fp-scene canvas').toDataURL()"

# mean red, green and blue of a part of the picture, given as shares of its width and height
MEAN_COLOUR = """([left, top, right, bottom]) => {
  const canvas = document.querySelector('.fp-scene canvas');
  const [x, y] = [left * canvas.width, top * canvas.height];
  const [width, height] = [(right - left) * canvas.width, (bottom - top) * canvas.height];
  const { data } = canvas.getContext('2d').getImageData(x, y, width, height);
  const sums = [0, 0, 0];
  data.forEach((value, k) => { if (k % 4 < 3) sums[k % 4] += value; });
  return sums.map((sum) => sum / (data.length / 4));
}"""

# from now on, lastDrawn(canvas) tells what the last frame drew: bubbles, atoms that form at the electrodes,
# electrons that cross there, and the layers' widths against the rod's
RECORD_DRAWING = """() => {
  const pens = CanvasRenderingContext2D.prototype;
  const { arc, beginPath, clearRect, roundRect, stroke } = pens;
  const frames = new WeakMap();
  const into = (pen) => frames.get(pen.canvas) ?? [];
  let path = [];
  Object.assign(pens, {
    clearRect(...box) { frames.set(this.canvas, []); return clearRect.apply(this, box); },
    arc(x, y, r, ...rest) {
      path.push({ what: 'arc', x, y, r });
      into(this).push(path.at(-1));
      return arc.call(this, x, y, r, ...rest);
    },
    beginPath() { path = []; return beginPath.call(this); },
    stroke() {
      for (const each of path) Object.assign(each, { line: this.lineWidth.toFixed(1), fill: this.fillStyle });
      return stroke.call(this);
    },
    roundRect(x, y, width, ...rest) {
      into(this).push({ what: 'box', x, y, width, fill: this.fillStyle });
      return roundRect.call(this, x, y, width, ...rest);
    },
  });
  window.lastDrawn = (canvas) => {
    const of = (name) => getComputedStyle(canvas).getPropertyValue(name).trim();
    const frame = frames.get(canvas);
    const arcs = frame.filter((each) => each.what === 'arc');
    const bubbles = arcs.filter((each) => each.line === '1.0' && each.fill === of('--fp-bubble'));
    const atoms = arcs.filter((each) => each.line === '1.2' || each.line === '1.3');
    const wires = 5.2; // the radius of an electron there
    const electrons = arcs.filter((each) => each.line === '1.4' && each.r !== wires);
    const boxes = frame.filter((each) => each.what === 'box');
    const rod = boxes.find((each) => each.fill === of('--fp-graphite'));
    const copper = boxes.filter((each) => each.fill === of('--fp-copper'));
    const place = ({ x, y, r }) => ({ side: x < canvas.clientWidth / 2 ? 0 : 1, x, y, r });
    return {
      bubbles: bubbles.map(place),
      products: atoms.map(place),
      electrons: electrons.map(place),
      layers: copper.map((each) => each.width / rod.width),
    };
  };
}"""

# keeps what is written on the picture,
# with the figures and signs above and below the letters of a formula
WATCH_THE_PEN = """
  window.written = {
    texts: new Set(),
    last: null,
    clear() { this.texts.clear(); this.last = null; },
    [Symbol.iterator]() { return new Set([...this.texts, this.last?.text ?? '']).values(); },
  };
  for (const { prototype } of [CanvasRenderingContext2D]) {
    const { fillText } = prototype;
    const raised = (text) => text.replace(/./g, (sign) => '⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻'['0123456789+−'.indexOf(sign)]);
    const lowered = (text) => text.replace(/./g, (sign) => '₀₁₂₃₄₅₆₇₈₉'['0123456789'.indexOf(sign)]);
    prototype.fillText = function (text, x, y, ...rest) {
      const { last } = window.written;
      if (/^[0-9+−]+$/.test(text) && last?.pen === this && last.y !== y) {
        last.text += y < last.y ? raised(text) : lowered(text);
      } else if (last?.pen === this && last.y === y && /[⁰¹²³⁴-⁹⁺⁻₀-₉]$/.test(last.text)) {
        last.text += text;
      } else {
        if (last) window.written.texts.add(last.text);
        window.written.last = { pen: this, text, y };
      }
      return fillText.call(this, text, x, y, ...rest);
    };
  }
"""

# colours that still change are nobody's: a page is judged once they have changed
VIOLATIONS = """async () => {
  const changing = document.getAnimations().filter((each) => each instanceof CSSTransition);
  await Promise.allSettled(changing.map(({ finished }) => finished));
  const { violations } = await axe.run({ resultTypes: ['violations'] });
  return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 80)}`));
}"""

# words that stand beyond the right edge, where they cannot be read: all but what scrolls in its own frame
BEYOND = """() => [
  ...document.querySelectorAll('.fp-page :is(h1, h2, h3, p, li, label, button, td, th)')
].filter((node) => node.checkVisibility() && node.getBoundingClientRect().right > innerWidth + 1
    && !node.closest('.fp-scroll, .fp-table-frame, .fp-solutions, .fp-data-table, .fp-sheet, .fp-tabs, svg')
).map((node) => node.textContent.slice(0, 40))"""

# the served pages scroll in a frame of their own, the others in the window
SIDEWAYS = """() => [document.documentElement, document.querySelector('#rendered_cells')]
  .some((frame) => frame && frame.scrollWidth > frame.clientWidth)"""

# the middle of each round box of a question, and how far beside it the ground is seen
INPUTS = """() => [...document.querySelectorAll('.fp-question-card .fp-option input')].map((input) => {
  const { left, top, width, height } = input.getBoundingClientRect();
  const beside = Math.round(width / 2 + 3);
  return { x: left + width / 2, y: top + height / 2, beside, picked: input.checked };
})"""


#: what a page asks for before its first result, without the class's table, pictures and further tools
FIELDS_IN_SIGHT = """() => [...document.querySelectorAll(
  '.fp-page :is(.fp-setup, .fp-group, .fp-head, .fp-list-tools) :is(input[type=text], select, textarea)'
)]
  .filter((field) => field.checkVisibility())
  .map((field) => field.outerHTML.slice(0, 80))"""


def unfold(page, words):
    """Show the fields behind the line that says so of them."""
    page.get_by_role("button", name=re.compile(f"{re.escape(words)}.*: change$")).first.click()


def only_what_is_picked_looks_picked(places, screenshot):
    """See that the picked answer alone lies on a dark ground, and that the other boxes are empty.

    Parameters
    ----------
    places
        What `INPUTS` gives.
    screenshot
        The window's pixels as a PNG.
    """
    middle, ground = {}, {}
    dots = imread(BytesIO(screenshot))[..., :3].mean(axis=2)
    for place in places:
        x, y, picked = round(place["x"]), round(place["y"]), place["picked"]
        middle.setdefault(picked, []).append(dots[y - 1 : y + 2, x - 1 : x + 2].mean())
        ground.setdefault(picked, []).append(dots[y, x + place["beside"]])
    assert len(ground[True]) == 1
    assert len(ground[False]) >= 2
    assert max(ground[True]) < min(ground[False]) - 0.3
    assert middle[False] == pytest.approx(ground[False], abs=0.1)


def violations(page):
    """Name what axe-core finds wrong with a page as it is shown."""
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(Axe().axe_script)
    return page.evaluate(VIOLATIONS)


def is_foreign(url, host):
    """Tell whether an address is of the network, and of another host."""
    parts = urlsplit(url)
    return parts.scheme in {"http", "https", "ws", "wss"} and parts.netloc != host


def expect_wrong(field, sentence):
    """Expect that a field is wrong to those who do not see it, and says why."""
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(re.compile(re.escape(sentence)))


def expect_mended(field):
    """Expect that a field is no longer said to be wrong."""
    expect(field).not_to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description("")


class Visit:
    """A page with what it complained of and what it asked of others; `close` gives its window back."""

    def __init__(self, windows, address, **options):
        self._windows = windows
        self.page = windows.lend(**options)
        self.errors: list[str] = []
        self.foreign: list[str] = []
        self.requested_urls: list[str] = []
        self.sent: list[str] = []
        self.kernels: list[str] = []
        self._listens = {
            "console": self._console,
            "pageerror": self._page_error,
            "request": self._request,
            "websocket": self._websocket,
        }
        for what, listener in self._listens.items():
            self.page.on(what, listener)
        self._host = urlsplit(address).netloc
        self.page.goto(address, timeout=LOADING_MS)
        self.ready.wait_for(timeout=LOADING_MS)

    @property
    def ready(self):
        """Find what comes last of a page with a cell: an electrode's card, as the board names it."""
        return self.page.get_by_role("article").first

    def close(self):
        """Give the window back to the next test."""
        for what, listener in self._listens.items():
            self.page.remove_listener(what, listener)
        self._windows.take_back(self.page)

    def _page_error(self, error):
        self.errors.append(str(error))

    def _console(self, message):
        if message.type == "error":
            self.errors.append(message.text)

    def _request(self, request):
        self.requested_urls.append(request.url)
        if is_foreign(request.url, self._host):
            self.foreign.append(request.url)

    def _websocket(self, socket):
        self.kernels += re.findall(r"/api/kernels/([^/]+)/", socket.url)
        socket.on("framesent", self._sent)

    def kill_kernel(self):
        """End the page's own program without a word."""
        for folder in Path("/proc").glob("[0-9]*"):
            try:
                command = (folder / "cmdline").read_bytes().decode(errors="replace")
                name = (folder / "comm").read_text().strip()
            except OSError:
                continue
            kernel = f"kernel-{self.kernels[0]}"
            if kernel in command or kernel[:15] == name:  # started by itself, or forked
                os.kill(int(folder.name), signal.SIGKILL)

    def _sent(self, message):
        self.sent.append(message if isinstance(message, str) else message.decode(errors="replace"))

    def side_card(self, electrode):
        """Find an electrode's side card."""
        return self.page.get_by_role("article", name=electrode)

    def button(self, name):
        """Find a button by its name."""
        return self.page.get_by_role("button", name=name, exact=True)

    def switch_on(self):
        """Close the switch and wait for the run."""
        self.button("Switch on").click()
        self.button("Switch off").wait_for()

    def all_controls(self):
        """Leave the lesson's steps for everything that the page has."""
        control = self.page.get_by_role("switch", name="All controls")
        control.click()
        expect(control).to_be_checked()

    def next(self):
        """Press the large button of a lesson in steps, and wait for what comes."""
        button = self.page.get_by_role("button", name=NEXT)
        button.click()
        expect(button).to_have_attribute("aria-disabled", "false")

    def expect_step(self, title):
        """Expect that a step of the lesson is open."""
        expect(self.page.locator(".fp-path [aria-current=step]")).to_contain_text(title)

    def picture(self):
        """Return the canvas as it is now."""
        return self.page.evaluate(PICTURE)

    def colour(self, left, top, right, bottom):
        """Return the mean red, green and blue of a part of the picture."""
        return self.page.evaluate(MEAN_COLOUR, [left, top, right, bottom])

    def choose(self, control, option):
        """Choose from a menu by its label."""
        self.page.get_by_role("combobox", name=control, exact=True).select_option(label=option)

    def picture_changes(self, before):
        """Wait until the canvas differs from a picture."""
        changed = f"before => ({PICTURE})() !== before"
        self.page.wait_for_function(changed, arg=before, polling=POLLING_MS)


@contextmanager
def visits(windows, address, **always):
    """Give what opens a page at this address with a query, in windows that are given back at the end."""
    with ExitStack() as stack:

        def open_page(query="", **context):
            given = {"viewport": PROJECTOR, "reduced_motion": "reduce", **always, **context}
            seen = Visit(windows, address + query, **given)
            stack.callback(seen.close)
            return seen

        yield open_page
