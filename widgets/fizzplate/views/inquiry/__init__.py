"""The investigations: chosen, set up, concluded in own words and compared with a model answer."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.lesson import Wording
from fizzplate.lesson.classroom import investigations
from fizzplate.questions import Point
from fizzplate.views.inquiry.phone_parts import PARTS, PhoneParts
from fizzplate.views.web import Widget
from fizzplate.words import board_slots, say

if TYPE_CHECKING:
    from collections.abc import Callable

    from fizzplate.lesson.classroom import Investigation
    from fizzplate.words import Sentence

__all__ = ["PARTS", "Inquiry", "PhoneParts"]


class Inquiry(Widget):
    """The list of investigations; conclusions are kept in the browser.

    Parameters
    ----------
    set_up
        Called with an investigation that is to be set up.
    wording
        The board's.
    """

    module = "inquiry/inquiry.js"
    render = "renderInquiry"

    items: traitlets.List[dict[str, str]] = traitlets.List(help="What is asked.").tag(sync=True)
    setup_request = traitlets.Dict(help="Which one is to be set up, and when it was asked.").tag(
        sync=True
    )
    answer_request = traitlets.Dict(help="Which answer is asked for, and when.").tag(sync=True)
    answers: traitlets.Dict[str, str] = traitlets.Dict(help="Model answers by name.").tag(sync=True)
    points: traitlets.Dict[str, list[dict[str, Any]]] = traitlets.Dict(
        help="By name of an answer, what a conclusion should say."
    ).tag(sync=True)
    set_up_of = traitlets.Dict(help="Which one is set up, and when it was asked.").tag(sync=True)

    def __init__(
        self, set_up: Callable[[Investigation], None], wording: Wording | None = None
    ) -> None:
        self._known = {each.name: each for each in investigations()}
        self._answers: dict[str, Sentence] = {}  # by name
        self._wording = wording or Wording()
        super().__init__(items=self._items())

        def on_setup_request(change: dict[str, Any]) -> None:
            chosen = self._known.get(str(change["new"].get("name")))
            if chosen is not None:
                set_up(chosen)
                self.set_up_of = dict(change["new"])

        self.observe(on_setup_request, names="setup_request")
        self.observe(self._on_answer_request, names="answer_request")

    def _on_answer_request(self, change: dict[str, Any]) -> None:
        chosen = self._known.get(str(change["new"].get("name")))
        if chosen is not None:
            self._answers[chosen.name] = chosen.answer_sentence()
            with self.hold_sync():
                self.points = self._worded_points()
                self.answers = self._worded_answers()

    def word(self, wording: Wording) -> None:
        """Ask and answer in another board's wording."""
        self._wording = wording
        with self.hold_sync():
            self.items = self._items()
            self.points = self._worded_points()
            self.answers = self._worded_answers()

    def _worded_answers(self) -> dict[str, str]:
        return {
            name: answer.fill(board_slots(self._wording)) for name, answer in self._answers.items()
        }

    def _worded_points(self) -> dict[str, list[dict[str, Any]]]:
        return {
            name: [
                asdict(Point(say(point.name, self._wording), point.words))
                for point in self._known[name].points
            ]
            for name in self._answers
        }

    def _items(self) -> list[dict[str, str]]:
        return [
            {
                "name": each.name,
                "question": each.question,
                "vary": each.vary,
                "lookFor": each.look_for,
            }
            for each in investigations(self._wording)
        ]
