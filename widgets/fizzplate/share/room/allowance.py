"""How much somebody may do, as time goes by: at once, and then each second."""

from __future__ import annotations

import time
from collections import OrderedDict

MAX_ADDRESSES = 1_000


class Allowance:
    """How much somebody may do: so much at once, and so much more each second.

    Examples
    --------
    >>> allowance = Allowance(2, 1)
    >>> allowance.takes(), allowance.takes(), allowance.takes()
    (True, True, False)
    """

    def __init__(self, at_once: float, a_second: float) -> None:
        self._most, self._a_second = at_once, a_second
        self._left, self._since = at_once, time.monotonic()

    def takes(self) -> bool:
        """Take one, if there is one left."""
        now = time.monotonic()
        self._left = min(self._most, self._left + (now - self._since) * self._a_second)
        self._since = now
        if self._left < 1:
            return False
        self._left -= 1
        return True


class Allowances:
    """An allowance for each address, of those that came latest.

    Examples
    --------
    >>> allowances = Allowances(1, 1)
    >>> allowances.takes("192.0.2.1"), allowances.takes("192.0.2.1"), allowances.takes("192.0.2.2")
    (True, False, True)
    """

    def __init__(self, at_once: float, a_second: float) -> None:
        self._size = at_once, a_second
        self._known: OrderedDict[str, Allowance] = OrderedDict()

    def takes(self, address: str) -> bool:
        """Take one for an address, if it has one left."""
        allowance = self._known.setdefault(address, Allowance(*self._size))
        self._known.move_to_end(address)
        while len(self._known) > MAX_ADDRESSES:
            self._known.popitem(last=False)
        return allowance.takes()
