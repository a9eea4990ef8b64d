"""Name the tests that failed, if they are few and all wait for a browser or a server.

    python tests/late.py && python -m pytest --last-failed -n 0

Three processes share two processors, so such a test may wait longer than it allows. Tried once more
and alone, it tells a page that is late from one that is wrong. Whatever only calculates is never tried
again.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

WAITING = ("tests/browser/", "tests/engines/", "tests/serving/")
FEW = 3
FAILED = Path(".pytest_cache/v/cache/lastfailed")


def may_be_late(failed: list[str]) -> bool:
    """Tell whether tests, by their names, may have failed because the machine was busy."""
    return 0 < len(failed) <= FEW and all(name.startswith(WAITING) for name in failed)


if __name__ == "__main__":
    names = list(json.loads(FAILED.read_text(encoding="utf-8")))
    print(*names, sep="\n")
    sys.exit(not may_be_late(names))
