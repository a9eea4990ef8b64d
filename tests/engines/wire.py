"""Commands and events as JSON over a websocket: how Firefox and WebKit are spoken to."""

from __future__ import annotations

import json
from itertools import count

import websocket

PATIENCE_S = 90


class Wire:
    """Ask and wait for the answer; hand on what is told in between."""

    def __init__(self, address, heard):
        self._socket = websocket.create_connection(
            address, suppress_origin=True, timeout=PATIENCE_S
        )
        self._numbers = count(1)
        self._heard = heard

    def send(self, method, **params):
        """Send a command and return its number."""
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": params}))
        return number

    def ask(self, method, **params):
        """Send a command and return its answer."""
        number = self.send(method, **params)
        while (message := self.receive()).get("id") != number:
            pass
        if "error" in message:
            raise RuntimeError(f"{method}: {message['error']}: {message.get('message', '')}")
        return message["result"]

    def receive(self):
        """Take the next message; an event is handed on as well."""
        message = json.loads(self._socket.recv())
        if "method" in message:
            self._heard(message["method"], message["params"])
        return message

    def close(self):
        """Hang up."""
        self._socket.close()
