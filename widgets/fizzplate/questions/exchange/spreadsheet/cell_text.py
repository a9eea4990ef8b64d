r"""Several things in one cell of a spreadsheet, so that a teacher can read and edit them.

A cell holds lines (Alt and Enter makes a new one in a spreadsheet); a line holds fields with upright
bars between them; a field is a name, a colon and what it says; several words in one field have
semicolons between them::

    right: chlorine | because: Chloride ions lose electrons at the anode.
    wrong: sodium | because: Sodium ions stay in the solution. | idea: 21

A bar or backslash that is part of the text, or a semicolon that is part of a word, is written with a
backslash before it; ``\n`` is a new line in the text, ``\s`` a space and ``\t`` a tab that would otherwise be
trimmed.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import read_value
from fizzplate.words import InputError, list_choices

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    Fields = Sequence[tuple[str, str]]

_MARKS = {"n": "\n", "r": "\r", "t": "\t", "s": " "}
_LETTERS = {sign: letter for letter, sign in _MARKS.items()}
_NUMBER = re.compile(r"\s*([+-]?[0-9.,]+(?:[eE][+-]?[0-9]+)?)\s*(.*)", re.DOTALL)
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+")
_FORMULA = re.compile(r"[=+\-@\t\r]")
_QUOTED = re.compile(r"'+[=+\-@\t\r]")


def escape_cell(text: str) -> str:
    r"""Write a text so that bars and line ends in it are not taken for ours.

    Examples
    --------
    >>> escape_cell(" 1 | 2; 3")
    '\\s1 \\| 2; 3'
    """
    plain = re.sub(r"[\\|]", lambda sign: f"\\{sign[0]}", text)
    plain = re.sub(r"[\n\r]", lambda sign: f"\\{_LETTERS[sign[0]]}", plain)
    trimmed = plain.lstrip(" \t")
    head = "".join(f"\\{_LETTERS[sign]}" for sign in plain[: len(plain) - len(trimmed)])
    kept = trimmed.rstrip(" \t")
    tail = "".join(f"\\{_LETTERS[sign]}" for sign in trimmed[len(kept) :])
    return f"{head}{kept}{tail}"


def unescape_cell(text: str) -> str:
    r"""Read what :func:`escape_cell` wrote, or what a teacher typed.

    Examples
    --------
    >>> unescape_cell("\\s1 \\| 2\\; 3 ")
    ' 1 | 2; 3'
    """
    plain = text.strip(" \t")
    return re.sub(r"\\(.)", lambda sign: _MARKS.get(sign[1], sign[1]), plain, flags=re.DOTALL)


def split(text: str, separator: str) -> list[str]:
    r"""Split at a sign, where it has no backslash before it.

    Examples
    --------
    >>> split("a | b \\| c", "|")
    ['a ', ' b \\| c']
    """
    parts = [""]
    for piece in re.findall(r"\\.|[^\\]|\\$", text, flags=re.DOTALL):
        if piece == separator:
            parts.append("")
        else:
            parts[-1] += piece
    return parts


def write_words(words: Iterable[str]) -> str:
    r"""Write several words in one field.

    Examples
    --------
    >>> write_words(["fizzes", " gas ", "a; b"])
    'fizzes; \\sgas\\s; a\\; b'
    """
    return "; ".join(escape_cell(word).replace(";", "\\;") for word in words)


def read_words(text: str) -> tuple[str, ...]:
    """Read several words from one field.

    Examples
    --------
    >>> read_words("fizzes; bubbles")
    ('fizzes', 'bubbles')
    """
    return tuple(unescape_cell(word) for word in split(text, ";") if word.strip(" \t"))


def write_lines(lines: Iterable[Fields]) -> str:
    r"""Write lines of fields, which are escaped already; fields that say nothing are left out.

    Examples
    --------
    >>> write_lines([[("right", "chlorine"), ("idea", "")], [("wrong", "sodium")]])
    'right: chlorine\nwrong: sodium'
    """
    return "\n".join(
        " | ".join(f"{name}: {value}" for k, (name, value) in enumerate(fields) if value or not k)
        for fields in lines
    )


def read_lines(column: str, cell: str, names: Sequence[str]) -> list[dict[str, str]]:
    """Read lines of fields, which stay escaped.

    Parameters
    ----------
    column
        How a refusal names the cell.
    cell
        What is in it.
    names
        Names of fields that are known.

    Raises
    ------
    InputError
        If a line has a field without a name, or one that is not known.

    Examples
    --------
    >>> read_lines("options", "right: chlorine | because: It is a halide.", ["right", "because"])
    [{'right': 'chlorine', 'because': 'It is a halide.'}]
    """
    read = []
    for line in re.split(r"\r\n|\n|\r", cell):
        if not line.strip():
            continue
        fields = {}
        for field in split(line, "|"):
            name, colon, value = field.partition(":")
            key = " ".join(name.split()).lower()
            if not colon or key not in names or key in fields:
                raise InputError(
                    column, field.strip(), f"{list_choices(names)}, once each, with a colon"
                )
            fields[key] = value.strip(" \t")
        read.append(fields)
    return read


def safe(text: str) -> str:
    """Return a cell that no spreadsheet reads as a formula, in a way that can be undone.

    Examples
    --------
    >>> safe("=1+1"), safe("'=1+1"), safe("-0.5"), safe("H2")
    ("'=1+1", "''=1+1", "'-0.5", 'H2')
    """
    return f"'{text}" if _FORMULA.match(text) or _QUOTED.match(text) else text


def unsafe(text: str) -> str:
    """Return what was in a cell before it was made safe.

    Examples
    --------
    >>> unsafe("'=1+1"), unsafe("'tis"), unsafe("-0.5")
    ('=1+1', "'tis", '-0.5')
    """
    return text[1:] if _QUOTED.match(text) else text


def read_number_and_unit(column: str, text: str) -> tuple[float, str]:
    """Read a number with a point or a comma, and what stands after it.

    Raises
    ------
    InputError
        If it is no number, or has commas between thousands, which may be decimal commas too.

    Examples
    --------
    >>> read_number_and_unit("answer", "0,25 g")
    (0.25, 'g')
    """
    found = _NUMBER.fullmatch(text.replace("−", "-"))
    if not found:
        raise InputError(column, text, "a number, with its unit where there is one")
    if _THOUSANDS.fullmatch(found[1]):
        raise InputError(column, text, "a number without commas between thousands")
    value = read_value(column, found[1])
    if value is None:
        raise InputError(column, text, "a number")
    return value, found[2].strip()


def read_whole(column: str, text: str, usual: int) -> int:
    """Read a whole number; the usual one where nothing is given.

    Examples
    --------
    >>> read_whole("marks", " 2 ", 1), read_whole("marks", "", 1)
    (2, 1)
    """
    plain = text.strip()
    if not plain:
        return usual
    if not re.fullmatch(r"[0-9]{1,4}", plain):
        raise InputError(column, text, "a whole number")
    return int(plain)
