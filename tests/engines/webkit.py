"""WebKitGTK's own small browser, on a screen of its own, by the protocol of WebKit's inspector.

Under WebKit's WebDriver nothing tells what a page wrote to its console; the inspector does, and each request.
"""

from __future__ import annotations

import base64
import json
import os
import re
import socket
import urllib.request
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from tests.engines.engine import Engine, awaited, program, running
from tests.engines.wire import Wire
from tests.engines.x11 import resize_window

SCREEN = "1400x1000x24"

# the browser's own window is wider than a phone; one that a page opens has no bar and any size
OPENER = "<!doctype html><title>Opener</title>"
OPEN = "open('about:blank', '', 'popup,width=%d,height=%d,toolbar=no,location=no,menubar=no')"
WINDOWS = re.compile(r'targeturl">([^<]*)<.*?(/socket/\d+/\d+/WebPage)')


class Target:
    """One window, as the inspector sees it; another process draws it when another site comes in."""

    def __init__(self, address, heard):
        self._heard = heard
        self._drawn_by = None
        self._numbers = count(1)
        self._answers = {}
        self._wire = Wire(address, self._told)
        self._wire.ask("Target.setPauseOnStart", pauseOnStart=True)
        self.wait(lambda: self._drawn_by)

    def _told(self, event, told):
        if event == "Target.targetCreated":
            self._listen(**told["targetInfo"])
        elif event == "Target.didCommitProvisionalTarget":
            self._drawn_by = told["newTargetId"]
        elif event == "Target.dispatchMessageFromTarget":
            message = json.loads(told["message"])
            if "id" in message:
                self._answers[message["id"]] = message
            else:
                self._heard(message["method"], message["params"])

    def _listen(self, targetId, isProvisional=False, isPaused=False, **_):
        """Ask to be told of everything, before the process begins with its page."""
        for part in ("Page", "Runtime", "Console", "Network"):
            self._send(targetId, f"{part}.enable")
        if isPaused:
            self._wire.send("Target.resume", targetId=targetId)
        if not isProvisional:
            self._drawn_by = targetId

    def _send(self, target, method, **params):
        number = next(self._numbers)
        message = json.dumps({"id": number, "method": method, "params": params})
        self._wire.send("Target.sendMessageToTarget", targetId=target, message=message)
        return number

    def ask(self, method, **params):
        """Send a command to the page and return its answer."""
        number = self._send(self._drawn_by, method, **params)
        self.wait(lambda: number in self._answers)
        answer = self._answers.pop(number)
        if "error" in answer:
            raise RuntimeError(f"{method}: {answer['error']['message']}")
        return answer["result"]

    def evaluate(self, expression):
        """Return what an expression comes to, or what it promises; it may do what a press may."""
        answer = self.ask("Runtime.evaluate", expression=expression, emulateUserGesture=True)
        if answer["result"].get("className") == "Promise":
            promise = answer["result"]["objectId"]
            answer = self.ask("Runtime.awaitPromise", promiseObjectId=promise, returnByValue=True)
        if answer.get("wasThrown"):
            raise RuntimeError(answer["result"].get("description") or answer["result"])
        return answer["result"].get("value")

    def wait(self, until):
        """Receive until something holds."""
        while not until():
            self._wire.receive()

    def hang_up(self):
        """Listen no longer."""
        self._wire.close()


class WebKit(Engine):
    """A window that another page opens, of the size that is wanted."""

    def __init__(self, opener, find_window, display):
        super().__init__()
        self._opener = opener
        self._find_window = find_window
        self._display = display
        self._scheme = None
        self._size = None
        self._window = None
        self._loads = 0

    def _heard(self, event, told):
        if event == "Console.messageAdded" and told["message"]["level"] == "error":
            self.errors.append(told["message"]["text"])
        elif event == "Network.requestWillBeSent":
            self.requested_urls.append(told["request"]["url"])
        elif event == "Network.webSocketCreated":
            self.requested_urls.append(told["url"])
        elif event == "Page.loadEventFired":
            self._loads += 1

    def _open(self, width, height):
        self.close()
        self._opener.evaluate(OPEN % (width, height))
        self._window = Target(self._find_window("about:blank"), self._heard)

    def goto(self, address, size):
        scheme = urlsplit(address).scheme
        if scheme != self._scheme:  # no way leads from the network to files
            self._open(*size)
            self._scheme, self._size = scheme, size
        self.resize(size)
        before = self._loads
        self._window.evaluate(f"location.href = {json.dumps(address)}")
        self._window.wait(lambda: self._loads > before)

    def resize(self, size):
        if size == self._size:
            return
        resize_window(self._display, self._size, size)
        self.until(f"() => innerWidth === {size[0]} && innerHeight === {size[1]}")
        self._size = size

    def press(self, x, y):
        self.evaluate("(x, y) => document.elementFromPoint(x, y).click()", x, y)

    def screenshot(self):
        width, height = self._size
        area = {"x": 0, "y": 0, "width": width, "height": height}
        taken = self._window.ask("Page.snapshotRect", **area, coordinateSystem="Viewport")
        return base64.b64decode(taken["dataURL"].partition(",")[2])

    def _evaluate(self, expression):
        return self._window.evaluate(expression)

    def close(self):
        """Close the window."""
        if self._window:
            self._window.evaluate("close()")
            self._window.hang_up()


def mini_browser():
    """Find WebKitGTK's own browser, which no path leads to."""
    found = sorted(Path("/usr").glob("lib*/**/webkit2gtk-4.1/MiniBrowser"))
    if not found:
        pytest.fail(
            "The tests of Firefox and WebKit need WebKitGTK's MiniBrowser, and none was found. "
            "On Debian and Ubuntu install it with: apt-get install libwebkit2gtk-4.1-0"
        )
    return found[0]


@contextmanager
def screen():
    """Show a screen that nobody sees, and give its name."""
    told, tell = os.pipe()
    command = [program("Xvfb", "xvfb"), "-displayfd", str(tell), "-screen", "0", SCREEN]
    with running([*command, "-nolisten", "tcp"], pass_fds=[tell]):
        os.close(tell)
        with os.fdopen(told) as lines:
            number = lines.readline().strip()
        assert number, "Xvfb showed no screen"
        yield f":{number}"


def free_port():
    """Ask for a port that nobody listens at."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return taken.getsockname()[1]


def windows(listening):
    """List the sockets of all windows that can be inspected, by what they show."""
    try:
        with urllib.request.urlopen(f"http://{listening}/") as page:
            listed = page.read().decode()
    except OSError:
        return {}  # not yet
    return {address: f"ws://{listening}{path}" for address, path in WINDOWS.findall(listed)}


@contextmanager
def webkit(folder):
    """Start WebKit's browser with a page that opens the window of the tests."""
    first = folder / "opener.html"
    first.write_text(OPENER)
    listening = f"127.0.0.1:{free_port()}"
    command = [mini_browser(), "--private", "--enable-developer-extras=true", first.as_uri()]
    with screen() as display:
        told = {"DISPLAY": display, "WEBKIT_INSPECTOR_HTTP_SERVER": listening}
        with running(command, env=os.environ | told) as process:

            def find_window(address):
                return awaited(
                    lambda: windows(listening).get(address), process, f"window at {address}"
                )

            opener = Target(find_window(first.as_uri()), lambda *_: None)
            yield WebKit(opener, find_window, display)
            opener.hang_up()
