"""One server, one file to take away, and one start of each browser for all checks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from tests.browser.conftest import served
from tests.engines.firefox import firefox
from tests.engines.webkit import webkit

from fizzplate.share.forking.warming import FOR_LEARNERS, ONLY


@pytest.fixture(scope="session")
def home():
    """Serve all pages, and give the address of the first; sheets for teachers are not worked out ahead."""
    with served("--no-browser", **{ONLY: ",".join(FOR_LEARNERS)}) as (_, address):
        yield address


@pytest.fixture(scope="session")
def lesson_file(tmp_path_factory):
    """Write the file as a teacher does."""
    path = tmp_path_factory.mktemp("stick") / "lesson.html"
    command = Path(sys.executable).with_name("fizzplate")
    options = ["--list", "v=1&cells=H2O,min=1", "--questions", "set=1&count=2&level=16"]
    subprocess.run([command, "take-away", path, *options], check=True, stdout=subprocess.DEVNULL)
    return path.as_uri()


@pytest.fixture(scope="session", params=[firefox, webkit], ids=lambda start: start.__name__)
def engine(request, tmp_path_factory):
    """Start one browser after the other."""
    with request.param(tmp_path_factory.mktemp("profile")) as started:
        yield started
