"""The command as a user starts it, and a page as a browser asks for it."""

from __future__ import annotations

import http.cookiejar
import os
import subprocess
import sys
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import nbformat
import pytest

sys.path.insert(0, str(Path(__file__).parent))
from servers import fizzplate

from fizzplate.share.forking.warming import ONLY

COMMAND = Path(sys.executable).with_name("fizzplate")
WIDGET = "application/vnd.jupyter.widget-view+json"  # in a page whose program has answered
NOTEBOOKS = Path(__file__).parents[2] / "notebooks"


def printed(name):
    """Return what the notebook of a page prints, line by line, as its file keeps it."""
    cells = nbformat.read(NOTEBOOKS / f"{name}.ipynb", as_version=4).cells
    outputs = [each for cell in cells for each in cell.get("outputs", [])]
    lines = [line for each in outputs for line in each.get("text", "").splitlines()]
    found = [line.strip() for line in lines if len(line.strip()) > 20]
    assert found, f"the notebook {name} prints nothing"
    return found


@pytest.fixture(scope="module", autouse=True)
def little_is_worked_out_ahead(request):
    """Spare the many servers that start here what their tests gain nothing by.

    A test file whose learners open another page than the lightest names it in WORKED_OUT_AHEAD.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(ONLY, getattr(request.module, "WORKED_OUT_AHEAD", "measure"))
        yield


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
    def start(*command, stderr=None, **environment):
        process = subprocess.Popen(
            command or [COMMAND, "--no-browser", "--port", "0", "--page", "measure"],
            stdout=subprocess.PIPE,
            stderr=stderr,
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


@pytest.fixture(scope="module")
def site():
    """A server for this computer only."""
    with fizzplate(page="revise") as (_, address):
        yield address.partition("revise")[0]
