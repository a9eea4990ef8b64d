"""A student's explanation of one cell, with one mistake planted in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.chemistry import in_words, parse_formula, species_name
from fizzplate.lesson.rule import ions_with_water
from fizzplate.questions.content import Option
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import (
    CARBON,
    cell_of,
    choice_question,
    draw_salt,
    ions_in_words,
    reactant_at,
    rule_of,
    solution_name,
)
from fizzplate.questions.misconceptions import Idea, misconceptions
from fizzplate.questions.tables import edition_rows
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.chemistry import ElectrodeRule, Rule
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

COPPER_RODS = ("CuSO4", "copper")


@dataclass(frozen=True, slots=True)
class Line:
    """Templates of what a student says about one thing: rightly, and wrongly by the idea of a number."""

    right: str
    wrong: tuple[tuple[str, int], ...]


@maker("find the mistake", topic="ideas", level=14, version=3, since=1)
def find_mistake(rng: RandomSource) -> Question:
    """Ask which sentence of a student's explanation is wrong."""
    formula, material = COPPER_RODS if rng.number(6) == 0 else (draw_salt(rng), CARBON)
    lines = _explanation(rng, formula, material)
    planted = rng.one_of([line for line in lines if line.wrong])
    sentence, number = rng.one_of(planted.wrong)
    sound = rng.sample((line for line in lines if line is not planted), 3)
    bench = misconceptions(rng.wording)[number].qualification
    aside = f" {bench}." if bench else ""
    options = (
        Option(
            sentence,
            right=True,
            reason=f"It is wrong. Instead: {planted.right}{aside}",
        ),
        *(
            Option(
                line.right,
                right=False,
                reason=_why_sound(line, sentence),
                misconception=_idea_against(line, number),
            )
            for line in sound
        ),
    )
    name = solution_name(formula, rng.wording)
    kind = "carbon" if material == CARBON else material
    text = rng.one_of(
        (
            (
                f"A student explains the electrolysis of {name} with {kind} electrodes. "
                "Which sentence contains a mistake?"
            ),
            (
                f"These sentences are from a student's answer about {name} with {kind} electrodes. "
                "Which one is wrong?"
            ),
        )
    )
    watch = formula if material == CARBON else f"{formula},anode={material},cathode={material}"
    return choice_question(
        text,
        tuple(rng.shuffled(options)),
        watch=watch,
    )


def _idea_against(line: Line, planted: int) -> int:
    """Return the idea of a learner who rejects a right sentence: that of the mistake the reason quotes."""
    return int(line.wrong[0][1] if line.wrong else planted)


def _why_sound(line: Line, mistake: str) -> str:
    """Say of a sentence that it is right, what would be wrong instead, and where the mistake is."""
    instead = f" It would be wrong to say: “{line.wrong[0][0]}”" if line.wrong else ""
    return f"That sentence is right.{instead} The mistake is in “{mistake}”"


def _explanation(rng: RandomSource, formula: str, material: str) -> list[Line]:
    """Return the sentences of a full answer, each with the mistakes that learners make in it."""
    wording = rng.wording
    rule = rule_of(formula, wording, material, material)
    ions = list(cell_of(formula, material, material).ions_mol_dm3)
    every = ions_with_water(dict.fromkeys(ions, 1.0))
    slots = {
        "solution": solution_name(formula, wording),
        "ions": ions_in_words(ions),
        "every_ion": ions_in_words(every),
        "cations": ions_in_words([ion for ion in every if parse_formula(ion).charge > 0]),
        "cathode_product": species_name(rule.cathode.product),
        "anode_product": species_name(rule.anode.product),
        "at_cathode": _at(rule.cathode, "gain"),
        "at_anode": _at(rule.anode, "lose"),
        "cathode_used": in_words(reactant_at(rule.cathode.half_equation)),
        "cathode_forms": _formation(rule.cathode.product),
    }
    lines = [
        Line(
            "The solution contains {every_ion} ions even before the switch is closed.",
            _ion_mistakes(ions),
        ),
        *_general("ions", rng.edition),
        Line(
            "At {the_cathode} {at_cathode}: this is reduction.",
            tuple(_cathode_mistakes(formula, rule)),
        ),
        Line(
            "At {the_anode} {at_anode}: this is oxidation.",
            tuple(_anode_mistakes(formula, material, rule)),
        ),
        *_general("current", rng.edition),
        *_amounts(rule, material),
    ]
    return [
        Line(
            say(line.right, wording, **slots),
            tuple((say(mistake, wording, **slots), number) for mistake, number in line.wrong),
        )
        for line in lines
    ]


Mistakes = Iterator[tuple[str, int]]


def _general(part: str, edition: int) -> list[Line]:
    """Return the sentences that hold of every cell, about its "ions" or its "current"."""
    rows = edition_rows("explanation_sentences", edition, part=part)
    right = {row["sentence"]: row.text("text") for row in rows if not row["misconception"]}
    wrong = [row for row in rows if row["misconception"]]
    return [
        Line(
            sentence,
            tuple(
                (row.text("text"), int(row.numbers("misconception")[0]))
                for row in wrong
                if row["sentence"] == name
            ),
        )
        for name, sentence in right.items()
    ]


def _at(electrode: ElectrodeRule, verb: str) -> str:
    """Say what happens at an electrode."""
    used = reactant_at(electrode.half_equation)
    if parse_formula(used).charge:
        does = f"{in_words(used)} {verb}"
    else:
        does = f"{'the ' if used != 'H2O' else ''}{in_words(used)} {verb}s"
    return f"{does} electrons and {_formation(electrode.product)}"


def _formation(product: str) -> str:
    if parse_formula(product).charge:
        return "dissolves as ions"
    return f"{species_name(product)} forms"


def _ion_mistakes(ions: list[str]) -> tuple[tuple[str, int], ...]:
    split = "The current splits {solution} into its ions; before that there are none."
    if set(ions) & {"H+", "OH-"}:
        return ((split, Idea.CURRENT_MAKES_IONS),)
    return (
        (split, Idea.CURRENT_MAKES_IONS),
        ("The only ions are {ions}, because water does not react.", Idea.WATER_NEVER_REACTS),
    )


def _cathode_mistakes(formula: str, rule: Rule) -> Mistakes:
    yield "At {the_cathode} {at_cathode}: this is oxidation.", Idea.OXIDATION_IS_GAIN
    if parse_formula(reactant_at(rule.cathode.half_equation)).charge:
        yield (
            "At {the_cathode} {cathode_used} give electrons to the electrode, and {cathode_forms}.",
            Idea.IONS_GIVE_ELECTRONS_AT_CATHODE,
        )
    if rule.cathode.product == "Cu":
        yield (
            (
                "At {the_cathode} hydrogen forms, because copper ions are harder to discharge than "
                "hydrogen ions."
            ),
            Idea.COPPER_HARDER_THAN_HYDROGEN,
        )
    if formula == "NaCl":
        yield (
            "At {the_cathode} sodium forms, because sodium ions are positive.",
            Idea.SODIUM_FROM_SOLUTION,
        )


def _anode_mistakes(formula: str, material: str, rule: Rule) -> Mistakes:
    if material != CARBON:
        yield (
            "At {the_anode} oxygen forms, and the copper of {the_anode} stays as it is.",
            Idea.COPPER_ANODE_GIVES_OXYGEN,
        )
        return
    yield "At {the_anode} {at_anode}: this is reduction.", Idea.OXIDATION_IS_GAIN
    yield (
        "At {the_anode} nothing can react, because the electrode is inert.",
        Idea.INERT_ELECTRODES_ALLOW_NOTHING,
    )
    if "SO4^2-" in cell_of(formula).ions_mol_dm3:
        yield (
            "At {the_anode} sulfate ions are discharged and sulfur dioxide forms.",
            Idea.SULFUR_DIOXIDE_FROM_SULFATE,
        )
    if formula == "KBr":
        yield (
            "At {the_cathode} bromide ions are oxidised and bromine forms.",
            Idea.ANIONS_OXIDISED_AT_CATHODE,
        )
    if rule.anode.product != "O2":
        yield (
            "At {the_anode} the carbon reacts with the ions, and {anode_product} forms.",
            Idea.CARBON_REACTS,
        )


def _amounts(rule: Rule, material: str) -> Iterator[Line]:
    """Say what can be said of amounts, and of the blue."""
    if {rule.cathode.product, rule.anode.product} == {"H2", "O2"}:
        yield Line(
            "Two volumes of hydrogen form for every volume of oxygen.",
            (
                (
                    "Two volumes of oxygen form for every volume of hydrogen.",
                    Idea.TWICE_AS_MUCH_OXYGEN,
                ),
            ),
        )
    if rule.cathode.product in {"Cu", "Ag"}:
        yield Line(
            "Twice the charge gives twice the mass of {cathode_product}.",
            (
                (
                    "Twice the voltage gives twice the mass of {cathode_product}.",
                    Idea.VOLTAGE_DOUBLES_MASS,
                ),
            ),
        )
    if material == "copper":
        yield Line(
            "The blue stays, because as much copper goes into the solution as comes out.",
            (
                (
                    "The blue fades, because copper comes out of the solution.",
                    Idea.BLUE_FADES_WITH_COPPER,
                ),
            ),
        )
