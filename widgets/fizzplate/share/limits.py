"""How much of the machine the server, and the program of each page, may use."""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress

import psutil

MB = 1_000_000
#: memory of one page's program; at work a page's has about 100 MB, most of it shared with the others
PROGRAM_MB = 500
#: what the system itself never lets it go beyond, whatever it does between two looks: of all that it
#: asked for, which is some 200 MB more than it uses
CEILING_MB = 1_200
#: open files that macOS grants at most, though its hard limit says that there is none
OPEN_MAX = 10_240
#: open files that must be left for another page: it takes about half of them, and without any the
#: library of the sockets ends the whole server
PAGE_FILES = 64


def raise_open_files() -> None:
    """Let this process, and all that it starts, open as many files as the system allows it."""
    if sys.platform != "win32":
        import resource

        _, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
        for most in (hard, OPEN_MAX):
            with suppress(ValueError, OSError):
                resource.setrlimit(resource.RLIMIT_NOFILE, (most, hard))
                return


def require_files() -> None:
    """Make sure that another page can be opened, with all that its program needs.

    Raises
    ------
    OSError
        With the number that the system gives when no more files can be opened, while some still can.
    """
    if sys.platform != "win32":
        import resource

        most, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
        if most != resource.RLIM_INFINITY and most - psutil.Process().num_fds() < PAGE_FILES:
            raise OSError(errno.EMFILE, os.strerror(errno.EMFILE))


def set_ceiling(pid: int) -> None:
    """Set a program's ceiling of memory, where the system has such a limit and no lower one is set."""
    if sys.platform == "linux":
        import resource

        most = CEILING_MB * MB
        with suppress(ProcessLookupError):  # it has ended
            _, hard = resource.prlimit(pid, resource.RLIMIT_DATA)
            if hard == resource.RLIM_INFINITY or hard > most:
                resource.prlimit(pid, resource.RLIMIT_DATA, (most, most))


def takes_too_much(pid: int) -> bool:
    """Tell whether a program holds more memory than it may."""
    try:
        return bool(psutil.Process(pid).memory_info().rss > PROGRAM_MB * MB)
    except psutil.Error:  # it has ended
        return False
