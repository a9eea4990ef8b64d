"""Questions from a QTI 3.0 package, from this program or another one.

Choices of one answer, entries of numbers or words, and extended texts become questions; other
interactions are named and left out. What this program had written for itself is used where it still
fits the item; where the item was changed elsewhere, the item counts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.markup import QTI, UnreadableError, local_name, read_xml
from fizzplate.questions.exchange.qti.other_items import UnsupportedItem, read_other_item
from fizzplate.questions.exchange.qti.own_items import read_own_item
from fizzplate.questions.exchange.qti.package_opener import (
    Package,
    other_version,
)
from fizzplate.questions.exchange.question_checks import (
    check_own_answer,
    check_question,
    without_bad_watch,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from fizzplate.questions.question_types import Question

MAX_REMARKS = 40  # sentences, so that a hostile package does not fill the page
FIRST_REMARKS = 3  # sentences in the refusal of a package of which nothing is left


def from_qti(package: bytes) -> tuple[list[Question], list[str]]:
    """Read the questions of a QTI 3.0 package.

    Parameters
    ----------
    package
        The zip file as it was loaded.

    Returns
    -------
    tuple
        The questions in the manifest's order, and sentences about what was left out or changed. All
        texts are plain and are to be shown as text, never as markup.

    Raises
    ------
    InputError
        If it is no package, one of another version, too large, would do harm, or has no question that
        can be asked. Names that lead out of
        the package, entities and document types are refused as a whole; a single broken item is left out.

    Examples
    --------
    >>> from fizzplate.questions.exchange import to_qti
    >>> from fizzplate.questions.sets import questions
    >>> made = questions(seed=1, count=3, topics=["ions"])
    >>> found, remarks = from_qti(to_qti(made, "Ions"))
    >>> found == made, remarks
    (True, [])
    """
    opened = Package(package)
    found: list[Question] = []
    remarks: list[str] = []
    unsupported: dict[str, list[str]] = {}
    named = opened.items()
    for name, version in named.items():
        try:
            found.append(_read_item(opened, name, version, remarks))
        except UnsupportedItem as kind:
            unsupported.setdefault(str(kind), []).append(name)
        except _OmittedItem as why:
            remarks.append(str(why))
    remarks += [f"{kind} was left out: {_some(names)}." for kind, names in unsupported.items()]
    if not found:
        first = " ".join(remarks[:FIRST_REMARKS]).rstrip(".")
        allowed = f"a package with a question that can be asked here ({first})"
        raise InputError("package", f"items none of which can be asked: {len(named)}", allowed)
    if len(remarks) > MAX_REMARKS:
        remarks[MAX_REMARKS:] = [
            f"There were {len(remarks) - MAX_REMARKS} more remarks like these."
        ]
    return found, remarks


class _OmittedItem(Exception):  # noqa: N818  # it carries a sentence; the other items go on
    """An item that is left out, with the sentence that says so."""


def _some(names: list[str]) -> str:
    """Name the first few of many."""
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return f"{', '.join(names[:3])}{more}"


def _unsupported(version: str) -> str:
    return f"An item of {version} (only QTI 3.0 can be read here)"


def _read_item(opened: Package, name: str, version: str, remarks: list[str]) -> Question:
    if version:
        raise UnsupportedItem(_unsupported(version))
    try:
        content = opened.read(name)
        item = read_xml(content, name)
    except UnreadableError as refusal:
        raise _OmittedItem(f"{refusal} It was left out.") from None
    namespace = item.tag[1:].partition("}")[0] if item.tag.startswith("{") else QTI
    if namespace != QTI:
        raise UnsupportedItem(_unsupported(other_version(namespace) or "something else"))
    if local_name(item) != "qti-assessment-item":
        allowed = "qti-assessment-item as its outermost element"
        raise _OmittedItem(f"{InputError(name, local_name(item), allowed)} It was left out.")
    noticed: list[str] = []
    try:
        question = read_own_item(item, name, noticed) or read_other_item(item, name, noticed)
        watched = without_bad_watch(question)
        if watched.watch != question.watch:
            noticed.append(f"{name}: the cells to watch cannot be shown and were left out.")
        checked = check_own_answer(check_question(watched))
    except InputError as refusal:
        raise _OmittedItem(f"{name} was left out. {refusal}") from None
    remarks += noticed
    return checked
