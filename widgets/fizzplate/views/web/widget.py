"""The base of every widget that has a module of its own: its text, its look, and how it ends."""

from __future__ import annotations

import os
from functools import cache
from typing import Any, ClassVar

import anywidget
import traitlets

from fizzplate.views.web.module_joining import join_modules


def has_room() -> bool:
    """Tell whether this page is shown by our own server, which can gather the answers of a class."""
    return bool(os.environ.get("FIZZPLATE_ROOM"))


class Widget(anywidget.AnyWidget):
    """A widget whose JavaScript and CSS are in the folder of its Python.

    Parameters
    ----------
    style
        Its stylesheet; nothing where another widget of the page brings it.
    traits
        The values of its traits.

    Attributes
    ----------
    module, render
        The file that its module is joined from, below ``views``, and the function in it that draws.
    """

    module: ClassVar[str]
    render: ClassVar[str]

    _esm = traitlets.Unicode(help="Text of the module that draws.").tag(sync=True)
    _css = traitlets.Unicode(help="Text of the stylesheet.").tag(sync=True)

    def __init__(self, *, style: str = "", **traits: Any) -> None:
        super().__init__(_esm=_module_text(self.module, self.render), _css=style, **traits)

    def close(self) -> None:
        """End the widget on both sides, and remove its observers."""
        self.unobserve_all()
        super().close()


@cache
def _module_text(module: str, render: str) -> str:
    return join_modules(module, render=render)
