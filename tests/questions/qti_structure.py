"""The structure of QTI 3.0 documents, for tests: what may stand where.

No package of a registry that this project uses brings the published XSD files, so the rules stand here
by hand. They were written from two parts of the standard, QTI 3.0 of 1EdTech, final release of 1 May 2022:

- "Assessment, Section and Item Information Model", which has a section for each class. A rule below
  stands for the section of the class named beside it: the children in their order with how many there
  may be, and the attributes that must and may be there. Attributes whose names begin with ``data-`` are
  open to whoever writes the item.
- "Best Practices and Implementation Guide": section 2 (structure, attributes that begin with ``data-``),
  3.1 (item), 3.2 (interactions), 3.4 (response processing, scoring by a person), 3.7 (feedback, rubric
  blocks), and the package of examples that goes with it (manifest and test).

The order of the children of item, test, part, section, declarations, rubric and feedback was held against
a binding that others had generated from the published XSD. What those files say of the rest was not to
be had.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

QTI = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
PACKAGING = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
MANY = 10**6
SCHEMA_LOCATION = "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"
LANG = "{http://www.w3.org/XML/1998/namespace}lang"
IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_.\-]*")  # class Identifier: begins as a name does
FLOW = ("p", "table", "ol")


@dataclass(frozen=True)
class Rule:
    """What an element holds: (names, least, most) in order, or any of some names; text or not."""

    must: tuple[str, ...] = ()
    may: tuple[str, ...] = ()
    children: tuple[tuple[tuple[str, ...], int, int], ...] = ()
    text: bool = False
    words: dict[str, tuple[str, ...]] = field(default_factory=dict)  # allowed values of attributes


def _one(name, least=1, most=1):
    return ((name,), least, most)


EXPRESSIONS = [
    "qti-and",
    "qti-base-value",
    "qti-correct",
    "qti-gte",
    "qti-is-null",
    "qti-lte",
    "qti-match",
    "qti-or",
    "qti-product",
    "qti-sum",
    "qti-test-variables",
    "qti-variable",
]
EXPRESSION = (tuple(EXPRESSIONS), 1, 1)
PAIR = (tuple(EXPRESSIONS), 2, 2)
SEVERAL = (tuple(EXPRESSIONS), 1, MANY)
RULES_OF_RESPONSE = (("qti-response-condition", "qti-set-outcome-value"), 0, MANY)
BASE_TYPES = ("boolean", "float", "identifier", "integer", "string")
CARDINALITIES = ("multiple", "ordered", "record", "single")

RULES = {
    # class AssessmentItem
    "qti-assessment-item": Rule(
        must=("identifier", "title", "time-dependent"),
        may=("adaptive", LANG, SCHEMA_LOCATION),
        children=(
            _one("qti-response-declaration", 0, MANY),
            _one("qti-outcome-declaration", 0, MANY),
            _one("qti-item-body", 0),
            _one("qti-response-processing", 0),
            _one("qti-modal-feedback", 0, MANY),
        ),
    ),
    # class ResponseDeclaration
    "qti-response-declaration": Rule(
        must=("identifier", "cardinality"),
        may=("base-type",),
        children=(_one("qti-correct-response", 0),),
        words={"cardinality": CARDINALITIES, "base-type": BASE_TYPES},
    ),
    # classes CorrectResponse, DefaultValue, Value
    "qti-correct-response": Rule(children=(_one("qti-value", 1, MANY),)),
    "qti-default-value": Rule(children=(_one("qti-value", 1, MANY),)),
    "qti-value": Rule(text=True),
    # class OutcomeDeclaration
    "qti-outcome-declaration": Rule(
        must=("identifier", "cardinality"),
        may=("base-type", "normal-maximum", "external-scored"),
        children=(_one("qti-default-value", 0),),
        words={
            "cardinality": CARDINALITIES,
            "base-type": BASE_TYPES,
            "external-scored": ("externalMachine", "human"),
        },
    ),
    # class ItemBody: blocks only, so a text entry, which stands in a line, is in a paragraph
    "qti-item-body": Rule(
        children=(
            (
                (
                    *FLOW,
                    "qti-choice-interaction",
                    "qti-extended-text-interaction",
                    "qti-rubric-block",
                ),
                0,
                MANY,
            ),
        )
    ),
    # classes ChoiceInteraction, SimpleChoice
    "qti-choice-interaction": Rule(
        must=("response-identifier",),
        may=("shuffle", "max-choices"),
        children=(_one("qti-simple-choice", 1, MANY),),
    ),
    "qti-simple-choice": Rule(must=("identifier",), text=True),
    # classes InlineChoiceInteraction, InlineChoice
    "qti-inline-choice-interaction": Rule(
        must=("response-identifier",),
        may=("shuffle",),
        children=(_one("qti-inline-choice", 1, MANY),),
    ),
    "qti-inline-choice": Rule(must=("identifier",), text=True),
    # classes TextEntryInteraction, ExtendedTextInteraction
    "qti-text-entry-interaction": Rule(must=("response-identifier",), may=("expected-length",)),
    "qti-extended-text-interaction": Rule(must=("response-identifier",), may=("expected-lines",)),
    # class RubricBlock
    "qti-rubric-block": Rule(
        must=("use", "view"),
        children=(_one("qti-content-body"),),
        words={
            "use": ("instructions", "navigation", "scoring"),
            "view": ("author", "candidate", "proctor", "scorer", "testConstructor", "tutor"),
        },
    ),
    "qti-content-body": Rule(children=((FLOW, 0, MANY),), text=True),
    # class ModalFeedback
    "qti-modal-feedback": Rule(
        must=("outcome-identifier", "show-hide", "identifier"),
        children=(_one("qti-content-body", 0),),
        words={"show-hide": ("hide", "show")},
    ),
    # classes ResponseProcessing, ResponseCondition and its branches, SetValue
    "qti-response-processing": Rule(may=("template",), children=(RULES_OF_RESPONSE,)),
    "qti-response-condition": Rule(
        children=(
            _one("qti-response-if"),
            _one("qti-response-else-if", 0, MANY),
            _one("qti-response-else", 0),
        )
    ),
    "qti-response-if": Rule(children=(EXPRESSION, RULES_OF_RESPONSE)),
    "qti-response-else-if": Rule(children=(EXPRESSION, RULES_OF_RESPONSE)),
    "qti-set-outcome-value": Rule(must=("identifier",), children=(EXPRESSION,)),
    # the expressions: one section each
    "qti-base-value": Rule(must=("base-type",), text=True, words={"base-type": BASE_TYPES}),
    "qti-correct": Rule(must=("identifier",)),
    "qti-variable": Rule(must=("identifier",)),
    "qti-match": Rule(children=(PAIR,)),
    "qti-gte": Rule(children=(PAIR,)),
    "qti-lte": Rule(children=(PAIR,)),
    "qti-is-null": Rule(children=(EXPRESSION,)),
    "qti-and": Rule(children=(SEVERAL,)),
    "qti-or": Rule(children=(SEVERAL,)),
    "qti-sum": Rule(children=(SEVERAL,)),
    "qti-product": Rule(children=(SEVERAL,)),
    "qti-test-variables": Rule(must=("variable-identifier",)),
    # the profile of XHTML: P, Img, OL, LI, Table and its parts
    "p": Rule(children=((("img", "qti-text-entry-interaction"), 0, MANY),), text=True),
    "img": Rule(must=("alt", "src")),
    "ol": Rule(children=(_one("li", 1, MANY),)),
    "li": Rule(text=True),
    "table": Rule(children=(_one("caption", 0), _one("thead", 0), _one("tbody", 1, MANY))),
    "caption": Rule(text=True),
    "thead": Rule(children=(_one("tr", 1, MANY),)),
    "tbody": Rule(children=(_one("tr", 1, MANY),)),
    "tr": Rule(children=((("td", "th"), 1, MANY),)),
    "td": Rule(children=((("qti-inline-choice-interaction",), 0, MANY),), text=True),
    "th": Rule(may=("scope",), text=True, words={"scope": ("col", "colgroup", "row", "rowgroup")}),
    # classes AssessmentTest, TestPart, AssessmentSection, AssessmentItemRef, OutcomeProcessing
    "qti-assessment-test": Rule(
        must=("identifier", "title"),
        may=(SCHEMA_LOCATION,),
        children=(
            _one("qti-outcome-declaration", 0, MANY),
            _one("qti-test-part", 1, MANY),
            _one("qti-outcome-processing", 0),
        ),
    ),
    "qti-test-part": Rule(
        must=("identifier", "navigation-mode", "submission-mode"),
        children=(_one("qti-assessment-section", 1, MANY),),
        words={
            "navigation-mode": ("linear", "nonlinear"),
            "submission-mode": ("individual", "simultaneous"),
        },
    ),
    "qti-assessment-section": Rule(
        must=("identifier", "title", "visible"),
        children=(_one("qti-assessment-item-ref", 0, MANY),),
    ),
    "qti-assessment-item-ref": Rule(must=("identifier", "href")),
    "qti-outcome-processing": Rule(children=((("qti-set-outcome-value",), 0, MANY),)),
    # the package, as the guide's example has it: Manifest, Resource, File, Dependency
    "manifest": Rule(
        must=("identifier",),
        may=(SCHEMA_LOCATION,),
        children=(_one("metadata"), _one("organizations"), _one("resources")),
    ),
    "metadata": Rule(children=(_one("schema"), _one("schemaversion"))),
    "schema": Rule(text=True),
    "schemaversion": Rule(text=True),
    "organizations": Rule(),
    "resources": Rule(children=(_one("resource", 1, MANY),)),
    "resource": Rule(
        must=("identifier", "type", "href"),
        children=(_one("file", 1, MANY), _one("dependency", 0, MANY)),
        words={"type": ("imsqti_item_xmlv3p0", "imsqti_test_xmlv3p0")},
    ),
    "file": Rule(must=("href",)),
    "dependency": Rule(must=("identifierref",)),
}


def name_of(element):
    return element.tag.rpartition("}")[2]


def faults(top):
    """Return a sentence for each place where a document is not as the standard has it."""
    namespace = PACKAGING if name_of(top) == "manifest" else QTI
    found = []
    for element in top.iter():
        name = name_of(element)
        if element.tag != f"{{{namespace}}}{name}" or name not in RULES:
            found.append(f"{element.tag}: not an element of this document")
            continue
        found += _faults_of(element, name, RULES[name])
    return found


def _faults_of(element, name, rule):
    yield from (f"{name}: {each} is missing" for each in rule.must if each not in element.attrib)
    for attribute, value in element.attrib.items():
        known = attribute in (*rule.must, *rule.may) or attribute.startswith("data-")
        if not known:
            yield f"{name}: {attribute} is not an attribute"
        if attribute == "identifier" and not IDENTIFIER.fullmatch(value):
            yield f"{name}: {value!r} is not an identifier"
        if value not in rule.words.get(attribute, (value,)):
            yield f"{name}: {attribute} cannot be {value!r}"
    words = [element.text, *(child.tail for child in element)]
    if not rule.text and any((each or "").strip() for each in words):
        yield f"{name}: has text of its own"
    yield from _misplaced([name_of(child) for child in element], name, rule)


def _misplaced(children, name, rule):
    at = 0
    for names, least, most in rule.children:
        start = at
        while at < len(children) and children[at] in names and at - start < most:
            at += 1
        if at - start < least:
            yield f"{name}: needs {' or '.join(names)} in its place"
    if at < len(children):
        yield f"{name}: {children[at]} is not in its place"
