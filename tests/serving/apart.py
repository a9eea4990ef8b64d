"""Carry a coroutine out in a thread of its own: a browser's tests may have a loop running in this one."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor


def run_apart(coroutine):
    """Carry it out to its end; give its result or raise its error."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(asyncio.run, coroutine).result()
