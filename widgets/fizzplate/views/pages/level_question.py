"""What Revise asks before its first question: which level the questions should be of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ipywidgets as widgets

from fizzplate.questions import LEVELS
from fizzplate.views.controls import tool
from fizzplate.views.web import render

if TYPE_CHECKING:
    from collections.abc import Callable


class LevelQuestion:
    """A question with a button for each level, until it is answered.

    Parameters
    ----------
    choose
        Called with the level.
    hide
        Called with whether the question is open, which hides the rest of the page.

    Attributes
    ----------
    widget
        What a page lays out.
    """

    def __init__(self, choose: Callable[[int], None], hide: Callable[[bool], None]) -> None:
        asked = widgets.HTML(render("pages/templates/level_question.html.j2"))

        def button(level: int, label: str) -> object:
            made = tool(label, lambda: self._answer(level))
            made.add_class("fp-level")
            return made

        self._choose, self._hide = choose, hide
        self.widget = widgets.Box([asked, *(button(*each) for each in LEVELS.items())])
        self.widget.add_class("fp-level-question")
        self._is_answered = False

    @property
    def is_answered(self) -> bool:
        """Whether the level is known."""
        return self._is_answered

    @is_answered.setter
    def is_answered(self, known: bool) -> None:
        self._is_answered = known
        self.widget.layout.display = "none" if known else None
        self._hide(not known)

    def _answer(self, level: int) -> None:
        self.is_answered = True
        self._choose(level)
