"""What a test takes of the processor is counted where it was taken, in what it started too."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.printed import figures
from tests.processor_time import WORKER

BUSY = "import time\nwhile time.process_time() < 1.0:\n    pass\n"
TESTS = {
    "test_busy.py": (
        "import subprocess, sys\n"
        "def test_it():\n"
        f"    subprocess.run([sys.executable, '-c', {BUSY!r}], check=True)\n"
    ),
    "test_idle.py": "def test_it():\n    pass\n",
}


def test_processor_seconds_are_printed_by_file(tmp_path):
    for name, text in TESTS.items():
        (tmp_path / name).write_text(text)
    (tmp_path / "pytest.ini").write_text("[pytest]\n")
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider"]
    alone = {name: value for name, value in os.environ.items() if name != WORKER}
    bare = {"PYTEST_ADDOPTS": "", "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    root = str(Path(__file__).parents[1])
    printed = subprocess.run(
        [*command, "-p", "tests.processor_time"],
        cwd=tmp_path,
        env={**alone, **bare, "PYTHONPATH": root},
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    (busy_s,), (all_s,) = figures(printed, "", " test_busy.py"), figures(printed, "", " all")
    assert 1.0 <= busy_s <= all_s
    assert "1 smaller ones" in printed
