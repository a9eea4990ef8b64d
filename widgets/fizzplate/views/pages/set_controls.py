"""The controls that choose a set of questions."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

import ipywidgets as widgets

from fizzplate.questions import DEFAULT_SET, LEVELS, MAX_SEED, STYLES, TOPICS, QuestionSet
from fizzplate.views.controls import (
    FieldGroup,
    field,
    fold,
    give_key,
    menu,
    read_field_number,
    refuse,
    tool,
)
from fizzplate.views.web import status
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from fizzplate.words import Wording

T = TypeVar("T")
UNITS = {"only pointed out": False, "count for a mark": True}
FEW = 3  # so many topics are counted, fewer are named


class SetControls:
    """Level, number, style, topics and number of a set.

    Parameters
    ----------
    changed
        Called after every change.

    Attributes
    ----------
    needs, topics, folds, refusal
        The widgets: the controls, the topics, what shows and hides both, and what is refused.
    """

    def __init__(self, changed: Callable[[], None]) -> None:
        self._changed = changed
        self._is_listening = True
        self._level = menu("Level", _by_label(LEVELS), DEFAULT_SET.level, key="level")
        self._count = field("Questions", str(DEFAULT_SET.count), key="count")
        self._style = menu("Asked", _by_label(STYLES), DEFAULT_SET.style, key="style")
        self._minutes = field("Minutes", str(DEFAULT_SET.minutes), key="clock-minutes")
        self._strict = menu("Units and figures", UNITS, key="strict")
        self._seed = field("Set number", str(DEFAULT_SET.seed), key="set-number")
        #: fields by the names that they are refused by
        self._numbers = {
            "set number": self._seed,
            "questions": self._count,
            "minutes": self._minutes,
        }
        self._topics = [
            give_key(
                widgets.Checkbox(description=each, indent=False),
                f"topic-{each.replace(' ', '-')}",
            )
            for each in TOPICS
        ]
        controls = [self._level, self._count, self._style, self._minutes, self._strict, self._seed]
        for control in (*controls, *self._topics):
            control.observe(lambda _: self._on_change(), names="value")
        another = tool("Another set like this", self.choose_next)
        self._group = FieldGroup(
            "",
            [self._level, self._style, another],
            controls[1:2] + controls[3:],
            self._statement,
            key="set-rest",
        )
        self.needs = self._group.widget
        self.needs.add_class("fp-choosing")
        self.topics = widgets.Box(self._topics)
        self.topics.add_class("fp-topics")
        self._needs_fold = fold("Set", self.needs, key="set")  # on a phone the question comes first
        self._needs_fold.add_class("fp-choose")
        self._topics_fold = fold("Topics", self.topics, key="topics")
        self.folds = [self._needs_fold, self._topics_fold]
        self.refusal = widgets.HTML()

    @property
    def level(self) -> int:
        """The level that is chosen."""
        return int(self._level.value)

    @level.setter
    def level(self, level: int) -> None:
        self._level.value = level

    def _statement(self) -> str:
        """Say in words what is folded."""
        clock = f"{_some(self._minutes.value, 'minute')}, " if self._style.value == "clock" else ""
        units = next(words for words, value in UNITS.items() if value == self._strict.value)
        count = "no end" if self._style.value == "follow" else _some(self._count.value, "question")
        return f"{count}, {clock}units and figures {units}, set {self._seed.value}"

    def read(self, wording: Wording) -> QuestionSet:
        """Read the controls.

        Raises
        ------
        InputError
            If something cannot be used.
        """
        seed, count, minutes = (
            int(value) if value == int(value) else value  # what is not whole is refused by the set
            for value in (
                read_field_number(name, control.value, unit="")
                for name, control in self._numbers.items()
            )
        )
        return QuestionSet(
            seed=seed,  # type: ignore[arg-type]
            count=count,  # type: ignore[arg-type]
            minutes=minutes,  # type: ignore[arg-type]
            topics=tuple(each.description for each in self._topics if each.value),
            level=self._level.value,
            style=self._style.value,
            strict=self._strict.value,
            wording=wording,
        )

    def show(self, chosen: QuestionSet) -> None:
        """Set the controls to a set without calling `changed`."""
        with self.quiet():
            self._seed.value, self._count.value = str(chosen.seed), str(chosen.count)
            self._minutes.value = str(chosen.minutes)
            self._level.value, self._style.value = chosen.level, chosen.style
            self._strict.value = chosen.strict
            for each in self._topics:
                each.value = each.description in chosen.topics

    def name(self, chosen: QuestionSet, found: int) -> None:
        """Say on the folds which set is asked, and below them if there are fewer questions than wanted."""
        topics = chosen.topics
        named = ", ".join(topics) if len(topics) < FEW else str(len(topics))
        self._needs_fold.description = f"Set {chosen.seed}"
        self._topics_fold.description = f"Topics: {named or 'all'}"
        self._group.describe()
        self._minutes.layout.display = None if chosen.style == "clock" else "none"
        refuse(self.refusal, "", self._numbers.values())
        if found < chosen.count:
            self.refusal.value = status(
                f"There are only {found} different questions on these topics, not {chosen.count}."
            )

    def refuse(self, refusal: InputError) -> None:
        """Say why no set is asked, at the field that is wrong."""
        wrong = self._numbers.get(refusal.argument)
        refuse(self.refusal, page_refusal(refusal), self._numbers.values(), wrong)

    def choose_next(self) -> None:
        """Choose the next set of the same kind."""
        try:
            seed = round(read_field_number("set number", self._seed.value, unit=""))
        except InputError:
            seed = 0
        self._seed.value = str((seed + 1) % (MAX_SEED + 1))

    @contextmanager
    def quiet(self) -> Iterator[None]:
        """Change controls without calling `changed`."""
        self._is_listening = False
        try:
            yield
        finally:
            self._is_listening = True

    def _on_change(self) -> None:
        if self._is_listening:
            self._changed()


def _by_label(labels: Mapping[T, str]) -> dict[str, T]:
    """Turn names of choices into a menu's options."""
    return {label: each for each, label in labels.items()}


def _some(typed: str, noun: str) -> str:
    """Name things with a number as it was typed."""
    return f"{typed} {noun}{'' if typed.strip() == '1' else 's'}"
