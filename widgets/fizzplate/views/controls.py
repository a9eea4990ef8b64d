"""Controls with their names above them, in the look of every page."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

if TYPE_CHECKING:
    from collections.abc import Mapping

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
