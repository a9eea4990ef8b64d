"""How a mark scheme says which numbers are right, and what the others earn."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fizzplate.lesson.measure import figures_of, significant
from fizzplate.questions.marking import EXACT
from fizzplate.views.paper.typesetting import marks_in_words
from fizzplate.words import Rendering, number_text, with_unit

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from fizzplate.questions import NearMiss, Part


def answer_text(part: Part, value: float, figures: int = 0) -> str:
    """Write a number as an answer to a part, with as many figures as that has unless others are given.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> answer_text(Part(96_485.0, "C/mol", ("F = Q ÷ n",)), 96_485.0)
    '96 500 C/mol'
    >>> answer_text(Part(-1.35, "V", ("E = −1.35 V",)), -1.35)
    '−1.35 V'
    """
    return with_unit(significant(value, figures or part.figures), part.unit)


def number_notes(part: Part, place: int) -> list[str]:
    """Tell which answers to a part are right, and which wrong ones earn some of its marks.

    Parameters
    ----------
    part
        The part.
    place
        Which one it is of its question, counted from 0.
    """
    notes = [right_numbers(part)]
    if place and part.factor:
        before = "abcdefgh"[place - 1]
        notes.append(f"A wrong answer to ({before}) {_factor_text(part.factor)} earns all marks.")
    if part.formula:
        notes.append(f"After a wrong answer before, {_formula_text(part.formula)} earns all marks.")
    if part.afterwards:
        after = "; ".join(
            f"{answer_text(part, each.value, _figures_after(part, each.value))} after "
            f"{significant(each.given, 3)}"
            for each in part.afterwards
        )
        letter = "abcdefgh"[part.afterwards[0].part]
        notes.append(f"All marks after a wrong answer to ({letter}) for: {after}.")
    others = [miss.reason for miss in part.near_misses]
    single = [
        miss
        for miss in part.near_misses
        if not any(reason in miss.reason for reason in others if reason != miss.reason)
    ]
    by_reason: dict[tuple[str, int], list[NearMiss]] = {}
    for miss in single:
        by_reason.setdefault((miss.reason, len(miss.lost)), []).append(miss)
    return notes + [_near_misses(part, misses) for misses in by_reason.values()]


def _figures_after(part: Part, value: float) -> int:
    """Return how many figures show a number that follows from a wrong one: as many as it has, three at most.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> half = Part(3.0, "mg", ("Half the range: 6 ÷ 2 = 3 mg.",), figures=1)
    >>> _figures_after(half, 15.5), _figures_after(half, 4.0)
    (3, 1)
    """
    return max(part.figures, min(3, figures_of(value)))


def right_numbers(part: Part) -> str:
    """Say which numbers are right: a range, and how far the answer may be rounded.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> right_numbers(Part(1.14, "g", ("m = n × M.", "m = 1.14 g.")))
    'Accept 1.13 to 1.15 g, also 1.1 g; 1 g is rounded too far and loses the last mark.'
    >>> right_numbers(Part(9.0, "min", ("Read: 9 min.",), tolerance=0.2, figures=1))
    'Accept 8 to 10 min.'
    >>> right_numbers(Part(0.2001, "A", ("I = 0.20 A.",), tolerance=0.05, figures=2))
    'Accept 0.191 to 0.210 A.'
    """
    reach = part.tolerance * abs(part.value)
    low, high = part.value - reach, part.value + reach
    # no finer than the answer, unless that would cut off much of what is right
    place = _place(part.value, part.figures)
    if _inwards(high, place, math.floor) - _inwards(low, place, math.ceil) < 1.5 * place:
        place = _place(part.value, max(3, part.figures))
    first, last = _inwards(low, place, math.ceil), _inwards(high, place, math.floor)
    said = f"Accept {answer_text(part, last, _figures(last, place))}"
    if first < last:
        said = said.replace("Accept", f"Accept {significant(first, _figures(first, place))} to")
    if part.tolerance <= EXACT:
        return f"{said}."
    two, one = (_rounded(part.value, n) for n in (2, 1))
    if not low <= two <= high:
        said += f", also {answer_text(part, two, 2)}"
    if part.figures > 2 and one != two and not low <= one <= high:
        said += f"; {answer_text(part, one, 1)} is rounded too far and loses the last mark"
    return f"{said}."


def _near_misses(part: Part, misses: Sequence[NearMiss]) -> str:
    """Say what wrong numbers earn that have one reason."""
    earned = len(part.steps) - len(misses[0].lost)
    worth = marks_in_words(earned) if earned else "no mark"
    values = " or ".join(dict.fromkeys(_wrong_number(part, miss) for miss in misses))
    return f"{values}: {worth}. {misses[0].reason}"


def _wrong_number(part: Part, miss: NearMiss) -> str:
    near = abs(_rounded(miss.value, part.figures) - miss.value) <= part.tolerance * abs(miss.value)
    figures = part.figures if near else max(3, part.figures)
    return answer_text(part, miss.value, figures)


def _factor_text(factor: float) -> str:
    """Say how a part follows from the answer before it, without small fractions.

    Examples
    --------
    >>> _factor_text(2.0), _factor_text(1 / 193_000)
    ('× 2', '÷ 193 000')
    """
    sign, times = ("×", factor) if factor >= 1 else ("÷", 1 / factor)
    rounded = float(f"{times:.4g}")
    spec = ".0f" if rounded >= 1000 else "g"
    return f"{sign} {number_text(rounded, Rendering.PAGE, spec=spec)}"


def _formula_text(formula: str) -> str:
    """Write a formula of a part as it is read, with brackets round what is joined first.

    Examples
    --------
    >>> _formula_text("a b ÷"), _formula_text("a 378 - a ÷ 100 ×")
    ('(a) ÷ (b)', '[(a) − 378] ÷ (a) × 100')
    """
    stack: list[tuple[str, str]] = []  # what is written, and the sign that joined it last
    for word in formula.split(" "):
        if word in "+-×÷" and len(stack) > 1:
            (last, inner), (before, outer) = stack.pop(), stack.pop()
            if inner:
                last = f"[{last}]"
            if outer and (word in "×÷") > (outer in "×÷"):  # what stands first is worked out first
                before = f"[{before}]"
            stack.append((f"{before} {word.replace('-', '−')} {last}", word))
        else:
            stack.append((f"({word})" if word.isalpha() else word, ""))
    return stack[-1][0]


def _place(value: float, figures: int) -> float:
    """Return what one step of the last significant figure is worth."""
    return 10.0 ** (math.floor(math.log10(abs(value))) - figures + 1) if value else 1.0


def _figures(value: float, place: float) -> int:
    """Return how many figures a number has down to a place.

    Examples
    --------
    >>> _figures(9.85, 0.01), _figures(10.0, 1.0), _figures(0.0, 1.0)
    (3, 2, 1)
    """
    return round(math.log10(_place(value, 1) / place)) + 1 if value else 1


def _inwards(edge: float, place: float, towards: Callable[[float], int]) -> float:
    """Round the edge of a range so that what is printed still lies inside it."""
    return towards(round(edge / place, 9)) * place  # 10.000000000000002 is 10


def _rounded(value: float, figures: int) -> float:
    """Round as schools do, halves away from zero.

    Examples
    --------
    >>> _rounded(450.0, 1), _rounded(-2.5, 1)
    (500.0, -3.0)
    """
    place = _place(value, figures)
    return math.copysign(math.floor(abs(value) / place + 0.5) * place, value)
