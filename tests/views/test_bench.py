"""Every solution and vessel that is offered can be shown, at rest and switched on."""

import pytest

from fizzplate.cell import Cell
from fizzplate.chemistry import solutions
from fizzplate.lesson import VESSELS
from fizzplate.views.bench.side_cards import lesson_at_rest, lesson_of
from fizzplate.views.bench.widget import Bench

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
        f"{minutes} minutes" for minutes in ("0", "0.5", "1", "1.5", "2")
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
