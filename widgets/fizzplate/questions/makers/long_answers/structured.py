"""Makers of questions in parts (a), (b), (c) about one situation."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry.substances import standard_test
from fizzplate.lesson.equations import half_task
from fizzplate.questions.calculations import (
    CLASS_A,
    COPPER,
    FARADAY,
    SILVER,
    Flow,
    apart,
    brine_amounts,
    carbon_burnt,
    copper_purity,
    links_to_product,
    number_question,
    part,
)
from fizzplate.questions.maker import UNDECLARED, maker
from fizzplate.questions.makers.choices import table_choice
from fizzplate.questions.makers.discharge import product_question
from fizzplate.questions.makers.ideas import conducts_in_words
from fizzplate.questions.makers.mark_points import mark_points
from fizzplate.questions.makers.parts import (
    CARBON,
    equation_question,
    rule_of,
    solution_name,
    text_question,
)
from fizzplate.questions.makers.works import (
    BRINE,
    MEMBRANE,
    REFINING,
    brine_alkali,
    impurities,
)
from fizzplate.questions.question_types import StructuredQuestion, labelled
from fizzplate.questions.tables import edition_rows
from fizzplate.words import begin, board_slots, say

if TYPE_CHECKING:
    from fizzplate.chemistry import Equation
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: solutions whose anode gives a gas that has a test
WITH_A_GAS = ("CuSO4", "CuCl2", "NaCl", "Na2SO4", "AgNO3", "H2SO4", "HCl")
PLATED = (("copper", "CuSO4", COPPER), ("silver", "AgNO3", SILVER))
BRINE_WORKS = (
    "A factory electrolyses brine, which is concentrated sodium chloride solution, in membrane cells.",
    "Concentrated sodium chloride solution (brine) flows through a cell that has a membrane in its middle.",
    (
        "Chlorine, hydrogen and sodium hydroxide are made from brine (concentrated sodium chloride solution) "
        "and water, in a cell with a membrane."
    ),
    (
        "A company plans a factory that makes chlorine from brine (concentrated sodium chloride solution) in "
        "membrane cells."
    ),
)
ALUMINIUM_WORKS = (
    "A factory makes aluminium by electrolysing aluminium oxide dissolved in molten cryolite.",
    "Aluminium oxide, dissolved in molten cryolite, is electrolysed between carbon electrodes.",
    "Aluminium is extracted from its oxide by electrolysis. The oxide is dissolved in molten cryolite.",
    "Visitors to an aluminium factory see long rows of cells that hold aluminium oxide in molten cryolite.",
)
COPPER_WORKS = (
    (
        "Impure copper is purified in acidified copper(II) sulfate solution. {The_anode} is of impure "
        "copper, {the_cathode} of pure copper."
    ),
    (
        "A copper refinery hangs plates of impure copper and of pure copper into acidified copper(II) "
        "sulfate solution. Those of impure copper are {anodes}, the others {cathodes}."
    ),
    (
        "Copper for electrical wires must be very pure. It is made by electrolysis, with impure copper "
        "as {the_anode} and pure copper as {the_cathode}, in acidified copper(II) sulfate solution."
    ),
    (
        "Copper from a furnace is {the_anode} of a cell with acidified copper(II) sulfate solution. "
        "{The_cathode} is a thin plate of pure copper."
    ),
)
#: reasons that do not tell what the other parts ask: that sodium ions cross, where aluminium forms
BRINE_REASONS = (*BRINE[4:], BRINE[4], *MEMBRANE[1:])
ALUMINIUM_REASONS = ("aluminium from solution", "aluminium recycled")
SECONDS = (600, 750, 900, 1200, 1500, 1800)


def structured_question(text: str, *sections: Question, watch: str = "") -> Question:
    """Return a situation with its parts; its reason is theirs."""
    why = " ".join(labelled(tuple(each.why for each in sections)))
    return StructuredQuestion(*UNDECLARED, text, why, sections=sections, watch=watch)


def _half(
    rng: RandomSource, formula: str, role: str, text: str, material: str = CARBON
) -> Question:
    """Ask for the half-equation at an electrode."""
    at = getattr(rule_of(formula, rng.wording, material, material), role)
    equation: Equation = at.half_equation
    task = half_task(equation, at.product, role, rng.wording)
    return equation_question(
        say(text, rng.wording), task, equation.pretty(), "atoms and charge balance."
    )


@maker("a class's cell in parts", topic="products", level=14, version=3)
def class_cell(rng: RandomSource) -> Question:
    """Ask about one solution: a product, a half-equation, the test of a gas, and a charge."""
    formula = rng.one_of(WITH_A_GAS)
    solution = solution_name(formula, rng.wording)
    board = board_slots(rng.wording)
    gas = rule_of(formula, rng.wording).anode.product
    test = standard_test(gas)
    flow = Flow(rng.one_of(CLASS_A), rng.one_of((10, 12, 15, 20, 25)))
    tested = text_question(
        f"A gas forms at the {board['anode']}. Describe a test for this gas, and its result.",
        begin(f"{test.action}: {test.result}."),
        mark_points(f"test for {gas}", rng.edition),
        wording=rng.wording,
    )
    return structured_question(
        (
            f"A class electrolyses {solution} with carbon electrodes, in small amounts and with the window "
            "open, as the risk assessment says."
        ),
        product_question(rng, formula, "cathode", f"What forms at the {board['cathode']}?"),
        _half(rng, formula, "anode", "Write the half-equation for what happens at {the_anode}."),
        tested,
        number_question(
            f"{begin(flow.passes)}. What charge, in C, passes?", [part(apart(flow.links()))]
        ),
        watch=formula,
    )


@maker("plating in parts", topic="applications", level=16, version=3, holds=("plating",))
def plating_parts(rng: RandomSource) -> Question:
    """Ask about plating: why the anode is of the metal, what happens at the cathode, and a mass."""
    metal, formula, product = rng.one_of(PLATED)
    things = edition_rows("plated_things", rng.edition)
    thing = rng.one_of([row["thing"] for row in things if metal in row.text("metals").split()])
    flow = Flow(rng.one_of(CLASS_A), rng.one_of(SECONDS), "s")
    solution = solution_name(formula, rng.wording)
    mass = number_question(
        say(
            "{passes}. What mass of {metal}, in g, is deposited if all of the charge deposits it?",
            rng.wording,
            passes=begin(flow.passes),
            metal=metal,
        ),
        [part(links_to_product(flow, product, "g"), before=1 / product.electrons)],
        data=(FARADAY, product.molar),
    )
    return structured_question(
        say(
            "{Thing} is plated with {metal}: it is {the_cathode} in {solution}, and a bar of {metal} is "
            "{the_anode}.",
            rng.wording,
            thing=thing,
            metal=metal,
            solution=solution,
        ),
        table_choice(rng, "plating anode", metal=metal, thing=thing),
        _half(
            rng, formula, "cathode", "Write the half-equation for what happens at {the_cathode}."
        ),
        mass,
        watch=f"{formula},anode={metal}",
    )


@maker(
    "brine works in parts",
    topic="applications",
    level=16,
    version=3,
    holds=("amounts from brine", "brine in words"),
)
def brine_parts(rng: RandomSource) -> Question:
    """Ask about a membrane cell: a half-equation, a reason, the alkali in words, and a mass."""
    return structured_question(
        rng.one_of(BRINE_WORKS),
        _half(rng, "NaCl", "anode", "Write the half-equation for what happens at {the_anode}."),
        table_choice(rng, rng.one_of(BRINE_REASONS)),
        brine_alkali(rng),
        brine_amounts.make(rng),
        watch="NaCl",
    )


@maker(
    "aluminium works in parts",
    topic="applications",
    level=16,
    version=3,
    holds=("carbon burnt for aluminium",),
)
def aluminium_parts(rng: RandomSource) -> Question:
    """Ask about an aluminium cell: a reason, a half-equation, why a melt conducts, and a mass."""
    return structured_question(
        rng.one_of(ALUMINIUM_WORKS),
        table_choice(rng, rng.one_of(ALUMINIUM_REASONS)),
        _half(
            rng,
            "Al2O3(l)",
            "cathode",
            "Write the half-equation for what happens to aluminium ions at {the_cathode}.",
        ),
        conducts_in_words("aluminium oxide", "molten aluminium oxide", "molten", rng.wording),
        carbon_burnt.make(rng),
    )


@maker(
    "copper works in parts",
    topic="applications",
    level=14,
    version=3,
    holds=("impurities of copper", "masses of a copper works"),
)
def copper_parts(rng: RandomSource) -> Question:
    """Ask about the purification of copper: a half-equation, impurities, and a percentage."""
    return structured_question(
        say(rng.one_of(COPPER_WORKS), rng.wording),
        _half(
            rng,
            "CuSO4",
            "anode",
            "Write the half-equation for what happens to copper at {the_anode}.",
            "copper",
        ),
        impurities.make(rng),
        copper_purity(rng),
        watch=REFINING,
    )
