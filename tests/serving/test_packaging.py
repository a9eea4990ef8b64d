"""The wheel carries all that it needs and nothing else; the shared link's files are sound."""

from __future__ import annotations

import json
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
    extra = {name for name in inside - wanted if name.startswith("fizzplate/")}
    assert extra == set()
    assert any(name.endswith("voila/templates/fizzplate/index.html.j2") for name in inside)


def test_ci_tests_the_installed_wheel():
    if os.environ.get("FIZZPLATE_WHEEL"):
        assert ROOT not in Path(fizzplate.__file__).parents
    else:
        assert Path(fizzplate.__file__).is_file()


def test_the_shared_link_has_the_settings_of_the_command():
    from fizzplate.share.server import settings

    shared = json.loads((ROOT / "binder" / "voila.json").read_text())["VoilaConfiguration"]
    command = settings(Path("unused"), 0).VoilaConfiguration
    assert shared == dict(command)


@pytest.mark.parametrize("script", ["postBuild", "start"])
def test_scripts_of_the_shared_link_are_sound(script):
    path = ROOT / "binder" / script
    assert os.access(path, os.X_OK)
    subprocess.run(["bash", "-n", path], check=True)
