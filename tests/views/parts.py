"""The parts of a page as its user knows them: a control by its label, and what its text says."""

from __future__ import annotations

from tests.questions.plain_spaces import with_plain_spaces


def parts_of(widget):
    """Go through a widget and all that it holds."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from parts_of(child)


def control(widget, label):
    """Find a control by its label."""
    return next(each for each in parts_of(widget) if getattr(each, "description", None) == label)


def is_offered(widget, label):
    """Tell whether a control is shown."""
    return control(widget, label).layout.display != "none"


def is_marked_wrong(widget, label):
    """Tell whether a control is marked as the one that a refusal is about."""
    return "fp-wrong" in control(widget, label)._dom_classes


def page_text(widget):
    """Give all that a page says in its program's own words and tables, as HTML with plain spaces."""
    held = (each for each in parts_of(widget) if hasattr(each, "placeholder"))
    text = "\n".join(each.value for each in held if not hasattr(each, "continuous_update"))
    return with_plain_spaces(text)
