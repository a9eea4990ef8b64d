"""XML of packages, read from strangers and written, and its words as plain text."""

from fizzplate.questions.exchange.qti.markup.words import (
    cut,
    has_pictures,
    plain_text,
    without_tags,
)
from fizzplate.questions.exchange.qti.markup.xml_reader import (
    UnreadableError,
    local_name,
    read_xml,
)
from fizzplate.questions.exchange.qti.markup.xml_writer import (
    MANIFEST,
    OURS,
    PACKAGING,
    PACKAGING_SCHEMA,
    QTI,
    QTI_SCHEMA,
    document,
    node,
    paragraphs,
    root,
)

__all__ = [
    "MANIFEST",
    "OURS",
    "PACKAGING",
    "PACKAGING_SCHEMA",
    "QTI",
    "QTI_SCHEMA",
    "UnreadableError",
    "cut",
    "document",
    "has_pictures",
    "local_name",
    "node",
    "paragraphs",
    "plain_text",
    "read_xml",
    "root",
    "without_tags",
]
