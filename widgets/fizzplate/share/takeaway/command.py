"""The command ``fizzplate take-away``: write the page to a file."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING

from fizzplate.share.takeaway.page import TakeAwayError, take_away_page
from fizzplate.share.writing import query_in, write_or_refuse

if TYPE_CHECKING:
    from collections.abc import Sequence


def parser() -> argparse.ArgumentParser:
    """Return the command's arguments."""
    made = argparse.ArgumentParser(
        prog="fizzplate take-away",
        description=(
            "Write one file with the runs of a list in it, the half-equation workshop and a set of "
            "questions. It opens in a browser without a server and without a network. The class "
            "practical takes about a quarter of a minute to calculate, a list of 24 cells about a minute."
        ),
    )
    made.add_argument("file", type=Path, metavar="FILE.html", help="where to write it")
    made.add_argument(
        "--list",
        default="",
        metavar="LINK",
        help="a link to the Demonstrate page with the list (without it the class practical)",
    )
    made.add_argument(
        "--questions",
        default="",
        metavar="LINK",
        help="a link to the Revise page with the set of questions (without it set 1)",
    )
    return made


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    chosen = parser().parse_args(arguments)

    def write() -> str:
        page = take_away_page(
            query_in(chosen.list),
            set_query=query_in(chosen.questions),
            workers=os.cpu_count() or 1,
        )
        chosen.file.write_text(page, encoding="utf-8")
        return f"{chosen.file}: {len(page.encode()) / 1e6:.2f} MB"

    return write_or_refuse("fizzplate take-away", chosen.file, write, cannot=TakeAwayError)
