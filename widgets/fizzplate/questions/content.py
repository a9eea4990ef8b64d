"""What questions are made of: options, numbers to find, points that earn a mark, charts to read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Self

from fizzplate.lesson.measure import significant
from fizzplate.words import NO_BREAK


@dataclass(frozen=True, slots=True)
class Option:
    """An option to pick.

    Parameters
    ----------
    text
        What is offered.
    right
        Whether it is the right one.
    reason
        What a learner reads who chooses it.
    misconception
        Number of the idea behind a wrong one; 0 for none.
    """

    text: str
    right: bool
    reason: str
    misconception: int = 0


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A wrong number that shows what went wrong.

    Parameters
    ----------
    value
        The number, in the unit asked for.
    lost
        Which steps, counted from 0, do not earn their marks.
    reason
        What went wrong, as a sentence.
    misconception
        Number of the idea that leads to it; 0 for none.
    """

    value: float
    lost: tuple[int, ...]
    reason: str
    misconception: int = 0


@dataclass(frozen=True, slots=True)
class Afterwards:
    """What is right after a certain wrong answer to a part before.

    Parameters
    ----------
    part
        Which part was answered so, counted from 0.
    given
        The wrong answer, in that part's unit.
    value
        What is right then, in the unit of the part that this belongs to.
    """

    part: int
    given: float
    value: float


@dataclass(frozen=True, slots=True)
class Part:
    """A number to find, with one mark for each step on the way to it.

    Parameters
    ----------
    value, unit
        The answer; the unit is one that :mod:`~fizzplate.questions.marking.unit_spellings` holds, or none
        for a bare number.
    steps
        The working, a sentence for each mark.
    prompt
        What is asked, where a question has several parts.
    factor
        Times the answer to the part before, this is the answer; 0 where it does not follow from that.
        A wrong answer carried forward is then not punished twice. Of the first part of a section: times
        what the equation in a section before makes for each electron.
    near_misses
        Wrong numbers that still earn something.
    tolerance
        How far off an answer may be, as a fraction.
    figures
        Significant figures that the data allow.
    step_values, step_units
        The number and the unit ("1" for none) that each step gives, where they are known: who shows one
        earns the marks up to it.
    formula
        How the answer follows from those to parts before where a factor cannot say it: letters of parts,
        numbers and signs, each sign after what it joins, such as ``"a b ÷"`` for (a) divided by (b).
    afterwards
        What is right after certain wrong answers before, where neither can say it.
    """

    value: float
    unit: str
    steps: tuple[str, ...]
    prompt: str = ""
    factor: float = 0.0
    near_misses: tuple[NearMiss, ...] = ()
    tolerance: float = 0.012
    figures: int = 3
    step_values: tuple[float, ...] = ()
    step_units: tuple[str, ...] = ()
    formula: str = ""
    afterwards: tuple[Afterwards, ...] = ()

    def by_itself(self) -> Self:
        """Return the part for a learner who gave no answer before, from which it could follow."""
        return replace(self, factor=0.0, formula="", afterwards=())

    @property
    def answer(self) -> str:
        """The number with its unit, as a learner types it."""
        return f"{significant(self.value, self.figures)} {self.unit}".rstrip()


@dataclass(frozen=True, slots=True)
class Point:
    """A mark for saying something: any of its words earns it, unless the answer contradicts it too.

    Where two words have “ & ” between them, both must be in one sentence, in either order.

    Parameters
    ----------
    statement
        What is to be said.
    words
        Ways to say it, in small letters.
    contradictions
        Words that lose the mark.
    too_little
        What examiners do not accept by itself.
    within, besides
        Of an answer about two things, what names the one that the point is about, and what names the other:
        marking reads only what the answer says of the one.
    """

    statement: str
    words: tuple[str, ...]
    contradictions: tuple[str, ...] = ()
    too_little: tuple[str, ...] = ()
    within: tuple[str, ...] = ()
    besides: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ChartLine:
    """One line of a chart: its name, and its points."""

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart that a question is about, from a run: title, both axes with units, lines."""

    title: str
    x_label: str
    y_label: str
    lines: tuple[ChartLine, ...]


@dataclass(frozen=True, slots=True)
class Constant:
    """A constant that a question gives: what it is called, and what is printed."""

    name: str
    text: str

    def __str__(self) -> str:
        return self.text


def datum(symbol: str, value: str) -> str:
    """Write what a symbol stands for, on one line.

    Examples
    --------
    >>> print(datum("M(Cu)", "63.5 g/mol"))
    M(Cu) = 63.5 g/mol
    """
    return NO_BREAK.join((symbol, "=", value))


def data_sentence(*data: str | Constant) -> str:
    """Return the sentence that gives a question's data.

    Examples
    --------
    >>> data_sentence(Constant("Faraday constant", "F = 96 500 C/mol"), "M(Cu) = 63.5 g/mol")
    'Take F = 96 500 C/mol and M(Cu) = 63.5 g/mol.'
    """
    *first, last = map(str, data)
    return f"Take {', '.join(first)} and {last}." if first else f"Take {last}."
