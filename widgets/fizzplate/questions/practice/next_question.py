"""What a practice asks next, from the record of answers.

The same set and the same record give the same question everywhere. A mistake brings a sibling of its
question, never the same one. Who was sure and wrong is asked first, and a right guess comes back too.
Calculations begin as worked examples that fade.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate.questions.makers import MAKERS
from fizzplate.questions.practice.reasons import in_two_steps
from fizzplate.questions.practice.record import SURE, Urgency, returns_of
from fizzplate.questions.practice.siblings import ideas_behind, item_key, sibling, units_of
from fizzplate.questions.practice.worked_examples import (
    ALONE,
    WHOLE,
    next_left,
    steps_of,
    worked_example,
)
from fizzplate.questions.question_types import ChoiceQuestion, NumberQuestion
from fizzplate.questions.random_source import RandomSource, seed_of
from fizzplate.questions.sets import maker_order

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.practice.record import Attempt, Return
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.set_state import QuestionSet

BECAUSE = {
    Urgency.SURE_OF_AN_IDEA: (
        "You were sure, and a common idea led you wrong. Here is another question that tries the same idea."
    ),
    Urgency.SURE_AND_WRONG: "You were sure, and it was not right. Here is another like it.",
    Urgency.WRONG_BY_AN_IDEA: "Here is another question that tries the same idea as the one you missed.",
    Urgency.WRONG: "Here is another like the one that was not right yet.",
    Urgency.WORKED: "The same kind of calculation again, with other numbers.",
    Urgency.GUESSED: "You guessed one like this, and it was right. Do you know it?",
}
WORKED_FIRST = "A worked example: read every step. The next one leaves the last step to you."
LEFT = {
    1: "The last step is left to you.",
    2: "The last two steps are left to you.",
}


@dataclass(frozen=True, slots=True)
class PracticeItem:
    """What is asked next.

    Parameters
    ----------
    question
        The question; in two steps, it is structured, the reason in its second part.
    key
        By which the record names it.
    because
        Why it comes, as a sentence; nothing for a new question.
    follows, left, steps
        As in :class:`Attempt`.
    shown
        Steps that are shown.
    in_two_steps
        Whether the second part is shown only once the first is answered.
    waiting
        How many questions are still to come back, this one not counted.
    """

    question: Question
    key: str
    because: str = ""
    follows: int = -1
    left: int = ALONE
    steps: int = 0
    shown: tuple[str, ...] = ()
    in_two_steps: bool = False
    waiting: int = 0


def next_item(chosen: QuestionSet, record: Sequence[Attempt]) -> PracticeItem | None:
    """Return what is asked next; nothing, once every question on these topics has been asked.

    Parameters
    ----------
    chosen
        Number, topics, level and edition of the practice.
    record
        Every answer so far.

    Examples
    --------
    >>> from fizzplate.questions.set_state import QuestionSet
    >>> chosen = QuestionSet(3, topics=("tests",), level=14)
    >>> from fizzplate.questions.practice.record import Attempt
    >>> first = next_item(chosen, [])
    >>> wrong = Attempt(first.question.maker, first.key, right=False, sure="sure")
    >>> again = next_item(chosen, [wrong])
    >>> again.question.maker == first.question.maker, again.question == first.question, again.because
    (True, False, 'You were sure, and it was not right. Here is another like it.')
    """
    returns = returns_of(record)
    due = [each for each in returns if len(record) - each.place - 1 >= each.wait]
    for each in due:
        found = _for_return(chosen, record, each)
        if found:
            return replace(found, waiting=len(returns) - 1)
    fresh = _fresh(chosen, record)
    if fresh:
        return replace(fresh, waiting=len(returns))
    for each in returns:
        found = _for_return(chosen, record, each)
        if found:
            return replace(found, waiting=len(returns) - 1)
    return None


def _for_return(
    chosen: QuestionSet, record: Sequence[Attempt], back: Return
) -> PracticeItem | None:
    """Make a sibling of what comes back: by its maker, else about its idea, else on its topic."""
    missed = record[back.place]
    if missed.maker not in MAKERS:
        return None
    topic = MAKERS[missed.maker].topic
    others = [name for name in _offered(chosen) if name != missed.maker]
    same_idea = [n for n in others if missed.idea and _tries(chosen, n, missed.idea)]
    same_topic = [n for n in others if MAKERS[n].topic == topic]
    for name in (missed.maker, *same_idea, *same_topic):
        units = _units_of_examples(chosen, record, name)
        question = _sibling(chosen, record, name, missed.idea, units)
        if question is None:
            continue
        left = ALONE
        if name == missed.maker and missed.steps:
            left = _left_next(missed, question)
        item = _item(chosen, record, question, left)
        said = " ".join(filter(None, (BECAUSE[back.urgency], LEFT.get(item.left, ""))))
        because = WORKED_FIRST if item.left == WHOLE else said
        return replace(item, follows=back.place, because=because)
    return None


def _units_of_examples(
    chosen: QuestionSet, record: Sequence[Attempt], maker: str
) -> tuple[str, ...]:
    """Return what a maker's worked examples ask for, so that each leaves a step of what the last one showed.

    Nothing once one was done alone: then the maker may ask for anything.
    """
    if _is_known(record, maker):
        return ()
    rng = RandomSource(seed_of(chosen.seed, "example", maker), chosen.wording, chosen.edition)
    return units_of(MAKERS[maker](rng))


def _is_known(record: Sequence[Attempt], maker: str) -> bool:
    """Whether a calculation of a maker was done alone, and rightly."""
    return any(each.maker == maker and each.right and each.left == ALONE for each in record)


def _left_next(missed: Attempt, question: Question) -> int:
    """Return how many steps a calculation leaves that comes back; after a right guess it is asked alone."""
    if not isinstance(question, NumberQuestion):
        return ALONE
    sure = missed.sure == SURE
    return next_left(missed.left, steps_of(question), earned=missed.right, sure=sure)


def _fresh(chosen: QuestionSet, record: Sequence[Attempt]) -> PracticeItem | None:
    """Make the next new question: the makers take turns, and a calculation begins as a worked example."""
    done = sum(each.follows < 0 for each in record)
    for name in _turns(chosen, done):
        question = _sibling(chosen, record, name, 0, _units_of_examples(chosen, record, name))
        if question is None:
            continue
        left = ALONE if _is_known(record, name) else WHOLE
        item = _item(chosen, record, question, left)
        return replace(item, because=WORKED_FIRST) if item.left == WHOLE else item
    return None


def _turns(chosen: QuestionSet, done: int) -> list[str]:
    """Return every maker once, first the one whose turn it is after so many new questions."""
    names = _offered(chosen)
    if not names:
        return []
    turn, place = divmod(done, len(names))
    order = maker_order(chosen.seed, turn, names)
    return order[place:] + order[:place]


def _offered(chosen: QuestionSet) -> list[str]:
    return [
        each.name
        for each in MAKERS.values()
        if each.since <= chosen.edition
        and each.level <= chosen.level
        and (not chosen.topics or each.topic in chosen.topics)
    ]


def _sibling(
    chosen: QuestionSet,
    record: Sequence[Attempt],
    maker: str,
    idea: int,
    units: tuple[str, ...],
) -> Question | None:
    return sibling(
        maker,
        seed_of(chosen.seed, "practice", len(record)),
        asked={each.item for each in record},
        idea=idea,
        units=units,
        strict=chosen.strict,
        wording=chosen.wording,
        edition=chosen.edition,
    )


def _tries(chosen: QuestionSet, maker: str, idea: int) -> bool:
    """Whether a maker's question tries an idea."""
    rng = RandomSource(seed_of(chosen.seed, "tries", maker), chosen.wording, chosen.edition)
    return idea in ideas_behind(MAKERS[maker](rng))


def _item(
    chosen: QuestionSet, record: Sequence[Attempt], question: Question, left: int
) -> PracticeItem:
    """Ask a question as practice does: a calculation with steps shown, a choice with its reason."""
    key = item_key(question)
    if isinstance(question, NumberQuestion):
        example = worked_example(question, left)
        return PracticeItem(
            example.question,
            key,
            left=example.left,
            steps=steps_of(question),
            shown=example.shown,
        )
    if isinstance(question, ChoiceQuestion):
        rng = RandomSource(seed_of(chosen.seed, "reason", len(record)), chosen.wording)
        whole = in_two_steps(question, rng)
        if whole:
            return PracticeItem(whole, key, in_two_steps=True)
    return PracticeItem(question, key)
