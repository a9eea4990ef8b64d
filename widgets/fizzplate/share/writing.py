"""What the commands that write files have in common: they take links, and refuse in a sentence."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

INTERRUPTED = 130  # as a shell says it


def query_in(link: str) -> str:
    """Return the query of a link, which may also be given alone.

    Examples
    --------
    >>> query_in("http://127.0.0.1:8866/demonstrate?v=1&cells=NaCl"), query_in("v=1&cells=NaCl")
    ('v=1&cells=NaCl', 'v=1&cells=NaCl')
    """
    return urlsplit(link).query if "?" in link else link


def write_or_refuse(
    command: str,
    target: Path,
    write: Callable[[], str],
    *,
    cannot: type[Exception],
    interrupted: str = "interrupted",
) -> int:
    """Write what a command is there for, and say what was written, or why nothing was.

    Parameters
    ----------
    command
        Its name, as it is typed.
    target
        The file or folder that is written.
    write
        Writes it, and returns what is said of it.
    cannot
        What it raises, with a sentence, if nothing can be made of what was asked for.
    interrupted
        What is said after Ctrl-C.

    Returns
    -------
    int
        The command's exit status.
    """
    try:
        said = write()
    except cannot as problem:
        return _refuse(command, str(problem))
    except OSError as problem:
        reason = (problem.strerror or str(problem)).lower()
        return _refuse(
            command, f"{target} cannot be written: {reason}. Use a folder that you can write to."
        )
    except KeyboardInterrupt:
        _refuse(command, interrupted)
        return INTERRUPTED
    print(said)  # noqa: T201  # the command's output
    return 0


def _refuse(command: str, sentence: str) -> int:
    print(f"{command}: {sentence}", file=sys.stderr)  # noqa: T201  # the command's output
    return 1
