"""Choice questions from a table: what is asked, what is right, and what is wrong and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.makers.parts import choice, choice_question
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.questions.tables import edition_rows
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.data import Line
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import ChoiceQuestion
    from fizzplate.questions.random_source import RandomSource

#: by what the table calls them; an empty cell is no common idea
IDEAS = {"": 0, **{each.name.lower().replace("_", " "): each for each in Idea}}


def table_choice(
    rng: RandomSource, name: str, /, *, keep: int = 0, watch: str = "", **slots: str
) -> ChoiceQuestion:
    """Return a question of the table ``choice_questions``.

    Parameters
    ----------
    rng
        Which chooses, mixes, and knows the board's wording.
    name
        What the table calls the question.
    keep
        How many of the wrong options, from the first, are always offered.
    watch
        A cell that shows it.
    slots
        What fills the sentences' slots, besides the board's own and ``correction``, which is what is right
        about the idea behind an option.
    """

    def rows(role: str) -> tuple[Line, ...]:
        return edition_rows("choice_questions", rng.edition, question=name, role=role)

    def written(template: str, idea: int = 0) -> str:
        about_idea = {"correction": correction(idea, rng.wording)} if idea else {}
        return say(template, rng.wording, **slots, **about_idea)

    asked = rows("question")
    text = written((rng.one_of(asked) if len(asked) > 1 else asked[0]).text("text"))
    right = rows("right")[-1]  # a later edition may have a better one
    wrong: list[Wrong] = []
    for row in rows("wrong"):
        idea = row.one_of("idea", IDEAS)
        wrong.append((written(row.text("text")), written(row.text("why"), idea), idea))
    options = choice(rng, written(right.text("text")), wrong, written(right.text("why")), keep=keep)
    return choice_question(text, options, watch=watch)
