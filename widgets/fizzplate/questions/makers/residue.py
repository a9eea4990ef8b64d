"""Makers of questions about what is left: alkaline, acid or neutral, and the blue of copper ions."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import in_words, solutions, species_name, wording_for
from fizzplate.lesson.rule import residue
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import (
    mark_points,
)
from fizzplate.questions.makers.parts import (
    cell_of,
    choice,
    choice_question,
    draw_salt,
    ions_in_words,
    rule_of,
    salts,
    set_up,
    solution_name,
    text_question,
)
from fizzplate.questions.misconceptions import Idea, correction
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.questions.content import Point
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource


@maker("why alkaline", topic="what is left", level=14, version=1)
def why_alkaline(rng: RandomSource) -> Question:
    """Ask why a halide solution turns alkaline."""
    formula = rng.one_of(("NaCl", "KCl", "NaBr", "KI", "KBr", "NaI"))
    cation = next(ion for ion in solutions()[formula].ions if ion.endswith("+"))
    name = solution_name(formula, rng.wording)
    answer = say(
        "{used_up} at {the_cathode}, and hydroxide ions are left with the {cation} ions.",
        rng.wording,
        used_up=_used_up(rng, formula, "H2"),
        cation=species_name(cation),
    )
    text = rng.one_of(
        (
            f"Explain why {name} turns alkaline when it is electrolysed with inert electrodes.",
            f"After {name} has been electrolysed, an indicator shows that it is alkaline. Explain why.",
        )
    )
    points = _of_this_salt(mark_points("why alkaline", rng.edition), formula)
    return text_question(text, answer, points, watch=formula, wording=rng.wording)


@maker("why acid", topic="what is left", level=14, version=1)
def why_acid(rng: RandomSource) -> Question:
    """Ask why the salt of an unreactive metal turns acid."""
    formula = rng.one_of(("CuSO4", "Cu(NO3)2", "AgNO3"))
    anion = next(ion for ion in solutions()[formula].ions if ion.endswith("-"))
    name = solution_name(formula, rng.wording)
    answer = say(
        "{used_up} at {the_anode}, and hydrogen ions are left with the {anion} ions.",
        rng.wording,
        used_up=_used_up(rng, formula, "O2"),
        anion=species_name(anion),
    )
    text = rng.one_of(
        (
            f"Explain why {name} turns acid when it is electrolysed with carbon electrodes.",
            f"The pH of {name} falls while it is electrolysed with inert electrodes. Explain why.",
        )
    )
    points = _of_this_salt(mark_points("why acid", rng.edition), formula)
    return text_question(text, answer, points, watch=formula, wording=rng.wording)


#: what a learner may call the acid or the alkali that is left, by the ion of the salt in it
LEFT_WITH = {
    "NO3-": ("nitric acid",),
    "SO4^2-": ("sulfuric acid", "sulphuric acid"),
    "Na+": ("sodium hydroxide", "only sodium ion"),
    "K+": ("potassium hydroxide", "only potassium ion"),
}


def _of_this_salt(points: tuple[Point, ...], formula: str) -> tuple[Point, ...]:
    """Let the acid or the alkali of another salt take a mark back: nobody finds it in this solution."""
    ions = solutions()[formula].ions
    others = tuple(word for ion, words in LEFT_WITH.items() if ion not in ions for word in words)
    return tuple(
        replace(
            each,
            words=tuple(word for word in each.words if not word.startswith(others)),
            contradictions=(*each.contradictions, *(word for word in others if word in each.words)),
        )
        for each in points
    )


def _used_up(rng: RandomSource, formula: str, gas: str) -> str:
    """Say in the board's wording what is discharged from a solution when a gas forms."""
    source = wording_for(solutions()[formula].ions, rng.wording).source_of(gas)
    if source == "H2O":
        return "Water is reduced" if gas == "H2" else "Water is oxidised"
    return f"{begin(in_words(source))} are discharged"


NEUTRAL = ("Na2SO4", "K2SO4", "NaNO3", "KNO3")


@maker("acid or alkaline at an electrode", topic="what is left", level=14, version=1)
def at_the_face(rng: RandomSource) -> Question:
    """Ask why it turns acid or alkaline round one electrode of a neutral salt."""
    formula = rng.one_of(NEUTRAL)
    role = rng.one_of(("cathode", "anode"))
    electrode = board_slots(rng.wording)[role]
    name = solution_name(formula, rng.wording)
    if role == "cathode":
        turns = "alkaline"
        answer = say(
            "{used_up} at {the_cathode}, and hydroxide ions are left round it.",
            rng.wording,
            used_up=_used_up(rng, formula, "H2"),
        )
    else:
        turns = "acid"
        answer = say(
            "{used_up} at {the_anode}, and hydrogen ions are left round it.",
            rng.wording,
            used_up=_used_up(rng, formula, "O2"),
        )
    points = _of_this_salt(mark_points(f"why {turns}", rng.edition), formula)
    text = rng.one_of(
        (
            (
                f"{begin(name)} is electrolysed in a U-tube with inert electrodes. Round the {electrode} "
                f"it turns {turns}. Explain why."
            ),
            (
                f"An indicator shows that {name} turns {turns} round the {electrode} while a current flows. "
                "Explain why."
            ),
        )
    )
    return text_question(
        text,
        answer,
        points,
        watch=f"{formula},in=U-tube",
        wording=rng.wording,
    )


@maker("indicator", topic="what is left", level=14, version=1)
def indicator(rng: RandomSource) -> Question:
    """Ask for the colours of an indicator."""
    formula = rng.one_of((*NEUTRAL, "NaCl", "KCl"))
    chlorine = rule_of(formula, rng.wording).anode.product == "Cl2"
    name = solution_name(formula, rng.wording)
    acid = "red and then bleached" if chlorine else "red"
    right = say("purple round {the_cathode}, {acid} round {the_anode}", rng.wording, acid=acid)
    wrong: list[Wrong] = [
        (
            say("{acid} round {the_cathode}, purple round {the_anode}", rng.wording, acid=acid),
            say(
                "Hydroxide ions are left where hydrogen forms, so {the_cathode} is the alkaline side.",
                rng.wording,
            ),
            0,
        ),
        (
            "green everywhere, because the water only dissolves the salt",
            correction(Idea.WATER_NEVER_REACTS, rng.wording),
            Idea.WATER_NEVER_REACTS,
        ),
        (
            "red round both, because both products are gases",
            say(
                "The ions that are left decide: hydroxide ions at {the_cathode}.",
                rng.wording,
            ),
            0,
        ),
    ]
    if chlorine:
        wrong.append(
            (
                say("purple round {the_cathode}, purple round {the_anode} as well", rng.wording),
                "Chlorine makes an acid with water, and bleaches the indicator.",
                0,
            )
        )
    at_anode = (
        "chlorine makes it acid and bleaches"
        if chlorine
        else "hydrogen ions are left where oxygen forms"
    )
    reason = say(
        "Hydroxide ions are left where hydrogen forms, at {the_cathode}; at {the_anode} "
        "{at_anode}.",
        rng.wording,
        at_anode=at_anode,
    )
    text = (
        f"{begin(name)} with universal indicator is green. It is electrolysed in a U-tube with inert "
        "electrodes. Which colours appear?"
    )
    watch = f"{formula},in=U-tube"
    return choice_question(text, choice(rng, right, wrong, reason, keep=2), watch=watch)


#: what each kind of change needs
NEEDS = {
    "alkaline": "Hydroxide ions are left over only where hydrogen and a halogen form",
    "acid": "Hydrogen ions are left over only where a metal and oxygen form",
    "stronger": (
        "The solution becomes more concentrated only where hydrogen and oxygen form: this uses up only water"
    ),
    "weaker": (
        "The solution becomes more dilute only where both ions of the dissolved substance are discharged"
    ),
}


@maker("what is left", topic="what is left", level=14, version=1)
def what_is_left(rng: RandomSource) -> Question:
    """Ask what becomes of the solution, from what the rule leaves behind."""
    formula = draw_salt(
        rng, [each for each in salts(rng) if each not in {"MgCl2", "CaCl2", "MgSO4"}]
    )
    rule = rule_of(formula, rng.wording)
    ions = cell_of(formula).ions_mol_dm3
    turns = residue(rule, ions).acidity
    products = {rule.cathode.product, rule.anode.product}
    kind = turns if turns != "as before" else "stronger" if products == {"H2", "O2"} else "weaker"
    stay = ions_in_words(ions)
    metal = ions_in_words([next(ion for ion in ions if ion.endswith("+"))])
    acid = ions_in_words([next(ion for ion in ions if ion.endswith("-"))])
    statements = {
        "alkaline": f"it turns alkaline, because OH⁻ ions are left with {metal}",
        "acid": f"it turns acid, because H⁺ ions are left with {acid}",
        "stronger": f"it becomes more concentrated, because only water is used up and {stay} ions stay",
        "weaker": f"it becomes more dilute, because {ions_in_words(ions)} ions are both discharged",
    }
    if set(ions) & {"H+", "OH-"}:  # an acid, or an alkali, turns neither
        del statements["acid"], statements["alkaline"]
        statements["as it is"] = (
            "it stays just as concentrated as it was, because water takes no part"
        )
    made = " and ".join(species_name(each) for each in (rule.cathode.product, rule.anode.product))
    wrong: list[Wrong] = [
        (
            text,
            f"{NEEDS[each]}; here {made} form."
            if each in NEEDS
            else correction(Idea.WATER_NEVER_REACTS, rng.wording),
            0 if each in NEEDS else Idea.WATER_NEVER_REACTS,
        )
        for each, text in statements.items()
        if each != kind
    ]
    changes = residue(rule, ions, wording=rng.wording).changes
    reason = f"{begin(made)} form. {' '.join(changes)}"
    # bromine and iodine that stayed would react with the hydroxide ions
    text = (
        f"{set_up(rng, formula)} The products are taken away as they form. What happens to the "
        "solution that is left, once it is mixed?"
    )
    return choice_question(
        text,
        choice(rng, statements[kind], wrong, reason),
        watch=formula,
    )


@maker("blue", topic="what is left", level=14, version=1)
def why_blue_stays(rng: RandomSource) -> Question:
    """Ask why the blue stays, or fades."""
    formula = rng.one_of(("CuSO4", "CuSO4", "Cu(NO3)2"))
    stays = rng.number(2) == 0
    material = "copper" if stays else "carbon"
    balance = "as many copper ions go into the solution as come out of it"
    loss = "copper ions come out of the solution and none go into it"
    right, other = (balance, loss) if stays else (loss, balance)
    wrong: list[Wrong] = [
        (
            other,
            say(
                "The blue of {name} stays here: the copper {anode} gives as many copper ions as are "
                "deposited.",
                rng.wording,
                name=solution_name(formula, rng.wording),
            )
            if stays
            else say(
                "That is true with copper electrodes; a carbon {anode} gives no copper ions.",
                rng.wording,
            ),
            Idea.BLUE_FADES_WITH_COPPER,
        ),
        (
            "the current makes new copper ions out of the water"
            if stays
            else "the current makes the ions slower, and slow ions have no colour",
            say("No current makes copper ions from water: they come from {the_anode}.", rng.wording)
            if stays
            else "The colour depends on how many copper ions there are, not on how fast they go.",
            Idea.CURRENT_MAKES_IONS if stays else 0,
        ),
        (
            "the electrodes cannot react, so nothing in the solution changes"
            if stays
            else "hydrogen ions are discharged instead of copper ions, and water dilutes the solution",
            say(
                "A copper {anode} in {name} dissolves.",
                rng.wording,
                name=solution_name(formula, rng.wording),
            )
            if stays
            else correction(Idea.COPPER_HARDER_THAN_HYDROGEN, rng.wording),
            Idea.COPPER_ANODE_GIVES_OXYGEN if stays else Idea.COPPER_HARDER_THAN_HYDROGEN,
        ),
    ]
    verb = "stay" if stays else "fade"
    name = solution_name(formula, rng.wording)
    text = rng.one_of(
        (
            f"{begin(name)} is electrolysed with {material} electrodes. Why does its blue {verb}?",
            f"Why does the blue of {name} {verb} while it is electrolysed with {material} electrodes?",
        )
    )
    ends = (
        say("{the_anode} dissolves", rng.wording)
        if stays
        else say("oxygen forms at {the_anode}", rng.wording)
    )
    reason = say(
        "Copper is deposited at {the_cathode}, and {ends}: {right}.",
        rng.wording,
        ends=ends,
        right=right,
    )
    watch = f"{formula},anode=copper,cathode=copper" if stays else formula
    return choice_question(text, choice(rng, right, wrong, reason), watch=watch)
