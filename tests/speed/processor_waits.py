"""How long processes worked, and how long they waited for a processor, as Linux counts it for each thread."""

from __future__ import annotations

import os
import time
from dataclasses import dataclass
from pathlib import Path

PROC = Path("/proc")
IDLE_S = 2.0
WORKS = 0.05  # of a processor: less is idle


def descendants(pid):
    """List the processes that a process has started, and those that they have started."""
    children = {}
    for stat in PROC.glob("[0-9]*/stat"):
        try:
            parent = int(stat.read_text().rpartition(")")[2].split()[1])
        except OSError:  # it has ended meanwhile
            continue
        children.setdefault(parent, []).append(int(stat.parent.name))
    found = [pid]
    for each in found:
        found += children.get(each, [])
    return found[1:]


def main_threads():
    """List what answers a page: the program of the page, the server, and the page's own thread."""
    found = []
    for pid in descendants(os.getpid()):
        try:
            command = (PROC / str(pid) / "cmdline").read_text()
            name = (PROC / str(pid) / "comm").read_text()
        except OSError:
            continue
        if "--type=renderer" in command or name.startswith(("kernel-", "fizzplate")):
            found.append(pid)
    return found


@dataclass(frozen=True)
class Times:
    """Milliseconds that threads have worked, and have waited for a processor although they had work."""

    worked_ms: float
    waited_ms: float

    @classmethod
    def of(cls, pids):
        """Read the times of the main threads of processes so far."""
        worked = waited = 0
        for pid in pids:
            try:
                line = (PROC / str(pid) / "task" / str(pid) / "schedstat").read_text()
            except OSError:
                continue
            worked += int(line.split()[0])
            waited += int(line.split()[1])
        return cls(worked / 1e6, waited / 1e6)

    def since(self, before):
        """Return what has been added since."""
        return Times(self.worked_ms - before.worked_ms, self.waited_ms - before.waited_ms)


def wait_until_idle(pid, patience_s=180.0):
    """Wait until what a process has started works no longer, as a server that still works ahead does.

    Raises
    ------
    TimeoutError
        If it still works after that long: what is measured then would be measured beside other work.
    """
    end_s = time.monotonic() + patience_s
    while time.monotonic() < end_s:
        pids = descendants(pid)
        before = Times.of(pids)
        time.sleep(IDLE_S)
        if Times.of(pids).since(before).worked_ms < WORKS * IDLE_S * 1e3:
            return
    raise TimeoutError(f"the server still works after {patience_s:g} s")
