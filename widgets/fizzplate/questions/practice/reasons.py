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
THEN_REASON = "Which sentence is true, and the reason for the right answer?"
MAX_WRONG = 3

#: makers whose answers are things, numbers or directions: the reason is in none of their options
HAVE_REASONS = frozenset(
    {
        "active anode",
        "dilute",
        "double the mass",
        "indicator",
        "ions present",
        "mass by the same charge",
        "melt",
        "mixture",
        "molten or dissolved",
        "oxidised or reduced",
        "plating",
        "product at the anode",
        "product at the cathode",
        "pure copper",
        "the same electrons",
        "what carries the current",
        "what chlorine leaves as",
        "where electrons go",
        "which way",
        "wires swapped",
    }
)


def in_two_steps(question: ChoiceQuestion, rng: RandomSource) -> StructuredQuestion | None:
    """Ask a choice first, then its reason; nothing where its maker's options give reasons themselves.

    The reason is what the question says of its right option. Beside it stand the ideas behind the other
    options, and ideas about the same topic, all of them wrong.

    Examples
    --------
    >>> from fizzplate.questions.random_source import RandomSource
    >>> from fizzplate.questions.sets import another
    >>> whole = in_two_steps(another("which way", 1), RandomSource(1))
    >>> whole.sections[1].answer
    'H⁺ is positive, so it drifts to the cathode.'
    """
    known = misconceptions(rng.wording)
    behind = [
        option.misconception
        for option in question.options
        if not option.right and option.misconception
    ]
    if question.maker not in HAVE_REASONS or not behind:
        return None
    right = next(option.reason for option in question.options if option.right)
    near = rng.shuffled(n for n, each in known.items() if each.topic == known[behind[0]].topic)
    wrong = list(dict.fromkeys((*behind, *near)))[:MAX_WRONG]
    options = [Option(right, right=True, reason=right)]
    options += [
        Option(known[n].wrong, right=False, reason=known[n].right, misconception=n) for n in wrong
    ]
    answer = replace(question, text=ANSWER_FIRST, chart=None)
    reason = ChoiceQuestion(
        question.maker,
        question.topic,
        question.level,
        THEN_REASON,
        right,
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
