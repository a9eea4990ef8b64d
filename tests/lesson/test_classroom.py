"""Every solution goes through rule, steps, observation, test and wording without a hole."""

from __future__ import annotations

import pytest
from tests.questions.plain_spaces import with_plain_spaces

import fizzplate as fp
from fizzplate.cell import Cell
from fizzplate.chemistry import electrodes, solutions
from fizzplate.chemistry.substances.product_tests import observation_of, standard_test
from fizzplate.lesson import CORE, Wording
from fizzplate.lesson.classroom.predictions import (
    choice_of,
    expected_choice,
    observation_feedback,
    observation_phrases,
    observation_points,
    product_choices,
    wording_traps,
)
from fizzplate.lesson.rule.explanation import explanation
from fizzplate.lesson.rule.gas_tests import TESTS, gas_test
from fizzplate.lesson.rule.residue import acidity_statement, residue
from fizzplate.lesson.rule.stepwise_balancing import balancing_steps, charge_of
from fizzplate.views.bench.lesson.lesson_data import after

BOARDS = [
    Wording(),
    Wording("H2O", "H2O", "minus", states=True, electrode_names="both", dilute_below_mol_dm3=0.1),
]
LAMP = fp.Lamp(6.0, 0.06)


@pytest.mark.parametrize("board", BOARDS, ids=["ions", "water"])
@pytest.mark.parametrize("formula", list(solutions()))
@pytest.mark.parametrize("anode", ["graphite", "copper"])
def test_every_solution_has_a_whole_lesson(formula, anode, board):
    cell = Cell(formula, concentration_mol_dm3=0.05, anode=anode)
    rule = cell.rule(board)
    steps = explanation(cell, board)
    assert [step.title.split(": ")[-1] for step in steps] == [
        "Ions in the solution",
        *["the rule", "the half-equation"] * 2,
        "The same number of electrons",
        "What is left",
        "Back to what was seen",
    ]
    assert all(step.sentence for step in steps)
    assert sum(bool(step.balancing) for step in steps) == 2
    for role in ("cathode", "anode"):
        expected = getattr(rule, role)
        answer = expected_choice(cell, role, board)
        assert answer in product_choices(cell)
        assert expected.observation
        assert str(standard_test(expected.product))
        assert observation_points(expected.product), expected.product
        assert any(getattr(step, "order", ()) for step in steps)
    chosen = [[p for p in step.order if p.chosen] for step in steps if step.order]
    assert [len(places) for places in chosen] == [1, 1]


@pytest.mark.parametrize("formula", list(solutions()))
def test_the_expected_observation_says_all_its_points(formula):
    rule = Cell(formula, concentration_mol_dm3=0.05).rule()
    for electrode in (rule.cathode, rule.anode):
        said, missing, trapped = observation_feedback(electrode.observation, electrode.product)
        assert missing == [], electrode.observation
        assert trapped == []
        assert said
        assert electrode.observation in observation_phrases(electrode.product)


@pytest.mark.parametrize(
    ("text", "product", "missing", "trap"),
    [
        ("a red precipitate", "Cu", ["a deposit", "its colour"], "Say deposit"),
        ("red-brown coating", "Cu", [], ""),
        ("clear bubbles", "H2", ["colourless"], "Say colourless"),
        ("fizzing of a colourless gas", "O2", [], ""),
        ("chlorine gas", "Cl2", ["bubbles", "its colour"], "A name is not an observation"),
        ("the anode gets smaller", "Cu2+", [], ""),
        ("", "Ag", ["crystals or a deposit", "their colour"], ""),
    ],
)
def test_what_examiners_do_not_accept_is_told(text, product, missing, trap):
    _, left, trapped = observation_feedback(text, product)
    assert left == missing
    assert any(said.startswith(trap) for said in trapped) if trap else trapped == []


def test_every_trap_has_a_sentence():
    assert all(trap.advice.endswith(".") for trap in wording_traps())


@pytest.mark.parametrize("formula", list(solutions()))
def test_moves_end_in_the_equation_and_balance_atoms_before_charge(formula):
    rule = Cell(formula, concentration_mol_dm3=0.05).rule()
    for electrode in (rule.cathode, rule.anode):
        made = balancing_steps(electrode.half_equation)
        assert made[-1].equation == electrode.half_equation
        assert all(move.equation.electrons == 0 for move in made[:-1])
        before = made[-2].equation
        assert charge_of(before.reactants) != charge_of(before.products)


@pytest.mark.parametrize(
    ("formula", "options", "turns"),
    [
        ("KI", {}, "alkaline"),
        ("CuSO4", {}, "acid"),
        ("AgNO3", {"concentration_mol_dm3": 0.1}, "acid"),
        ("Na2SO4", {}, "as before"),
        ("CuCl2", {}, "as before"),
        ("HCl", {}, "as before"),
        ("CuSO4", {"anode": "copper"}, "as before"),
    ],
)
def test_what_is_left_agrees_with_the_run(formula, options, turns):
    cell = Cell(formula, lamp=LAMP, **options)
    assert residue(cell.rule(), cell.ions_mol_dm3).acidity == turns
    run = cell.run(minutes=10, samples=11)
    made = {"alkaline": 1, "acid": -1, "as before": 0}[turns]
    hydroxide = run.concentration("OH-") - run.concentration("H+")
    if "HSO4-" in run.ions:  # it holds hydrogen ions back
        hydroxide = hydroxide - run.concentration("HSO4-")
    # hydroxide that halogens took, or acid that they gave: a reaction of their own
    for made_of_halogen, taken in (("IO3-", 6), ("HClO", 1), ("ClO-", 2)):
        if made_of_halogen in run.dissolved:
            hydroxide = hydroxide + taken * run.concentration(made_of_halogen)
    excess = (hydroxide @ run.volume_m3)[[0, -1]]
    gained = (excess[1] - excess[0]) / (run.charge_C[-1] / 96485.332)
    if made:
        assert made * gained > 0.3
        lost = " ".join(residue(cell.rule(), cell.ions_mol_dm3).sentences)
        assert ("Iodine that meets them reacts with them" in lost) == (formula == "KI")
    elif formula != "HCl":  # whose acid is used up
        assert abs(gained) < 0.05, gained


def test_brine_turns_alkaline_where_the_hydrogen_forms():
    cell = Cell("NaCl", lamp=LAMP)
    left = residue(cell.rule(), cell.ions_mol_dm3)
    assert left.acidity == "alkaline"
    assert "bleach" in left.sentences[-1]  # chlorine takes part of it up again in a beaker
    assert cell.run(minutes=5, samples=5).cathode.pH[-1] > 11


def test_tests_tell_the_gases_of_the_core_solutions_apart():
    runs = {salt: Cell(salt, lamp=LAMP).run(minutes=10, samples=11) for salt in CORE}
    assert gas_test(runs["Na2SO4"].cathode, "lighted splint").picture == "pop"
    assert gas_test(runs["Na2SO4"].anode, "glowing splint").picture == "relight"
    assert gas_test(runs["NaCl"].anode, "damp blue litmus").picture == "bleach"
    assert gas_test(runs["CuSO4"].anode, "glowing splint").picture == "relight"
    assert gas_test(runs["CuSO4"].cathode, "lighted splint").picture == "nothing"
    assert "no gas" in gas_test(runs["CuSO4"].cathode, "lighted splint").result


def test_a_paper_shows_chlorine_that_dissolves_before_it_can_be_collected():
    run = Cell("NaCl", lamp=LAMP).run(minutes=2, samples=11)
    assert float(run.anode.gas_cm3("Cl2", collected=True)[-1]) < 0.05
    assert gas_test(run.anode, "damp blue litmus").picture == "bleach"


def test_a_paper_that_shows_hardly_any_chlorine_says_how_it_is_held():
    run = Cell("NaCl", lamp=LAMP).run(minutes=2, samples=11)
    made = float(run.anode.gas_cm3("Cl2")[-1])
    means = gas_test(run.anode, "damp blue litmus").meaning
    assert (
        f"Of the {made:.2g} cm³ of chlorine made so far hardly any leaves the liquid"
        in with_plain_spaces(means)
    )
    assert "hold the paper close to the surface" in means
    plenty = Cell("HCl", concentration_mol_dm3=1.0, current_A=0.5, supply_V=None)
    freed = plenty.run(minutes=20, samples=11)
    assert float(freed.anode.gas_cm3("Cl2", collected=True)[-1]) > 0.5 * float(
        freed.anode.gas_cm3("Cl2")[-1]
    )
    assert "leaves the liquid" not in gas_test(freed.anode, "damp blue litmus").meaning


@pytest.mark.parametrize(
    ("formula", "strength", "board", "role", "seen", "test", "product"),
    [
        (
            *("ZnSO4", 0.5, Wording(), "cathode"),
            *("a grey deposit", "a grey layer", "exam: hydrogen; bench: zinc"),
        ),
        (
            *("NaCl", 0.05, Wording(dilute_below_mol_dm3=0.1), "anode"),
            *("pale green", "bleached white", "exam: oxygen; bench: chlorine"),
        ),
        ("CuSO4", 0.5, Wording(), "anode", "colourless gas", "glowing splint", "oxygen"),
    ],
)
def test_a_row_gives_rule_and_run(formula, strength, board, role, seen, test, product):
    run = Cell(formula, concentration_mol_dm3=strength, lamp=LAMP).run(minutes=5, samples=11)
    row = after(run, board)["row"]
    assert seen in row[role]["seen"]
    assert test in row[role]["test"]
    assert row[role]["product"] == product
    for each in product.removeprefix("exam: ").split("; bench: "):
        assert each in row["accepts"][f"{role}-product"]
    differs = product.startswith("exam")
    assert (" bench: " in row[role]["equation"]) == differs
    assert len(row[role]["task"]["accepted"]) >= 1 + differs


def test_nothing_is_seen_where_no_current_flows():
    run = Cell("Na2SO4", supply_V=0.5).run(minutes=1, samples=3)
    row = after(run, Wording())["row"]
    assert row["cathode"]["product"] == "exam: hydrogen; bench: nothing"
    assert row["cathode"]["seen"] == "nothing is seen"


@pytest.mark.parametrize(
    ("formula", "options", "advice"),
    [
        (
            "ZnSO4",
            {},
            "after mixing (for an exam): as before; before mixing: more acid at both electrodes",
        ),
        (
            *("NaCl", {}),
            "after mixing (for an exam): alkaline; before mixing: alkaline at the cathode, acid at the anode",
        ),
        (
            "HCl",
            {},
            "after mixing (for an exam): as before; before mixing: as before at both electrodes",
        ),
    ],
)
def test_what_the_solution_becomes_agrees_with_the_ph_beside_it(formula, options, advice):
    run = Cell(formula, lamp=LAMP, **options).run(minutes=5, samples=11)
    left = residue(run.cell.rule(), run.cell.ions_mol_dm3)
    assert acidity_statement(left.acidity, run) == advice


@pytest.mark.parametrize("formula", ["KI", "NaBr"])
def test_a_halogen_in_the_liquid_colours_starch_iodide_paper(formula):
    run = Cell(formula).run(minutes=5, samples=11)
    assert gas_test(run.anode, "damp starch-iodide paper").picture == "blue-black"


@pytest.mark.parametrize("formula", list(solutions()))
def test_every_test_has_a_result_at_every_electrode(formula):
    run = Cell(formula, concentration_mol_dm3=0.1).run(minutes=2, samples=11)
    for record in (run.cathode, run.anode):
        for test in TESTS:
            tried = gas_test(record, test)
            assert tried.result.endswith(".")
            assert tried.meaning.endswith(".")


def test_a_wrong_test_is_refused_by_name():
    run = Cell("Na2SO4").run(minutes=1, samples=3)
    with pytest.raises(ValueError, match="smelling"):
        gas_test(run.anode, "smelling")


def test_every_product_of_the_bench_can_be_answered():
    for formula in solutions():
        for anode in electrodes():
            cell = Cell(formula, concentration_mol_dm3=0.05, anode=anode)
            assert expected_choice(cell, "anode") in product_choices(cell)
    assert choice_of("Cu2+", "copper") == "the electrode dissolves"
    assert observation_of("Cu2+")


@pytest.mark.parametrize(
    ("formula", "tempting"), [("Na2SO4", "sulfur dioxide"), ("Cu(NO3)2", "nitrogen")]
)
def test_what_learners_expect_of_an_anion_is_among_the_products_to_pick_from(formula, tempting):
    assert tempting in product_choices(Cell(formula))


def test_both_electrodes_offer_the_same_phrases_so_that_none_tells_where_it_is_seen():
    run = Cell("AgNO3", concentration_mol_dm3=0.1).run(minutes=1, samples=3)
    cathode, anode = after(run, Wording())["ask"]
    assert cathode["phrases"] == anode["phrases"]
    assert {cathode["observation"], anode["observation"]} <= set(cathode["phrases"])


@pytest.mark.parametrize(
    ("solution", "stands_out", "fades"),
    [
        ("NaCl", {"Na+", "OH-"}, {"Cl-", "H+"}),
        ("KI", {"K+", "OH-"}, {"H+"}),
        ("CuSO4", {"SO4^2-", "H+"}, {"OH-", "Cu2+"}),
        ("Na2SO4", {"Na+", "SO4^2-"}, set()),
    ],
)
def test_the_ion_that_a_solution_becomes_alkaline_or_acid_by_stands_out_as_this_is_said(
    solution, stands_out, fades
):
    (step,) = (each for each in explanation(Cell(solution)) if each.title == "What is left")
    assert stands_out <= set(step.species)
    assert not fades & set(step.species)
