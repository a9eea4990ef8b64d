"""The command ``fizzplate``: open a page in the browser."""

from __future__ import annotations

import argparse
import sys
from importlib.metadata import version
from typing import TYPE_CHECKING

from fizzplate.share.places import notebook
from fizzplate.share.server import free_port, serve

if TYPE_CHECKING:
    from collections.abc import Sequence

PAGES = ("demonstrate", "explore", "measure", "revise", "prepare")
LARGEST_PORT = 65535


def port_number(text: str) -> int:
    """Read the number of a port.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is not a whole number from 0 to 65535; the message says so.

    Examples
    --------
    >>> port_number("8866")
    8866
    """
    if text.isdecimal() and int(text) <= LARGEST_PORT:
        return int(text)
    raise argparse.ArgumentTypeError(
        f"{text!r} cannot be used; allowed is a whole number from 0 to {LARGEST_PORT}"
    )


def parser() -> argparse.ArgumentParser:
    """Return the command's arguments."""
    made = argparse.ArgumentParser(
        prog="fizzplate",
        description=(
            "Open a page: Demonstrate for the class, Explore for one person, Measure for the "
            "class's own numbers, Revise before an exam, Prepare before the lesson. "
            "It is served on this computer only. Press Ctrl-C to stop."
        ),
    )
    made.add_argument(
        "--page", choices=PAGES, default=PAGES[0], help="the page to open (default: %(default)s)"
    )
    made.add_argument(
        "--port",
        type=port_number,
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
    try:
        port = free_port(chosen.port)
    except OSError as problem:
        print(f"fizzplate: {problem}", file=sys.stderr)  # noqa: T201  # the command's output
        return 1
    serve(notebook(chosen.page), port, open_browser=not chosen.no_browser)
    return 0
