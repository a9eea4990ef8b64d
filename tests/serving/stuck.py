"""The command with a home page that never answers: its loop is stuck, in Python or inside a call."""

from __future__ import annotations

import sys

STUCK = {
    "in Python": "while True:\n        pass",
    "inside a call": "all(itertools.repeat(True))",  # heeds no signal, and no other thread runs
}


def stuck_command(how, patience_s):
    """Give what to start in place of the installed command."""
    program = f"""
import itertools
from fizzplate.share import stopping
from fizzplate.share.command import main
from fizzplate.share.handlers import pages

def get(self):
    print("hangs", flush=True)
    {STUCK[how]}

pages.Home.get = get
stopping.PATIENCE_S = {patience_s}
main()
"""
    return [sys.executable, "-c", program]
