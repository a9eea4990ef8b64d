"""Molten salts have the rule and quantities; pure water and sugar show what does not conduct."""

import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError, melts, non_electrolytes
from fizzplate.chemistry.constants import FARADAY_C_MOL
from fizzplate.lesson import CellSetup, Wording
from fizzplate.lesson.rule import MeltRun, form_of, melt_explanation, seen_in_melt
from fizzplate.lesson.state import (
    DemonstrateState,
    PrepareState,
    from_link,
    read_cell,
    write_cell,
)

LAMP = fp.Lamp(6.0, 0.06)


@pytest.mark.parametrize(
    ("formula", "at_cathode", "at_anode", "moles"),
    [
        ("NaCl(l)", "Na", "Cl2", (1, 1 / 2)),
        ("PbBr2(l)", "Pb", "Br2", (1 / 2, 1 / 2)),
        ("ZnCl2(l)", "Zn", "Cl2", (1 / 2, 1 / 2)),
        ("Al2O3(l)", "Al", "O2", (1 / 3, 1 / 4)),
    ],
)
def test_a_melt_gives_metal_and_non_metal(formula, at_cathode, at_anode, moles):
    cell = fp.Cell(formula)
    rule = cell.rule()
    assert (rule.cathode.product, rule.anode.product) == (at_cathode, at_anode)
    assert "no water" in rule.cathode.steps[0]
    assert "H⁺" not in " ".join(rule.cathode.steps)
    assert cell.rule_amounts_mol(FARADAY_C_MOL) == pytest.approx(moles)


@pytest.mark.parametrize("formula", melts())
def test_a_melt_is_not_run(formula):
    with pytest.raises(InputError, match="no bench model for melts"):
        fp.Cell(formula).run(minutes=1)


@pytest.mark.parametrize("formula", non_electrolytes())
def test_the_lamp_stays_dark_and_the_run_says_why(formula):
    run = fp.Cell(formula, lamp=LAMP).run(minutes=2, samples=3)
    assert run.current_A.max() < 1e-3 * LAMP.rated_A
    assert non_electrolytes()[formula].reason in run.warnings
    assert any("trace of salt" in said for said in run.warnings)


@pytest.mark.parametrize(
    ("formula", "metal_g", "other_g"),
    # 600 C by hand, with rounded molar masses: m = (Q / F) M / z
    [
        ("NaCl(l)", 600 / 96485 * 22.99, 600 / 96485 * 70.90 / 2),
        ("PbBr2(l)", 600 / 96485 * 207.2 / 2, 600 / 96485 * 159.8 / 2),
        ("ZnCl2(l)", 600 / 96485 * 65.38 / 2, 600 / 96485 * 70.90 / 2),
        ("Al2O3(l)", 600 / 96485 * 26.98 / 3, 600 / 96485 * 32.00 / 4),
    ],
)
def test_a_current_through_a_melt_makes_what_faradays_law_says(formula, metal_g, other_g):
    run = MeltRun(fp.Cell(formula), current_A=0.5, minutes=20)
    assert run.charge_C[-1] == pytest.approx(600)
    made = [float(run.mass_g(role)[-1]) for role in ("cathode", "anode")]
    assert made == pytest.approx([metal_g, other_g], rel=1e-3)
    halfway = run.time_s.size // 2
    assert float(run.mass_g("cathode")[halfway]) == pytest.approx(made[0] / 2)
    words = " ".join(step.sentence for step in melt_explanation(run, Wording()))
    assert "600\u00a0C" in words
    assert "solution" not in words
    assert run.made_text("cathode") in words
    assert run.made_text("anode") in words


def test_every_product_of_a_melt_says_how_it_is_seen_and_drawn():
    for formula in melts():
        rule = fp.Cell(formula).rule()
        assert form_of(rule.cathode.product) in {"sinks", "floats", "settles"}
        assert form_of(rule.anode.product) == "gas"
        for product in (rule.cathode.product, rule.anode.product):
            assert "solution" not in seen_in_melt(product)


def test_a_board_that_names_electrodes_by_sign_is_heard_in_a_melts_explanation():
    run = MeltRun(fp.Cell("PbBr2(l)"), 1.0, 10.0)
    words = " ".join(
        f"{step.title} {step.sentence}"
        for step in melt_explanation(run, Wording(electrode_names="negative"))
    )
    assert "negative electrode" in words
    assert "athode" not in words
    assert "node" not in words


@pytest.mark.parametrize("formula", melts())
def test_a_melt_is_linked_to_with_its_current_and_time(formula):
    setup, said = read_cell(f"{formula},A=0.2,min=10")
    assert (setup.melt_current_A, setup.minutes, said) == (0.2, 10, [])
    assert read_cell(write_cell(setup)) == (setup, [])
    assert setup.label.startswith("molten ")
    plain, _ = read_cell(formula)
    assert plain.current_A == 1.0


@pytest.mark.parametrize(
    "part", ["anode=copper", "c=0.1", "also=NaCl:0.1", "in=U-tube", "lamp=none", "V=9", "C=18"]
)
def test_what_a_melt_does_not_take_is_left_out_with_a_sentence(part):
    setup, said = read_cell(f"PbBr2(l),{part}")
    assert setup == read_cell("PbBr2(l)")[0]
    (sentence,) = said
    assert "only a current and a time for a melt" in sentence


def test_only_the_lesson_shows_melts_and_other_pages_say_so():
    link = "?cells=NaCl;PbBr2(l);KI&open=2"
    state, said = from_link(link, PrepareState())
    assert [each.solution for each in state.cells] == ["NaCl", "KI"]
    assert (state.open, said) == (
        1,
        ["Molten lead(II) bromide was left out: only Demonstrate shows melts."],
    )
    state, said = from_link("?cells=PbBr2(l)", PrepareState())
    assert state.cells == PrepareState().cells
    state, said = from_link(link, DemonstrateState())
    assert (len(state.cells), said) == (3, [])


def test_a_melt_has_no_long_run_of_chlorine_to_warn_of():
    assert not CellSetup("NaCl(l)", supply_V=None, current_A=1.0, minutes=30).only_calculated
