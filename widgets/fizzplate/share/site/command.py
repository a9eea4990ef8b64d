"""The command ``fizzplate site``: write a folder of files for any web space."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from fizzplate.share.site.folder import left_over
from fizzplate.share.site.site import SiteError, write_site
from fizzplate.share.writing import query_in, write_or_refuse

if TYPE_CHECKING:
    from collections.abc import Sequence

BAR_WIDTH = 30  # characters
INTERRUPTED = "interrupted. The same command goes on from here."


def parser() -> argparse.ArgumentParser:
    """Return the command's arguments."""
    made = argparse.ArgumentParser(
        prog="fizzplate site",
        description=(
            "Write a folder of files that any web space can hold: the lesson, Explore, the half-equation "
            "workshop, questions and sheets to print. It needs no server and serves any number of readers. "
            "A second run goes on where an earlier one was interrupted, and works out only what has changed."
        ),
    )
    made.add_argument("folder", type=Path, metavar="FOLDER", help="where to write it")
    made.add_argument(
        "--list",
        action="append",
        default=[],
        metavar="LINK",
        help="a link to the Demonstrate page with a list of solutions; may be given several times "
        "(without it the class practical)",
    )
    made.add_argument(
        "--all",
        action="store_true",
        help="every solution that is offered, besides the lists (about 700 runs)",
    )
    made.add_argument(
        "--tidy",
        action="store_true",
        help="delete files of an earlier site in FOLDER that no page asks for any longer",
    )
    return made


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    chosen = parser().parse_args(arguments)

    def write() -> str:
        sizes = write_site(
            chosen.folder,
            [query_in(link) for link in chosen.list],
            every=chosen.all,
            workers=os.cpu_count() or 1,
            progress=_show_progress,
        )
        whole_MB = sum(sizes.values()) / 1e6
        said = f"{chosen.folder}: {len(sizes)} files, {whole_MB:.1f} MB"
        return "\n".join([said, *_after(left_over(chosen.folder, sizes), tidy=chosen.tidy)])

    return write_or_refuse(
        "fizzplate site", chosen.folder, write, cannot=SiteError, interrupted=INTERRUPTED
    )


def _after(old: Sequence[Path], *, tidy: bool) -> list[str]:
    """Delete what an earlier site has left, if that is wanted; say what is there, or was."""
    if not old:
        return []
    if not tidy:
        return [f"{len(old)} files of an earlier site are still there; --tidy deletes them"]
    for each in old:
        each.unlink()
    return [f"{len(old)} files of an earlier site were deleted"]


def _show_progress(what: str, done: int, count: int) -> None:
    """Draw a bar of what is there, over the one before."""
    filled = BAR_WIDTH * done // max(count, 1)
    bar = f"{'#' * filled}{'.' * (BAR_WIDTH - filled)}"
    end = "\n" if done == count else ""
    print(f"\r[{bar}] {done} of {count} {what}", end=end, file=sys.stderr, flush=True)  # noqa: T201  # the command's output
