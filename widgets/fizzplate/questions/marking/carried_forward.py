"""Errors carried forward: what is right after wrong answers before, and slips that were made before.

The page does the same (``views/quiz/numbers/carried_forward.js``) with the same ``carried_forward.json``.
"""

from __future__ import annotations

import json
import math
import operator
import re
from dataclasses import dataclass, field
from importlib import resources
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.content import NearMiss, Part

_RULES = json.loads(
    resources.files(__package__).joinpath("carried_forward.json").read_text("utf-8")
)
LETTERS: str = _RULES["letters"]
_TERM: str = _RULES["term"]  # of an equation, its count as the first group
_PLAIN_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_NOT_OF_THE_SLIP = re.compile(_RULES["not_of_the_slip"])
SAME = 1e-3  # how near an answer is to one of :class:`~fizzplate.questions.content.Afterwards`
_SIGNS = {"+": operator.add, "-": operator.sub, "×": operator.mul, "÷": operator.truediv}


@dataclass(slots=True)
class AnswersBefore:
    """What was answered to the parts before.

    Parameters
    ----------
    answers
        The number given to each, or what would have followed where it was left out; None where it is
        nothing to go on from.
    right
        The right number of each.
    slips
        The slips that cost a mark, each by its kind.
    shares
        What each of two slips in the part before makes of its right answer, by itself.
    from_equation
        What the first part goes on from: what an equation makes for each electron, where one was written.
    """

    answers: list[float | None] = field(default_factory=list)
    right: list[float] = field(default_factory=list)
    slips: set[str] = field(default_factory=set)
    shares: list[float] = field(default_factory=list)
    from_equation: float | None = None

    def add(self, part: Part, value: float | None, miss: NearMiss | None) -> None:
        """Go on to the next part from an answer, and from the near miss that it is."""
        self.answers.append(value)
        self.right.append(part.value)
        singles = _single_slips(part, miss) if miss else []
        self.slips.update(map(_kind, singles))
        self.shares = [each.value / part.value for each in singles if len(singles) > 1]

    def carried(self, part: Part) -> list[float]:
        """Return what is right in a part after these answers, the usual one first.

        Of two slips in the part before, one may have been made on the way to both numbers, the other
        only after they parted.
        """
        for each in part.afterwards:
            given = self.answers[each.part] if each.part < len(self.answers) else None
            if given is not None and abs(given - each.given) <= SAME * abs(each.given):
                return [each.value]
        if part.formula:
            pairs = zip(self.answers, self.right, strict=True)
            value = work_out(part.formula, [right if a is None else a for a, right in pairs])
            return [] if value is None else [value]
        given = self.answers[-1] if self.answers else self.from_equation
        if given is None or not part.factor:
            return []
        return [given * part.factor, *(share * part.value for share in self.shares)]

    def repeated(self, part: Part, miss: NearMiss) -> set[int]:
        """Return the steps that a near miss loses by slips that cost a mark before already."""
        singles = _single_slips(part, miss)
        return {step for slip in singles if _kind(slip) in self.slips for step in slip.lost}


def _single_slips(part: Part, miss: NearMiss) -> list[NearMiss]:
    """Return the slips that a near miss is made of: itself, or those that it joins."""
    joined = [
        each
        for each in part.near_misses
        if each.reason in miss.reason and each.reason != miss.reason
    ]
    return joined or [miss]


def _kind(slip: NearMiss) -> str:
    """Say what went wrong, without the numbers and the substance."""
    return _NOT_OF_THE_SLIP.sub("", slip.reason)


def made_for_an_electron(equation: str, product: str) -> float | None:
    """Return how much of a product an equation with plain signs makes for each electron, right or wrong.

    Examples
    --------
    >>> made_for_an_electron("Cu2++2e-=Cu", "Cu"), made_for_an_electron("Cu++e-=Cu", "Cu")
    (0.5, 1.0)
    >>> made_for_an_electron("Cu2+=Cu", "Cu") is None
    True
    """
    counts = []
    for formula in (product.replace("^", "").replace("+", "[+]"), "e-?"):
        found = re.search(_TERM.replace("FORMULA", formula), equation)
        if not found:
            return None
        counts.append(int(found[1] or 1))
    made, electrons = counts
    return made / electrons if made and electrons else None


def work_out(formula: str, answers: Sequence[float]) -> float | None:
    """Work out a formula of :class:`~fizzplate.questions.content.Part`; nothing if that cannot be done.

    Examples
    --------
    >>> work_out("a b ÷", [6.0, 2.0]), work_out("a 1 - a ÷ 100 ×", [4.0]), work_out("a ÷", [4.0])
    (3.0, 75.0, None)
    """
    stack: list[float] = []
    try:
        for word in formula.split(" "):
            if sign := _SIGNS.get(word):
                last, before = stack.pop(), stack.pop()
                stack.append(sign(before, last))
            elif _PLAIN_NUMBER.fullmatch(word):
                stack.append(float(word))
            else:
                stack.append(answers[[*LETTERS].index(word)])
        (value,) = stack
    except (ArithmeticError, IndexError, ValueError):
        return None
    return value if value and math.isfinite(value) else None
