"""Print after the tests how many processor seconds each file and the dearest tests took, children included.

    python -m pytest -p tests.processor_time [-n 2] [tests/serving ...]

A time on the clock depends on what else the machine does; processor seconds say what a file costs, and
two processors give two of them in a second. Where control groups can be made (Linux, by root) the
seconds are those of every process that a test started. Elsewhere a process counts only once its parent
has waited for it, so that browsers and kernels are partly left out; the heading says which it is.
"""

from __future__ import annotations

import contextlib
import os
import resource
from collections import Counter
from pathlib import Path

import pytest

WORKER = "PYTEST_XDIST_WORKER"
SPENT = "processor_s"
EVERYTHING = "with all that they started"
WAITED_FOR = "with what they started and waited for"
#: where control groups are, of version 1 and 2: the controller that counts, the file, its units in a second
GROUPS = (
    (Path("/sys/fs/cgroup/cpuacct"), "cpuacct", "cpuacct.usage", 1e9),
    (Path("/sys/fs/cgroup"), "", "cpu.stat", 1e6),
)
MIN_S = 0.5  # smaller files are one line together, smaller tests none
DEAREST = 40  # tests that are listed one by one


class Group:
    """A control group below this process's own, with it in it and all that it starts from now on."""

    def __init__(self):
        for root, controller, usage, a_second in GROUPS:
            try:
                outer = root / _path_of_this_process(controller)
                folder = outer / f"tests-{os.getpid()}"
                folder.mkdir()
                if not (folder / usage).exists():  # a folder as any other
                    folder.rmdir()
                    continue
                (folder / "cgroup.procs").write_text(str(os.getpid()))
            except (OSError, LookupError):
                continue
            self._outer, self._folder, self._usage, self._a_second = outer, folder, usage, a_second
            return
        raise OSError("no control group can be made here")

    def read_s(self):
        """Give the seconds so far, which stand at the end of the first line."""
        line, *_ = (self._folder / self._usage).read_text().splitlines()
        return int(line.split()[-1]) / self._a_second

    def leave(self):
        """Leave it; what still runs in it keeps it there."""
        with contextlib.suppress(OSError):
            (self._outer / "cgroup.procs").write_text(str(os.getpid()))
            self._folder.rmdir()


def _path_of_this_process(controller):
    """Find the group that a controller has this process in, as a path below the controller's root."""
    for line in Path("/proc/self/cgroup").read_text().splitlines():
        _, names, path = line.split(":", 2)
        if controller in names.split(","):
            return path.lstrip("/")
    raise LookupError(controller)


def waited_for_s():
    """Give the seconds of this process and of those that it has waited for."""
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(each.ru_utime + each.ru_stime for each in used)


class Meter:
    """Write down beside each report what its test took."""

    def __init__(self):
        self._group = None
        with contextlib.suppress(OSError):
            self._group = Group()
        self._read_s = self._group.read_s if self._group else waited_for_s
        self._before_s = self._read_s()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_makereport(self):
        report = yield
        now_s = self._read_s()
        how = EVERYTHING if self._group else WAITED_FOR
        report.user_properties.append((SPENT, (now_s - self._before_s, how)))
        self._before_s = now_s
        return report

    def pytest_unconfigure(self):
        if self._group:
            self._group.leave()


class Table:
    """Sum up by file and by test, and print that in the end."""

    def __init__(self):
        self._spent_s = Counter()
        self._spent_by_test_s = Counter()
        self._how = set()

    def pytest_runtest_logreport(self, report):
        for name, value in report.user_properties:
            if name == SPENT:
                self._spent_s[report.nodeid.partition("::")[0]] += value[0]
                self._spent_by_test_s[report.nodeid, report.when] += value[0]
                self._how.add(value[1])

    def pytest_terminal_summary(self, terminalreporter):
        terminalreporter.section(f"processor seconds of files, {', '.join(sorted(self._how))}")
        large = [each for each in self._spent_s.most_common() if each[1] >= MIN_S]
        for name, spent_s in large:
            terminalreporter.line(f"{spent_s:8.1f} {name}")
        rest_s = self._spent_s.total() - sum(spent_s for _, spent_s in large)
        terminalreporter.line(f"{rest_s:8.1f} {len(self._spent_s) - len(large)} smaller ones")
        terminalreporter.line(f"{self._spent_s.total():8.1f} all")
        terminalreporter.section(f"the {DEAREST} dearest tests")
        for (name, when), spent_s in self._spent_by_test_s.most_common(DEAREST):
            if spent_s >= MIN_S:
                terminalreporter.line(f"{spent_s:8.1f} {when:8} {name}")


def pytest_configure(config):
    """Measure where tests are run, and print where they are reported."""
    if os.environ.get(WORKER) or not config.getoption("numprocesses", None):
        config.pluginmanager.register(Meter())
    if not os.environ.get(WORKER):
        config.pluginmanager.register(Table())
