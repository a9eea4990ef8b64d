"""Items that this program wrote: read back so that they mark every answer as before.

Question, options, right answers, numbers, tolerances, marks of a choice and reasons are read from where the
standard puts them; the rest from the extra data that this program wrote. So a change that another program
made to the item counts, and a remark says what was lost by it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.extra_data import read_extra_data
from fizzplate.questions.exchange.qti.item_elements import body_of, inside, interactions
from fizzplate.questions.exchange.qti.item_types import OwnItem
from fizzplate.questions.exchange.qti.item_writer import ITEM_TYPES
from fizzplate.questions.exchange.qti.markup import OURS, cut, local_name, plain_text
from fizzplate.words import InputError

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from fizzplate.questions.question_types import Question

_OWN_TYPES = {type_.kind: own for type_, own in ITEM_TYPES.items()}


def read_own_item(item: Element, name: str, remarks: list[str]) -> Question | None:
    """Read an item that this program wrote; nothing, if it did not, or if too much was changed.

    Parameters
    ----------
    item
        The item.
    name
        How remarks name it.
    remarks
        Remarks are added here.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.item_writer import write_item
    >>> from fizzplate.questions.exchange.qti.markup import read_xml
    >>> from fizzplate.questions.sets import questions
    >>> question = questions(seed=1, count=1, topics=["half-equations"])[0]
    >>> read_own_item(read_xml(write_item(question, "q001", "One"), ""), "", []) == question
    True
    """
    body = body_of(item)
    rubrics = (each for each in inside(body, "qti-rubric-block") if OURS in each.attrib)
    rubric = next(rubrics, None)
    if rubric is None:
        return None
    try:
        extra = read_extra_data(rubric.get(OURS, ""))
    except InputError as refusal:
        remarks.append(f"{name} was read as an item of another program. {refusal}")
        return None
    found = interactions(body)
    own = _OWN_TYPES.get(extra.kind)
    asked = tuple(local_name(each) for each in found)
    if own is None or asked not in own.interactions(extra):
        remarks.append(f"{name} was changed elsewhere and was read as an item of another program.")
        return None
    common = {
        "maker": extra.maker,
        "topic": extra.topic,
        "level": extra.level,
        "text": cut(plain_text(body), f"{name}: the question", remarks),
        "why": extra.why,
        "chart": extra.chart,
        "watch": extra.watch,
    }
    question: Question | None = own.read(OwnItem(item, found, extra, common, name, remarks))
    return question
