"""The mark scheme of a set: by question the answer, what earns each mark, and what does not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import singledispatch
from typing import TYPE_CHECKING

from fizzplate.questions import misconceptions
from fizzplate.questions.question_types import (
    MARKS_A_LEVEL,
    SIDES,
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    LevelsQuestion,
    NumberQuestion,
    PlotQuestion,
    Question,
    StructuredQuestion,
    TextQuestion,
    missing_for,
)
from fizzplate.views.figures import question_chart
from fizzplate.views.paper.scheme_numbers import answer_text, number_notes
from fizzplate.views.paper.scheme_words import full_wordings, wordings
from fizzplate.views.paper.typesetting import equation_of
from fizzplate.views.web import render, trusted_html
from fizzplate.words import DEFAULT_WORDING, Wording, begin

if TYPE_CHECKING:
    from collections.abc import Sequence

    from markupsafe import Markup

LETTERS = "ABCDEFGH"
MAX_NOTES = 5  # on a number that are printed
SHORTENED = "Long lists are shortened here: the page of this set shows them in full."
BALANCE = "Atoms and charge balance."

#: what holds for every question of a type
RULES: dict[type[Question], str] = {
    ChoiceQuestion: (
        "Only the right box earns the mark. The note after each other letter says what to tell "
        "a student who ticks it; the idea that is often behind that choice is in quotation marks."
    ),
    NumberQuestion: (
        "A right number earns all its marks, whether or not the working is shown. Where it is wrong, mark "
        "the working point by point: a step that follows rightly from a wrong result before it earns its "
        "mark, because no error is punished twice."
    ),
    EquationQuestion: (
        "Accept any multiple of an equation, its species in any order, electrons taken away on the other "
        "side, and state symbols or none. A species left on both sides costs the mark for the balance."
    ),
    TextQuestion: (
        "Words after “accept” earn the mark, as part of a longer word or in others of the same meaning too. "
        "Words after “reject” take it back, even beside a right answer."
    ),
    LevelsQuestion: (
        "A longer answer is marked as a whole. Choose the level that describes it best, and within the level "
        "the higher mark if all of the description fits. The content listed may be there: not all of it is "
        "needed for full marks, and other right content counts as much."
    ),
    ChecklistQuestion: "A plan is marked by its list: in any order, and in the student’s own words.",
    PlotQuestion: (
        "A graph is marked by its list. The graph shown is one that earns every mark; other even scales are "
        "as good."
    ),
}
UNITS_COUNT = (
    "Units and figures count: a missing unit, a unit other than the one asked for, or more than one figure "
    "beyond those shown here costs the last mark of a number that is worth several."
)
UNITS_DO_NOT_COUNT = (
    "Units and figures: point out what is missing or too much, but take no mark for it."
)


def scheme_html(questions: Sequence[Question], wording: Wording = DEFAULT_WORDING) -> Markup:
    """Write the mark scheme of a set.

    Parameters
    ----------
    questions
        The questions, in their order.
    wording
        The board's.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> from fizzplate.questions.question_types import NumberQuestion
    >>> part = Part(450.0, "C", ("Q = 0.50 A × 900 s = 450 C.",))
    >>> charge = NumberQuestion("charge", "quantities", 14, "?", "", parts=(part,))
    >>> "Accept 445 to" in scheme_html([charge])
    True
    """
    rows = [
        replace(row, label=f"{number}{row.label}", graph=_graph(each, number))
        for number, each in enumerate(questions, start=1)
        for row in scheme_rows(each, wording)
    ]
    shortened = any(row.more_notes or any(row.full) for row in rows)
    return render(
        "paper/templates/scheme.html.j2",
        rules=[*_rules(questions), *([SHORTENED] if shortened else [])],
        rows=rows,
        total=sum(each.marks for each in questions),
    )


def _graph(question: Question, number: int) -> Markup | None:
    """Draw the graph that is the answer, if the question asks for one."""
    if not isinstance(question, PlotQuestion) or question.chart is None:
        return None
    return trusted_html(question_chart(f"scheme-{number}", question.chart, crosses=True))


@dataclass(frozen=True, slots=True)
class SchemeRow:
    """One row of a mark scheme.

    Parameters
    ----------
    marks
        What the row is worth.
    label
        What follows the number of the question.
    answer, equation, reason
        The answer, or the equation that is it, and why it is right.
    forms
        Other forms of the answer.
    points
        What earns the marks, one each.
    notes
        What earns none, or some.
    full
        Of each point, all of a list that is shortened; folded on the page, and not printed.
    more_notes
        Notes beyond the first, folded in the same way.
    graph
        The graph that is the answer, as a picture.
    """

    marks: int
    label: str = ""
    answer: str = ""
    equation: str = ""
    reason: str = ""
    forms: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    full: tuple[str, ...] = ()
    more_notes: tuple[str, ...] = ()
    graph: Markup | None = None


def _rules(questions: Sequence[Question]) -> list[str]:
    """Give the rules that this set needs."""
    whole = [*questions, *(part for each in questions for part in each.sections)]
    types = {type(each) for each in whole}
    rules = [
        "Each numbered point earns one mark. Other right wordings and methods earn the same marks.",
        *(rule for each, rule in RULES.items() if each in types),
    ]
    numbers = [each for each in whole if isinstance(each, NumberQuestion)]
    if numbers:
        strict = any(each.strict for each in numbers)
        rules.append(UNITS_COUNT if strict else UNITS_DO_NOT_COUNT)
    return rules


@singledispatch
def scheme_rows(question: Question, wording: Wording) -> list[SchemeRow]:  # noqa: ARG001
    """Write the rows of a question of this type, in a board's wording."""
    raise missing_for(question, "mark scheme", "scheme_rows")


@scheme_rows.register
def _(question: ChoiceQuestion, wording: Wording) -> list[SchemeRow]:
    ideas = misconceptions(wording)
    answer = ""
    right = next(option for option in question.options if option.right)
    letters: dict[str, list[str]] = {}
    for letter, option in zip(LETTERS, question.options, strict=False):
        if option.right:
            answer = f"{letter}: {option.text}"
            continue
        idea = ideas[option.misconception].wrong if option.misconception else ""
        behind = f"“{idea}”" if idea not in {"", option.text} else ""
        # what is right is said above once
        note = f"{option.reason.removesuffix(right.reason).strip()} {behind}".strip()
        letters.setdefault(note, []).append(letter)
    notes = tuple(f"{', '.join(of)}: {note}" for note, of in letters.items() if note)
    return [SchemeRow(question.marks, answer=answer, reason=right.reason, notes=notes)]


@scheme_rows.register
def _(question: NumberQuestion, wording: Wording) -> list[SchemeRow]:  # noqa: ARG001
    several = len(question.parts) > 1
    return [
        SchemeRow(
            len(part.steps),
            label=f" ({'abcdefgh'[k]})" if several else "",
            answer=answer_text(part, part.value),
            points=part.steps,
            notes=tuple(notes[:MAX_NOTES]),
            more_notes=tuple(notes[MAX_NOTES:]),
        )
        for k, part in enumerate(question.parts)
        for notes in [number_notes(part, k)]
    ]


@scheme_rows.register
def _(question: EquationQuestion, wording: Wording) -> list[SchemeRow]:  # noqa: ARG001
    shown = question.task.hints[-1]  # whole, as the board writes it
    forms = tuple(equation_of(net) for net in question.task.accepted[1:])
    points = (SIDES, *[BALANCE] * (question.marks - 1))[: question.marks]
    return [SchemeRow(question.marks, equation=shown, forms=forms, points=points)]


@scheme_rows.register
def _(question: TextQuestion, wording: Wording) -> list[SchemeRow]:
    reason = question.why if question.why != question.answer else ""
    points = tuple(wordings(each, wording) for each in question.points)
    full = tuple(full_wordings(each, wording) for each in question.points)
    answer = begin(question.answer)
    return [SchemeRow(question.marks, answer=answer, reason=reason, points=points, full=full)]


@scheme_rows.register
def _(question: StructuredQuestion, wording: Wording) -> list[SchemeRow]:
    rows = []
    equation = ""  # the letter of the last one before
    for letter, each in zip(LETTERS.lower(), question.sections, strict=False):
        own = [replace(row, label=f" ({letter}){row.label}") for row in scheme_rows(each, wording)]
        if equation and each.parts and each.parts[0].factor:
            carried = (
                f"After a wrong equation in ({equation}), what follows from it earns all marks."
            )
            own[0] = replace(own[0], notes=(own[0].notes[0], carried, *own[0].notes[1:]))
        rows += own
        if isinstance(each, EquationQuestion):
            equation = letter
    return rows


@scheme_rows.register
def _(question: LevelsQuestion, wording: Wording) -> list[SchemeRow]:  # noqa: ARG001
    levels = [
        f"Level {k + 1} ({MARKS_A_LEVEL * k + 1} or {MARKS_A_LEVEL * (k + 1)} marks): {level}"
        for k, level in enumerate(question.levels)
    ]
    content = "; ".join(each.statement for each in question.points)
    notes = (*reversed(levels), "No marks: nothing that answers the question.")
    return [SchemeRow(question.marks, reason=f"Indicative content: {content}.", notes=notes)]


@scheme_rows.register
def _(question: ChecklistQuestion, wording: Wording) -> list[SchemeRow]:  # noqa: ARG001
    return [
        SchemeRow(
            question.marks, points=tuple(f"{begin(each.statement)}." for each in question.points)
        )
    ]
