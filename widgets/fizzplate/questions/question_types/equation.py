"""A question whose answer is an equation."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar

from fizzplate.lesson.equations import judge, normalise
from fizzplate.questions.marking import (
    Line,
    MarkedAnswer,
    made_for_an_electron,
    plain_answer,
    repeat_line,
)
from fizzplate.questions.question_types.question import Question

if TYPE_CHECKING:
    from fizzplate.lesson.equations import EquationTask

SIDES = "The reactants, the products and the electrons are on the correct sides."
NOT_SIDES = "The reactants, the products and the electrons are not all on the correct sides."


@dataclass(frozen=True, slots=True, kw_only=True)
class EquationQuestion(Question):
    """A question for an equation: one mark for what is on which side, the others for its balance.

    Parameters
    ----------
    task
        The forms that are accepted, with hints.
    answer
        The equation.
    marks
        How many there are.

    Examples
    --------
    >>> from fizzplate.chemistry import half_equation
    >>> from fizzplate.lesson.equations.equation_tasks import half_task
    >>> chlorine = half_equation("Cl2")
    >>> question = EquationQuestion(
    ...     "half-equation",
    ...     "half-equations",
    ...     14,
    ...     "What happens at the anode?",
    ...     "",
    ...     task=half_task(chlorine, "Cl2", "anode"),
    ...     answer=str(chlorine),
    ... )
    >>> question.mark("2Cl- -> Cl2 + 2e-").earned, question.mark("Cl- -> Cl2 + 2e-").earned
    (2, 1)
    """

    kind: ClassVar[str] = "equation"

    task: EquationTask
    answer: str = field()
    marks: int = 2

    def made_for_an_electron(self, answer: str) -> float | None:
        """Return how many atoms or molecules of the product an answer makes for each electron.

        It may be wrong or not balanced; None if it cannot be read, or has no electrons or no product.

        Examples
        --------
        >>> from fizzplate.chemistry import half_equation
        >>> from fizzplate.lesson.equations.equation_tasks import half_task
        >>> task = half_task(half_equation("Cu"), "Cu", "cathode")
        >>> question = EquationQuestion("", "", 14, "?", "", task=task, answer="Cu^2+ + 2e- -> Cu")
        >>> question.made_for_an_electron("Cu2+ + e- -> Cu"), question.made_for_an_electron("Cu")
        (1.0, None)
        """
        made = (species for species, n in self.task.accepted[0].items() if n > 0)
        product = next((species for species in made if species != "e-"), "")
        return made_for_an_electron(normalise(plain_answer(answer)), product)

    def _mark_plain(self, answer: str) -> MarkedAnswer:
        verdict = judge(answer, self.task)
        remark = " ".join(verdict.sentences)
        if verdict.code in {"right", "multiple"}:
            balance = repeat_line(self.marks - 1, remark, earned=True)
            return MarkedAnswer((Line(earned=True, reason=SIDES), *balance), remark)
        sides = Line(verdict.in_place, SIDES if verdict.in_place else NOT_SIDES)
        return MarkedAnswer((sides, *repeat_line(self.marks - 1, remark, earned=False)), remark)
