"""The command serves one page, to this machine only, shows no source, and leaves nothing behind."""

from __future__ import annotations

import http.cookiejar
import os
import re
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest

COMMAND = Path(sys.executable).with_name("fizzplate")


def start(*arguments, **environment):
    return subprocess.Popen(
        [COMMAND, *arguments],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, **environment},
        start_new_session=True,
    )


def open_page(address):
    jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
    with urllib.request.build_opener(jar).open(address, timeout=120) as answer:
        return answer.headers, answer.read().decode()


def session_members(leader):
    """Processes of the session that the command leads, read from the kernel."""
    found = []
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = entry.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        if int(fields[3]) == leader and fields[0] != "Z":
            found.append(entry.parent.name)
    return found


@pytest.fixture(scope="module")
def served():
    process = start("--no-browser", "--port", "0")
    try:
        address = process.stdout.readline().strip()
        headers, text = open_page(address)
        yield address, headers, text
    finally:
        process.terminate()
        process.wait(timeout=30)


def test_help_is_in_plain_words():
    said = subprocess.run([COMMAND, "--help"], capture_output=True, text=True, check=True).stdout
    assert "Ctrl-C" in said
    assert "--no-browser" in said


def test_the_address_stands_on_a_line_of_its_own_and_is_loopback(served):
    assert re.fullmatch(r"http://127\.0\.0\.1:\d+/", served[0])


def test_the_page_shows_no_source_and_no_traceback(served):
    assert "import fizzplate" not in served[2]
    assert "from fizzplate" not in served[2]
    assert "Traceback" not in served[2]


def test_the_page_uses_our_template_and_names_no_other_host(served):
    text = served[2]
    assert "Filling the beaker" in text
    loaded = re.findall(r'(?:src|href)="(https?:[^"]+)"', text)
    assert loaded == []


def test_security_headers_are_set(served):
    assert served[1]["X-Content-Type-Options"] == "nosniff"
    assert "frame-ancestors" in served[1]["Content-Security-Policy"]


@pytest.mark.parametrize(
    "path",
    [
        "voila/render/demonstrate.ipynb",
        "voila/tree",
        "voila/files/demonstrate.ipynb",
        "api/terminals",
    ],
)
def test_nothing_else_is_served(served, path):
    with pytest.raises(urllib.error.HTTPError) as refused:
        open_page(served[0] + path)
    assert refused.value.code in {403, 404}


@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM])
def test_stopping_leaves_no_process_and_no_file(tmp_path, stop):
    process = start("--no-browser", "--port", "0", TMPDIR=str(tmp_path))
    open_page(process.stdout.readline().strip())
    assert list(tmp_path.glob("fizzplate-*"))
    process.send_signal(stop)
    process.wait(timeout=30)
    assert session_members(process.pid) == []
    assert list(tmp_path.glob("fizzplate-*")) == []


def test_a_taken_port_is_refused_in_words():
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        answer = subprocess.run(
            [COMMAND, "--no-browser", "--port", port], capture_output=True, text=True, check=False
        )
    assert answer.returncode == 1
    assert f"port {port} is taken" in answer.stderr
