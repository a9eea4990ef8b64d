"""Learners as a server meets them: each opens a page, its kernel and its widgets, as a browser does.

A browser on one machine cannot be thirty browsers; this speaks for them. A learner asks for the page
with a cookie jar of its own, reads the kernel's name from it, opens the kernel's websocket, asks for
the state of the widgets, and has a working scene once the bench has a whole run. It reaches this
machine only, and every wait is bounded.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import re
import time
import uuid
from http.cookies import SimpleCookie
from urllib.parse import urljoin, urlsplit

from kernel_socket import MAX_BYTES, KernelSocket
from tornado.httpclient import HTTPRequest
from tornado.simple_httpclient import SimpleAsyncHTTPClient

PATIENCE_S = 180
CONFIG = re.compile(r'<script[^>]*id="jupyter-config-data"[^>]*>(.*?)</script>', re.DOTALL)
HERE = {"127.0.0.1", "localhost", "::1"}
MAX_REDIRECTIONS = 5
CONCENTRATION = "Concentration, mol/dm³"


class RefusedError(Exception):
    """The server answered with another status than a page's."""

    def __init__(self, status, text):
        super().__init__(f"status {status}: {text[:200]}")
        self.status = status
        self.text = text


def scene_works(models):
    """Say whether a bench has its module, what is in the cell and all arrays of its run."""
    return any(
        len(state.get("_esm", "")) > 0
        and state.get("show_count", 0) > 0
        and len(state.get("array_bytes") or b"") == bytes_of(state.get("header") or {}) > 0
        and bool(state.get("lesson"))
        for state in models.values()
    )


def bytes_of(header):
    """Give the length of a run's arrays as its header tells it."""
    ends = [4 * (part["offset"] + part["length"]) for part in header.get("index", {}).values()]
    return max(ends, default=0)


def label_works(models):
    """Say whether a label has its text."""
    return any(s.get("_model_name") == "LabelModel" and s.get("value") for s in models.values())


class Learner:
    """One learner at one page.

    Parameters
    ----------
    address
        Where the page is served, on this machine.
    works
        Says of the widgets' states whether the page is what the learner came for.
    patience_s
        The longest wait for anything.

    Attributes
    ----------
    page_s, scene_s
        Seconds until the page was there, and until it worked.
    kernel
        The name of the page's kernel.
    socket
        The connection to it.
    """

    def __init__(self, address, works=scene_works, patience_s=PATIENCE_S):
        self.address = address
        parts = urlsplit(address)
        if parts.hostname not in HERE:
            raise ValueError(f"{address} is not on this machine")
        self.site = f"{parts.scheme}://{parts.netloc}"
        self.works = works
        self.patience_s = patience_s
        self.page_s = self.scene_s = self.kernel = None
        self.socket = KernelSocket(patience_s)
        self._base = "/"
        self._cookies = {}

    async def __aenter__(self):
        return self

    async def __aexit__(self, *_):
        self.socket.drop()

    async def open(self):
        """Open the page, or reload it, and wait until it works; give the seconds that took."""
        self.socket.drop()
        self.socket = KernelSocket(self.patience_s)
        self.page_s = self.scene_s = None
        began = time.perf_counter()
        async with asyncio.timeout(self.patience_s):
            await self.load()
            self.page_s = time.perf_counter() - began
            await self.connect()
            await self.socket.until(lambda: self.works(self.models))
        self.scene_s = time.perf_counter() - began
        return self.scene_s

    async def open_quietly(self):
        """Open the page without waiting for what it shows."""
        await self.load()
        await self.connect()

    async def load(self):
        """Load the page, read the kernel's name from it and give its text.

        Raises
        ------
        RefusedError
            If the server answers with something else.
        """
        answer = await self.ask(self.address, headers={"Sec-Fetch-Site": "none"})
        text = answer.body.decode() if answer.body else str(answer.error)
        found = CONFIG.search(text)
        if answer.code != 200 or not found:
            raise RefusedError(answer.code, text)
        config = json.loads(found[1])
        self.kernel, self._base = config["kernelId"], config["baseUrl"]
        return text

    async def connect(self):
        """Open the kernel's websocket and fetch the widgets."""
        path = f"{self._base}api/kernels/{self.kernel}"
        answer = await self.ask(path)
        if answer.code != 200:
            raise RefusedError(answer.code, str(answer.error))
        await self.socket.open(*self.channels())
        await self.socket.reach_kernel()
        await self.socket.fetch_widgets()

    def channels(self, kernel=None):
        """Give the address of the own kernel's websocket, or of another's, and what is sent with it."""
        address = f"{self.site}{self._base}api/kernels/{kernel or self.kernel}/channels"
        return address, self._headers({"Origin": self.site})

    def new_socket(self):
        """Make one more connection, to be opened."""
        return KernelSocket(self.patience_s)

    async def ask(self, path, method="GET", headers=None, body=None):
        """Ask for a path or an address with the learner's cookies; give the answer, whatever it is."""
        address = urljoin(self.site, path)
        client = SimpleAsyncHTTPClient(force_instance=True, max_body_size=MAX_BYTES)
        with contextlib.closing(client):
            for _ in range(MAX_REDIRECTIONS):
                request = HTTPRequest(
                    address,
                    method=method,
                    headers=self._headers(headers),
                    body=body,
                    follow_redirects=False,
                    connect_timeout=self.patience_s,
                    request_timeout=self.patience_s,
                    allow_nonstandard_methods=True,
                )
                answer = await client.fetch(request, raise_error=False)
                for line in answer.headers.get_list("Set-Cookie"):
                    self._cookies |= {name: kept.value for name, kept in SimpleCookie(line).items()}
                if not (300 <= answer.code < 400 and "Location" in answer.headers):
                    break
                address = urljoin(address, answer.headers["Location"])
        return answer

    async def change(self, control, value):
        """Change a control of the set-up; give the seconds until the bench shows the new cell."""
        before = self.shown
        began = time.perf_counter()
        self.socket.set(self.control(control), value=value)
        await self.socket.until(lambda: self.shown > before and scene_works(self.models))
        return time.perf_counter() - began

    def control(self, description):
        """Find a control by its label."""
        return next(
            k for k, state in self.models.items() if state.get("description") == description
        )

    @property
    def models(self):
        """The state of each widget."""
        return self.socket.models

    @property
    def shown(self):
        """How many cells the bench has shown."""
        return max((state.get("show_count", 0) for state in self.models.values()), default=0)

    async def loss(self):
        """Wait until the page could know that its kernel or its server has gone; give the seconds."""
        began = time.perf_counter()
        with contextlib.suppress(ConnectionError):
            await self.socket.until(lambda: self.socket.told)
        return time.perf_counter() - began

    async def close(self):
        """Close the tab: the page's last words, and the connection; give the status of the answer."""
        boundary = uuid.uuid4().hex
        field = f'--{boundary}\r\nContent-Disposition: form-data; name="_xsrf"\r\n\r\n'
        answer = await self.ask(
            f"{self._base}voila/api/shutdown/{self.kernel}",
            method="POST",
            body=f"{field}{self._cookies.get('_xsrf', '')}\r\n--{boundary}--\r\n",
            headers={
                "Content-Type": f"multipart/form-data; boundary={boundary}",
                "Origin": self.site,
                "Sec-Fetch-Site": "same-origin",
                "Sec-Fetch-Mode": "no-cors",
            },
        )
        self.socket.drop()
        return answer.code

    async def leave(self):
        """Close the tab, and end the kernel by hand where the server refuses the page's last words.

        Stock Voila does. The double-submitted token is one that this learner made itself, which a
        page elsewhere could not.
        """
        if await self.close() < 300:
            return
        await self.ask(f"{self._base}api/kernels/{self.kernel}", "DELETE", self.own_token())

    def own_token(self):
        """Give the headers that a request which changes something needs."""
        token = self._cookies["_xsrf"] = uuid.uuid4().hex
        return {"X-XSRFToken": token, "Origin": self.site}

    def _headers(self, further=None):
        cookies = "; ".join(f"{name}={value}" for name, value in self._cookies.items())
        return ({"Cookie": cookies} if cookies else {}) | (further or {})


async def open_class(address, count, works=scene_works, patience_s=PATIENCE_S):
    """Let a class open a page in the same instant; give the learners and what went wrong.

    Returns
    -------
    tuple
        The learners whose page works, and the exceptions of the others.
    """
    learners = [Learner(address, works, patience_s) for _ in range(count)]
    results = await asyncio.gather(*(each.open() for each in learners), return_exceptions=True)
    for learner, result in zip(learners, results, strict=True):
        if isinstance(result, BaseException):
            learner.socket.drop()
    failures = [result for result in results if isinstance(result, BaseException)]
    return [learner for learner in learners if learner.scene_s is not None], failures
