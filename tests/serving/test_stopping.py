"""A stop is heeded whatever hangs, and nothing is left behind, however the server ended."""

from __future__ import annotations

import fcntl
import os
import signal
import socket
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from memory import Family, alive
from servers import fizzplate, wait_until
from stuck import stuck_command

from fizzplate.share import stopping
from fizzplate.share.folder import (
    OWNER,
    PREFIX,
    PRIVATE_FOLDERS,
    private_folder,
    remove_stale_folders,
)

LONG_S = 60
GONE_S = 15


def begin_to_hang(address):
    """Ask for the page that hangs; give the connection, which must stay open."""
    parts = urlsplit(address)
    asking = socket.create_connection((parts.hostname, parts.port))
    asking.sendall(f"GET / HTTP/1.1\r\nHost: {parts.netloc}\r\n\r\n".encode())
    return asking


def pending(process):
    """Say whether a signal is still on its way to a process."""
    lines = Path(f"/proc/{process.pid}/status").read_text(encoding="ascii").splitlines()
    masks = [line.split()[1] for line in lines if line.startswith(("SigPnd", "ShdPnd"))]
    return any(int(mask, 16) for mask in masks)


@pytest.mark.parametrize(
    ("how", "stops", "patience_s"),
    [
        ("in Python", [signal.SIGTERM], 1.0),
        ("inside a call", [signal.SIGINT, signal.SIGINT], LONG_S),
    ],
    ids=["in Python, one request", "inside a call, a second Ctrl-C"],
)
def test_a_server_that_hangs_ends_and_leaves_nothing(tmp_path, read_page, how, stops, patience_s):
    """What hangs and how often it is asked are seen by two parts of the watchdog, so pairs are enough."""
    command = stuck_command(how, patience_s)
    with fizzplate(page="measure", command=command, TMPDIR=str(tmp_path)) as (process, address):
        read_page(address)
        members = Family(process.pid).members()
        assert any(member.name().startswith("kernel-") for member in members)
        with begin_to_hang(address):
            assert process.stdout.readline() == "hangs\n"
            began = time.monotonic()
            for stop in stops:
                process.send_signal(stop)
                assert wait_until(lambda: not pending(process), GONE_S)  # two at once would be one
            assert process.wait(timeout=GONE_S) == -signal.SIGKILL
            assert time.monotonic() - began < LONG_S
        assert wait_until(lambda: not any(map(alive, members)), GONE_S)
        assert list(tmp_path.iterdir()) == []


def test_a_loop_that_was_told_to_stop_has_ten_seconds():
    assert stopping.PATIENCE_S == 10.0


def test_what_servers_left_is_cleared_at_the_next_start_and_nothing_else(
    tmp_path, monkeypatch, read_page
):
    """And a server that is killed leaves nothing, either."""
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / OWNER).touch()
    (outside / "kept").touch()
    left = tmp_path / f"{PREFIX}left"
    left.mkdir()
    (left / OWNER).touch()
    (left / "link").symlink_to(outside)
    link = tmp_path / f"{PREFIX}link"
    link.symlink_to(outside)
    unmarked = tmp_path / f"{PREFIX}unmarked"
    unmarked.mkdir()
    marked_by_link = tmp_path / f"{PREFIX}odd"
    marked_by_link.mkdir()
    (marked_by_link / OWNER).symlink_to(outside / OWNER)
    kept = {outside, link, unmarked, marked_by_link}
    with fizzplate(page="measure", TMPDIR=str(tmp_path)) as (process, address):
        running = {path for path in tmp_path.glob(f"{PREFIX}*") if (path / "templates").is_dir()}
        assert len(running) == 1
        remove_stale_folders()
        assert set(tmp_path.iterdir()) == kept | running
        read_page(address)
        members = Family(process.pid).members()
        process.kill()
        assert wait_until(lambda: not any(map(alive, members)), GONE_S)
        assert set(tmp_path.iterdir()) == kept
    assert (outside / "kept").is_file()


def test_a_server_that_starts_clears_no_folder_of_one_that_starts_beside_it(tmp_path, monkeypatch):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    for name in (*PRIVATE_FOLDERS, "JUPYTER_PATH"):
        monkeypatch.setenv(name, "")
    lock = fcntl.flock

    def as_another_starts(file, how):
        monkeypatch.setattr("fcntl.flock", lock)
        remove_stale_folders()
        lock(file, how)

    monkeypatch.setattr("fcntl.flock", as_another_starts)
    with private_folder() as folder:
        assert folder.is_dir()
        remove_stale_folders()
        assert folder.is_dir()
    assert list(tmp_path.iterdir()) == []


def test_another_users_folder_is_left_alone(tmp_path, monkeypatch):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    folder = tmp_path / f"{PREFIX}left"
    folder.mkdir()
    (folder / OWNER).touch()
    own = os.geteuid()
    monkeypatch.setattr("os.geteuid", lambda: own + 1)
    remove_stale_folders()
    assert folder.is_dir()
    monkeypatch.setattr("os.geteuid", lambda: own)
    remove_stale_folders()
    assert not folder.exists()
