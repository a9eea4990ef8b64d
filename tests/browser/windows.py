"""Windows of the browser that tests use one after the other, each test finding one as if it were new.

A page in a new window takes twice the processor's time of one in a window that has shown our pages
before: there the browser has started no process, and has read and compiled what all pages load.
Nothing here may ask Playwright to route requests: the browser would drop what it has read and compiled.
"""

from __future__ import annotations

from typing import Any

#: what a window can be told afterwards, and what it is told unless a test says otherwise
DEFAULTS: dict[str, Any] = {
    "viewport": {"width": 1280, "height": 720},
    "color_scheme": "light",
    "reduced_motion": "no-preference",
    "forced_colors": "none",
    "offline": False,
    "permissions": (),
    "script": "",
}
#: what a page kept goes, and while it is left it keeps nothing more
FORGET = """() => {
  Storage.prototype.setItem = () => {};
  for (const each of [localStorage, sessionStorage]) each.clear();
}"""


class _Shared:
    """A window that many tests use."""

    def __init__(self, browser):
        self.page = browser.new_context().new_page()
        self._inspector = self.page.context.new_cdp_session(self.page)
        self._inspector.send("Page.enable")
        self._script = None

    def be(self, *, viewport, offline, permissions, script, **media):
        """Show pages from now on as a test wants them, and run its script before each page's own."""
        self.page.set_viewport_size(viewport)
        self.page.emulate_media(media="null", **media)
        self.page.context.set_offline(offline)
        if permissions:
            self.page.context.grant_permissions([*permissions])
        if script:
            added = self._inspector.send(
                "Page.addScriptToEvaluateOnNewDocument", {"source": f"(() => {{{script}}})()"}
            )
            self._script = added["identifier"]

    def forget(self):
        """Forget what a test did."""
        self.page.mouse.move(-1, -1)
        if self.page.evaluate("() => location.origin") != "null":
            self.page.evaluate(FORGET)
        if self._script:
            self._inspector.send(
                "Page.removeScriptToEvaluateOnNewDocument", {"identifier": self._script}
            )
            self._script = None
        self.page.context.clear_cookies()
        self.page.context.clear_permissions()
        self.page.goto("about:blank")


class Windows:
    """Lends a page to one test after the other; whoever wants more than one has each in its own window.

    Parameters
    ----------
    browser
        The browser that the windows are of.
    """

    def __init__(self, browser):
        self._browser = browser
        self._free = []
        self._lent = {}

    def lend(self, *, apart=False, **options):
        """Give an empty page.

        Parameters
        ----------
        apart
            Whether a new window is wanted: for what stays with a window, as a clock that is set, or a
            listener that nobody takes away.
        options
            What the window is like, as for a context of Playwright, and a script that every page runs
            first; what cannot be changed in a window that is there, brings a new one too.
        """
        if apart or not options.keys() <= DEFAULTS.keys():
            script = options.pop("script", "")
            page = self._browser.new_context(**options).new_page()
            page.add_init_script(script)
            return page
        shared = self._free.pop() if self._free else _Shared(self._browser)
        shared.be(**{**DEFAULTS, **options})
        self._lent[shared.page] = shared
        return shared.page

    def shown(self):
        """Say what stands on each page that a test has, for whoever reads of its failure."""
        pages = [page for context in self._browser.contexts for page in context.pages]
        used = [page for page in pages if page.url != "about:blank"]
        return "\n\n".join(f"{page.url}\n{page.locator('body').inner_text()}" for page in used)

    def take_back(self, page):
        """Take a page back: what it kept is forgotten, and whoever reads it next finds it empty."""
        shared = self._lent.pop(page, None)
        if shared is None:
            page.context.close()
            return
        shared.forget()
        self._free.append(shared)
