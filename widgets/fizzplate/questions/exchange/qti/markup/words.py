"""The words of an item as plain text: nothing that a stranger wrote is passed on as markup."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from fizzplate.questions.exchange.limits import MAX_TEXT_LENGTH
from fizzplate.questions.exchange.qti.markup.xml_reader import local_name
from fizzplate.questions.exchange.qti.markup.xml_writer import OURS
from fizzplate.words import lowered, raised

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element

GAP = "____"  # where an answer is typed
_HEADINGS = frozenset({"h1", "h2", "h3", "h4", "h5", "h6", "header", "caption", "figcaption"})
_LISTS = frozenset({"dd", "dl", "dt", "li", "ol", "ul", "table", "tr"})
_SECTIONS = frozenset({"address", "article", "aside", "div", "figure", "footer", "nav", "section"})
_PARAGRAPHS = frozenset({"blockquote", "br", "hr", "p", "pre", "qti-content-body", "qti-prompt"})
_BLOCKS = _HEADINGS | _LISTS | _SECTIONS | _PARAGRAPHS
_PICTURES = frozenset({"audio", "img", "object", "picture", "video"})
_FEEDBACK = frozenset({"qti-feedback-block", "qti-feedback-inline", "qti-rubric-block"})
_SILENT = _PICTURES | _FEEDBACK | {"script", "style", "qti-catalog-info", "qti-stylesheet"}
_CHOICES = frozenset({"qti-simple-choice"})  # the options are read one by one
_SPACES = re.compile(r"[ \t\r]+")  # not those that keep a number and its unit together
_TAG = re.compile(r"</?[A-Za-z!][^<>]*>")


def plain_text(element: Element) -> str:
    """Return the words in an element, a line a paragraph, without markup, pictures and feedback.

    What is raised or lowered keeps its sign where there is one for it. Gaps to type in are shown as lines,
    other interactions and what this program added for itself are left out.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup.xml_reader import read_xml
    >>> plain_text(read_xml(b"<p>SO<sub>4</sub><sup>2-</sup>  and &lt;b>no&lt;/b> tags</p>", ""))
    'SO₄²⁻ and no tags'
    """
    text = "".join(_pieces(element))
    lines = (_SPACES.sub(" ", without_tags(line)).strip(" ") for line in text.split("\n"))
    return "\n".join(filter(None, lines))


def without_tags(text: str) -> str:
    """Leave out everything that reads as a tag, also a tag that appears when another one is removed.

    Examples
    --------
    >>> without_tags("0 < x and <scr<b>ipt>x > 1")
    '0 < x and x > 1'
    """
    while (shorter := _TAG.sub("", text)) != text:
        text = shorter
    return text


def cut(text: str, what: str, remarks: list[str]) -> str:
    """Return a text that is not too long; a remark says how much was cut off.

    Examples
    --------
    >>> remarks = []
    >>> len(cut("a" * 5000, "items/q001.xml: the question", remarks)), remarks
    (4000, ['items/q001.xml: the question was cut after 4000 of its 5000 characters.'])
    """
    if len(text) <= MAX_TEXT_LENGTH:
        return text
    remarks.append(f"{what} was cut after {MAX_TEXT_LENGTH} of its {len(text)} characters.")
    return f"{text[: MAX_TEXT_LENGTH - 1]}…"


def has_pictures(element: Element) -> bool:
    """Whether there are pictures, sounds or videos of others, which are left out.

    Examples
    --------
    >>> from fizzplate.questions.exchange.qti.markup.xml_reader import read_xml
    >>> has_pictures(read_xml(b"<p>A cell: <img/></p>", ""))
    True
    """
    return any(local_name(each) in _PICTURES and OURS not in each.attrib for each in element.iter())


def _pieces(element: Element) -> Iterator[str]:
    """Yield the words; the depth of what is read here was checked before."""
    name = local_name(element)
    if name == "qti-text-entry-interaction":
        yield GAP
        return
    yield from _edge(name)
    yield _with_scripts(name, element.text)
    for child in element:
        if not _is_silent(child):
            yield from _pieces(child)
        yield _with_scripts("", child.tail)
    yield from _edge(name)


def _is_silent(element: Element) -> bool:
    """Whether an element says nothing here, or is read elsewhere."""
    name = local_name(element)
    is_interaction = name.endswith("-interaction") and name not in {
        "qti-choice-interaction",
        "qti-text-entry-interaction",
    }
    return not name or name in _SILENT | _CHOICES or OURS in element.attrib or is_interaction


def _with_scripts(name: str, text: str | None) -> str:
    """Return words with raised and lowered signs; line breaks of the file itself are mere spaces."""
    plain = (text or "").replace("\n", " ")
    if name == "sup":
        return raised(plain)
    return lowered(plain) if name == "sub" else plain


def _edge(name: str) -> Iterator[str]:
    """Yield what parts an element from its neighbours."""
    if name in _BLOCKS:
        yield "\n"
    elif name in {"td", "th"}:
        yield " "
