"""An equation as an item: for each formula, on which side of the arrow it stands and how many.

So any player marks it, in whatever order a learner thinks of the formulae, and all forms and multiples that
are accepted here are accepted there. Older packages have an entry of text with a map of spellings.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import pretty
from fizzplate.questions.exchange.equation_forms import read_form, spell
from fizzplate.questions.exchange.qti.item_elements import marks_of
from fizzplate.questions.exchange.qti.item_types.item_type import (
    ItemType,
    OwnItem,
    declare_response,
    response_name,
)
from fizzplate.questions.exchange.qti.item_types.response_rules import add_choice, add_marks
from fizzplate.questions.exchange.qti.markup import OURS, node
from fizzplate.questions.exchange.qti.other_items import ENTRY
from fizzplate.questions.question_types import EquationQuestion
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping
    from xml.etree.ElementTree import Element

    from fizzplate.lesson.equations import EquationTask
    from fizzplate.questions.exchange.qti.extra_data import ExtraData

INLINE_CHOICE = "qti-inline-choice-interaction"
HOW = (
    "Build the equation with electrons added, not taken away: for each formula, choose on which side of the "
    "arrow it stands and how many there are. Leave out the formulae that are not needed."
)
ABSENT = "ABSENT"
SIDES = (("LEFT", "left"), ("RIGHT", "right"))
LEAST_COUNT = 6  # numbers to choose from, so that the largest offered does not give the answer away


def formulae(task: EquationTask) -> tuple[str, ...]:
    """Return the formulae to choose among: those offered, and any other that an accepted form needs.

    Examples
    --------
    >>> from fizzplate.lesson.equations import EquationTask
    >>> formulae(EquationTask("", ({"Cl-": -2, "Cl2": 1, "e-": 2},), "", (), ("e-", "Cl-")))
    ('e-', 'Cl-', 'Cl2')
    """
    needed = (species for form in task.accepted for species in form)
    return tuple(dict.fromkeys((*task.tiles, *needed)))


def choice_name(count: int) -> str:
    """Name the choice of so many on the right, of so many on the left where negative, or of none.

    Examples
    --------
    >>> choice_name(-2), choice_name(1), choice_name(0)
    ('LEFT_2', 'RIGHT_1', 'ABSENT')
    """
    if not count:
        return ABSENT
    return f"{SIDES[count > 0][0]}_{abs(count)}"


class EquationItems(ItemType[EquationQuestion]):
    """How an equation is written as an item."""

    def interactions(self, extra: ExtraData) -> tuple[tuple[str, ...], ...]:
        """Return a choice for each formula; or the entry of text that older packages have."""
        count = len(formulae(extra.task)) if extra.task else 0
        return ((INLINE_CHOICE,) * count, (ENTRY,))

    def declare_responses(self, item: Element, question: EquationQuestion) -> None:
        """Add where each formula stands."""
        right = _right_form(question.task, question.answer)
        for k, species in enumerate(formulae(question.task)):
            chosen = choice_name(right.get(species, 0))
            declare_response(item, response_name(k), "identifier", chosen)

    def add_interactions(self, body: Element, question: EquationQuestion) -> None:
        """Add a row for each formula."""
        node(body, "p", {OURS: "entry"}, HOW)
        rows = node(node(body, "table", {OURS: "entry"}), "tbody")
        for k, species in enumerate(formulae(question.task)):
            row = node(rows, "tr")
            node(row, "th", {"scope": "row"}, pretty(species))
            place = node(row, "td")
            bound = {"response-identifier": response_name(k), "shuffle": "false"}
            choice = node(place, INLINE_CHOICE, bound)
            node(choice, "qti-inline-choice", {"identifier": ABSENT}, "not needed")
            for side, where in SIDES:
                for count in range(1, _largest(question.task) + 1):
                    name = {"identifier": f"{side}_{count}"}
                    node(choice, "qti-inline-choice", name, f"{count} on the {where}")

    def scheme_lines(self, question: EquationQuestion) -> list[str]:
        """Return the forms that are accepted."""
        return [f"Accept {spell(form)}" for form in question.task.accepted]

    def add_rules(self, rules: Element, question: EquationQuestion) -> None:
        """Give all marks for an accepted form or a multiple of it, one for what stands on which side."""
        task = question.task
        condition = node(rules, "qti-response-condition")
        balanced = node(condition, "qti-response-if")
        any_form = node(balanced, "qti-or")
        for form in task.accepted:
            for times in range(1, _largest(task) // max(map(abs, form.values())) + 1):
                exact = node(any_form, "qti-and")
                for k, species in enumerate(formulae(task)):
                    _add_counts(exact, k, [times * form.get(species, 0)])
        add_marks(balanced, question.marks)
        if question.marks == 1:
            return
        in_place = node(condition, "qti-response-else-if")
        any_form = node(in_place, "qti-or")
        for form in task.accepted:
            sides = node(any_form, "qti-and")
            for k, species in enumerate(formulae(task)):
                sign = (form.get(species, 0) > 0) - (form.get(species, 0) < 0)
                counts = [sign * count for count in range(1, _largest(task) + 1)] if sign else [0]
                _add_counts(sides, k, counts)
        add_marks(in_place, 1)

    def read(self, found: OwnItem) -> EquationQuestion | None:
        """Read the answer from the item, and the accepted forms from the extra data."""
        task = found.extra.task
        if task is None:
            return None
        chosen = [found.correct(each) for each in found.interactions]
        answer = chosen[0]
        if found.interactions[0].tag.endswith(INLINE_CHOICE):
            answer = found.extra.answer
            right = _right_form(task, answer) if task.accepted else {}
            names = [choice_name(right.get(species, 0)) for species in formulae(task)]
            if chosen != names:
                answer = _answer_of(dict(zip(formulae(task), chosen, strict=True)))
        marks = marks_of(found.item)
        return EquationQuestion(**found.common, task=task, answer=answer, marks=marks)


def _largest(task: EquationTask) -> int:
    """Return the largest number of one formula that can be chosen."""
    counts = (abs(count) for form in task.accepted for count in form.values())
    return max(LEAST_COUNT, *counts)


def _right_form(task: EquationTask, answer: str) -> Mapping[str, int]:
    """Return the accepted form that the answer is; the first, where the answer cannot be read."""
    try:
        form = read_form(answer)
    except InputError:
        return task.accepted[0]
    return next((each for each in task.accepted if dict(each) == form), task.accepted[0])


def _answer_of(chosen: Mapping[str, str]) -> str:
    """Write the equation that the right choices of a changed item make; nothing, if they make none."""
    signs = {SIDES[0][0]: -1, SIDES[1][0]: 1}
    form: dict[str, int] = {}
    for species, name in chosen.items():
        side, _, count = name.partition("_")
        if side in signs and count.isdecimal() and int(count):
            form[species] = signs[side] * int(count)
    return spell(form)


def _add_counts(rules: Element, k: int, counts: list[int]) -> None:
    """Add a condition: one of these counts was chosen; what was left open is not in the equation."""
    name = response_name(k)
    if counts == [0]:
        either = node(rules, "qti-or")
        node(node(either, "qti-is-null"), "qti-variable", {"identifier": name})
        add_choice(either, name, ABSENT)
        return
    within = rules if len(counts) == 1 else node(rules, "qti-or")
    for count in counts:
        add_choice(within, name, choice_name(count))
