"""Labelled controls, each with a key by which the browser keeps its text, in the look of every page."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.views.web import render

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

KEY = "fp-key-"  # begins the class that holds a control's key
_LABEL = {"description_width": "auto"}


def give_key(control: Any, key: str) -> Any:
    """Give a control the key by which it is kept and found, whatever its label says.

    Raises
    ------
    ValueError
        If the key cannot be part of a class in HTML, which a space would end.
    """
    if not re.fullmatch(r"[\w-]+", key):
        raise ValueError(f"{key!r} cannot be a key; use letters, digits, _ and -")
    control.add_class(f"{KEY}{key}")
    return control


def controls_by_key(widget: Any) -> dict[str, Any]:
    """Find the controls below a widget by their keys."""
    return {
        name.removeprefix(KEY): each
        for each in widgets_below(widget)
        for name in each._dom_classes  # noqa: SLF001  # ipywidgets offers no other way to read them
        if name.startswith(KEY)
    }


def widgets_below(widget: Any) -> Iterator[Any]:
    """Go through a widget and all that it holds."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from widgets_below(child)


def menu(label: str, options: Mapping[str, Any], value: Any = None, *, key: str) -> Any:
    """Return a menu of options by their labels; the first is chosen if none is given."""
    chosen = value if value is not None else next(iter(options.values()))
    made = widgets.Dropdown(
        description=label, options=list(options.items()), value=chosen, style=_LABEL
    )
    made.add_class("fp-board-control")
    return give_key(made, key)


def field(label: str, value: str, *, key: str) -> Any:
    """Return a field that is read when it is left, so that a half-typed number is not refused."""
    made = widgets.Text(description=label, value=value, continuous_update=False, style=_LABEL)
    made.add_class("fp-board-control")
    return give_key(made, key)


def tool(label: str, act: Callable[[], None], *, tooltip: str = "") -> Any:
    """Return a button in the look of a page's tools."""
    made = widgets.Button(description=label, tooltip=tooltip or None)
    made.add_class("fp-tool")
    made.on_click(lambda _: act())
    return made


def fold(label: str, part: Any, *, key: str) -> Any:
    """Return a button that shows a part of the page and hides it again."""
    made = widgets.ToggleButton(description=label)
    made.add_class("fp-tool")
    made.observe(
        lambda change: (part.add_class if change["new"] else part.remove_class)("fp-unfolded"),
        names="value",
    )
    return give_key(made, key)


def sentence_id(place: Any) -> str:
    """Name the sentence that a place holds when something is refused there, for its field."""
    return f"fp-message-{place.model_id}"


def refuse(place: Any, sentence: str, controls: Iterable[Any], wrong: Any = None) -> None:
    """Say why something is refused, and link the sentence to the wrong control.

    The page's own program finds the field by the classes and names the sentence there.

    Parameters
    ----------
    place
        The HTML widget that holds the sentence.
    sentence
        The sentence; empty if nothing is refused.
    controls
        Those that the sentence may be about; all but the wrong one are mended.
    wrong
        The one that is wrong; nothing, if that is none of them.
    """
    name = sentence_id(place)
    place.value = (
        render("controls/templates/refusal.html.j2", id=name, sentence=sentence) if sentence else ""
    )
    for control in controls:
        change = control.add_class if sentence and control is wrong else control.remove_class
        for each in ("fp-wrong", name):
            change(each)
