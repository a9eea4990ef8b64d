"""Writing XML: elements in order, only characters that XML allows, the same bytes everywhere."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from xml.etree.ElementTree import Element, SubElement, indent, tostring

if TYPE_CHECKING:
    from collections.abc import Mapping

QTI = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
QTI_SCHEMA = "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd"
PACKAGING = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
PACKAGING_SCHEMA = (
    "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd"
)
MANIFEST = "imsmanifest.xml"
OURS = (
    "data-fizzplate"  # the standard leaves attributes that begin with data- to those who write it
)
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def root(tag: str, namespace: str, schema: str, attributes: Mapping[str, str]) -> Element:
    """Return the outermost element of a document, with the namespace that all in it shares.

    Examples
    --------
    >>> root("manifest", PACKAGING, PACKAGING_SCHEMA, {"identifier": "m"}).get("xmlns") == PACKAGING
    True
    """
    instance = "http://www.w3.org/2001/XMLSchema-instance"
    own = {key: legal(value) for key, value in attributes.items()}
    where = {"xmlns": namespace, "xmlns:xsi": instance}
    return Element(tag, {**where, "xsi:schemaLocation": f"{namespace} {schema}", **own})


def node(
    parent: Element, tag: str, attributes: Mapping[str, str] | None = None, text: str = ""
) -> Element:
    """Add an element to another one.

    Examples
    --------
    >>> top = Element("table")
    >>> node(node(top, "tr"), "td", {"id": "a"}, "1 < 2").text
    '1 < 2'
    """
    own = {key: legal(value) for key, value in (attributes or {}).items()}
    made = SubElement(parent, tag, own)
    made.text = legal(text) or None
    return made


def paragraphs(parent: Element, text: str, attributes: Mapping[str, str] | None = None) -> None:
    r"""Add a paragraph for each line of a text.

    Examples
    --------
    >>> top = Element("div")
    >>> paragraphs(top, "one\n\ntwo")
    >>> [each.text for each in top]
    ['one', 'two']
    """
    for line in text.splitlines():
        if line.strip():
            node(parent, "p", attributes, line)


def legal(text: str) -> str:
    r"""Leave out the characters that no XML document may hold.

    Examples
    --------
    >>> legal("a\x00b\x1fc")
    'abc'
    """
    return _NOT_XML.sub("", text)


def document(top: Element) -> bytes:
    """Write a document.

    Examples
    --------
    >>> document(Element("p")).decode().splitlines()
    ['<?xml version="1.0" encoding="UTF-8"?>', '<p />']
    """
    indent(top)
    written: bytes = tostring(top, encoding="utf-8")
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + written + b"\n"
