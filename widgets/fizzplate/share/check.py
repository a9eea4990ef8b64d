"""Whether this computer can serve a class, with figures."""

from __future__ import annotations

import shutil
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import psutil

from fizzplate.share.forking import can_fork
from fizzplate.share.network import LOOPBACK, free_port, outward

MB = 1_000_000
#: measured by tests/serving/compare_joins.py on Linux, MB: the server with its warm parent, and each
#: learner's program, forked or started by itself
SERVER_MB = 250
FORKED_MB = 40
ORDINARY_MB = 120
#: seconds of one processor that a learner's page takes to open, measured by the same
JOIN_S = 0.30
#: descriptors: of the server for each learner (sockets of a kernel and of a browser), and by itself
FILES_EACH = 16
FILES_OWN = 100
#: threads of a kernel
THREADS_EACH = 20
DISK_MB = 50
FAMILY = "DejaVu Sans"  # what charts are lettered in, shipped with matplotlib


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at.

    Parameters
    ----------
    good
        Whether it is enough.
    said
        What is there and what is needed, in words.
    """

    good: bool
    said: str


def findings(learners: int, port: int | None, host: str) -> list[Finding]:
    """Look at this computer.

    Parameters
    ----------
    learners
        How many would open a page.
    port, host
        Where they would be served.

    Examples
    --------
    >>> len(findings(1, 0, "127.0.0.1")) >= 6
    True
    """
    return [
        _memory(learners),
        _processors(learners),
        _port(port, host),
        *_limits(learners),
        _disk(),
        _fonts(),
        _network(host),
    ]


def check(learners: int, port: int | None, host: str) -> int:
    """Print what was found; return 0 if all of it is enough, else 1."""
    found = findings(learners, port, host)
    print(f"Serving {learners} learner{'s' if learners > 1 else ''} from this computer:")
    for each in found:
        print(f"  {'enough ' if each.good else 'TOO LOW'}  {each.said}")
    good = all(each.good for each in found)
    print("This computer is ready." if good else "This computer is not ready: see what is too low.")
    return 0 if good else 1


def _memory(learners: int) -> Finding:
    each = FORKED_MB if can_fork() else ORDINARY_MB
    needed = SERVER_MB + learners * each
    free = psutil.virtual_memory().available // MB
    return Finding(
        free >= needed, f"memory: {free} MB free, about {needed} MB needed ({each} MB a learner)"
    )


def _processors(learners: int) -> Finding:
    count = psutil.cpu_count() or 1
    seconds = learners * JOIN_S / count
    return Finding(
        seconds <= 30,
        f"processors: {count}; if all open the page at once, the last sees it after about {seconds:.0f} s",
    )


def _port(port: int | None, host: str) -> Finding:
    try:
        return Finding(good=True, said=f"port: {free_port(port, host)} of {host} is free")
    except OSError as problem:
        return Finding(good=False, said=f"port: {problem}")


def _limits(learners: int) -> list[Finding]:
    if sys.platform == "win32":  # it sets no such limits
        return []
    import resource

    needs = (
        # the server raises what it may open itself as far as it may be raised
        ("open files", resource.RLIMIT_NOFILE, 1, FILES_OWN + FILES_EACH * learners),
        ("processes and threads", resource.RLIMIT_NPROC, 0, THREADS_EACH * learners),
    )
    found = []
    for name, which, raised, needed in needs:
        allowed = resource.getrlimit(which)[raised]
        unlimited = allowed == resource.RLIM_INFINITY
        said = "no limit" if unlimited else f"{allowed} allowed"
        found.append(
            Finding(unlimited or allowed >= needed, f"{name}: {said}, about {needed} needed")
        )
    return found


def _disk() -> Finding:
    folder = tempfile.gettempdir()
    free = shutil.disk_usage(folder).free // MB
    return Finding(free >= DISK_MB, f"temporary folder: {free} MB free, {DISK_MB} MB needed")


def _fonts() -> Finding:
    from matplotlib import get_cachedir
    from matplotlib.font_manager import findfont

    listed = any(Path(get_cachedir()).glob("fontlist-*.json"))
    found = Path(findfont(FAMILY)).stem
    state = "listed" if listed else "not listed yet, so the first start takes some seconds longer"
    return Finding("DejaVu" in found, f"fonts: charts use {found}; fonts are {state}")


def _network(host: str) -> Finding:
    seen = outward()
    if host == LOOPBACK:
        return Finding(good=True, said="network: this computer only")
    return Finding(seen != LOOPBACK, f"network: others reach this computer at {seen}")
