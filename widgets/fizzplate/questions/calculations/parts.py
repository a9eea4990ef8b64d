"""How a calculation is asked and marked: links of working, and the slips that examiners know at each."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import Step
from fizzplate.questions.content import Constant, NearMiss, Part, data_sentence
from fizzplate.questions.maker import UNDECLARED
from fizzplate.questions.question_types import NumberQuestion, Question

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

APART = 1.025  # ratio of numbers that marking, at 1.2 % to both sides, tells from each other
THOUSANDS = ("g", "kg", "cm³", "dm³", "A", "mol")  # units that learners take a thousand times off


@dataclass(frozen=True, slots=True)
class Slip:
    """A mistake at one step.

    Parameters
    ----------
    times
        The factor by which it changes the answer of its part.
    reason
        What the learner is told.
    whole
        Whether no mark of its part is left: the rest is only what follows from the mistake.
    misconception
        Number of the idea that leads to it; 0 for none.
    """

    times: float
    reason: str
    whole: bool = False
    misconception: int = 0


@dataclass(frozen=True, slots=True)
class Link:
    """A step under a name, with the slips that happen there, the usual one first.

    Parameters
    ----------
    name, step, slips
        What it is called, what is calculated, and what goes wrong.
    joined
        Whether it shares its mark with the step after it, as a conversion of units does.
    """

    name: str
    step: Step
    slips: tuple[Slip, ...] = ()
    joined: bool = False


def joined(links: Sequence[Link]) -> list[Link]:
    """Let steps share one mark.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import Flow
    >>> [link.joined for link in joined(Flow(0.25, 20).links())]
    [True, False]
    """
    return [*(replace(link, joined=True) for link in links[:-1]), links[-1]]


def apart(links: Sequence[Link]) -> list[Link]:
    """Give each step a mark of its own.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import Flow
    >>> [link.joined for link in apart(Flow(0.25, 20).links())]
    [False, False]
    """
    return [replace(link, joined=False) for link in links]


def part(links: Sequence[Link], *, prompt: str = "", before: float = 0.0, figures: int = 3) -> Part:
    """Return a number to find by links of working, one mark each, or one for those that are joined.

    Parameters
    ----------
    links
        The steps; the last gives the answer. Numbers in between keep a figure more.
    prompt
        What is asked, where a question has several parts.
    before
        Answer of the part before, if this one follows from it.
    figures
        Of the answer; numbers on the way keep a fourth.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import Flow
    >>> found = part(apart(Flow(0.25, 20).links()))
    >>> found.answer, len(found.steps), found.near_misses[0].value, found.near_misses[0].lost
    ('300 C', 2, 5.0, (0,))
    >>> len(part(Flow(0.25, 20).links()).steps)
    1
    """
    last = links[-1].step
    sentences = [link.step.sentence(max(figures, 3) + 1) for link in links[:-1]]
    sentences.append(Step(last.working, last.value, last.unit).sentence(figures))
    marks = _marks(links)
    ends = [links[max(k for k, mark in enumerate(marks) if mark == end)] for end in set(marks)]
    return Part(
        last.value,
        last.unit,
        tuple(
            " ".join(f"{text}." for text, mark in zip(sentences, marks, strict=True) if mark == end)
            for end in range(len(ends))
        ),
        prompt=prompt,
        factor=last.value / before if before else 0.0,
        near_misses=_near_misses(links),
        figures=figures,
        step_values=tuple(link.step.value for link in ends),
        step_units=tuple(link.step.unit or "1" for link in ends),
    )


def parts_at(
    links: Sequence[Link], prompt: Sequence[tuple[str, str]], figures: int = 3
) -> tuple[Part, ...]:
    """Cut links into parts, each from the answer of the one before.

    Parameters
    ----------
    links
        The whole way.
    prompt
        The link that ends each part, by name, and what is asked there.
    figures
        Of the answers.
    """
    made: list[Part] = []
    names = [link.name for link in links]
    begin = 0
    for name, ask in prompt:
        end = names.index(name) + 1
        before = made[-1].value if made else 0.0
        made.append(part(links[begin:end], prompt=ask, before=before, figures=figures))
        begin = end
    return tuple(made)


def number_question(
    stem: str, parts: Sequence[Part], *, data: Sequence[str | Constant] = (), watch: str = ""
) -> Question:
    """Return a question about numbers: a mark a step, the working as its reason, its data at its end."""
    text = f"{stem} {data_sentence(*data)}" if data else stem
    working = [" ".join(each.steps) for each in parts]
    if len(parts) > 1:
        working = [f"({letter}) {each}" for letter, each in zip("abcdefgh", working, strict=False)]
    why = " ".join(working)
    return NumberQuestion(
        *UNDECLARED, text, why, parts=tuple(parts), stem=stem, data=tuple(data), watch=watch
    )


def _marks(links: Sequence[Link]) -> list[int]:
    """Return which mark each step earns or shares, from 0."""
    marks, mark = [], 0
    for link in links:
        marks.append(mark)
        mark += not link.joined
    return marks


def _near_misses(links: Sequence[Link]) -> tuple[NearMiss, ...]:
    """Return the numbers of single slips, of two usual ones together, and of a wrong power of ten."""
    last, marks = links[-1].step, _marks(links)
    alone = [(marks[k], slip) for k, link in enumerate(links) for slip in link.slips]
    usual = [(marks[k], link.slips[0]) for k, link in enumerate(links) if link.slips]
    usual = [(k, slip) for k, slip in usual if not slip.whole]
    every = tuple(range(marks[-1] + 1))
    found = [
        NearMiss(
            last.value * slip.times,
            every if slip.whole else (k,),
            slip.reason,
            slip.misconception,
        )
        for k, slip in alone
    ]
    if last.unit in THOUSANDS:
        for times, size in ((1e3, "large"), (1e-3, "small")):
            reason = (
                f"The digits are right, but in {last.unit} this is a thousand times too {size}."
            )
            found.append(NearMiss(last.value * times, (marks[-1],), reason))
    if last.unit == "%":
        reason = "That is the fraction: times 100 it is the percentage."
        found.append(NearMiss(last.value / 100, (marks[-1],), reason))
    found += [
        NearMiss(
            last.value * a.times * b.times,
            tuple(sorted({j, k})),
            f"{a.reason} {b.reason}",
            a.misconception or b.misconception,
        )
        for (j, a), (k, b) in combinations(usual, 2)
    ]
    return tuple(_distinguishable(last.value, found))


def _distinguishable(value: float, found: Iterable[NearMiss]) -> list[NearMiss]:
    """Leave out near misses that marking could not tell from the answer or from one before."""
    kept: list[NearMiss] = []
    for miss in found:
        others = [value, *(each.value for each in kept)]
        if all(not 1 / APART < miss.value / other < APART for other in others):
            kept.append(miss)
    return kept
