"""Response processing of QTI 3.0 items, for tests: what another program makes of an answer.

Written from the standard (QTI 3.0, "Assessment, Section and Item Information Model"): the sections on
the classes ResponseProcessing, ResponseCondition and SetValue, and on each expression that is used.
"""

from __future__ import annotations

import math

from qti_structure import QTI, name_of


def processed(item, responses):
    """Return the values of all variables after the responses were processed."""
    declared = {
        each.get("identifier"): each
        for each in item.iter()
        if name_of(each) in {"qti-response-declaration", "qti-outcome-declaration"}
    }
    values = {name: _default(each) for name, each in declared.items()} | responses
    _run(item.find(f"{{{QTI}}}qti-response-processing"), declared, values)
    return values


def _default(declaration):
    """Return the first value: the declared one, nothing of several, or none."""
    given = declaration.find(f"{{{QTI}}}qti-default-value/{{{QTI}}}qti-value")
    if given is not None:
        return _read(declaration, given)
    return [] if declaration.get("cardinality") == "multiple" else None


def _read(typed, value):
    return float(value.text) if typed.get("base-type") == "float" else value.text


def _run(rules, declared, values):
    for rule in rules:
        if name_of(rule) == "qti-set-outcome-value":
            values[rule.get("identifier")] = _value(rule[0], declared, values)
            continue
        assert name_of(rule) == "qti-response-condition"
        # the first branch whose condition is true; what is not known is not true
        branch = next((b for b in rule if _value(b[0], declared, values) is True), ())
        _run(branch[1:], declared, values)


def _value(expression, declared, values):
    name, named = name_of(expression), expression.get("identifier")
    inner = [_value(child, declared, values) for child in expression]
    if name in LEAVES:
        return LEAVES[name](expression, declared.get(named), values.get(named))
    if name in LOGIC:
        return LOGIC[name](inner)
    if None in inner:
        return None  # of a missing answer nothing is known
    return OPERATORS[name](expression, *inner)


def _correct(_, declaration, __):
    path = f"{{{QTI}}}qti-correct-response/{{{QTI}}}qti-value"
    return _read(declaration, declaration.find(path))


def _and(inner):
    """Section And: false if one is false; else unknown if one is unknown."""
    return False if False in inner else None if None in inner else True


def _or(inner):
    """Section Or: true if one is true; else unknown if one is unknown."""
    return True if True in inner else None if None in inner else False


LEAVES = {
    "qti-base-value": lambda expression, _, __: _read(expression, expression),
    "qti-correct": _correct,
    "qti-variable": lambda _, __, value: value,
}
LOGIC = {"qti-and": _and, "qti-is-null": lambda inner: inner[0] is None, "qti-or": _or}
OPERATORS = {
    "qti-gte": lambda _, x, y: x >= y,
    "qti-lte": lambda _, x, y: x <= y,
    "qti-match": lambda _, x, y: x == y,
    "qti-product": lambda _, *all_of: math.prod(all_of),
    "qti-sum": lambda _, *all_of: sum(all_of),
}
