"""Makers of questions about equations, which are written and marked point by point."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import Equation, in_words, melts, overall, parse_formula, pretty
from fizzplate.lesson.equations import half_task, overall_task, water_made
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import (
    CARBON,
    choice,
    choice_question,
    draw_salt,
    equation_question,
    reactant_at,
    rule_of,
    set_up,
)
from fizzplate.questions.misconceptions import Idea
from fizzplate.questions.tables import candidates
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.chemistry import Side
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

ACTIVE = (("CuSO4", "copper"), ("AgNO3", "silver"), ("ZnSO4", "zinc"), ("NiSO4", "nickel"))
BALANCED = "atoms and charge balance"


class Half:
    """A half-equation to ask about: where it is, and its task in the board's wording."""

    def __init__(self, rng: RandomSource) -> None:
        self.role = rng.one_of(("cathode", "anode"))
        kind = rng.number(6)
        self.material = CARBON
        if kind == 0:
            self.formula = rng.one_of(candidates("melt", rng.edition))
        elif kind == 1 and self.role == "anode":
            self.formula, self.material = rng.one_of(ACTIVE)
        else:
            self.formula = draw_salt(rng)
        rule = getattr(rule_of(self.formula, rng.wording, self.material, self.material), self.role)
        self.equation: Equation = rule.half_equation
        self.product: str = rule.product
        self.electrode = board_slots(rng.wording)[self.role]
        self.task = half_task(self.equation, self.product, self.role, rng.wording)
        self.stem = set_up(rng, self.formula, "" if self.material == CARBON else self.material)

    @property
    def watch(self) -> str:
        """The cell, as links write it; a melt has no bench."""
        if self.formula in melts():
            return ""
        if self.material == CARBON:
            return self.formula
        return f"{self.formula},anode={self.material},cathode={self.material}"

    def question(self, text: str) -> Question:
        """Return a question whose answer is the half-equation."""
        return equation_question(
            text,
            self.task,
            self.equation.pretty(),
            f"{BALANCED}.",
            watch=self.watch,
        )


@maker("half-equation", topic="half-equations", level=14, version=1)
def write_half(rng: RandomSource) -> Question:
    """Ask for a half-equation."""
    half = Half(rng)
    prompt = rng.one_of(
        (
            half.task.prompt,
            f"Write the half-equation for what happens at the {half.electrode}.",
            f"Give the half-equation at the {half.electrode}, with electrons.",
        )
    )
    return half.question(f"{half.stem} {prompt}")


@maker("complete a half-equation", topic="half-equations", level=14, version=1)
def complete_half(rng: RandomSource) -> Question:
    """Ask for a half-equation of which the numbers, or the electrons, are left out."""
    half = Half(rng)
    terms = [*half.equation.reactants, *half.equation.products]
    # the electrons are always left out: with numbers alone to fill in, a copy would earn a mark
    with_numbers = rng.number(3) == 0 and any(count > 1 for count, _ in terms)
    shown = _gapped(half.equation, numbers=with_numbers)
    what = "the electrons" if with_numbers else "the electrons and the missing numbers"
    text = (
        f"{half.stem} Complete the half-equation at the {half.electrode} with {what}, and write it out "
        f"whole: {shown}"
    )
    return half.question(f"{text}.")


def _gapped(equation: Equation, *, numbers: bool) -> str:
    """Write an equation without its electrons, and with gaps for its numbers unless they are given."""

    def side(parts: Side) -> str:
        return " + ".join(
            f"{(count if count > 1 else '') if numbers else '__ '}{pretty(species)}"
            for count, species in parts
            if species != "e-"
        )

    return f"{side(equation.reactants)} → {side(equation.products)}"


@maker("correct a half-equation", topic="half-equations", level=14, version=1)
def correct_half(rng: RandomSource) -> Question:
    """Ask for the correction of a half-equation: one mark for its sides, one for its balance.

    A wrong number never stands alone, or a copy would earn the mark for the sides.
    """
    half = Half(rng)
    kinds = ["both", "side"]
    if half.product in {"Cl2", "Br2", "I2"}:
        kinds.append("atoms")
    kind = rng.one_of(kinds)
    if kind == "side":
        shown = _electrons_moved(half.equation).pretty()
    elif kind == "atoms":
        shown = _as_atoms(half.equation)
    else:
        shown = _wrong_number(_electrons_moved(half.equation), rng)
    mistakes = "two mistakes" if kind == "both" else "one mistake"
    who = rng.one_of(("A learner writes", "A learner's book has", "A learner gives"))
    text = (
        f"{half.stem} {who} {shown} as the half-equation at the {half.electrode}. It contains {mistakes}. "
        "Write it correctly."
    )
    return half.question(text)


def _electrons_moved(equation: Equation) -> Equation:
    """Write the electrons on the wrong side."""
    left, right = (
        tuple(part for part in side if part[1] != "e-")
        for side in (equation.reactants, equation.products)
    )
    moved = ((equation.electrons, "e-"),)
    if equation.is_oxidation:
        return Equation((*left, *moved), right)
    return Equation(left, (*right, *moved))


def _as_atoms(equation: Equation) -> str:
    """Write a halogen as single atoms, which it is not."""
    right = tuple(
        (2, species.removesuffix("2")) if species != "e-" else (count, species)
        for count, species in equation.products
    )
    return replace(equation, products=right, states=False).pretty()


def _wrong_number(equation: Equation, rng: RandomSource) -> str:
    """Write a number wrong."""
    terms = [species for _, species in (*equation.reactants, *equation.products)]
    broken = rng.one_of(terms)
    left, right = (
        tuple((_other(n) if species == broken else n, species) for n, species in side)
        for side in (equation.reactants, equation.products)
    )
    return replace(equation, reactants=left, products=right, states=False).pretty()


def _other(count: int) -> int:
    return 2 if count == 1 else 1


@maker("overall equation", topic="half-equations", level=16, version=1)
def write_overall(rng: RandomSource) -> Question:
    """Ask for the overall equation."""
    formula = draw_salt(rng) if rng.number(4) else rng.one_of(candidates("melt", rng.edition))
    rule = rule_of(formula, rng.wording)
    halves = (rule.cathode.half_equation, rule.anode.half_equation)
    task = overall_task(halves[0], rule.cathode.product, halves[1], rule.anode.product, rng.wording)
    if task is None:
        raise AssertionError("inert electrodes never undo each other")
    shown = overall(*halves).pretty()
    task = replace(task, hints=(*task.hints[:-1], shown))
    text = (
        f"{set_up(rng, formula)} The half-equations are {halves[0].pretty()} and "
        f"{halves[1].pretty()}. {task.prompt}"
    )
    return equation_question(
        text,
        task,
        shown,
        " ".join(("the electrons are made equal and cancel.", *water_made(*halves))),
        watch="" if formula in melts() else formula,
    )


@maker("one ion", topic="half-equations", level=14, version=1)
def at_one_ion(rng: RandomSource) -> Question:
    """Ask what happens to one ion as it is discharged."""
    half = None
    while half is None:
        drawn = Half(rng)
        species = {each for _, each in (*drawn.equation.reactants, *drawn.equation.products)}
        simple = parse_formula(reactant_at(drawn.equation)).charge and "H2O" not in species
        half = drawn if simple and drawn.material == CARBON else None
    ion = reactant_at(half.equation)
    charge = parse_formula(ion).charge
    count, verb = abs(charge), "gains" if charge > 0 else "loses"
    contrary = "loses" if charge > 0 else "gains"
    reaction, other = ("reduced", "oxidised") if charge > 0 else ("oxidised", "reduced")
    right = f"it {verb} {_electrons(count)}: it is {reaction}"
    wrong: list[Wrong] = [
        (
            f"it {contrary} {_electrons(count)}: it is {other}",
            f"{begin(in_words(ion))} are "
            + (
                say("positive: they take electrons from {the_cathode}.", rng.wording)
                if charge > 0
                else say("negative: they give electrons to {the_anode}.", rng.wording)
            ),
            Idea.IONS_GIVE_ELECTRONS_AT_CATHODE
            if charge > 0
            else (Idea.ANIONS_OXIDISED_AT_CATHODE if ion == "Br-" else Idea.OXIDATION_IS_GAIN),
        ),
        (
            f"it {verb} {_electrons(count)}: it is {other}",
            "Loss of electrons is oxidation, and gain of electrons is reduction.",
            Idea.OXIDATION_IS_GAIN,
        ),
        (
            f"it {verb} {_electrons(2 if count == 1 else 1)}: it is {reaction}",
            f"The charge of {pretty(ion)} says how many: {_electrons(count)}.",
            0,
        ),
        (
            f"it {verb} a proton: it is {reaction}",
            "Protons stay in the nucleus; electrons are passed at an electrode.",
            Idea.CATIONS_HAVE_MORE_ELECTRONS,
        ),
    ]
    text = f"{half.stem} What happens to each {pretty(ion)} ion that is discharged at the {half.electrode}?"
    options = choice(rng, right, wrong, f"{half.equation.pretty()}.", keep=2)
    return choice_question(text, options, watch=half.watch)


def _electrons(count: int) -> str:
    return f"{('no', 'one', 'two', 'three')[count]} electron{'s' if count > 1 else ''}"
