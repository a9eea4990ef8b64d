"""The wheel carries all that it needs and nothing else."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import fizzplate

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "widgets" / "fizzplate"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel that CI built and installed, or else one built now."""
    if built := os.environ.get("FIZZPLATE_WHEEL"):
        return Path(built)
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", folder, ROOT], check=True
    )
    return next(folder.glob("fizzplate-*.whl"))


def test_the_wheel_holds_every_file_of_the_package(wheel):
    with zipfile.ZipFile(wheel) as archive:
        inside = set(archive.namelist())
    wanted = {
        f"fizzplate/{path.relative_to(SOURCE).as_posix()}"
        for path in SOURCE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    wanted |= {f"fizzplate/share/notebooks/{p.name}" for p in (ROOT / "notebooks").glob("*.ipynb")}
    assert wanted <= inside
    templates = SOURCE / "share" / "jupyter"  # once more, where Jupyter looks
    shared = {path.relative_to(templates).as_posix() for path in templates.rglob("*.*")}
    rest = inside - wanted
    assert {
        name.split(".data/data/share/jupyter/")[1] for name in rest if ".data/" in name
    } == shared
    assert [name for name in rest if ".data/" not in name and ".dist-info/" not in name] == []


def test_ci_tests_the_installed_wheel():
    if os.environ.get("FIZZPLATE_WHEEL"):
        assert ROOT not in Path(fizzplate.__file__).parents
    else:
        assert Path(fizzplate.__file__).is_file()
