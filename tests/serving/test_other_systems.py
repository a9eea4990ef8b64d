"""What other systems lack is asked for only where the system is asked about first."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from fizzplate.share.network import LOOPBACK, Place
from fizzplate.share.settings import settings

LACKING = ("fcntl", "grp", "posix", "pwd", "resource", "syslog", "termios")

#: imports every module, while our own find none of what Windows lacks; libraries have their own ways
IMPORT_ALL = f"""
import builtins, pkgutil

own = builtins.__import__

def as_elsewhere(name, globals=None, *rest, **more):
    if name in {LACKING!r} and (globals or {{}}).get("__name__", "").startswith("fizzplate"):
        raise ModuleNotFoundError(f"no {{name}} for {{globals['__name__']}}")
    return own(name, globals, *rest, **more)

builtins.__import__ = as_elsewhere
import fizzplate

def fail(name):
    raise

found = [each.name for each in pkgutil.walk_packages(fizzplate.__path__, "fizzplate.", onerror=fail)]
for name in found:
    __import__(name)
print(len(found))
"""


@pytest.fixture
def import_all():
    def run(text):
        return subprocess.run(
            [sys.executable, "-c", text], capture_output=True, text=True, check=False
        )

    return run


def test_every_module_is_imported_where_there_is_only_what_all_systems_have(import_all):
    done = import_all(IMPORT_ALL)
    assert done.returncode == 0, done.stderr
    assert int(done.stdout) > 300


def test_a_module_that_asks_for_more_is_found(import_all):
    """Else the test above could not fail."""
    ours = "fizzplate.chemistry.asks_for_more"
    asking = f"exec('import fcntl', {{'__name__': {ours!r}}})"
    done = import_all(IMPORT_ALL.replace("import fizzplate\n", asking + "\n"))
    assert f"no fcntl for {ours}" in done.stderr


@pytest.mark.parametrize(("name", "transport"), [("u", "ipc"), ("ü", None), ("電", None)])
def test_a_socket_is_made_only_where_its_path_is_short_enough_in_bytes(name, transport):
    """A system counts bytes: a letter of another language is two or three."""
    made = settings(Path("/") / (20 * name), Place(LOOPBACK, 8866), 1)
    assert made.KernelManager.get("transport") == transport
