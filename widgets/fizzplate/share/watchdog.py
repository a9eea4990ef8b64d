"""The watchdog itself: ``python watchdog.py SERVER FOLDER PATIENCE``, which reads its standard input.

It receives each signal that reaches the server, even while a call in the server blocks signals:
the interpreter's own handler writes the signal's number into a pipe. It imports nothing of ours
and nothing that is installed, so that it is small and starts at once.
"""

from __future__ import annotations

import math
import os
import select
import shutil
import signal
import sys
import time
from pathlib import Path

SIGNAL_PIPE = 0  # standard input
LOOP_HAS_STOPPED = 0  # sent by the server when its loop has stopped; no signal has that number
SECOND_S = 1.0  # after a second signal: a loop that works stops sooner
TIDYING_S = 30.0  # to end every page's program and to remove the folder
ENDING_S = 10.0  # for what was killed to have gone
ENDED_NOTICE = "fizzplate: the server did not stop when it was asked to, so it was ended."


def server_ends(patience_s: float) -> bool:
    """Wait until the server has gone; return whether it went within its time."""
    signals, until, stopped = 0, math.inf, False
    while True:
        left = until - time.monotonic()
        if not select.select([SIGNAL_PIPE], [], [], None if left == math.inf else max(0.0, left))[
            0
        ]:
            return False
        numbers = os.read(SIGNAL_PIPE, 64)
        if not numbers:
            return True
        for number in numbers:
            now = time.monotonic()
            if number == LOOP_HAS_STOPPED:
                until, stopped = now + TIDYING_S, True
            elif not stopped:
                signals += 1
                until = min(until, now + (patience_s if signals == 1 else SECOND_S))


def end(server: int) -> None:
    """End the server, whatever it is doing, and wait until it has gone."""
    if os.getppid() == server:  # its number may be another's otherwise
        print(ENDED_NOTICE, file=sys.stderr, flush=True)  # noqa: T201  # for the person who asked it to stop
        os.kill(server, signal.SIGKILL)
    while os.read(SIGNAL_PIPE, 64):
        pass


def programs_of(folder: str) -> list[int]:
    """List the programs that a server started: their environment names its folder."""
    sign = f"JUPYTER_RUNTIME_DIR={folder}".encode()
    found = []
    for process in Path("/proc").glob(
        "[0-9]*"
    ):  # other systems have none; programs there look after the server
        try:
            named = sign in (process / "environ").read_bytes().split(b"\0")
        except OSError:  # another user's, or gone
            continue
        if named:
            found.append(int(process.name))
    return found


def tidy(folder: str) -> None:
    """End what the server had started, and remove its folder."""
    until = time.monotonic() + ENDING_S
    while (programs := programs_of(folder)) and time.monotonic() < until:
        for program in programs:
            try:
                os.kill(program, signal.SIGKILL)
            except ProcessLookupError:
                continue
        time.sleep(0.05)
    shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    if not server_ends(float(sys.argv[3])):
        end(int(sys.argv[1]))
    tidy(sys.argv[2])
