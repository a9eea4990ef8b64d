"""Join small ES modules into the one module text that a widget loads.

A widget's module comes from a Blob address, where a relative import has nothing to be relative
to. The JavaScript is kept in small named files all the same, which Node can test one by one; here
they are joined, each file once and after the files that it imports from. Each keeps a scope of its
own, as a module does: a function that is called once and returns what the file exports. An import
becomes a destructuring of another file's scope, an import of a data file (JSON) the data themselves.
Comments on lines of their own are left out, since every page would load them; all other lines stay as
they are written.
"""

from __future__ import annotations

import json
import posixpath
import re
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

_IMPORT = re.compile(
    r'^import \{(?P<names>[^}]*)\} from "(?P<path>\.{1,2}/[^"]+\.js)";$', re.MULTILINE
)
# data that Python reads as well
_DATA = re.compile(
    r'^import (?P<name>\w+) from "(?P<path>\.{1,2}/[^"]+\.json)" with \{ type: "json" \};$',
    re.MULTILINE,
)
# not `let`: what another file destructured would not follow its changes
_EXPORT = re.compile(
    r"^export (?=(?:(?:async )?function\*?|class|const) (?P<name>[\w$]+))", re.MULTILINE
)
# nothing that is written between a template's backticks may look like one of these lines
_COMMENT = re.compile(r"^[ \t]*(?://.*|/\*\*(?:[^*]|\*(?!/))*\*/[ \t]*)\n", re.MULTILINE)
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
        for found in _IMPORT.finditer(_text_of(files, name)):
            visit(_imported(name, found))
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
        If an import or export has a form that cannot be joined, if a file imports what another does
        not export, or if the entry does not export ``render``.
    """
    scopes = _join_modules(entry, render, files)
    # a debugger lists the module under this name, not as one of many nameless blobs
    return (
        f"{scopes}\nexport default {{ render: {_scope_of(entry)}.{render} }};\n"
        f"//# sourceURL=fizzplate/{entry}\n"
    )


def join_in_a_scope(entry: str, *, function: str, files: Traversable | None = None) -> str:
    """Join a module and all that it imports from into one statement, which defines a function of it.

    So one script can hold the modules of several widgets.

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
    ('const renderWorkshop = (() => {', ['return workshop$workshop$js.renderWorkshop;', '})();'])
    """
    scopes = _join_modules(entry, function, files)
    return (
        f"const {function} = (() => {{\n{scopes}\nreturn {_scope_of(entry)}.{function};\n}})();\n"
    )


def _join_modules(entry: str, function: str, files: Traversable | None) -> str:
    folder = files if files is not None else resources.files("fizzplate.views")
    exports: dict[str, list[str]] = {}
    scopes: list[str] = []
    for name in in_order(folder, entry):
        text = _text_of(folder, name)
        exports[name] = [found["name"] for found in _EXPORT.finditer(text)]
        scopes.append(_in_scope(name, text, exports, folder))
    if function not in exports[entry]:
        raise ValueError(f"{function} is not exported by {entry}")
    return "\n".join(scopes)


def _in_scope(name: str, text: str, exports: dict[str, list[str]], files: Traversable) -> str:
    """Write one file as a scope; ``exports`` holds its own names and those of the files before it."""

    def destructured(found: re.Match[str]) -> str:
        path = _imported(name, found)
        names = [each.strip() for each in found["names"].split(",") if each.strip()]
        for each in names:
            if each.split(" as ")[0] not in exports[path]:
                raise ValueError(f"{name} imports {each}, which {path} does not export")
        wanted = ", ".join(each.replace(" as ", ": ") for each in names)
        return f"const {{ {wanted} }} = {_scope_of(path)};"

    def with_data(found: re.Match[str]) -> str:
        held = json.loads(_text_of(files, _imported(name, found)))
        # without spaces between values, of which rules of marking have thousands
        written = json.dumps(held, ensure_ascii=False, separators=(",", ":"))
        return f"const {found['name']} = {written};"

    # data last: what stands in them looks like no line of a module
    code = _IMPORT.sub(destructured, _COMMENT.sub("", text))
    inside = _DATA.sub(with_data, _EXPORT.sub("", code)).strip()
    left_over = _LEFT_OVER.search(inside)
    if left_over:
        raise ValueError(f"{name} cannot be joined because of the line {left_over[0]!r}")
    return (
        f"// {name}\nconst {_scope_of(name)} = (() => {{\n{inside}\n"
        f"return {{ {', '.join(exports[name])} }};\n}})();\n"
    )


def _text_of(files: Traversable, name: str) -> str:
    return files.joinpath(name).read_text(encoding="utf-8")


def _imported(name: str, found: re.Match[str]) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(name), found["path"]))


def _scope_of(name: str) -> str:
    """Name a file's scope as no file names anything: ``kit/store.js`` is ``kit$store$js``."""
    return re.sub(r"[/.]", "$", name)
