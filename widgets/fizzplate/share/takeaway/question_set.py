"""The question set in the file, as the questions' widget receives it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.questions import another, write_set
from fizzplate.views.quiz import plain_ideas, plain_question
from fizzplate.views.workshop import plain_species

if TYPE_CHECKING:
    from collections.abc import Container

    from fizzplate.questions import QuestionSet
    from fizzplate.questions.question_types import Question

ALIKE = 2  # more questions like each one, at most
TRIES = 6


def quiz_state(chosen: QuestionSet, cells: Container[str]) -> dict[str, Any]:
    """Return what the questions' widget sends to the page, and more questions like those asked.

    Parameters
    ----------
    chosen
        The set.
    cells
        Cells that the file has runs of, as links write them: only these can be watched.
    """
    whole_set = chosen.questions()
    texts = {each.text for each in whole_set}

    def plain(question: Question) -> dict[str, Any]:
        return _watchable(plain_question(question), cells)

    alike: dict[str, list[dict[str, Any]]] = {}
    for maker in dict.fromkeys(each.maker for each in whole_set):
        more = alike[maker] = []
        for seed in range(TRIES):
            found = another(maker, seed, strict=chosen.strict, wording=chosen.wording)
            if found.text not in texts and len(more) < ALIKE:
                texts.add(found.text)
                more.append(plain(found))
    return {
        "state": {
            "alone": True,
            "species": plain_species(),
            "ideas": {
                key: _watchable(idea, cells) for key, idea in plain_ideas(chosen.wording).items()
            },
            "questions": [plain(each) for each in whole_set],
            "name": write_set(chosen),
            "quiz_style": chosen.style,
            "turn": 1,
            "minutes": chosen.minutes,
            "watch": "",
            "watch_count": 0,
        },
        "alike": alike,
    }


def _watchable(plain: dict[str, Any], cells: Container[str]) -> dict[str, Any]:
    return plain if plain["watch"] in cells else plain | {"watch": ""}
