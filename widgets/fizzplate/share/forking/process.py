"""A process that is not our child, watched and ended without ever mistaking another process for it."""

from __future__ import annotations

import os
import select
import signal


class ForkedProcess:
    """A kernel that the warm parent forked, with what a kernel provisioner asks of a process.

    A number may be given to another process once its own has ended; the descriptor may not.

    Parameters
    ----------
    pid
        Its number.
    descriptor
        A pidfd of it, which is closed when it has ended.
    """

    stdin = stdout = stderr = None

    def __init__(self, pid: int, descriptor: int) -> None:
        self.pid = pid
        self._descriptor: int | None = descriptor

    def poll(self) -> int | None:
        """Return None while it runs, and then 0: only its parent could know how it ended."""
        if self._descriptor is None:
            return 0
        if not self._has_ended(self._descriptor, 0):
            return None
        os.close(self._descriptor)
        self._descriptor = None
        return 0

    def wait(self) -> int:
        """Wait until it has ended."""
        if self._descriptor is not None:
            self._has_ended(self._descriptor, None)
        return self.poll() or 0

    @staticmethod
    def _has_ended(descriptor: int, patience_ms: int | None) -> bool:
        looking = select.poll()  # select() itself takes no descriptor above 1023
        looking.register(descriptor, select.POLLIN)
        return bool(looking.poll(patience_ms))

    def send_signal(self, number: int) -> None:
        """Send it a signal, unless it has ended."""
        if self.poll() is None and self._descriptor is not None:
            signal.pidfd_send_signal(self._descriptor, number)

    def kill(self) -> None:
        """End it at once."""
        self.send_signal(signal.SIGKILL)

    def terminate(self) -> None:
        """Ask it to end."""
        self.send_signal(signal.SIGTERM)
