"""The rules by which answers are marked: only those that players of the standard share.

A number is right within a range whose ends are written out, because not every player knows the tolerance of
``qti-equal``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.markup import node

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element


def set_outcome(rules: Element, outcome: str, tag: str, attributes: dict[str, str]) -> None:
    """Add a rule that sets an outcome to what an element of this tag gives.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> rules = Element("rules")
    >>> set_outcome(rules, "SCORE", "qti-variable", {"identifier": "MAXSCORE"})
    >>> rules[0].get("identifier"), rules[0][0].tag
    ('SCORE', 'qti-variable')
    """
    node(node(rules, "qti-set-outcome-value", {"identifier": outcome}), tag, attributes)


def set_name(rules: Element, outcome: str, name: str) -> None:
    """Add a rule that sets an outcome to a name.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> rules = Element("rules")
    >>> set_name(rules, "FEEDBACK", "A")
    >>> rules[0][0].text
    'A'
    """
    given = node(rules, "qti-set-outcome-value", {"identifier": outcome})
    node(given, "qti-base-value", {"base-type": "identifier"}, name)


def add_marks(rules: Element, marks: int) -> None:
    """Add a rule that adds marks to the score.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> rules = Element("rules")
    >>> add_marks(rules, 2)
    >>> [each.tag for each in rules[0][0]]
    ['qti-variable', 'qti-base-value']
    """
    total = node(node(rules, "qti-set-outcome-value", {"identifier": "SCORE"}), "qti-sum")
    node(total, "qti-variable", {"identifier": "SCORE"})
    node(total, "qti-base-value", {"base-type": "float"}, str(marks))


def add_range(rules: Element, response: str, low: float, high: float, times: str = "") -> None:
    """Add a condition: a response lies between two numbers, or between these times another response.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> rules = Element("rules")
    >>> add_range(rules, "RESPONSE_1", 1.9, 2.1)
    >>> [(each.tag, each[0].get("identifier"), each[1].text) for each in rules[0]]
    [('qti-gte', 'RESPONSE_1', '1.9'), ('qti-lte', 'RESPONSE_1', '2.1')]
    """
    both = node(rules, "qti-and")
    for tag, end in (("qti-gte", low), ("qti-lte", high)):
        compared = node(both, tag)
        node(compared, "qti-variable", {"identifier": response})
        bound = node(compared, "qti-product") if times else compared
        node(bound, "qti-base-value", {"base-type": "float"}, repr(end))
        if times:
            node(bound, "qti-variable", {"identifier": times})


def add_choice(rules: Element, response: str, name: str) -> None:
    """Add a condition: this option was chosen.

    Examples
    --------
    >>> from xml.etree.ElementTree import Element
    >>> rules = Element("rules")
    >>> add_choice(rules, "RESPONSE_1", "A")
    >>> rules[0].tag, rules[0][1].text
    ('qti-match', 'A')
    """
    match = node(rules, "qti-match")
    node(match, "qti-variable", {"identifier": response})
    node(match, "qti-base-value", {"base-type": "identifier"}, name)
