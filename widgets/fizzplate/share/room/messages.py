"""What phones and the teacher's page say, read only after it was checked against a schema."""

from __future__ import annotations

import gzip
import json
from dataclasses import dataclass
from typing import Any

from jsonschema import Draft202012Validator

from fizzplate.share.room.parts import KINDS, MAX_EQUATION, MAX_TEXT, Part
from fizzplate.share.room.plain_text import plain_strings
from fizzplate.share.room.room import CODE_DIGITS, MAX_VOTES, Round

MAX_PHONE_BYTES = 4_096
MAX_TEACHER_BYTES = 524_288  # a round may hold all species that may be written, and pictures
MAX_PARTS = 24
MAX_OPTIONS = 40
MAX_PICTURES, MAX_PICTURE = 8, 50_000  # of a round; characters of one
NAME = {"type": "string", "pattern": r"^[a-z0-9-]{1,40}$"}
COUNT = {"type": "integer", "minimum": 1, "maximum": 10_000}


def _text(longest: int) -> dict[str, Any]:
    return {"type": "string", "maxLength": longest}


def _record(properties: dict[str, Any], *optional: str) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": properties,
        "required": [name for name in properties if name not in optional],
        "additionalProperties": False,
    }


def _one_of(messages: dict[str, Any]) -> dict[str, Any]:
    """Give the schema of an object with exactly one of these keys."""
    return {
        "type": "object",
        "properties": messages,
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": False,
    }


_PART = _record(
    {
        "name": NAME,
        "kind": {"enum": list(KINDS)},
        "label": _text(2_000),
        "stem": _text(2_200),
        "options": {"type": "array", "items": _text(500), "maxItems": MAX_OPTIONS},
        "unit": _text(40),
        "judge": {"type": "object"},
    },
    "stem",
    "options",
    "unit",
    "judge",
)
_PICTURE = _record({"drawn": _text(MAX_PICTURE), "said": _text(2_000)})
_VALUE = {
    "anyOf": [
        {"type": "number"},
        _text(MAX_TEXT),
        {"type": "array", "items": {"type": "integer"}, "maxItems": MAX_OPTIONS},
        _record({"fault": NAME, "written": _text(MAX_EQUATION)}),
    ]
}
_WRITTEN = _record({"of": NAME, "text": _text(MAX_EQUATION)})
PHONE_SCHEMA = _one_of(
    {
        "here": {"const": True},
        "read": {"type": "boolean"},
        "show": _WRITTEN,
        "hide": _WRITTEN,
        "answer": _record(
            {
                "round": COUNT,
                "vote": {"type": "integer", "minimum": 1, "maximum": MAX_VOTES},
                "values": {
                    "type": "object",
                    "additionalProperties": _VALUE,
                    "propertyNames": NAME,
                    "minProperties": 1,
                    "maxProperties": MAX_PARTS,
                },
            }
        ),
    }
)
TEACHER_SCHEMA = _one_of(
    {
        "open": _record({"host": _text(64), "anew": {"type": "boolean"}}, "anew"),
        "resume": {"type": "string", "pattern": r"^[2-9a-z]{16}$"},
        "ask": _record(
            {
                "title": _text(200),
                "memo": _text(500),
                "about": _text(200),
                "parts": {"type": "array", "items": _PART, "minItems": 1, "maxItems": MAX_PARTS},
                "pictures": {
                    "type": "object",
                    "additionalProperties": _PICTURE,
                    "propertyNames": NAME,
                    "maxProperties": MAX_PICTURES,
                },
            },
            "about",
            "pictures",
        ),
        "again": {"const": True},
        "accept": {"type": "boolean"},
        "one-each": {"type": "boolean"},
        "show": _record({"of": NAME, "all": {"type": "boolean"}}),
        "hide": _WRITTEN,
        "reader": {"type": "string", "pattern": rf"^[0-9]{{{CODE_DIGITS}}}$"},
        "close": {"const": True},
    }
)
_PHONE = Draft202012Validator(PHONE_SCHEMA)
_TEACHER = Draft202012Validator(TEACHER_SCHEMA)


class MessageError(ValueError):
    """A message that no page of ours sends; the text may be shown to its sender."""


@dataclass(frozen=True, slots=True)
class Message:
    """What a phone or the teacher's page wants: the name of one act, and what belongs to it."""

    act: str
    value: Any


def from_phone(sent: str | bytes) -> Message:
    """Read what a phone sends.

    Raises
    ------
    MessageError
        If it is not text in JSON of the schema.

    Examples
    --------
    >>> from_phone('{"answer": {"round": 1, "vote": 1, "values": {"cathode": 2}}}').act
    'answer'
    >>> from_phone('{"close": true}')
    Traceback (most recent call last):
    fizzplate.share.room.messages.MessageError: not a message of this page
    """
    ((act, value),) = plain_strings(_read(sent, _PHONE, MAX_PHONE_BYTES)).items()
    return Message(act, value)


def from_teacher(sent: str | bytes) -> Message:
    """Read what the teacher's page sends; a round arrives as a `Round`.

    Raises
    ------
    MessageError
        If it is not text in JSON of the schema, or a round names a part twice or offers nothing to choose.
    """
    ((act, value),) = _read(sent, _TEACHER, MAX_TEACHER_BYTES).items()
    return Message(act, _round_of(value) if act == "ask" else value)


def _read(sent: str | bytes, schema: Any, most_bytes: int) -> dict[str, Any]:
    if isinstance(sent, bytes) or len(sent) > most_bytes:
        raise MessageError("a message is text, and short")
    try:
        message = json.loads(sent, parse_constant=_refuse_constant)
    except (ValueError, RecursionError):
        raise MessageError("not JSON") from None
    if not schema.is_valid(message):
        raise MessageError("not a message of this page")
    known: dict[str, Any] = message
    return known


def _refuse_constant(name: str) -> float:
    raise ValueError(name)


def _round_of(asked: dict[str, Any]) -> Round:
    parts = tuple(
        Part(**{**part, "options": tuple(part.get("options", ()))}) for part in asked["parts"]
    )
    if len({part.name for part in parts}) != len(parts):
        raise MessageError("each part of a round has a name of its own")
    if any(part.kind in {"choice", "several"} and not part.options for part in parts):
        raise MessageError("a choice has options")
    pictures = asked.get("pictures")
    packed = gzip.compress(json.dumps(pictures).encode()) if pictures else b""
    return Round(asked["title"], parts, asked["memo"], asked.get("about", ""), packed)
