"""Every solution and vessel that is offered can be shown, at rest and switched on."""

import re

import numpy as np
import pytest

from fizzplate.cell import Cell
from fizzplate.chemistry import melts, solutions
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.lesson import VESSELS, Wording
from fizzplate.lesson.rule import MeltRun
from fizzplate.views.bench.side_cards import lesson_at_rest, lesson_of
from fizzplate.views.bench.widget import About, Bench, bench_state, bench_state_at_rest

CELLS = [
    *({"solution": formula, "concentration_mol_dm3": 0.1} for formula in solutions()),
    *({"solution": "NaCl", "vessel": vessel} for vessel in VESSELS),
]


@pytest.fixture
def bench():
    return Bench()


@pytest.mark.parametrize("given", CELLS, ids=lambda given: " ".join(map(str, given.values())))
def test_everything_offered_can_be_shown(bench, given):
    cell = Cell(**given)
    bench.rest(cell)
    assert [card["on"] for card in bench.lesson["electrodes"]] == [False, False]
    bench.show(cell.run(minutes=2, samples=11))
    for card in bench.lesson["electrodes"]:
        assert card["equation"]
        assert card["spoken"]
        assert {term for term, _ in card["rows"]} == {"Rule", "Seen", "Test"}
    assert bench.lesson["narration"][0][0] == 0.0
    assert bench.lesson["cautions"][-1].startswith("Your school's own risk assessment")


def test_below_the_voltage_that_is_needed_nothing_much_is_said_to_happen(bench):
    bench.show(Cell("Na2SO4", supply_V=1.5).run(minutes=2, samples=11))
    assert "Hardly any current" in bench.lesson["narration"][0][1]
    for card in bench.lesson["electrodes"]:
        assert card["product"] == "hardly anything"


def test_a_run_crosses_in_one_message_of_its_own(bench):
    run = Cell("NaCl").run(minutes=2, samples=11)
    seen = []
    bench.observe(
        lambda change: seen.append(change["name"]), names=["show_count", "array_bytes", "header"]
    )
    bench.show(run)
    assert seen.count("show_count") == 1


def test_units_are_written_as_print_does(bench):
    bench.show(Cell("CuSO4").run(minutes=2, samples=11))
    assert not any("dm3" in text for text in bench.lesson["cautions"])


def test_who_does_not_see_the_run_reads_what_was_made_at_its_quarters():
    run = Cell("CuSO4", anode="copper", concentration_mol_dm3=0.2).run(minutes=2, samples=9)
    table = lesson_of(run)["table"]
    assert [row[0] for row in table["rows"]] == [
        f"{time}\N{NO-BREAK SPACE}{unit}"
        for time, unit in zip(
            ("0", "0.5", "1", "1.5", "2"),
            ("minutes", "minutes", "minute", "minutes", "minutes"),
            strict=True,
        )
    ]
    for side, unit, made in (
        ("cathode", " mg copper", 1e3 * run.cathode.mass_g("Cu")),
        ("cathode", " cm³ hydrogen", run.cathode.gas_cm3("H2")),
        ("anode", " mmol copper(II) ions", 1e3 * run.anode.amount_mol("Cu2+")),
    ):
        column = table["head"].index(f"Made at the {side}")
        read = [
            float(each.removesuffix(unit))
            for row in table["rows"]
            for each in row[column].split(", ")
            if each.endswith(unit)
        ]
        assert read == pytest.approx(made[::2], rel=0.05)  # two figures are written


def test_where_run_and_rule_differ_the_side_card_says_so_and_tells_what_forms():
    cathode, anode = lesson_of(Cell("ZnSO4").run(minutes=1, samples=3))["electrodes"]
    assert ("Rule", "hydrogen ✗") in cathode["rows"]
    assert cathode["product"] == "zinc"
    assert cathode["spoken"].endswith("gives Z n")
    assert ("Rule", "oxygen ✓") in anode["rows"]


def test_a_caution_beside_an_electrode_is_not_said_once_more_below():
    lesson = lesson_of(Cell("NaCl").run(minutes=1, samples=3))
    beside = "".join(text for each in lesson["electrodes"] for text in each["cautions"])
    assert "Chlorine irritates" in beside
    assert "Hydrogen burns" in beside
    below = [text for text in lesson["cautions"] if text in beside]
    assert below == []
    assert any("bare metal" in text for text in lesson["cautions"])


@pytest.mark.parametrize(
    ("formula", "cathode", "anode"),
    [("NaCl", "Na⁺, H⁺", "Cl⁻, OH⁻"), ("HCl", "H⁺", "Cl⁻, OH⁻"), ("NaOH", "Na⁺, H⁺", "OH⁻")],
)
def test_each_electrode_draws_the_solutions_ions_and_the_waters_each_once(formula, cathode, anode):
    attracted = [
        dict(each["rows"])["Ions attracted here"]
        for each in lesson_at_rest(Cell(formula))["electrodes"]
    ]
    assert attracted == [cathode, anode]


@pytest.mark.parametrize("formula", melts())
def test_every_melt_can_be_shown_with_amounts_that_pass_the_same_charge(bench, formula):
    cell = Cell(formula)
    bench.rest(cell)
    assert [card["on"] for card in bench.lesson["electrodes"]] == [False, False]
    assert bench.header["electrodes"][0]["products"] == []  # nothing is told
    run = MeltRun(cell, 1.0, 10.0)
    bench.show(run)
    header = bench.header
    ions = [each["formula"] for each in header["species"]]
    assert ions == list(cell.ions_mol_dm3)  # and none of water
    values = np.frombuffer(bench.array_bytes, "<f4")

    def last(name):
        place = header["index"][name]
        return float(values[place["offset"] + place["length"] - 1])

    passed = [
        last(f"{side}:amount_mol:{product['formula']}") * product["electrons"]
        for side, electrode in enumerate(header["electrodes"])
        for product in electrode["products"]
    ]
    assert passed == pytest.approx([600 / FARADAY_C_MOL] * 2, rel=1e-5)
    drifts = {ion: last(f"v:{ion}") for ion in ions}
    assert all((drift < 0) == ion.endswith("+") for ion, drift in drifts.items())
    for card in bench.lesson["electrodes"]:
        assert card["equation"]
        assert any("risk assessment" in text for text in card["cautions"])
    assert bench.lesson["cautions"][-1].startswith("Your school's own risk assessment")
    assert "risk assessment" in bench.lesson["generalCaution"]


def test_a_melt_speaks_in_the_boards_words():
    about = About(wording=Wording(electrode_names="negative"))
    run = MeltRun(Cell("PbBr2(l)"), 1.0, 10.0)
    for state in (bench_state(run, about), bench_state_at_rest(run.cell, about)):
        words = {
            key: state["lesson"][key]
            for key in ("picture", "electrodes", "narration", "seen", "notes", "cautions")
        } | {"steps": state["lesson"]["classroom"]["steps"]}
        assert not re.search(r"\b(cathode|anode)\b", str(words), re.IGNORECASE)
