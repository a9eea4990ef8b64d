"""One window of the browser that many tests use one after the other, each finding it as if it were new.

A page in a new window takes twice the processor's time of one in a window that has shown our pages
before: there the browser has started no process, and has read and compiled what all pages load.
"""

from __future__ import annotations

from typing import Any

#: what a window can be told afterwards, and what it is told unless a test says otherwise
DEFAULTS: dict[str, Any] = {
    "viewport": {"width": 1280, "height": 720},
    "color_scheme": "light",
    "reduced_motion": "no-preference",
    "forced_colors": "none",
}


class Window:
    """Lends its page to one test after the other; whoever wants more has a page in a window apart.

    Parameters
    ----------
    browser
        The browser that the window is of.
    """

    def __init__(self, browser):
        self._browser = browser
        self._page = None
        self._lent = False

    def lend(self, *, apart=False, **options):
        """Give an empty page.

        Parameters
        ----------
        apart
            Whether a new window is wanted: for what stays with a window, as a clock that is set, a
            script that every page runs first, or a listener that nobody takes away.
        options
            What the window is like, as for a context of Playwright; what cannot be changed in a window
            that is there, brings a new one too.
        """
        if apart or self._lent or not options.keys() <= DEFAULTS.keys():
            return self._browser.new_context(**options).new_page()
        self._page = self._page or self._browser.new_context().new_page()
        self._lent = True
        given = {**DEFAULTS, **options}
        self._page.set_viewport_size(given.pop("viewport"))
        self._page.emulate_media(media="null", **given)
        return self._page

    def take_back(self, page):
        """Take a page back: what it kept is forgotten, and whoever reads it next finds it empty."""
        if page is not self._page:
            page.context.close()
            return
        page.mouse.move(-1, -1)
        origin = page.evaluate("() => location.origin")
        if origin != "null":  # forgotten from within, and after what leaving the page wrote
            page.route(f"{origin}/forget", lambda route: route.fulfill(body="forgotten"))
            page.goto(f"{origin}/forget")
            page.evaluate("() => [localStorage, sessionStorage].forEach((each) => each.clear())")
            page.unroute(f"{origin}/forget")
        page.context.clear_cookies()
        page.goto("about:blank")
        self._lent = False
