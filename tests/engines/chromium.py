"""Chromium, by Playwright."""

from __future__ import annotations

from contextlib import contextmanager

from tests.browser.conftest import CHROMIUM_FLAGS, chromium_path
from tests.engines.engine import Engine
from tests.playwright_driver import playwright_driver


class Chromium(Engine):
    """A page of Playwright's."""

    def __init__(self, page):
        super().__init__()
        self._page = page
        page.on("console", lambda said: said.type == "error" and self.errors.append(said.text))
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("request", lambda request: self.requested_urls.append(request.url))
        page.on("websocket", lambda socket: self.requested_urls.append(socket.url))

    def goto(self, address, size):
        self.resize(size)
        self._page.goto(address)

    def resize(self, size):
        self._page.set_viewport_size(dict(zip(("width", "height"), size, strict=True)))

    def press(self, x, y):
        self._page.mouse.click(x, y)

    def screenshot(self):
        return self._page.screenshot()

    def _evaluate(self, expression):
        return self._page.evaluate(expression)


@contextmanager
def chromium(folder):
    """Start Chromium."""
    browser = playwright_driver().chromium.launch(
        executable_path=chromium_path(windowless=True), args=CHROMIUM_FLAGS
    )
    yield Chromium(browser.new_page())
    browser.close()
