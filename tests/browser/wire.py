"""A wire between browser and server that can go dead without a word, as a lost Wi-Fi does."""

from __future__ import annotations

import socket
import threading
from contextlib import contextmanager, suppress
from urllib.parse import urlsplit, urlunsplit


class Wire:
    """Passes everything on while it is whole; while it is cut, nothing passes and nothing is closed."""

    def __init__(self, address):
        parts = urlsplit(address)
        self._target = (parts.hostname, parts.port)
        self._whole = threading.Event()
        self._whole.set()
        self._listener = socket.create_server(("127.0.0.1", 0))
        self._open = [self._listener]
        self.address = urlunsplit(
            parts._replace(netloc=f"127.0.0.1:{self._listener.getsockname()[1]}")
        )
        threading.Thread(target=self._accept, daemon=True).start()

    def cut(self):
        """Let nothing pass."""
        self._whole.clear()

    def mend(self):
        """Let everything pass again, what waited first."""
        self._whole.set()

    def close(self):
        """Close what is open."""
        self.mend()
        for each in self._open:
            with suppress(OSError):
                each.shutdown(socket.SHUT_RDWR)
            each.close()

    def _accept(self):
        with suppress(OSError):  # until it is closed
            while True:
                near, _ = self._listener.accept()
                try:
                    far = socket.create_connection(self._target)
                except OSError:  # nobody is there now
                    near.close()
                    continue
                self._open += [near, far]
                for ends in ((near, far), (far, near)):
                    threading.Thread(target=self._pass_on, args=ends, daemon=True).start()

    def _pass_on(self, source, sink):
        with suppress(OSError):  # an end that breaks off is passed on as one that closes
            while content := source.recv(65536):
                self._whole.wait()
                sink.sendall(content)
        self._whole.wait()
        with suppress(OSError):  # it may have broken off itself
            sink.shutdown(socket.SHUT_WR)


@contextmanager
def wired(address):
    """Lay a wire to a server."""
    wire = Wire(address)
    try:
        yield wire
    finally:
        wire.close()
