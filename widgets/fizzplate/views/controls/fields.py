"""Controls with their names above them, in the look of every page."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

_LABEL = {"description_width": "auto"}


def menu(label: str, options: Mapping[str, Any], value: Any = None) -> Any:
    """Return a menu of options by their labels; the first is chosen if none is given."""
    chosen = value if value is not None else next(iter(options.values()))
    made = widgets.Dropdown(
        description=label, options=list(options.items()), value=chosen, style=_LABEL
    )
    made.add_class("fp-board-control")
    return made


def field(label: str, value: str) -> Any:
    """Return a field that is heard when it is left, so that a half-typed number is not refused."""
    made = widgets.Text(description=label, value=value, continuous_update=False, style=_LABEL)
    made.add_class("fp-board-control")
    return made


def tool(label: str, act: Callable[[], None]) -> Any:
    """Return a button in the look of a page's tools."""
    made = widgets.Button(description=label)
    made.add_class("fp-tool")
    made.on_click(lambda _: act())
    return made


def fold(label: str, what: Any) -> Any:
    """Return a button that shows a part of the page and hides it again."""
    made = widgets.ToggleButton(description=label)
    made.add_class("fp-tool")
    made.observe(
        lambda change: (what.add_class if change["new"] else what.remove_class)("fp-unfolded"),
        names="value",
    )
    return made


def sentence_id(place: Any) -> str:
    """Name the sentence that a place holds when something is refused there, for its field."""
    return f"fp-said-{place.model_id}"


def refuse(place: Any, says: str, controls: Iterable[Any], wrong: Any = None) -> None:
    """Say why something is refused, and let the sentence belong to the control that is wrong.

    The page's own program finds the field by the classes and names the sentence there.

    Parameters
    ----------
    place
        The HTML widget that holds the sentence.
    says
        The sentence; empty if nothing is refused.
    controls
        Those that the sentence may be about; all but the wrong one are mended.
    wrong
        The one that is wrong; nothing, if that is none of them.
    """
    name = sentence_id(place)
    place.value = f'<p role="alert" id="{name}">{escape(says)}</p>' if says else ""
    for control in controls:
        change = control.add_class if says and control is wrong else control.remove_class
        for each in ("fp-wrong", name):
            change(each)
