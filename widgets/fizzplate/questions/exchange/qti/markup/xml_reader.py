"""Reading XML from strangers: entities, document types and what is nested too deeply are refused."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from fizzplate.questions.exchange.limits import MAX_DEPTH, MAX_ELEMENTS
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree.ElementTree import Element


class UnreadableError(InputError):
    """A document that cannot be read; the others of its package may be."""


def read_xml(content: bytes, name: str) -> Element:
    """Read a document; entities, document types and what is nested too deeply are refused.

    Parameters
    ----------
    content
        The document.
    name
        How a refusal names it.

    Raises
    ------
    UnreadableError
        If it is not well formed.
    InputError
        If it would do harm.

    Examples
    --------
    >>> read_xml(b"<a><b></a>", "items/q001.xml")
    Traceback (most recent call last):
        ...
    fizzplate.questions.exchange.qti.markup.xml_reader.UnreadableError: items/q001.xml: 'mismatched tag: \
line 1, column 8' cannot be used. Use well-formed XML.
    """
    try:
        top: Element = fromstring(content, forbid_dtd=True)
    except DefusedXmlException:
        raise InputError(name, "a document type or an entity", "XML without them") from None
    except (ParseError, ValueError, LookupError) as fault:
        raise UnreadableError(name, str(fault), "well-formed XML") from None
    for k, (_, depth) in enumerate(_walk(top), start=1):
        if depth > MAX_DEPTH or k > MAX_ELEMENTS:
            allowed = f"at most {MAX_ELEMENTS} elements, at most {MAX_DEPTH} inside each other"
            raise UnreadableError(name, "too many elements", allowed)
    return top


def _walk(top: Element) -> Iterator[tuple[Element, int]]:
    """Yield every element with its depth, without calling itself."""
    waiting = [(top, 1)]
    while waiting:
        element, depth = waiting.pop()
        yield element, depth
        waiting += [(child, depth + 1) for child in element]


def local_name(element: Element) -> str:
    """Return an element's name without its namespace.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> local_name(Element("{http://www.imsglobal.org/xsd/imsqtiasi_v3p0}qti-item-body"))
    'qti-item-body'
    """
    tag: object = element.tag  # comments and instructions have a function here
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""
