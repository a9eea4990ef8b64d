"""What breaks hurts nobody else, hangs nothing, and leaves nothing behind: faults.py, scaled down."""

from __future__ import annotations

import inspect
import re
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from tests.printed import figures, printed_by

sys.path.insert(0, str(Path(__file__).parent))
from aftermath import BACK, Found
from apart import run_apart
from faults import (
    clock_jump,
    disk_full,
    kernel_killed,
    on_a_small_disk,
    parent_killed,
    server_restarted,
)
from floods import endurance, kernel_starts, oversized, page_loads, slow_clients
from malformed import malformed_frames
from servers import HASTY_COMMAND

from fizzplate.share.command import SPARE

WORKED_OUT_AHEAD = "demonstrate"
LET_GO = """
import psutil
from fizzplate.share.allocator import give_back_now
pieces = [bytes(100_000) for _ in range(3000)]
last = bytes(100_000)
del pieces
for k in range(2):
    print(psutil.Process().memory_info().rss / 1e6, "MB")
    give_back_now()
"""

#: those after which a server is as it was before, so that one serves them all
SPARING = {
    "kernel killed": (kernel_killed, {}),
    "endurance": (endurance, {"learners": 2, "minutes": 0.08, "pause_s": 0.5, "let_go_s": 0}),
    "page loads": (page_loads, {"loads": 6, "seconds": 2, "let_go_s": 0}),
    "slow clients": (slow_clients, {"clients": 20, "seconds": 2}),
    "oversized": (oversized, {}),
    "parent killed": (parent_killed, {"comers": 1}),
    "disk full": (disk_full, {}),
    "malformed frames": (malformed_frames, {"frames": 150, "answer_s": 30.0}),
}


@pytest.fixture(scope="module")
def server():
    """Start one server for the faults that leave it as it was; give what they are told of it."""
    with (
        tempfile.TemporaryFile("w+", encoding="utf-8") as log,
        on_a_small_disk("--host", "127.0.0.1", "--class", "10", log=log) as (started, folder),
    ):
        yield {"server": started, "folder": folder, "log": log}


@pytest.mark.parametrize("name", SPARING)
def test_a_fault_of_another_leaves_the_server_as_it_was(name, server, capsys):
    fault, sizes = SPARING[name]
    takes = inspect.signature(fault).parameters
    about = {key: value for key, value in ({"others": 1} | server).items() if key in takes}
    nobody_else_was_hurt(run_apart(fault(**about, **sizes)), capsys)


def test_a_killed_server_leaves_nothing_and_may_start_again_on_its_port(server, capsys):
    """It ends the server that the faults above share, so it stands after them."""
    fault = server_restarted(others=1, signals=[signal.SIGKILL], server=server["server"])
    nobody_else_was_hurt(run_apart(fault), capsys)


def test_a_clock_that_jumps_hurts_nobody_and_lost_programs_still_end(capsys):
    fault = clock_jump(others=1, patience_s=30, command=HASTY_COMMAND)
    nobody_else_was_hurt(run_apart(fault), capsys)


def nobody_else_was_hurt(found, capsys):
    """Say that those who had nothing to do with it went on, and that memory is back."""
    found.tell()  # the figures, for whoever reads a failure
    printed = capsys.readouterr().out
    print(printed)
    assert figures(printed, "memory: ", " MB")
    assert figures(printed, " MB, ", " MB after")
    assert found.failures == []
    assert all(count > 0 for count, *_ in found.answers.values())
    assert found.memory_is_back


def test_asking_for_kernels_without_end_gets_a_limit_and_stops_nobody():
    found = run_apart(kernel_starts(starts=12, others=1, room_for=2, settle_s=0))
    found.tell()
    assert found.failures == []
    assert found.figures["answers"]["status 503"] > 0
    assert found.figures["most kernels at once"] <= int(2 * (1 + SPARE)) + 2


def test_they_are_listed_by_their_names():
    names = re.findall(r"^(\w+): ", printed_by("serving/faults.py", "--list"), re.MULTILINE)
    assert {"kernel_killed", "endurance"} <= set(names)


def test_memory_that_was_let_go_goes_back_to_the_system():
    """Here the C library keeps what lies below one piece that is still in use, until it is told."""
    before_MB, after_MB = figures(
        subprocess.run(
            [sys.executable, "-c", LET_GO], check=True, capture_output=True, text=True
        ).stdout,
        "",
        " MB",
    )
    assert after_MB < before_MB - 100


def test_memory_that_is_not_back_is_seen():
    assert Found("", before_mb=100.0, after_mb=100.0 * (1 + BACK)).memory_is_back
    assert not Found("", before_mb=100.0, after_mb=111.0).memory_is_back
