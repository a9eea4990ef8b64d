"""What the makers of questions about ideas share: the cells asked about, options, words that earn a mark."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from fizzplate.cell import Cell
from fizzplate.chemistry import in_words, melts, pretty, solutions, species_name, wording_for
from fizzplate.questions.content import Option, Point
from fizzplate.questions.maker import UNDECLARED
from fizzplate.questions.makers.mark_points import either_name, spellings
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    Question,
    TextQuestion,
)
from fizzplate.questions.tables import candidates
from fizzplate.words import begin, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.chemistry import Equation, Rule
    from fizzplate.lesson.equations import EquationTask
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

#: metals that the bench plates although the rule says hydrogen: asked about only where both are said
PLATE_ALL_THE_SAME = ("Zn2+", "Fe2+", "Ni2+", "Pb2+")
#: those that examinations ask about most
OFTEN = ("NaCl", "Na2SO4", "CuCl2", "CuSO4", "H2SO4", "HCl", "KBr", "KI", "AgNO3", "NaOH")
CARBON = "graphite"
STRENGTH_MOL_DM3 = 0.5

Wrong = tuple[
    str, str, int
]  # what a wrong option says, why it is wrong, and which idea is behind it


def salts(rng: RandomSource) -> tuple[str, ...]:
    """Return the solutions that rule and bench agree on, as strong as the class practical has them."""
    return tuple(
        formula
        for formula in candidates("solution", rng.edition)
        if not set(solutions()[formula].ions) & set(PLATE_ALL_THE_SAME)
    )


def draw_salt(rng: RandomSource, among: Iterable[str] | None = None) -> str:
    """Return a solution to ask about; those that examinations ask about most come more often."""
    offered = [formula for formula in among or salts(rng) if formula != "NaF"]
    often = [formula for formula in offered if formula in OFTEN]
    return rng.one_of((*offered, *often, *often))


def solution_name(formula: str, wording: Wording) -> str:
    """Name a solution as in the middle of a sentence; concentrated, if the board has a rule for dilute ones.

    Examples
    --------
    >>> from fizzplate.words.wording import Wording
    >>> solution_name("H2SO4", Wording()), solution_name("NaCl", Wording(dilute_below_mol_dm3=0.1))
    ('sulfuric acid', 'concentrated sodium chloride solution')
    """
    solution = solutions()[formula]
    name = solution.name if "H+" in solution.ions else f"{solution.name} solution"
    dilute_matters = wording.dilute_below_mol_dm3 > 0 and "Cl-" in solution.ions
    return f"concentrated {name}" if dilute_matters else name


@cache
def cell_of(formula: str, anode: str = CARBON, cathode: str = CARBON) -> Cell:
    """Return the cell that is asked about: carbon electrodes, unless others are given; or a melt."""
    if formula in melts():
        return Cell(formula)
    return Cell(formula, concentration_mol_dm3=STRENGTH_MOL_DM3, anode=anode, cathode=cathode)


@cache
def rule_of(formula: str, wording: Wording, anode: str = CARBON, cathode: str = CARBON) -> Rule:
    """Return the rule for a cell; a chloride that is not called dilute gives chlorine with every board."""
    return cell_of(formula, anode, cathode).rule(wording, dilute_chloride_below_mol_dm3=0.0)


def set_up(rng: RandomSource, formula: str, material: str = "") -> str:
    """Say which cell is meant, as the beginning of a question.

    Examples
    --------
    >>> from fizzplate.questions.random_source import RandomSource
    >>> set_up(RandomSource(2), "NaCl")
    'A student electrolyses sodium chloride solution with graphite electrodes.'
    """
    # the anodes of a melt of oxide are not inert: they burn
    kinds = ("carbon",) if formula in melts() else ("carbon", "graphite", "inert")
    kind = material or rng.one_of(kinds)
    name = melts()[formula].name if formula in melts() else solution_name(formula, rng.wording)
    who, where = "student", ""
    if formula in {"NaCl(l)", "Al2O3(l)"}:
        who = "factory"
    elif formula in melts():  # a demonstration, never a class practical
        who, where = "teacher", " in a fume cupboard"
    return rng.one_of(
        (
            f"{begin(name)} is electrolysed with {kind} electrodes.",
            f"A direct current is passed through {name} with {kind} electrodes.",
            f"A {who} electrolyses {name}{where} with {kind} electrodes.",
        )
    )


def choice(
    rng: RandomSource, right: str, wrong: Sequence[Wrong], reason: str, *, keep: int = 0
) -> tuple[Option, ...]:
    """Return four options or fewer in a mixed order, all different.

    Parameters
    ----------
    rng
        Which choose and mix.
    right, reason
        The right option and why it is right.
    wrong
        The wrong ones.
    keep
        How many of the wrong ones, from the first, are always offered.
    """
    made = {right: Option(right, right=True, reason=reason)}
    for text, why, number in (*wrong[:keep], *rng.shuffled(wrong[keep:])):
        if text not in made and len(made) < 4:
            made[text] = Option(text, right=False, reason=why, misconception=int(number))
    return tuple(rng.shuffled(made.values()))


def choice_question(
    text: str,
    options: tuple[Option, ...],
    *,
    watch: str = "",
) -> ChoiceQuestion:
    """Return a question with one right option, whose reason is its answer's."""
    right = next(option for option in options if option.right)
    return ChoiceQuestion(*UNDECLARED, text, right.reason, options=options, watch=watch)


def text_question(
    text: str,
    answer: str,
    points: tuple[Point, ...],
    *,
    why: str = "",
    watch: str = "",
    wording: Wording,
) -> Question:
    """Return a question that is answered in words, with a mark for each point, however it is spelt."""
    points = tuple(
        replace(
            point,
            statement=say(point.statement, wording),
            words=spellings(either_name(point.words)),
            contradictions=spellings(either_name(point.contradictions)),
            too_little=spellings(either_name(point.too_little)),
            within=spellings(either_name(point.within)),
            besides=spellings(either_name(point.besides)),
        )
        for point in points
    )
    return TextQuestion(*UNDECLARED, text, why or answer, points=points, answer=answer, watch=watch)


def checklist_question(text: str, statements: Sequence[str], *, watch: str = "") -> Question:
    """Return a question whose answer the learner marks with a list of points."""
    points = tuple(Point(each, ()) for each in statements)
    return ChecklistQuestion(*UNDECLARED, text, "; ".join(statements), points=points, watch=watch)


def equation_question(
    text: str,
    task: EquationTask,
    answer: str,
    why: str,
    *,
    watch: str = "",
) -> Question:
    """Return a question for an equation: one mark for its sides, one for its balance."""
    why = f"{answer}: {why}"
    return EquationQuestion(*UNDECLARED, text, why, task=task, answer=answer, watch=watch)


def reactant_at(equation: Equation) -> str:
    """Return what reacts in a half-equation: the ion, the water or the metal of the electrode."""
    return next(species for _, species in equation.reactants if species != "e-")


def ions_in_words(formulae: Iterable[str]) -> str:
    """Join ions as a sentence does.

    Examples
    --------
    >>> ions_in_words(("Na+", "H+"))
    'Na⁺ and H⁺'
    """
    shown = [pretty(each) for each in formulae]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def why_product(formula: str, role: str, rule: Rule, wording: Wording) -> str:
    """Say why the rule gives its product at an inert electrode.

    Examples
    --------
    >>> from fizzplate.words.wording import Wording
    >>> why_product("NaF", "anode", rule_of("NaF", Wording()), Wording())
    'Fluoride ions are never discharged from a solution, so oxygen forms, from hydroxide ions of the water.'
    """
    if role == "cathode":
        return rule.cathode.reason
    if rule.anode.product != "O2" or formula in melts():
        return rule.anode.reason
    ions = solutions()[formula].ions
    board = wording_for(ions, wording)
    source = in_words(board.source_of("O2"))
    if source != "water" and "OH-" not in ions:
        source = f"{source} of the water"
    stays = next((ion for ion in ions if ion in {"F-", "SO4^2-", "NO3-"}), "")
    if not stays:
        return f"No halide is present, so oxygen forms, from {source}."
    name = begin(species_name(stays))
    return f"{name} ions are never discharged from a solution, so oxygen forms, from {source}."
