"""What a server and all that it started hold of the machine.

The proportional set size counts a page that several processes share once, in parts: the sum over a
family is what the family takes of the machine. Linux only.
"""

from __future__ import annotations

from pathlib import Path

import psutil

KIB = 1024
MB = 1e6


class Family:
    """A process and all that descend from it, those included that have lost their parent since.

    Parameters
    ----------
    pid
        The process at its head.
    """

    def __init__(self, pid):
        self.head = psutil.Process(pid)
        self._known = {self.head}

    def members(self):
        """List those that run."""
        for member in list(self._known):
            try:
                self._known.update(member.children(recursive=True))
            except psutil.NoSuchProcess:
                self._known.discard(member)
        return [member for member in self._known if alive(member)]

    def pss_bytes(self):
        """Sum their proportional set sizes."""
        return sum(_pss_bytes(member.pid) for member in self.members())

    def processor_s(self):
        """Sum the processor seconds that those which run have used."""
        total = 0.0
        for member in self.members():
            try:
                times = member.cpu_times()
            except psutil.NoSuchProcess:
                continue
            total += times.user + times.system
        return total

    def of_kernel(self, kernel):
        """Find the process of a kernel: it listens on sockets, or was started, under its name."""
        for member in self.members():
            if member == self.head:
                continue
            try:
                places = [str(each.laddr) for each in member.net_connections("unix")]
                places += member.cmdline()
            except (psutil.NoSuchProcess, psutil.AccessDenied):
                continue
            if any(kernel in place for place in places):
                return member
        raise LookupError(f"no process of kernel {kernel}")

    def kernels(self):
        """Count the processes that listen for a page: neither the server nor the warm parent."""
        return sum(self._listens(member) for member in self.members() if member != self.head)

    @staticmethod
    def _listens(member):
        try:
            return any("kernel-" in str(each.laddr) for each in member.net_connections("unix"))
        except (psutil.NoSuchProcess, psutil.AccessDenied):
            return False

    def files(self):
        """Count the file descriptors of the process at the head."""
        return self.head.num_fds()


def alive(process):
    """Say whether a process runs, and is not only waiting for its parent to notice its end."""
    try:
        return process.is_running() and process.status() != psutil.STATUS_ZOMBIE
    except psutil.NoSuchProcess:
        return False


def _pss_bytes(pid):
    try:
        text = Path(f"/proc/{pid}/smaps_rollup").read_text(encoding="ascii")
    except OSError:
        return 0  # it ended meanwhile
    line = next((line for line in text.splitlines() if line.startswith("Pss:")), "Pss: 0")
    return int(line.split()[1]) * KIB
