"""The command ``fizzplate``: serve the pages, to this computer or to a class."""

from __future__ import annotations

import argparse
import ipaddress
import sys
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from fizzplate.lesson.state import PAGES
from fizzplate.share.network import (
    EVERYWHERE,
    LOOPBACK,
    MAX_PORT,
    Place,
    free_port,
    is_loopback,
    new_key,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

DEFAULT_KERNELS = 40  # for one person, with as many tabs as one may open
MAX_CLASS_SIZE = 500
SPARE = 0.2  # of a class's kernels: a page that is loaded again begins before the old one has gone
EXPOSED = """\
Whoever is on this network and has the link can open the pages until you stop this command.
The link's key is new at each start. What is sent is not encrypted: use a network that you trust.
"""


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
    return _whole_number(text, 0, MAX_PORT)


def class_size(text: str) -> int:
    """Read how many learners a class has.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is not a whole number from 1 to 500; the message says so.

    Examples
    --------
    >>> class_size("30")
    30
    """
    return _whole_number(text, 1, MAX_CLASS_SIZE)


def address(text: str) -> str:
    """Read an address to listen on.

    Raises
    ------
    argparse.ArgumentTypeError
        If it is neither an IP address nor "localhost"; the message says so.

    Examples
    --------
    >>> address("localhost")
    '127.0.0.1'
    """
    if text == "localhost":
        return LOOPBACK
    try:
        return str(ipaddress.ip_address(text))
    except ValueError:
        raise argparse.ArgumentTypeError(
            f"{text!r} cannot be used. Use an IP address of this computer, such as "
            "127.0.0.1 (this computer only) or 0.0.0.0 (all its networks)"
        ) from None


def site_folder(text: str) -> Path:
    """Read the folder of a site.

    Raises
    ------
    argparse.ArgumentTypeError
        If it holds none; the message says how one is written.
    """
    from fizzplate.share.site import is_own_home

    folder, home = Path(text), Path(text, "index.html")
    if not home.is_file() or not is_own_home(home.read_text("utf-8", errors="replace")):
        raise argparse.ArgumentTypeError(
            f"{text!r} holds no site. Write one first: fizzplate site {text}"
        )
    return folder.resolve()


def parser() -> argparse.ArgumentParser:
    """Return the command's arguments."""
    pages = ", ".join(f"{page.title} ({page.occasion})" for page in PAGES.values())
    made = argparse.ArgumentParser(
        prog="fizzplate",
        description=(
            f"Serve the pages: {pages}. Without options they are served to this computer only. "
            "Press Ctrl-C to stop."
        ),
        epilog=(
            "To write a page that needs no server and no network: fizzplate take-away FILE.html "
            "(see fizzplate take-away --help)."
        ),
    )
    made.add_argument(
        "--page",
        choices=PAGES,
        help="the page to open; without it the home page, which leads to all",
    )
    made.add_argument(
        "--port",
        type=port_number,
        metavar="NUMBER",
        help="the port to serve on; without it the first free one from 8866 on (0 means any)",
    )
    made.add_argument(
        "--host",
        type=address,
        metavar="ADDRESS",
        help=(
            "the address to serve on: 127.0.0.1 (this computer only) unless --class is given, "
            "0.0.0.0 for all networks of this computer; others then need the link with its key"
        ),
    )
    made.add_argument(
        "--class",
        dest="learners",
        type=class_size,
        metavar="N",
        help="serve a class of N learners on this computer's networks, and print the link for them",
    )
    made.add_argument(
        "--site",
        type=site_folder,
        metavar="FOLDER",
        help=(
            "a folder written by fizzplate site: it is served below /site/, also to those without the "
            "class's link, and offered where a line is slow"
        ),
    )
    made.add_argument(
        "--link",
        action="store_true",
        help="also show the class's link as a code to scan, here and on a page to project",
    )
    made.add_argument(
        "--check",
        action="store_true",
        help="only check whether this computer can serve the class (30 learners without --class)",
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
    given = list(sys.argv[1:] if arguments is None else arguments)
    if given[:1] == ["take-away"]:
        from fizzplate.share.takeaway import main as take_away

        return take_away(given[1:])
    if given[:1] == ["site"]:
        from fizzplate.share.site import main as site

        return site(given[1:])
    chosen = parser().parse_args(given)
    host = chosen.host or (EVERYWHERE if chosen.learners else LOOPBACK)
    if chosen.check:
        from fizzplate.share.check import check

        return check(chosen.learners or 30, chosen.port, host)
    try:
        port = free_port(chosen.port, host)
    except OSError as problem:
        print(f"fizzplate: {problem}", file=sys.stderr)
        return 1
    place = Place(host, port) if is_loopback(host) else Place(host, port, new_key(), new_key())
    most = int(chosen.learners * (1 + SPARE)) + 2 if chosen.learners else DEFAULT_KERNELS
    try:
        _serve(chosen, place, most)
    except OSError as problem:
        from fizzplate.share.handlers import DISK_FULL, lacking

        lack = lacking(problem)
        if lack is None or lack[0] != DISK_FULL:
            raise
        print("fizzplate: the temporary folder is full; make room in it", file=sys.stderr)
        return 1
    return 0


def _serve(chosen: argparse.Namespace, place: Place, most: int) -> None:
    from fizzplate.share.places import notebook
    from fizzplate.share.server import open_browser, serve

    first = chosen.page or ""

    def on_listening() -> None:
        print(place.address(first), flush=True)
        if not place.is_local:
            print(f"\nThe link for the class:\n{place.class_address(first)}\n", flush=True)
            print(
                f"Your own link, to ask the class from another computer:\n{place.teacher_address(first)}\n"
            )
            print(EXPOSED, file=sys.stderr)
        if chosen.link:
            from fizzplate.share.codes import in_letters

            print(in_letters(place.class_address(first)))
            print(f"To project it:\n{place.address('class-link')}", flush=True)
        if not chosen.no_browser:
            open_browser(place.address("class-link" if chosen.link else first))

    serve(
        {name: notebook(name) for name in PAGES},
        place,
        max_kernels=most,
        first=first,
        site=chosen.site,
        on_listening=on_listening,
    )


def _whole_number(text: str, least: int, largest: int) -> int:
    if text.isdecimal() and least <= int(text) <= largest:
        return int(text)
    raise argparse.ArgumentTypeError(
        f"{text!r} cannot be used. Use a whole number from {least} to {largest}"
    )
