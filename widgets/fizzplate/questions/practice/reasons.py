"""Questions in two steps: the answer first, then the reason for it, from the ideas behind wrong answers."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.questions.content import Option
from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.question_types import ChoiceQuestion, StructuredQuestion

if TYPE_CHECKING:
    from fizzplate.questions.random_source import RandomSource

ANSWER_FIRST = "Which answer is right?"
THEN_REASON = "Which of these sentences is true? It is the reason."
MAX_WRONG = 3


def in_two_steps(question: ChoiceQuestion, rng: RandomSource) -> StructuredQuestion | None:
    """Ask a choice first, then its reason; nothing where no idea is behind a wrong option.

    The reason is the correction of an idea behind a wrong option. Beside it stand that idea, the ideas
    behind the other options, and ideas about the same topic. Where the options are such sentences
    themselves, there is no second step.

    Examples
    --------
    >>> from fizzplate.questions.random_source import RandomSource
    >>> from fizzplate.questions.sets import another
    >>> whole = in_two_steps(another("wires swapped", 1), RandomSource(1))
    >>> whole.sections[1].answer
    'Swapping the wires at the supply swaps the cathode and the anode.'
    """
    known = misconceptions(rng.wording)
    behind = [
        option.misconception
        for option in question.options
        if not option.right and option.misconception
    ]
    sentences = {text for each in known.values() for text in (each.wrong, each.right)}
    if not behind or sentences & {option.text for option in question.options}:
        return None
    main = known[behind[0]]
    near = rng.shuffled(n for n, each in known.items() if each.topic == main.topic)
    wrong = list(dict.fromkeys((*behind, *near)))[:MAX_WRONG]
    options = [Option(main.right, right=True, reason=main.right)]
    options += [
        Option(known[n].wrong, right=False, reason=known[n].right, misconception=n) for n in wrong
    ]
    answer = replace(question, text=ANSWER_FIRST, chart=None)
    reason = ChoiceQuestion(
        question.maker,
        question.topic,
        question.level,
        THEN_REASON,
        main.right,
        options=tuple(rng.shuffled(options)),
    )
    return StructuredQuestion(
        question.maker,
        question.topic,
        question.level,
        question.text,
        question.why,
        chart=question.chart,
        watch=question.watch,
        sections=(answer, reason),
    )
