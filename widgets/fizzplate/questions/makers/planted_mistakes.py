"""A student's explanation of one cell, with one mistake planted in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.chemistry import parse_formula, species_name
from fizzplate.chemistry.in_words import in_words
from fizzplate.lesson.rule.residue import ions_with_water
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.parts import (
    CARBON,
    cell_of,
    choice_question,
    drawn_salt,
    ions_in_words,
    rule_of,
    solution_name,
    used_at,
)
from fizzplate.questions.misconceptions import misconceptions
from fizzplate.questions.question import Option

if TYPE_CHECKING:
    from fizzplate.chemistry.classroom_rule import Rule
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.question import Question

COPPER_RODS = ("CuSO4", "copper")


@dataclass(frozen=True, slots=True)
class Line:
    """What a student says about one thing: rightly, and wrongly by the idea of a number."""

    right: str
    wrong: tuple[tuple[str, int], ...]


@maker("find the mistake", topic="ideas", level=14, version=1)
def find_mistake(dice: Dice) -> Question:
    """Ask which sentence of a student's explanation is wrong."""
    formula, material = COPPER_RODS if dice.number(6) == 0 else (drawn_salt(dice), CARBON)
    lines = _explanation(formula, material, dice)
    planted = dice.one_of([line for line in lines if line.wrong])
    sentence, number = dice.one_of(planted.wrong)
    sound = dice.some((line for line in lines if line is not planted), 3)
    bench = misconceptions()[number - 1].bench
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
                reason=f"That sentence is right. The mistake is in “{sentence}”",
                misconception=number,
            )
            for line in sound
        ),
    )
    name = solution_name(formula, dice.wording)
    kind = "carbon" if material == CARBON else material
    text = dice.one_of(
        (
            (
                f"A student explains the electrolysis of {name} with {kind} electrodes. "
                "Which sentence holds a mistake?"
            ),
            (
                f"These sentences are from a student's answer about {name} with {kind} electrodes. "
                "Which one is wrong?"
            ),
        )
    )
    watch = formula if material == CARBON else f"{formula},anode={material},cathode={material}"
    return choice_question(
        "find the mistake",
        "ideas",
        text,
        tuple(dice.shuffled(options)),
        watch=misconceptions()[number - 1].watch or watch,
    )


def _explanation(formula: str, material: str, dice: Dice) -> list[Line]:
    """Return the sentences of a full answer, each with the mistakes that learners make in it."""
    rule = rule_of(formula, dice.wording, material, material)
    ions = list(cell_of(formula, material, material).ions_mol_dm3)
    name = solution_name(formula, dice.wording)
    every = ions_with_water(dict.fromkeys(ions, 1.0))
    cations = [ion for ion in every if parse_formula(ion).charge > 0]
    return [
        Line(
            f"The solution holds {ions_in_words(every)} ions even before the switch is closed.",
            (
                (f"The current splits {name} into its ions; before that there are none.", 1),
                (f"The only ions are {ions_in_words(ions)}, because water never reacts.", 24),
            )
            if not set(ions) & {"H+", "OH-"}
            else ((f"The current splits {name} into its ions; before that there are none.", 1),),
        ),
        Line(
            f"{ions_in_words(cations)} ions are positive and drift to the cathode.",
            (
                (f"{ions_in_words(cations)} ions are positive and drift to the anode.", 6),
                (
                    (
                        f"{ions_in_words(cations)} ions have more electrons than protons and drift to the "
                        "cathode."
                    ),
                    9,
                ),
            ),
        ),
        Line(
            "In the solution positive and negative ions move, in opposite directions.",
            (
                ("In the solution only the negative ions move and carry the current.", 19),
                ("In the solution electrons swim from the cathode to the anode.", 2),
            ),
        ),
        Line(
            "Every part of the solution stays neutral while the current flows.",
            (
                (
                    "The solution becomes positive round the cathode and negative round the anode.",
                    22,
                ),
            ),
        ),
        Line(_at("cathode", rule), _cathode_mistakes(formula, rule)),
        Line(_at("anode", rule), _anode_mistakes(formula, material, rule)),
        Line(
            "In the same time both electrodes pass the same number of electrons.",
            (("How many electrons the anode passes does not depend on the cathode.", 26),),
        ),
        Line(
            "A lamp in the circuit has the same current on both of its sides.",
            (("A lamp in the circuit uses up current, so less comes back to the supply.", 30),),
        ),
        *_amounts(rule, material),
    ]


def _at(role: str, rule: Rule) -> str:
    """Say what happens at an electrode."""
    electrode = rule.cathode if role == "cathode" else rule.anode
    used = used_at(electrode.half_equation)
    verb, reaction = ("gain", "reduction") if role == "cathode" else ("lose", "oxidation")
    return f"At the {role} {_does(used, verb)} electrons and {_made(electrode.product)}: this is {reaction}."


def _does(used: str, verb: str) -> str:
    if parse_formula(used).charge:
        return f"{in_words(used)} {verb}"
    return f"{'the ' if used != 'H2O' else ''}{in_words(used)} {verb}s"


def _made(product: str) -> str:
    if parse_formula(product).charge:
        return "dissolves as ions"
    return f"{species_name(product)} forms"


def _cathode_mistakes(formula: str, rule: Rule) -> tuple[tuple[str, int], ...]:
    right = _at("cathode", rule)
    used = used_at(rule.cathode.half_equation)
    mistakes = [(right.replace("reduction", "oxidation"), 23)]
    if parse_formula(used).charge:
        mistakes.append(
            (
                (
                    f"At the cathode {in_words(used)} give electrons to the electrode, and "
                    f"{_made(rule.cathode.product)}."
                ),
                10,
            )
        )
    if rule.cathode.product == "Cu":
        mistakes.append(
            (
                (
                    "At the cathode hydrogen forms, because copper ions are harder to discharge than "
                    "hydrogen ions."
                ),
                18,
            )
        )
    if formula == "NaCl":
        mistakes.append(("At the cathode sodium forms, because sodium ions are positive.", 21))
    return tuple(mistakes)


def _anode_mistakes(formula: str, material: str, rule: Rule) -> tuple[tuple[str, int], ...]:
    if material != CARBON:
        return (("At the anode oxygen forms, and the copper of the anode stays as it is.", 16),)
    product = species_name(rule.anode.product)
    mistakes = [
        (_at("anode", rule).replace("oxidation", "reduction"), 23),
        ("At the anode nothing can react, because the electrode is inert.", 25),
    ]
    if "SO4^2-" in cell_of(formula).ions_mol_dm3:
        mistakes.append(("At the anode sulfate ions are discharged and sulfur dioxide forms.", 27))
    if formula == "KBr":
        mistakes.append(("At the cathode bromide ions are oxidised and bromine forms.", 11))
    if rule.anode.product != "O2":
        mistakes.append((f"At the anode the carbon reacts with the ions, and {product} forms.", 13))
    return tuple(mistakes)


def _amounts(rule: Rule, material: str) -> list[Line]:
    """Return what can be said of amounts, and of the blue."""
    lines = []
    if {rule.cathode.product, rule.anode.product} == {"H2", "O2"}:
        lines.append(
            Line(
                "Two volumes of hydrogen form for every volume of oxygen.",
                (("Two volumes of oxygen form for every volume of hydrogen.", 29),),
            )
        )
    if rule.cathode.product in {"Cu", "Ag"}:
        metal = species_name(rule.cathode.product)
        lines.append(
            Line(
                f"Twice the charge gives twice the mass of {metal}.",
                ((f"Twice the voltage always gives twice the mass of {metal}.", 28),),
            )
        )
    if material == "copper":
        lines.append(
            Line(
                "The blue stays, because as much copper goes into the solution as comes out.",
                (("The blue fades, because copper comes out of the solution.", 17),),
            )
        )
    return lines
