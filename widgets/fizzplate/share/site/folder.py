"""The folder of a site: files that are written whole, or not at all."""

from __future__ import annotations

import hashlib
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Container
    from pathlib import Path

OWN_FOLDERS = ("data", "look", "runs", "sets", "sweeps")
NAME_LENGTH = 12  # hexadecimal digits: two of a million files alike are next to impossible

OWN_NAME = re.compile(rf"(?:^|\.)[0-9a-f]{{{NAME_LENGTH}}}\.(?:txt|json|js|css)(?:\.part)?$")


def digest(text: str) -> str:
    """Return a short name for a text.

    Examples
    --------
    >>> digest("copper"), digest("copper") == digest("Copper")
    ('d16f06fe255d', False)
    """
    return hashlib.sha256(text.encode()).hexdigest()[:NAME_LENGTH]


def left_over(path: Path, belongs: Container[str]) -> list[Path]:
    """Return files of an earlier time that no page of a site asks for; nobody else's files are among them.

    Parameters
    ----------
    path
        The folder of the site.
    belongs
        Names of the site's files.
    """
    return [
        each
        for folder in OWN_FOLDERS
        for each in sorted((path / folder).glob("*"))
        if OWN_NAME.search(each.name) and f"{folder}/{each.name}" not in belongs
    ]


class Folder:
    """A folder into which a site is written.

    Parameters
    ----------
    path
        The folder; it is made if there is none.

    Attributes
    ----------
    written
        Names of all files that belong to the site, in the order in which they were named.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.written: dict[str, int] = {}
        path.mkdir(parents=True, exist_ok=True)

    def has(self, name: str) -> bool:
        """Return whether a file is there already, from an earlier time; it then belongs to the site."""
        found = self.path / name
        if not found.is_file():
            return False
        self.written[name] = found.stat().st_size
        return True

    def write(self, name: str, text: str) -> str:
        """Write a file and return its name; an interruption leaves the old one, or none."""
        target = self.path / name
        target.parent.mkdir(parents=True, exist_ok=True)
        content = text.encode()
        if not (target.is_file() and target.read_bytes() == content):
            half_written = target.with_name(f"{target.name}.part")
            half_written.write_bytes(content)
            half_written.replace(target)
        self.written[name] = len(content)
        return name

    def write_named_by_content(self, stem: str, ending: str, text: str) -> str:
        """Write a file whose name changes with its content, so that browsers may keep it for good."""
        return self.write(f"{stem}.{digest(text)}{ending}", text)
