"""Run a script as a contributor does, and read the figures that it printed."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from pathlib import Path

TESTS = Path(__file__).parent
NUMBER = r"[-+]?(?:\d+\.?\d*(?:e[-+]?\d+)?|inf|nan)"


def printed_by(script, *arguments):
    """Run a script of the tests' folder in its small size; return what it printed."""
    done = subprocess.run(
        [sys.executable, TESTS / script, *arguments], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, f"{script}: {done.stdout[-2000:]}\n{done.stderr[-4000:]}"
    return done.stdout


def figures(printed, before="", after=""):
    """Return the numbers that stand after and before some words, each finite and above zero.

    Words are regular expressions; at least one number must have been printed.
    """
    found = [float(each) for each in re.findall(rf"{before}({NUMBER}){after}", printed)]
    assert found, f"no figure between {before!r} and {after!r} in: {printed}"
    assert all(math.isfinite(each) and each > 0 for each in found), (found, printed)
    return found
