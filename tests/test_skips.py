"""In CI a skip is a failure: a test's, a whole file's, and an example's."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

SKIPPED = {
    "tests/test_one.py": "import pytest\n\ndef test_it():\n    pytest.skip('for no reason')\n",
    "tests/test_file.py": "import pytest\npytest.skip('all of it', allow_module_level=True)\n",
    "README.md": ">>> 1 / 0  # doctest: +SKIP\n",
}

#: no plugin is needed for it, and some take seconds to load
BARE = {"PYTEST_ADDOPTS": "", "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}


def run_pytest(folder, **environment):
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-rA"]
    command += ["--continue-on-collection-errors", "--doctest-glob=*.md", "tests", "README.md"]
    return subprocess.run(
        command,
        cwd=folder,
        env={**os.environ, **BARE, **environment},
        capture_output=True,
        text=True,
        check=False,
    )


def test_every_kind_of_skip_fails_where_it_must(tmp_path):
    (tmp_path / "tests").mkdir()
    for name, text in SKIPPED.items():
        (tmp_path / name).write_text(text)
    (tmp_path / "pytest.ini").write_text("[pytest]\n")
    shutil.copy(Path(__file__).with_name("conftest.py"), tmp_path / "tests")

    strict = run_pytest(tmp_path, FIZZPLATE_NO_SKIPS="1")
    assert strict.returncode == 1
    assert "2 failed, 1 error" in strict.stdout
    usual = run_pytest(tmp_path, FIZZPLATE_NO_SKIPS="")
    assert usual.returncode == 0
    assert "3 skipped" in usual.stdout
