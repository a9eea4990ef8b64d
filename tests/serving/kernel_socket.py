"""A page's connection to its kernel: messages there and back, and the widgets' states they make up."""

from __future__ import annotations

import asyncio
import contextlib
import json
import time
import uuid

from jupyter_server.services.kernels.connection.base import (
    deserialize_msg_from_ws_v1,
    serialize_msg_to_ws_v1,
)
from tornado.httpclient import HTTPRequest
from tornado.websocket import WebSocketClosedError, websocket_connect

SUBPROTOCOL = "v1.kernel.websocket.jupyter.org"
MAX_BYTES = 100_000_000
GONE = {"restarting", "autorestarting", "dead", "terminating"}


class KernelSocket:
    """The websocket of a page, spoken as a browser's widget manager does.

    Attributes
    ----------
    models
        The state of each widget.
    told
        What the server said of a kernel that had ended.
    ended
        How the server closed the connection, once it has.
    """

    def __init__(self, patience_s):
        self.models = {}
        self.told = []
        self.ended = None
        self._patience_s = patience_s
        self._session = uuid.uuid4().hex
        self._answered = set()
        self._closed = set()
        self._news = asyncio.Event()
        self._socket = self._reader = None

    async def open(self, address, headers, protocols=(SUBPROTOCOL,)):
        """Connect to the channels of a kernel."""
        request = HTTPRequest(
            f"{address}?session_id={self._session}".replace("http", "ws", 1),
            headers=headers,
            request_timeout=self._patience_s,
        )
        self._socket = await websocket_connect(
            request, subprotocols=protocols, max_message_size=MAX_BYTES
        )
        self._reader = asyncio.create_task(self._read())

    async def fetch_widgets(self):
        """Ask for the states of all widgets in one message, as the widget manager does.

        Raises
        ------
        ConnectionError
            If the kernel has no such channel.
        """
        control = uuid.uuid4().hex
        opening = {"comm_id": control, "target_name": "jupyter.widget.control", "data": {}}
        self.send("comm_open", opening, {"version": "1.0.0"})
        self.send("comm_msg", {"comm_id": control, "data": {"method": "request_states"}})
        await self.until(lambda: self.models or control in self._closed)
        if control in self._closed:  # a browser would then ask widget by widget, which takes longer
            raise ConnectionError(
                "the kernel does not tell the states of its widgets in one message"
            )
        self.send("comm_close", {"comm_id": control, "data": {}})

    async def reach_kernel(self):
        """Ask the kernel who it is; give the seconds until its answer."""
        began = time.perf_counter()
        request_id = self.send("kernel_info_request", {})
        await self.until(lambda: request_id in self._answered)
        return time.perf_counter() - began

    def set(self, model, **state):
        """Change a widget's state as a control of the page does."""
        data = {"method": "update", "state": state, "buffer_paths": []}
        self.send("comm_msg", {"comm_id": model, "data": data})

    def send(self, kind, content, metadata=None, channel="shell"):
        """Send the kernel a message; give its name."""
        name = uuid.uuid4().hex
        message = {
            "header": {
                "msg_id": name,
                "session": self._session,
                "username": "",
                "date": time.strftime("%Y-%m-%dT%H:%M:%S.000Z", time.gmtime()),
                "msg_type": kind,
                "version": "5.2",
            },
            "parent_header": {},
            "metadata": metadata or {},
            "content": content,
        }
        packed = serialize_msg_to_ws_v1(message, channel, lambda part: json.dumps(part).encode())
        if self._socket is not None:
            with contextlib.suppress(WebSocketClosedError):  # whoever waits for an answer is told
                writing = asyncio.ensure_future(self._socket.write_message(packed, binary=True))
                writing.add_done_callback(lambda ended: ended.exception())
        return name

    async def send_raw(self, frame):
        """Send a frame as it is: text as text, bytes as bytes."""
        await self._socket.write_message(frame, binary=isinstance(frame, bytes))

    async def until(self, condition):
        """Wait until something holds that messages bring about.

        Raises
        ------
        ConnectionError
            If the server closes the connection before.
        """
        async with asyncio.timeout(self._patience_s):
            while not condition():
                if self.ended is not None:
                    raise ConnectionError(f"the server closed the connection: {self.ended}")
                self._news.clear()
                await self._news.wait()

    def drop(self):
        """Lose the connection without a word, as a crashed tab does."""
        if self._reader is not None:
            self._reader.cancel()
        if self._socket is not None and self._socket.protocol is not None:
            self._socket.protocol.stream.close()
        self._socket = None

    async def _read(self):
        while (packed := await self._socket.read_message()) is not None:
            if isinstance(packed, bytes):
                self._take(deserialize_msg_from_ws_v1(packed)[1])
                self._news.set()
        self.ended = (self._socket.close_code, self._socket.close_reason)
        self._news.set()

    def _take(self, parts):
        header, parent, _, content = (json.loads(part) for part in parts[:4])
        kind, data = header["msg_type"], content.get("data", {})
        if kind.endswith("_reply"):
            self._answered.add(parent.get("msg_id"))
        elif kind == "status" and content["execution_state"] in GONE:
            self.told.append(content["execution_state"])
        elif kind == "comm_close":
            self._closed.add(content["comm_id"])
        elif kind == "comm_open":
            self._put(content["comm_id"], data.get("state", {}), data, parts[4:])
        elif kind == "comm_msg" and data.get("method") == "update":
            self._put(content["comm_id"], data["state"], data, parts[4:])
        elif kind == "comm_msg" and data.get("method") == "update_states":
            for key, known in data["states"].items():
                self.models.setdefault(key, {}).update(known["state"])
            for (key, *path), buffer in zip(data["buffer_paths"], parts[4:], strict=True):
                put_at(self.models[key], path[path[0] == "state" :], buffer)

    def _put(self, key, state, data, buffers):
        model = self.models.setdefault(key, {})
        model.update(state)
        for path, buffer in zip(data.get("buffer_paths", []), buffers, strict=True):
            put_at(model, path, buffer)


def put_at(state, path, buffer):
    """Put a buffer where a message's path says."""
    for key in path[:-1]:
        state = state[key]
    state[path[-1]] = buffer
