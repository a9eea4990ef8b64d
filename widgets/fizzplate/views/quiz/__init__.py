"""A set of questions in the page: answered, marked and looked back on without asking Python."""

from __future__ import annotations

from dataclasses import asdict
from functools import cache
from typing import TYPE_CHECKING, Any

import anywidget
import traitlets

from fizzplate.lesson.equation_tasks import known_species
from fizzplate.views.look import style_text
from fizzplate.views.modules import join_modules
from fizzplate.views.workshop import plain_task

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from fizzplate.lesson.marking import Question


@cache
def _module_text() -> str:
    return join_modules("quiz/quiz.js", render="renderQuiz")


def plain_question(asked: Question) -> dict[str, Any]:
    """Give a question as plain data that the page marks from."""
    return {
        "maker": asked.maker,
        "topic": asked.topic,
        "level": asked.level,
        "text": asked.text,
        "kind": asked.kind,
        "marks": asked.marks,
        "answer": asked.answer,
        "why": asked.why,
        "options": [asdict(option) for option in asked.options],
        "value": asked.value if asked.kind == "number" else 0.0,
        "unit": asked.unit,
        "tolerance": asked.tolerance,
        "figures": asked.figures,
        "nearMisses": [asdict(miss) for miss in asked.near_misses],
        "points": [asdict(point) for point in asked.points],
        "task": plain_task(asked.task) if asked.task else None,
        "watch": asked.watch,
    }


class Quiz(anywidget.AnyWidget):
    """One set.

    Parameters
    ----------
    opened
        Called with the query that the page was opened with.
    """

    _esm = traitlets.Unicode(help="The module that asks and marks.").tag(sync=True)
    _css = traitlets.Unicode(help="The look.").tag(sync=True)
    species = traitlets.Dict(help="Atoms and charge of what an equation may hold.").tag(sync=True)
    questions: traitlets.List[dict[str, Any]] = traitlets.List(help="The set.").tag(sync=True)
    name = traitlets.Unicode(help="Under which the answers are kept.").tag(sync=True)
    query = traitlets.Unicode(help="The link's query of this set.").tag(sync=True)
    opened = traitlets.Unicode(help="The query that the page was opened with.").tag(sync=True)

    def __init__(self, opened: Callable[[str], None]) -> None:
        species = {name: [dict(atoms), charge] for name, (atoms, charge) in known_species().items()}
        super().__init__(_esm=_module_text(), _css=style_text(), species=species)

        def on_opened(change: dict[str, Any]) -> None:
            opened(change["new"])

        self.observe(on_opened, names="opened")

    def ask(self, questions: Iterable[Question], query: str) -> None:
        """Ask a set, which a link of that query asks again."""
        with self.hold_sync():
            self.questions = [plain_question(asked) for asked in questions]
            self.query = query
            self.name = query
