"""Items that this program wrote: read back so that they mark every answer alike.

Question, options, right answers, numbers, tolerances, marks of a choice and reasons are read from where the
standard puts them; the rest from what was written beside the mark scheme. So a change that another
program made to the item counts, and is said where something had to be given up for it.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.elements import (
    body_of,
    correct_values,
    declaration,
    inside,
    interactions,
    marks_of,
    number_of,
    tolerance_of,
)
from fizzplate.questions.exchange.qti.foreign import CHOICE, ENTRY, TEXT, Unsupported, read_foreign
from fizzplate.questions.exchange.qti.markup import OURS
from fizzplate.questions.exchange.qti.opening import local_name
from fizzplate.questions.exchange.qti.plain import cut, plain_text, without_tags
from fizzplate.questions.exchange.scheme import read_scheme
from fizzplate.questions.question import Question
from fizzplate.words.refusals import InputError

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from fizzplate.questions.exchange.scheme import Scheme
    from fizzplate.questions.question import Part

_ASKS = {"choice": CHOICE, "number": ENTRY, "equation": ENTRY, "text": TEXT, "list": TEXT}


def read_own(item: Element, name: str, said: list[str]) -> Question | None:
    """Read an item that this program wrote; nothing, if it did not, or if too much was changed.

    Parameters
    ----------
    item
        The item.
    name
        How remarks name it.
    said
        Remarks are added here.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.items import write_item
    >>> from fizzplate.questions.exchange.qti.opening import read_xml
    >>> from fizzplate.questions.sets import questions
    >>> asked = questions(seed=1, count=1, topics=["half-equations"])[0]
    >>> read_own(read_xml(write_item(asked, "q001", "One"), ""), "", []) == asked
    True
    """
    body = body_of(item)
    rubrics = (each for each in inside(body, "qti-rubric-block") if OURS in each.attrib)
    rubric = next(rubrics, None)
    if rubric is None:
        return None
    try:
        scheme = read_scheme(rubric.get(OURS, ""))
    except InputError as refusal:
        said.append(f"{name} is read as from another program. {refusal}")
        return None
    found = interactions(body)
    wanted = len(scheme.parts) if scheme.kind == "number" else 1
    if [local_name(each) for each in found] != [_ASKS.get(scheme.kind)] * wanted:
        said.append(f"{name} was changed elsewhere and is read as from another program.")
        return None
    asked = Question(
        scheme.maker,
        scheme.topic,
        scheme.level,
        cut(plain_text(body), f"{name}: the question", said),
        scheme.kind,
        marks_of(item),
        "",
        scheme.why,
        chart=scheme.chart,
        watch=scheme.watch,
        strict=scheme.strict,
    )
    if scheme.kind == "choice":
        return _choice(item, asked, scheme, name, said)
    if scheme.kind == "number":
        return _number(item, asked, scheme, found, name, said)
    answer = without_tags(" ".join(correct_values(declaration(item, found[0]))[:1]))
    if scheme.kind == "equation":
        return replace(asked, answer=answer, task=scheme.task)
    count = len(scheme.points)
    if scheme.kind == "list":
        answer = " ".join(str(k) for k in range(1, count + 1))
    return replace(asked, answer=answer, points=scheme.points, marks=count)


def _choice(
    item: Element, asked: Question, scheme: Scheme, name: str, said: list[str]
) -> Question | None:
    try:
        plain = read_foreign(item, name, said)
    except Unsupported:  # it may take several answers now, which the caller then finds too
        return None
    options = plain.options
    if len(options) == len(scheme.ideas):
        options = tuple(
            replace(option, misconception=0 if option.right else idea)
            for option, idea in zip(options, scheme.ideas, strict=True)
        )
    return replace(asked, answer=plain.answer, options=options)


def _number(
    item: Element,
    asked: Question,
    scheme: Scheme,
    found: list[Element],
    name: str,
    said: list[str],
) -> Question:
    parts: list[Part] = []
    changed = False
    for entry, part in zip(found, scheme.parts, strict=True):
        given = number_of(" ".join(correct_values(declaration(item, entry))[:1]))
        value = part.value if given is None else given
        followed = replace(part, factor=0.0) if changed else part
        changed = value != part.value
        if changed:
            followed = replace(followed, value=value, factor=0.0, near_misses=())
            said.append(
                f"{name}: the answer {part.answer} was changed elsewhere to {value:g}; "
                "its near misses were left out."
            )
        parts.append(_with_tolerance(item, entry.get("response-identifier", ""), followed))
    answer = "; ".join(part.answer for part in parts)
    marks = sum(len(part.steps) for part in parts)
    return replace(asked, parts=tuple(parts), answer=answer, marks=marks)


def _with_tolerance(item: Element, identifier: str, part: Part) -> Part:
    """Return a part with the item's tolerance, which may have been changed elsewhere."""
    given = tolerance_of(item, identifier, part.value)
    if not part.value or given is None or math.isclose(given, part.tolerance, rel_tol=1e-6):
        return part
    return replace(part, tolerance=min(given, 0.5))
