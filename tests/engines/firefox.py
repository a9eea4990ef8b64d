"""Firefox as it comes, by WebDriver BiDi, which it speaks itself."""

from __future__ import annotations

import base64
import re
from contextlib import contextmanager
from io import BytesIO

from pypdf import PdfReader
from tests.browser.printed import plain
from tests.engines.engine import Engine, awaited, program, running
from tests.engines.wire import Wire

PREFERENCES = 'user_pref("services.settings.server", "data:,none");\n'  # it asks nobody what is new
LISTENING = re.compile(r"WebDriver BiDi listening on (\S+)\n")


class Firefox(Engine):
    """A tab of Firefox."""

    def __init__(self, address):
        super().__init__()
        self._wire = Wire(address, self._heard)
        self._wire.ask("session.new", capabilities={})
        self._wire.ask("session.subscribe", events=["log.entryAdded", "network.beforeRequestSent"])
        self._tab = self._wire.ask("browsingContext.getTree")["contexts"][0]["context"]

    def _heard(self, event, told):
        if event == "log.entryAdded" and told["level"] == "error":
            self.errors.append(told["text"])
        elif event == "network.beforeRequestSent":
            self.requested_urls.append(told["request"]["url"])

    def goto(self, address, size):
        self.resize(size)
        self._wire.ask("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def resize(self, size):
        viewport = dict(zip(("width", "height"), size, strict=True))
        self._wire.ask("browsingContext.setViewport", context=self._tab, viewport=viewport)

    def press(self, x, y):
        steps = [
            {"type": "pointerMove", "x": round(x), "y": round(y)},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        mouse = {"type": "pointer", "id": "mouse", "actions": steps}
        self._wire.ask("input.performActions", context=self._tab, actions=[mouse])

    def screenshot(self):
        taken = self._wire.ask("browsingContext.captureScreenshot", context=self._tab)
        return base64.b64decode(taken["data"])

    def printed_text(self):
        """Return what stands on paper when the page is printed."""
        printed = self._wire.ask("browsingContext.print", context=self._tab)
        pages = PdfReader(BytesIO(base64.b64decode(printed["data"]))).pages
        return plain("\n".join(page.extract_text() for page in pages))

    def _evaluate(self, expression):
        answer = self._wire.ask(
            "script.evaluate",
            expression=expression,
            target={"context": self._tab},
            awaitPromise=True,
        )
        if answer["type"] == "exception":
            raise RuntimeError(answer["exceptionDetails"]["text"])
        return answer["result"]["value"]

    def close(self):
        """Ask the browser to end."""
        self._wire.ask("browser.close")
        self._wire.close()


@contextmanager
def firefox(folder):
    """Start Firefox with a profile of its own."""
    (folder / "user.js").write_text(PREFERENCES)
    command = [program("firefox-esr", "firefox-esr"), "--headless", "--no-remote"]
    command += ["--profile", str(folder), "--remote-debugging-port", "0"]
    said = folder / "said.txt"
    with said.open("w") as errors, running(command, stderr=errors) as process:
        found = awaited(lambda: LISTENING.search(said.read_text()), process, "address to talk to")
        tab = Firefox(f"{found[1]}/session")
        yield tab
        tab.close()
