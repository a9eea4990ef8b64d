"""The shared link: its files are sound, and the page that they serve is the command's own."""

from __future__ import annotations

import json
import os
import re
import shutil
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from fizzplate.share.places import template_folder
from fizzplate.share.server import free_port, settings

ROOT = Path(__file__).parents[2]
BINDER = ROOT / "binder"


def listens(port):
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def test_the_files_are_those_that_binder_reads():
    assert sorted(path.name for path in BINDER.iterdir()) == [
        "postBuild",
        "requirements.txt",
        "runtime.txt",
        "start",
        "voila.json",
    ]
    assert (BINDER / "requirements.txt").read_text().split() == ["."]
    version = re.fullmatch(r"python-3\.(\d+)\n", (BINDER / "runtime.txt").read_text())[1]
    assert int(version) >= 11


def test_the_shared_link_has_the_settings_of_the_command():
    shared = json.loads((BINDER / "voila.json").read_text())["VoilaConfiguration"]
    command = dict(settings(Path("unused"), 0).VoilaConfiguration)
    del command["kernel_spec_manager_class"]  # the shared machine holds one environment only
    assert shared == command


@pytest.mark.parametrize("script", ["postBuild", "start"])
def test_scripts_are_sound(script):
    assert os.access(BINDER / script, os.X_OK)
    subprocess.run(["bash", "-n", BINDER / script], check=True)


def test_the_page_of_the_link_is_ours_and_names_no_other_host(tmp_path, started, read_page):
    shutil.copy(BINDER / "voila.json", tmp_path)
    port = free_port(0)
    server = ["-m", "jupyter_server", f"--port={port}", "--ServerApp.ip=127.0.0.1"]
    server += ["--no-browser", "--allow-root", "--IdentityProvider.token="]
    server += [f"--ServerApp.root_dir={ROOT}"]
    joined = ["bash", "-c", 'exec "$@" 2>&1', "bash", BINDER / "start", sys.executable, *server]
    environment = {"JUPYTER_CONFIG_DIR": str(tmp_path), "JUPYTER_RUNTIME_DIR": str(tmp_path)}
    environment["JUPYTER_PATH"] = str(template_folder())  # as it is in this checkout
    with started(*joined, **environment) as process:
        said = iter(process.stdout.readline, "")
        assert any("is running at" in line for line in said)
        while not listens(port) and process.poll() is None:
            pass  # a moment: it says so just before it does
        text = read_page(f"http://127.0.0.1:{port}/voila/render/notebooks/demonstrate.ipynb")[1]
    assert "Filling the beaker" in text
    assert "cathode: bench" in text
    assert "import fizzplate" not in text
    hosts = set(re.findall(r"(?:https?:)?//([\w-]+(?:\.[\w-]+)+)", text))
    assert hosts <= {"www.w3.org"}  # the name of a namespace, never asked for
