"""After each press the keyboard stays where the work goes on, on every page."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import TimeoutError as NotInTime
from tests.browser.visit import LOADING_MS, POLLING_MS

from fizzplate.lesson.state import PAGES

# these open what is not the page: paper, a file, another window, the whole screen
ELSEWHERE = re.compile(
    r"Print|Save|Take away|Copy link|Full screen|paper|Open|CSV|PNG|SVG|Show as QR"
)
MAX_KEY_PRESSES = 14
# quiet for so long, with the keyboard somewhere: nothing more comes of a press
SETTLED = """() => performance.now() - window.changedAt > 400 && document.activeElement !== document.body"""
WATCH_CHANGES = """() => {
  window.print = () => {};
  window.changedAt = performance.now();
  new MutationObserver(() => (window.changedAt = performance.now()))
    .observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['disabled'] });
}"""
PRESSABLE = """([pressed, elsewhere]) => {
  const counts = {};
  for (const each of document.querySelectorAll('.fp-page :is(button, [role=tab])')) {
    if (!each.checkVisibility() || each.disabled || each.getAttribute('aria-disabled') === 'true') continue;
    const name = each.getAttribute('aria-label') ?? each.textContent.trim();
    counts[name] = (counts[name] ?? 0) + 1;
    const key = `${name} ${counts[name]}`;
    if (new RegExp(elsewhere).test(name) || pressed.includes(key)) continue;
    each.focus();
    if (document.activeElement !== each) continue;
    window.changedAt = performance.now();
    return key;
  }
  return '';
}"""


@pytest.fixture
def open_quietly(open_at, demonstrate_address):
    accept = lambda dialog: dialog.accept()  # noqa: E731
    pages = []

    def open_page(path):
        page = open_at(demonstrate_address.replace("demonstrate", path))
        page.on("dialog", accept)
        pages.append(page)
        page.locator(".fp-page button").filter(visible=True).first.wait_for(timeout=LOADING_MS)
        page.evaluate(WATCH_CHANGES)
        page.wait_for_function(
            "() => performance.now() - window.changedAt > 400", polling=POLLING_MS
        )
        return page

    yield open_page
    for page in pages:
        page.remove_listener("dialog", accept)


@pytest.mark.parametrize("path", PAGES)
def test_no_press_takes_the_keyboard_away(open_quietly, path):
    page = open_quietly(path)
    pressed, lost = [], []
    while len(pressed) < MAX_KEY_PRESSES:
        key = page.evaluate(PRESSABLE, [pressed, ELSEWHERE.pattern])
        if not key:
            break
        pressed.append(key)
        page.keyboard.press("Enter")
        try:
            page.wait_for_function(SETTLED, timeout=LOADING_MS, polling=POLLING_MS)
        except NotInTime:
            lost.append(key)
    assert len(pressed) > 3
    assert lost == []
