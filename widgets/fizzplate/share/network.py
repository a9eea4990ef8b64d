"""Where the pages are served: ports, addresses, and the link that others type."""

from __future__ import annotations

import errno
import ipaddress
import secrets
import socket
import sys
from dataclasses import dataclass
from urllib.parse import urlencode

LOOPBACK = "127.0.0.1"
EVERYWHERE = "0.0.0.0"  # noqa: S104  # only with a key, and said
FIRST_PORT = 8866
PORTS_TRIED = 50
MAX_PORT = 65535
KEY_SIGNS = "23456789abcdefghjkmnpqrstuvwxyz"  # none that looks like another: it may be typed
KEY_LENGTH = 16  # 79 bits: nobody finds it by trying
#: of the block kept for documentation: nothing is sent there, but a route is chosen
SOMEWHERE_ELSE = ("192.0.2.1", 9)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a server listens, and the key in its link.

    Parameters
    ----------
    host
        The address that it listens on.
    port
        The port.
    key
        What a link must carry; empty where only this computer can reach it.
    teacher_key
        What the teacher's own link carries besides; empty where nobody else can reach it.

    Examples
    --------
    >>> Place(LOOPBACK, 8866).address("demonstrate")
    'http://127.0.0.1:8866/demonstrate'
    >>> Place("192.0.2.7", 8866, "abc").class_address("demonstrate")
    'http://192.0.2.7:8866/demonstrate?key=abc'
    """

    host: str
    port: int
    key: str = ""
    teacher_key: str = ""

    @property
    def is_local(self) -> bool:
        """Whether only this computer can reach it."""
        return is_loopback(self.host)

    def address(self, path: str = "") -> str:
        """Return an address for this computer's own browser."""
        own = LOOPBACK if self.host == EVERYWHERE else self.host
        return self._address(own, path, "")

    def class_address(self, path: str = "", query: str = "") -> str:
        """Return the address that others on the network open, with what else its query holds."""
        return self._address(outward() if self.host == EVERYWHERE else self.host, path, query)

    def teacher_address(self, path: str = "") -> str:
        """Return the address that makes another computer's browser the teacher's."""
        return self.class_address(path, urlencode({"teacher": self.teacher_key}))

    def _address(self, host: str, path: str, query: str) -> str:
        named = f"[{host}]" if ":" in host else host
        key = urlencode({"key": self.key}) if self.key else ""
        joined = "&".join(part for part in (key, query) if part)
        return f"http://{named}:{self.port}/{path}{'?' if joined else ''}{joined}"


def is_loopback(host: str) -> bool:
    """Tell whether an address leads back to this computer.

    Examples
    --------
    >>> is_loopback("127.0.0.1"), is_loopback("::1"), is_loopback("192.0.2.7")
    (True, True, False)
    """
    return ipaddress.ip_address(host).is_loopback


def new_key() -> str:
    """Return a key for one start of the server.

    Examples
    --------
    >>> len(new_key()), new_key() == new_key()
    (16, False)
    """
    return "".join(secrets.choice(KEY_SIGNS) for _ in range(KEY_LENGTH))


def outward() -> str:
    """Return the address under which others reach this computer, or loopback if it has no network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(SOMEWHERE_ELSE)
        except OSError:
            return LOOPBACK
        return str(probe.getsockname()[0])


def free_port(wanted: int | None, host: str = LOOPBACK) -> int:
    """Return a free port: the one wanted, or the first free one from 8866 on.

    Parameters
    ----------
    wanted
        The port to serve on; 0 leaves the choice to the system, None to this function.
    host
        The address to serve on.

    Raises
    ------
    OSError
        If it, or every one tried, cannot be used; the message says why.
    """
    tried = [wanted] if wanted is not None else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED)
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    problem = ""
    for port in tried:
        with socket.socket(family) as probe:
            if sys.platform != "win32":  # where it would let two servers share a port
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
            except OSError as refusal:
                reason = (refusal.strerror or "refused").lower()
                wrong = "--host" if refusal.errno == errno.EADDRNOTAVAIL else "--port"
                problem = f"port {port} of {host} cannot be used: {reason}. Use another {wrong}"
                continue
            return int(probe.getsockname()[1])
    raise OSError(problem)
