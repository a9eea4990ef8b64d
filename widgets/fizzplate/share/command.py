"""The command ``fizzplate``: open a page in the browser."""

from __future__ import annotations

import argparse
import sys
from importlib.metadata import version
from typing import TYPE_CHECKING

from fizzplate.share.server import free_port, serve

if TYPE_CHECKING:
    from collections.abc import Sequence

FIRST_PAGE = "demonstrate"


def parser() -> argparse.ArgumentParser:
    """Return the command's arguments."""
    made = argparse.ArgumentParser(
        prog="fizzplate",
        description=(
            "Open the Demonstrate page: choose a solution, switch on, and see what each electrode "
            "does. The page is served on this computer only. Press Ctrl-C to stop."
        ),
    )
    made.add_argument(
        "--port",
        type=int,
        metavar="NUMBER",
        help="the port to serve on; without it the first free one from 8866 on (0 means any)",
    )
    made.add_argument(
        "--no-browser",
        action="store_true",
        help="only print the address, and do not open a browser",
    )
    made.add_argument("--version", action="version", version=f"%(prog)s {version('fizzplate')}")
    return made


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    chosen = parser().parse_args(arguments)
    if chosen.port is not None and not 0 <= chosen.port <= 65535:
        parser().error(f"--port: {chosen.port} cannot be used; allowed is a number from 0 to 65535")
    try:
        port = free_port(chosen.port)
    except OSError as problem:
        print(f"fizzplate: {problem}", file=sys.stderr)  # noqa: T201  # the command's output
        return 1
    serve(FIRST_PAGE, port, open_browser=not chosen.no_browser)
    return 0
