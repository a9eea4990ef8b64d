"""The command as a user starts it, and a page as a browser asks for it."""

from __future__ import annotations

import http.cookiejar
import os
import subprocess
import sys
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import pytest

COMMAND = Path(sys.executable).with_name("fizzplate")


@pytest.fixture(scope="session")
def read_page():
    """Ask for an address, following redirections; give the headers and the text."""

    def read(address):
        cookies = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        with urllib.request.build_opener(cookies).open(address, timeout=120) as answer:
            return answer.headers, answer.read().decode()

    return read


@pytest.fixture(scope="session")
def started():
    """Start a command, the real one unless told otherwise; it is ended if a test forgets to."""

    @contextmanager
    def start(*command, **environment):
        process = subprocess.Popen(
            command or [COMMAND, "--no-browser", "--port", "0", "--page", "demonstrate"],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, **environment},
        )
        try:
            yield process
        finally:
            process.terminate()
            process.wait(timeout=30)
            process.stdout.close()

    return start
