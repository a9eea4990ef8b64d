"""Read the texts of questions as people do, who see no difference between a no-break space and a space."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace

NO_BREAK = "\N{NO-BREAK SPACE}"


def with_plain_spaces(value):
    """Return a text, or a question with all that it holds, with plain spaces between numbers and units."""
    if isinstance(value, str):
        return value.replace(NO_BREAK, " ")
    if isinstance(value, (tuple, list)):
        return type(value)(map(with_plain_spaces, value))
    if is_dataclass(value):
        held = {each.name: with_plain_spaces(getattr(value, each.name)) for each in fields(value)}
        return replace(value, **held)
    return value
