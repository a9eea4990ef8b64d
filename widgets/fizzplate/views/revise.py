"""The Revise page: questions by a seed, marked point by point in the page."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qsl, quote

import ipywidgets as widgets

from fizzplate.chemistry.checks import InputError
from fizzplate.lesson.questions import LEVELS, MOST, TOPICS, questions
from fizzplate.views.controls import field
from fizzplate.views.quiz import Quiz
from fizzplate.views.setup import read_number
from fizzplate.views.title import title

if TYPE_CHECKING:
    from fizzplate.lesson.marking import Question

ALL = "all topics"
LARGEST_SEED = 999_999


class Revise:
    """The page's parts and what happens between them.

    Attributes
    ----------
    widget
        What a notebook displays.
    quiz
        The set that is asked.
    """

    def __init__(self) -> None:
        self._heard = True
        self.quiz = Quiz(self.open_query)
        self._seed = field("Set number", "1")
        self._count = field("Questions", "10")
        self._topic = widgets.Dropdown(
            description="Topic", options=[ALL, *TOPICS], style={"description_width": "auto"}
        )
        self._level = widgets.Dropdown(
            description="Level",
            options=[("14 to 16", 14), ("16 to 18", 16)],
            style={"description_width": "auto"},
        )
        for control in (self._topic, self._level):
            control.add_class("fp-board-control")
        for control in (self._seed, self._count, self._topic, self._level):
            control.observe(lambda _: self._on_change(), names="value")
        another = widgets.Button(description="Another set like this")
        another.add_class("fp-tool")
        another.on_click(lambda _: self.another())
        self._refusal = widgets.HTML()
        row = widgets.Box([self._topic, self._level, self._count, self._seed, another])
        row.add_class("fp-needs")
        head = widgets.HBox([title("Revise")])
        head.add_class("fp-head")
        self.widget = widgets.Box([head, row, self._refusal, self.quiz])
        for name in ("fp-page", "fp-explore", "fp-revise"):
            self.widget.add_class(name)
        self._on_change()

    def another(self) -> None:
        """Ask the next set of the same kind."""
        try:
            seed = round(read_number("set number", self._seed.value, unit=""))
        except InputError:
            seed = 0
        self._seed.value = str((seed + 1) % (LARGEST_SEED + 1))

    def open_query(self, query: str) -> None:
        """Ask the set of a link; what cannot be read is left out and said."""
        said = []
        given = dict(parse_qsl(query.removeprefix("?")[:400], keep_blank_values=True))
        given.pop("v", None)
        fields = {
            "set": self._seed,
            "count": self._count,
            "topic": self._topic,
            "level": self._level,
        }
        self._heard = False
        for name, text in given.items():
            if name not in fields or not _readable(name, text):
                said.append(f"{name[:20]}: {text[:30]!r} was left out.")
                continue
            fields[name].value = int(text) if name == "level" else text
        self._heard = True
        self._on_change(said)

    def _on_change(self, said: list[str] | None = None) -> None:
        if not self._heard:
            return
        try:
            asked, query = self._make()
        except InputError as refusal:
            self._refusal.value = f'<p role="alert">{escape(str(refusal))}</p>'
            return
        notes = " ".join(said or [])
        self._refusal.value = f'<p role="alert">{escape(notes)}</p>' if notes else ""
        self.quiz.ask(asked, query)

    def _make(self) -> tuple[list[Question], str]:
        seed = read_number("set number", self._seed.value, unit="")
        count = read_number("questions", self._count.value, unit="")
        if not (0 <= seed <= LARGEST_SEED and seed == round(seed)):
            raise InputError(
                "set number", self._seed.value, f"a whole number from 0 to {LARGEST_SEED}"
            )
        if not (1 <= count <= MOST and count == round(count)):
            raise InputError("questions", self._count.value, f"a whole number from 1 to {MOST}")
        topic, level = self._topic.value, self._level.value
        topics = [] if topic == ALL else [topic]
        asked = questions(seed=round(seed), count=round(count), topics=topics, level=level)
        parts = {"v": "1", "set": f"{seed:.0f}", "count": f"{count:.0f}", "level": str(level)}
        if topics:
            parts["topic"] = topic
        return asked, "&".join(f"{name}={quote(value)}" for name, value in parts.items())


def _readable(name: str, text: str) -> bool:
    """Whether a part of a link can be used."""
    if name == "topic":
        return text in TOPICS
    if name == "level":
        return text in {str(level) for level in LEVELS}
    return text.isascii() and text.isdigit() and len(text) <= len(str(LARGEST_SEED))


def page() -> Any:
    """Return the Revise page as one widget to display."""
    return Revise().widget
