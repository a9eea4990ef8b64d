r"""A set of questions as a table for a spreadsheet, a row a question.

===============  ==================================================================================
column           what is in it
===============  ==================================================================================
kind             choice, number, equation, text, list (ticked by the learner), levels (a longer answer) or
                 structured (in parts): always needed
question         what is asked: always needed
topic            a word or two; "imported" if empty
level            14 (14 to 16 years) or 16 (16 to 18); 14 if empty
marks            a whole number; counted from the working or the points if empty, where they can be
options          of a choice, a line each: ``right: hydrogen | because: Sodium is more reactive.`` and
                 ``wrong: sodium | because: It stays dissolved. | idea: 21`` (number of the misconception)
numbers          of a calculation, for each answer a line ``answer: 360 C | tolerance: 1.2 % | figures: 3``
                 (with ``prompt:`` before it where there are several, and ``times before: 0.5`` where it is so
                 much times the answer before), then a line for each mark, ``step: Charge is current times
                 time.``, and for near misses ``near: 6 | loses: 1 | because: Minutes were used.``
                 (and ``| idea: 29`` as in options)
points           of a text or a list, a line for each mark: ``says: hydrogen forms | words: hydrogen; H2 |
                 not with: oxygen | too little: gas``
equation         lines ``accept: 2Cl- -> Cl2 + 2e-`` for each form, and as wanted ``prompt:``, ``goal:``,
                 ``hint:`` (several, in order) and ``tiles: Cl-; Cl2; e-``
levels           of a longer answer, a line for each level, the lowest first: ``says: Names a product.``; its
                 points are its indicative content
sections         of a structured question, its parts as JSON: for each the cells that a row of its kind has,
                 by the names of these columns
answer           a full answer, which must earn every mark; taken from the other columns if empty,
                 except of a text
why              the reason, as a sentence
watch            cells that show it, as links write them
strict           yes, if a missing unit or too many figures cost a mark
chart            ``title: Mass | x: time / min | y: mass / g``, then ``line: copper | x: 0; 10 | y: 0; 0.2``
maker            what made the question; "imported" if empty
===============  ==================================================================================

How lines and fields are written: :mod:`fizzplate.questions.exchange.spreadsheet.cell_text`. Cells that a
spreadsheet would take for a formula begin with an apostrophe, which is taken away again.
"""

from __future__ import annotations

import codecs
import csv
import io
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import MAX_FILE_BYTES
from fizzplate.questions.exchange.spreadsheet.cell_text import safe, unsafe
from fizzplate.questions.exchange.spreadsheet.row import COLUMNS, read_row, write_row
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from fizzplate.questions.question_types import Question

NEEDED = ("kind", "question")
DELIMITERS = (",", ";", "\t")
MAX_ROWS = 500
LOST = "\ufffd"  # what programs put for a character that they could not read


def to_csv(questions: Sequence[Question]) -> str:
    """Write a set of questions as a table with commas between the columns.

    A spreadsheet shows the signs of chemistry if the text is stored as ``utf-8-sig``.

    Parameters
    ----------
    questions
        The set, in order.

    Examples
    --------
    >>> from fizzplate.questions.sets import questions
    >>> made = questions(seed=3, count=2, topics=["products"], level=14)
    >>> to_csv(made).splitlines()[0][:32], from_csv(to_csv(made)) == made
    ('topic,level,kind,question,marks,', True)
    """
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, COLUMNS)
    writer.writeheader()
    for question in questions:
        writer.writerow({name: safe(cell) for name, cell in write_row(question).items()})
    return out.getvalue()


def read_csv(content: bytes) -> list[Question]:
    r"""Read questions from a table as it was loaded, in whatever way a spreadsheet stored its characters.

    Parameters
    ----------
    content
        The file: UTF-8, UTF-16 with its mark, or else Windows-1252.

    Raises
    ------
    InputError
        If it is too large or no text, signs were lost before, or :func:`from_csv` refuses it.

    Examples
    --------
    >>> row = 'kind;question;points\nlist;At 20 °C?;"says: weighs"\n'
    >>> [read_csv(row.encode(name))[0].text for name in ("utf-8-sig", "utf-16", "cp1252")]
    ['At 20 °C?', 'At 20 °C?', 'At 20 °C?']
    """
    if len(content) > MAX_FILE_BYTES:
        raise InputError("file", f"{len(content)} bytes", f"at most {MAX_FILE_BYTES} bytes")
    text = _decoded(content)
    if LOST in text:
        line = text[: text.index(LOST)].count("\n") + 1
        given = f"characters that another program lost, in line {line}"
        raise InputError("file", given, "a table with all its characters, stored as UTF-8")
    return from_csv(text)


def _decoded(content: bytes) -> str:
    marked = content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    for name in ("utf-16",) if marked else ("utf-8-sig", "cp1252"):
        try:
            return content.decode(name)
        except UnicodeDecodeError:
            continue
    raise InputError("file", "bytes that are not text", "a table as text, stored as UTF-8")


def from_csv(text: str) -> list[Question]:
    r"""Read questions from a table, with commas, semicolons or tabs between the columns.

    Parameters
    ----------
    text
        The file; columns that are not known are passed over.

    Raises
    ------
    InputError
        If it is too large, a column that is needed is missing, or a row cannot be asked; the sentence
        names the row and the column.

    Examples
    --------
    >>> row = '"right: hydrogen\nwrong: sodium"'
    >>> question = from_csv(f"kind;question;options\nchoice;What forms at the cathode?;{row}\n")[0]
    >>> question.mark("hydrogen").earned, question.mark("sodium").remark
    (1, 'The right answer is: hydrogen')
    """
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > MAX_FILE_BYTES:
        raise InputError("file", f"{size} bytes", f"at most {MAX_FILE_BYTES} bytes")
    plain = text.removeprefix("\ufeff")
    header, rows = _rows(plain)
    if len(rows) > MAX_ROWS:
        raise InputError("file", f"{len(rows)} questions", f"at most {MAX_ROWS} rows")
    found = []
    for number, row in rows:
        try:
            found.append(read_row(_cells(header, row)))
        except InputError as refusal:
            place = f"row {number}, {refusal.argument}"
            raise InputError(
                place, refusal.given, refusal.allowed, nearest=refusal.nearest, why=refusal.why
            ) from None
    if not found:
        raise InputError("file", "no question", "at least one row below the names of the columns")
    return found


def _cells(header: Sequence[str], row: Sequence[str]) -> Mapping[str, str]:
    """Return the known cells of a row by the name of the column."""
    held = {name: unsafe(cell) for name, cell in zip(header, row, strict=False) if name in COLUMNS}
    return dict.fromkeys(COLUMNS, "") | held


def _rows(text: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """Return the names of the columns, and the rows with their numbers, in the best way to read them."""
    best: tuple[int, str, list[str]] = (-1, ",", [])
    for delimiter in DELIMITERS:
        first = next(_reader(text, delimiter), [])
        names = [" ".join(cell.split()).lower() for cell in first]
        known = len(set(names) & set(COLUMNS))
        best = max(best, (known, delimiter, names), key=lambda each: each[0])
    names = best[2]
    missing = [name for name in NEEDED if name not in names]
    if missing:
        allowed = (
            "a first row with the names of the columns, separated by commas, semicolons or tabs, and "
            f"with {' and '.join(missing)} among them"
        )
        raise InputError("columns", ", ".join(filter(None, names)), allowed)
    twice = [name for name in COLUMNS if names.count(name) > 1]
    if twice:
        raise InputError("columns", twice[0], "column names that occur only once")
    rows = enumerate(_reader(text, best[1]), start=1)
    kept = [(number, row) for number, row in rows if any(cell.strip() for cell in row)]
    return names, kept[1:]


def _reader(text: str, delimiter: str) -> Iterator[list[str]]:
    """Yield rows; what cannot be read as a table is refused."""
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    except csv.Error as fault:
        raise InputError("file", str(fault), "rows of cells, each of a sensible size") from None
