"""Make the C library give free memory back to the system, where it is glibc."""

from __future__ import annotations

import ctypes
import gc
import sys

#: numbers of glibc's <malloc.h>
M_TRIM_THRESHOLD = -1
M_ARENA_MAX = -8
ARENAS = 2  # a kernel has sixteen threads that mostly wait; each would have memory of its own
#: free bytes at the end before they are given back; setting it also fixes which arrays count as large
THRESHOLD = 131_072


def give_back() -> None:
    """Set this process, and all that it forks, to give memory back soon."""
    library = _glibc()
    if library is not None:
        library.mallopt(M_ARENA_MAX, ARENAS)
        library.mallopt(M_TRIM_THRESHOLD, THRESHOLD)


def give_back_now() -> None:
    """Give back all free memory, after much of it was released."""
    gc.collect()
    library = _glibc()
    if library is not None:
        library.malloc_trim(0)


def _glibc() -> ctypes.CDLL | None:
    if sys.platform != "linux":
        return None
    library = ctypes.CDLL(None)
    return library if hasattr(library, "malloc_trim") else None
