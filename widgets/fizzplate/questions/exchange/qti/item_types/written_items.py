"""Texts, lists and longer answers as items: an extended text that a person marks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.exchange.qti.chart_picture import in_words
from fizzplate.questions.exchange.qti.item_types.item_type import (
    RESPONSE,
    AnyQuestion,
    ItemType,
    OwnItem,
    declare_response,
)
from fizzplate.questions.exchange.qti.markup import OURS, node
from fizzplate.questions.exchange.qti.other_items import TEXT
from fizzplate.questions.marking import shown_word
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    LevelsQuestion,
    PlotQuestion,
    TextQuestion,
)

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

    from fizzplate.questions.content import Point
    from fizzplate.questions.exchange.qti.extra_data import ExtraData


class _WrittenItems(ItemType[AnyQuestion]):
    """What texts and lists share: lines to write on, and points."""

    by_person = True

    def interactions(self, extra: ExtraData) -> tuple[tuple[str, ...], ...]:  # noqa: ARG002  # always one
        """Return the one text."""
        return ((TEXT,),)

    def add_interactions(self, body: Element, question: AnyQuestion) -> None:
        """Add two lines a mark."""
        lines = {"response-identifier": RESPONSE, "expected-lines": str(2 * question.marks)}
        node(body, TEXT, lines)

    def scheme_lines(self, question: AnyQuestion) -> list[str]:
        """Return the points, with what earns each and what does not."""
        return [_point_text(point) for point in question.points]


class TextItems(_WrittenItems[TextQuestion]):
    """How a text is written as an item."""

    def declare_responses(self, item: Element, question: TextQuestion) -> None:
        """Add a full answer."""
        declare_response(item, RESPONSE, "string", question.answer)

    def read(self, found: OwnItem) -> TextQuestion:
        """Read the answer from the item, and the points from the extra data."""
        answer = found.correct(found.interactions[0])
        return TextQuestion(**found.common, points=found.extra.points, answer=answer)


class ChecklistItems(_WrittenItems[ChecklistQuestion]):
    """How a list is written as an item."""

    def declare_responses(self, item: Element, question: ChecklistQuestion) -> None:  # noqa: ARG002
        """Add that there is an answer: none is the right one."""
        declare_response(item, RESPONSE, "string")

    def read(self, found: OwnItem) -> ChecklistQuestion:
        """Read the points from the extra data."""
        return ChecklistQuestion(**found.common, points=found.extra.points)


class PlotItems(_WrittenItems[PlotQuestion]):
    """How a graph to plot is written as an item: its table, and room to hand in what the line gives."""

    def declare_responses(self, item: Element, question: PlotQuestion) -> None:  # noqa: ARG002
        """Add that there is an answer: a person looks at the graph on paper."""
        declare_response(item, RESPONSE, "string")

    def add_interactions(self, body: Element, question: PlotQuestion) -> None:
        """Add the readings as a table, and then the lines."""
        rows = node(node(body, "table", {OURS: "entry"}), "tbody")
        for name, values in question.table:
            row = node(rows, "tr")
            node(row, "th", {"scope": "row"}, name)
            for value in values:
                node(row, "td", text=value)
        super().add_interactions(body, question)

    def scheme_lines(self, question: PlotQuestion) -> list[str]:
        """Return the points, and then the graph in words."""
        graph = [in_words(question.chart)] if question.chart else []
        return [*super().scheme_lines(question), *graph]

    def read(self, found: OwnItem) -> PlotQuestion:
        """Read the points and the readings from the extra data."""
        return PlotQuestion(**found.common, points=found.extra.points)


class LevelsItems(_WrittenItems[LevelsQuestion]):
    """How a longer answer, marked by levels, is written as an item."""

    def declare_responses(self, item: Element, question: LevelsQuestion) -> None:  # noqa: ARG002
        """Add that there is an answer: none is the right one."""
        declare_response(item, RESPONSE, "string")

    def scheme_lines(self, question: LevelsQuestion) -> list[str]:
        """Return the levels, and then the content that an answer may hold."""
        return [*question.levels, *(f"{point.statement}." for point in question.points)]

    def read(self, found: OwnItem) -> LevelsQuestion:
        """Read the levels and the content from the extra data."""
        extra = found.extra
        return LevelsQuestion(**found.common, levels=extra.levels, points=extra.points)


def _point_text(point: Point) -> str:
    """Write a point with what earns it and what does not, as a scorer reads it."""
    ways = (
        ("Accept", point.words),
        ("Not with", point.contradictions),
        ("Too little alone", point.too_little),
        ("Said of", point.within),
    )
    accepted = [f"{name}: {', '.join(map(shown_word, words))}." for name, words in ways if words]
    return " ".join((f"{point.statement}.", *accepted))
