"""Join small ES modules into the one module text that a widget loads.

A widget's module comes from a Blob address, where a relative import has nothing to be relative
to. The drawing code is kept in small named files all the same, which Node can test one by one;
here they are joined, each file once and after the files that it imports from.
"""

from __future__ import annotations

import posixpath
import re
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

_IMPORT = re.compile(r'^import \{[^}]*\} from "(?P<path>\.{1,2}/[^"]+\.js)";\n?', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function|class|const|let)\b)", re.MULTILINE)
_TOP_LEVEL = re.compile(
    r"^(?:async )?(?:function\*?|class|const|let) (?P<name>[\w$]+)", re.MULTILINE
)
_LEFT_OVER = re.compile(r"^(?:import|export)\b.*$", re.MULTILINE)


def in_order(files: Traversable, entry: str) -> list[str]:
    """List a module and all that it imports from, each once and after what it needs.

    Parameters
    ----------
    files
        Folder that the names are relative to.
    entry
        Name of the module to begin with, for example ``"bench/bench.js"``.

    Raises
    ------
    ValueError
        If modules import from each other in a circle.
    """
    ordered: list[str] = []
    open_names: list[str] = []

    def visit(name: str) -> None:
        if name in ordered:
            return
        if name in open_names:
            raise ValueError(f"modules import in a circle: {' -> '.join([*open_names, name])}")
        open_names.append(name)
        text = files.joinpath(name).read_text(encoding="utf-8")
        for found in _IMPORT.finditer(text):
            visit(posixpath.normpath(posixpath.join(posixpath.dirname(name), found["path"])))
        open_names.pop()
        ordered.append(name)

    visit(entry)
    return ordered


def join_modules(entry: str, *, render: str, files: Traversable | None = None) -> str:
    """Join a module and all that it imports from into one self-contained module text.

    Parameters
    ----------
    entry
        Name of the module to begin with, relative to ``files``.
    render
        Name of its function that draws the widget; it becomes the module's one export.
    files
        Folder of the modules; this package's own unless given.

    Raises
    ------
    ValueError
        If an import or export has a form that cannot be joined, or two files define one name.
    """
    return f"{_joined(entry, render, files)}\nexport default {{ render: {render} }};\n"


def join_in_a_scope(entry: str, *, function: str, files: Traversable | None = None) -> str:
    """Join a module and all that it imports from into one statement, which defines a function of it.

    Several widgets' modules can so stand in one script: each keeps its other names to itself, as if it
    were a module of its own.

    Parameters
    ----------
    entry, files
        As for :func:`join_modules`.
    function
        Name of the module's function.

    Raises
    ------
    ValueError
        As for :func:`join_modules`.

    Examples
    --------
    >>> text = join_in_a_scope("workshop/workshop.js", function="renderWorkshop")
    >>> text.splitlines()[0], text.splitlines()[-2:]
    ('const renderWorkshop = (() => {', ['return renderWorkshop;', '})();'])
    """
    inside = _joined(entry, function, files)
    return f"const {function} = (() => {{\n{inside}\nreturn {function};\n}})();\n"


def _joined(entry: str, function: str, files: Traversable | None) -> str:
    folder = files if files is not None else resources.files("fizzplate.views")
    parts: list[str] = []
    owners: dict[str, str] = {}
    for name in in_order(folder, entry):
        text = _EXPORT.sub("", _IMPORT.sub("", folder.joinpath(name).read_text(encoding="utf-8")))
        left_over = _LEFT_OVER.search(text)
        if left_over:
            raise ValueError(f"{name} cannot be joined because of the line {left_over[0]!r}")
        for found in _TOP_LEVEL.finditer(text):
            owner = owners.setdefault(found["name"], name)
            if owner != name:
                raise ValueError(f"{found['name']} is defined both in {owner} and in {name}")
        parts.append(f"// {name}\n{text.strip()}\n")
    if function not in owners:
        raise ValueError(f"{function} is not defined in {entry} or what it imports from")
    return "\n".join(parts)
