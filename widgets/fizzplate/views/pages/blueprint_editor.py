"""The blueprint of a paper as a table to change: by topic questions, marks, and how many are harder."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import ipywidgets as widgets

from fizzplate.questions import TOPICS, BlueprintRow
from fizzplate.views.controls import field, fold, read_field_number, refuse, tool
from fizzplate.views.paper import MINUTES_A_MARK
from fizzplate.views.web import render
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

#: the columns of fields: what a refusal calls each, as the row's own refusals do
COLUMNS = ("questions", "marks", "harder")


class BlueprintEditor:
    """A row a topic, made when it is first wanted, with what they come to.

    Parameters
    ----------
    use
        Called with the rows that are typed; raises an :class:`~fizzplate.words.InputError` where a row
        cannot be met.
    leave
        Called to leave the questions to the set's number again.

    Attributes
    ----------
    parts
        The widgets, in the order of the page.
    """

    def __init__(
        self, use: Callable[[Sequence[BlueprintRow]], None], leave: Callable[[], None]
    ) -> None:
        self._use, self._leave = use, leave
        self._fields: dict[str, tuple[Any, ...]] = {}
        self._rows: tuple[BlueprintRow, ...] = ()
        self._message = widgets.HTML()
        self._totals = widgets.HTML()
        self._table = widgets.Box([])
        self._table.add_class("fp-blueprint-editor")
        self._fold = fold("Change the blueprint", self._table, key="blueprint")
        self._fold.observe(lambda _: self._build(), names="value")
        row = widgets.Box([self._fold])
        row.add_class("fp-needs")
        self.parts = [row, self._table]

    def show(self, rows: Sequence[BlueprintRow]) -> None:
        """Show a blueprint: that of the set that is asked."""
        self._rows = tuple(rows)
        by_topic = {row.topic: row for row in rows}
        for topic, fields in self._fields.items():
            row = by_topic.get(topic)
            texts = map(str, (row.count, row.marks, row.harder) if row else (0, 0, 0))
            for each, text in zip(fields, texts, strict=True):
                each.value = text
        self._say("")

    def _build(self) -> None:
        if self._fields:
            return
        lines: list[Any] = [
            widgets.HTML(render("pages/templates/blueprint_columns.html.j2", columns=COLUMNS))
        ]
        for topic in TOPICS:
            key = topic.replace(" ", "-")
            self._fields[topic] = tuple(
                field(f"{topic}: {name}", "0", key=f"blueprint-{key}-{k}")
                for k, name in enumerate(COLUMNS)
            )
            label = widgets.HTML(render("pages/templates/blueprint_topic.html.j2", topic=topic))
            line = widgets.Box([label, *self._fields[topic]])
            line.add_class("fp-blueprint-line")
            lines.append(line)
        for fields in self._fields.values():
            for each in fields:
                each.observe(lambda _: self._add_up(), names="value")
        buttons = widgets.Box(
            [
                tool("Use this blueprint", self.use),
                tool("Leave it to the number of the set", self._leave),
            ]
        )
        buttons.add_class("fp-needs")
        self._table.children = [*lines, self._totals, buttons, self._message]
        self.show(self._rows)
        self._add_up()

    def use(self) -> None:
        """Ask by the rows that are typed; say what is wrong where that cannot be."""
        try:
            self._use(self._read())
        except InputError as refusal:
            topic, _, column = refusal.argument.partition(", ")
            fields = self._fields.get(topic, ())
            wrong = fields[COLUMNS.index(column) if column in COLUMNS else 1] if fields else None
            self._say(page_refusal(refusal), wrong)
            return
        self._say("")

    def _read(self) -> list[BlueprintRow]:
        rows = []
        for topic, fields in self._fields.items():
            count, marks, harder = (
                read_field_number(f"{topic}, {name}", each.value.strip() or "0", unit="")
                for name, each in zip(COLUMNS, fields, strict=True)
            )
            if count or marks or harder:
                row = BlueprintRow(topic, _whole(count), _whole(marks), _whole(harder))
                rows.append(row)
        if not rows:
            raise InputError("blueprint", "no question", "at least one question on one topic")
        return rows

    def _add_up(self) -> None:
        """Say what the rows that are typed come to, as far as they can be read."""
        count, marks, harder = (
            sum(_typed(fields[k].value) for fields in self._fields.values())
            for k in range(len(COLUMNS))
        )
        self._totals.value = render(
            "pages/templates/blueprint_totals.html.j2",
            count=count,
            marks=marks,
            harder=harder,
            share=round(100 * harder / count) if count else 0,
            minutes=marks * MINUTES_A_MARK,
        )

    def _say(self, sentence: str, wrong: Any = None) -> None:
        every = [each for fields in self._fields.values() for each in fields]
        refuse(self._message, sentence, every, wrong)


def _whole(value: float) -> int:
    """Return a number as a whole one; what is not whole is refused by the row."""
    return int(value) if value == int(value) else value  # type: ignore[return-value]


def _typed(text: str) -> int:
    """Return the whole number in a field; 0 where there is none, which is refused when it is used."""
    plain = text.strip()
    return int(plain) if plain.isascii() and plain.isdigit() and len(plain) < 6 else 0
