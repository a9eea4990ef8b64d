"""Amounts, times, air and plans: against hand calculations and what departments know."""

from __future__ import annotations

import math
import re

import periodictable
import pytest
from tests.questions.plain_spaces import with_plain_spaces

from fizzplate.cell import heating
from fizzplate.cell.solver.batch import simulate
from fizzplate.chemistry import solutions
from fizzplate.lesson import CORE, CellSetup, Wording
from fizzplate.lesson.prepare.amounts import ClassNeeds, Cupboard, acid_stocks, amount, solids
from fizzplate.lesson.prepare.room_air import (
    HYDROGEN_BURNS_PERCENT,
    alkali_mmol,
    halogen_budget,
    halogen_budget_of,
    hydrogen_budget,
)
from fizzplate.lesson.prepare.sheets import sheets
from fizzplate.lesson.prepare.timetable import one_period, plan
from fizzplate.lesson.prepare.visibility import (
    current_range_A,
    visibility,
    visibility_advice,
    visibility_without_lamp,
)
from fizzplate.lesson.prepare.worksheet import answers
from fizzplate.lesson.rule import observations
from fizzplate.words.field_labels import LABELS, page_refusal
from fizzplate.words.refusals import InputError

CLASS = {"groups": 15, "each_cm3": 60}


@pytest.mark.parametrize(
    ("formula", "solid", "mass"),
    [
        ("CuSO4", "CuSO4.5H2O", 124.8),
        ("CuCl2", "CuCl2.2H2O", 85.2),
        ("Na2SO4", "Na2SO4", 71.0),
        ("Na2SO4", "Na2SO4.10H2O", 161.1),
        ("KBr", "KBr", 59.5),
        ("KI", "KI", 83.0),
        ("ZnSO4", "ZnSO4.7H2O", 143.8),
        ("MgSO4", "MgSO4.7H2O", 123.2),
        ("Cu(NO3)2", "Cu(NO3)2.3H2O", 120.8),
    ],
)
def test_masses_for_a_litre_are_those_of_the_trade(formula, solid, mass):
    found = amount(formula, 0.5, **CLASS, solid=solid)
    assert found.make_cm3 == 1000
    assert found.mass_g == pytest.approx(mass, abs=0.11)


@pytest.mark.parametrize("formula", [each for each in solutions() if each not in acid_stocks()])
def test_masses_agree_with_another_table_of_atomic_masses(formula):
    strength = min(0.5, solutions()[formula].solubility_mol_dm3)
    found = amount(formula, strength, groups=1, each_cm3=900, balance_g=0.001)
    solid = found.solid.replace(".", "+").replace("(", "(")
    parts = [periodictable.formula(part).mass for part in solid.split("+")]
    assert found.mass_g == pytest.approx(strength * sum(parts), rel=1e-3)


@pytest.mark.parametrize(
    ("groups", "each_cm3", "spare_percent", "flask_cm3"),
    [
        (10, 100, 0, 1000),  # full to the mark
        (8, 100, 25, 1000),
        (1, 100, 0, 100),
        (5, 50.2, 0, 500),  # 251 cm3 do not go into 250
        (50, 100, 0, 5000),
        (60, 100, 0, 6000),  # more than the largest: whole litres
        (61, 100, 0, 7000),
    ],
)
def test_the_smallest_flask_that_holds_it_is_taken_even_if_it_is_exactly_full(
    groups, each_cm3, spare_percent, flask_cm3
):
    found = amount("NaCl", 0.5, groups=groups, each_cm3=each_cm3, spare_percent=spare_percent)
    assert found.make_cm3 == flask_cm3
    assert found.needed_cm3 <= found.make_cm3


def test_purity_dilution_and_rounding():
    pure = amount("NaCl", 1.0, **CLASS).mass_g
    assert amount("NaCl", 1.0, **CLASS, purity_percent=80).mass_g == pytest.approx(
        pure / 0.8, abs=0.06
    )
    diluted = amount("HCl", 0.5, **CLASS, stock_mol_dm3=2.0)
    assert (diluted.stock_cm3, diluted.mass_g) == (250, 0)
    coarse = amount("CuSO4", 0.5, **CLASS, balance_g=1.0)
    assert coarse.mass_g == 125


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"concentration_mol_dm3": 3.0}, "no more dissolves"),
        ({"solid": "NaCl"}, "solid"),
        ({"solid": "CuSO4.5HCl"}, "solid"),
        ({"stock_mol_dm3": 0.1}, "stock_mol_dm3"),
        ({"groups": 0}, "groups"),
        ({"groups": 15.6}, "a whole number from 1 to 100"),
        ({"balance_g": 10, "concentration_mol_dm3": 0.001}, "balance_g"),
        ({"purity_percent": 0}, "purity_percent"),
    ],
)
def test_what_cannot_be_made_is_refused(changes, words):
    given = {"formula": "CuSO4", "concentration_mol_dm3": 0.5, **CLASS, **changes}
    with pytest.raises(InputError, match=words):
        amount(**given)


def test_silver_asks_for_distilled_water():
    assert any("istilled" in text for text in amount("AgNO3", 0.1, **CLASS).notes)
    assert solids("CuSO4") == ("CuSO4.5H2O", "CuSO4")


def test_a_coloured_cathode_comes_before_a_mass_that_counts():
    shown = visibility(CellSetup("CuSO4", lamp="none"))
    assert shown.colour_min < 0.5
    assert shown.colour_min < shown.balance_min < math.inf
    low, high = current_range_A(CellSetup("CuSO4", lamp="none"))
    assert low < shown.current_A < high
    assert shown.bubbles_min[0] > shown.bubbles_min[1]


def test_the_lamp_keeps_a_coarse_balance_from_showing_enough():
    assert visibility(CellSetup("CuSO4")).balance_min == math.inf


def test_the_budget_of_the_trade():
    """60 C make 22 mg of chlorine; fifteen groups in 200 m3: 1.65 mg/m3 (computed by the trade)."""
    rate = 0.3675 * 0.2  # mg/s at 0.2 A
    found = halogen_budget("Cl2", rate, 5, groups=15, room_m3=200, air_changes_h=0)
    assert found.group_mg == pytest.approx(22, abs=0.1)
    assert found.concentration_mg_m3 == pytest.approx(1.65, abs=0.01)
    assert found.stop_min == pytest.approx(5 * 1.5 / 1.65, abs=0.05)


def test_air_changes_keep_the_level_below_a_ceiling():
    still = halogen_budget("Cl2", 0.05, 60, groups=15, room_m3=200, air_changes_h=0)
    aired = halogen_budget("Cl2", 0.05, 60, groups=15, room_m3=200, air_changes_h=6)
    ceiling = 15 * 0.05 / 200 / (6 / 3600)
    assert aired.concentration_mg_m3 < min(ceiling, still.concentration_mg_m3)
    again = halogen_budget("Cl2", 0.05, 600, groups=15, room_m3=200, air_changes_h=6)
    assert again.concentration_mg_m3 == pytest.approx(ceiling, rel=1e-3)
    slow = halogen_budget("Cl2", 1e-4, 60, groups=1, room_m3=200, air_changes_h=6)
    assert slow.stop_min == math.inf


def test_only_halides_have_a_budget():
    room = {"groups": 15, "room_m3": 200, "air_changes_h": 2}
    assert halogen_budget_of(CellSetup("NaCl"), **room).gas == "Cl2"
    assert halogen_budget_of(CellSetup("KBr"), **room).gas == "Br2"
    assert halogen_budget_of(CellSetup("CuSO4"), **room) is None
    assert halogen_budget_of(CellSetup("H2O"), **room) is None


def test_alkali_is_that_of_the_charge():
    """60 C in brine: up to 0.62 mmol of hydroxide (computed by the trade)."""
    assert alkali_mmol(
        CellSetup("NaCl", lamp="none", supply_V=None, current_A=0.2)
    ) == pytest.approx(0.62, abs=0.02)
    assert alkali_mmol(CellSetup("HCl")) == 0
    assert alkali_mmol(CellSetup("CuSO4")) == 0


@pytest.mark.parametrize("period", [40, 50, 60, 100])
def test_no_period_is_longer_than_it_is(period):
    setups = tuple(CellSetup(formula) for formula in CORE)
    periods = plan(setups, period)
    assert all(sum(entry.minutes for entry in each) <= period for each in periods)
    assert sum("run" in entry.what for each in periods for entry in each) == 4


@pytest.mark.parametrize("period", [30, 35, 40, 50, 100])
@pytest.mark.parametrize("count", [1, 4, 8])
def test_one_period_holds_everything(period, count):
    setups = tuple(CellSetup(formula) for formula in (*CORE, *CORE))[:count]
    entries, notes = one_period(setups, period)
    assert sum(entry.minutes for entry in entries) <= period + 1e-9
    runs = [entry for entry in entries if "run" in entry.what]
    assert len(runs) == count or "shares its results" in notes


def test_what_only_the_teacher_does_is_no_groups_share_of_a_period():
    of_groups = tuple(CellSetup(formula) for formula in (*CORE, *CORE))
    setups = (CellSetup("Pb(NO3)2", 0.1), *of_groups, CellSetup("NaF", 0.1))
    entries, notes = one_period(setups, 50)
    assert sum(entry.minutes for entry in entries) <= 50 + 1e-9
    by_teacher = [entry.what.split(":")[0] for entry in entries if "teacher" in entry.what]
    assert by_teacher == [f"{setups[k].label}, by the teacher only" for k in (0, -1)]
    shares = [entry for entry in entries if "of the group" in entry.what]
    assert f"Each group does {len(shares)} of 8 solutions" in notes
    entries, notes = one_period((CellSetup("NaF", 0.1),) * 9, 35)
    assert sum(entry.minutes for entry in entries) <= 35 + 1e-9
    assert "of 9 demonstrations" in notes


def test_sheets_hold_every_solution_and_defer_to_the_school():
    setups = (*(CellSetup(formula) for formula in CORE), CellSetup("AgNO3", 0.1), CellSetup("H2O"))
    made = {sheet.name: sheet for sheet in sheets(setups, ClassNeeds(15, 60, 10, 0.1), Wording())}
    names = ["order", "labels", "equipment", "disposal", "risk", "worksheet", "answers"]
    assert list(made) == names
    for name in ("order", "labels", "disposal", "risk", "worksheet", "answers"):
        for setup in setups[:-1]:
            assert setup.cell().name in made[name].html
    assert "local rules" in made["risk"].html
    assert "check against your own rules" in made["order"].html
    assert "Draft only" in made["risk"].html
    assert "2Cl⁻ → Cl₂ + 2e⁻" in made["answers"].html
    assert "2Cl⁻" not in made["worksheet"].html


def printed(setup, cupboards=None):
    """The sheets of one solution, by name."""
    made = sheets((setup,), ClassNeeds(15, 60, 10, 0.1), Wording(), cupboards)
    return {sheet.name: with_plain_spaces(sheet.html) for sheet in made}


def test_the_order_takes_what_the_cupboard_holds():
    setup = CellSetup("CuSO4", 0.5)
    usual = printed(setup)["order"]
    other = printed(setup, {"CuSO4": Cupboard(solid="CuSO4")})["order"]
    stock = printed(setup, {"CuSO4": Cupboard(stock_mol_dm3=1.0)})["order"]
    assert "124.8 g of CuSO₄·5H₂O" in usual
    assert "79.8 g of CuSO₄<" in other
    assert "500 cm³ of the stock" in stock


def test_both_substances_of_a_mixture_are_ordered_and_on_the_label():
    made = printed(CellSetup("NaCl", 0.5, also="KI", also_mol_dm3=0.1))
    assert "29.2 g of NaCl" in made["order"]
    assert "16.6 g of KI" in made["order"]
    assert "NaCl and KI, 0.5 and 0.1 mol/dm³" in made["labels"]


def test_a_mass_that_the_balance_rounds_away_is_remarked_on():
    few = {"groups": 1, "each_cm3": 60, "spare_percent": 0}
    fine = amount("NaCl", 0.1, **few, balance_g=0.01)  # 0.58 g
    coarse = amount("NaCl", 0.1, **few, balance_g=0.1)  # 0.6 g: +2.7 %
    assert not any("A balance that reads" in text for text in fine.notes)
    remark = (
        "A balance that reads to 0.1\N{NO-BREAK SPACE}g can be +2.7\N{NO-BREAK SPACE}% off here"
    )
    assert any(remark in text for text in coarse.notes)


@pytest.mark.parametrize("vessel", ["beaker", "U-tube", "dish", "paper strip"])
def test_every_vessel_shows_a_range_of_currents(vessel):
    """The U-tube's widest gap is more than its liquid fills: what it cannot take is left out."""
    setup = CellSetup("NaCl", vessel=vessel, lamp="none")
    low, high = current_range_A(setup)
    assert 0 < low < visibility(setup).current_A < high


def test_all_that_a_solutions_row_shows_is_run_side_by_side(monkeypatch):
    sizes = []

    def counted(cells, *rest, **more):
        sizes.append(len(cells))
        return simulate(cells, *rest, **more)

    monkeypatch.setattr(heating, "simulate", counted)
    setup = CellSetup("CuSO4", 0.37)
    with_lamp, without = visibility(setup), visibility_without_lamp(setup)
    low, high = current_range_A(setup)
    assert low < with_lamp.current_A < high < without.current_A
    assert sizes == [4]


def test_chlorine_that_stays_dissolved_is_told_with_a_current_that_lets_it_be_seen():
    weak = {"supply_V": None, "lamp": "none"}
    setup = CellSetup("NaCl", current_A=0.001, **weak)
    said = with_plain_spaces(" ".join(visibility_advice(setup)))
    assert "Bubbles at the anode: not within 30 min, because the chlorine stays dissolved" in said
    assert "With 0.1 A" in said
    helped = CellSetup("NaCl", current_A=0.1, **weak)
    assert visibility(helped).bubbles_min[1] < setup.minutes
    assert visibility_advice(helped) == ()


def test_chlorine_that_bubbles_within_a_minute_needs_no_advice():
    for formula in ("NaCl", "CuCl2", "HCl"):
        assert visibility(CellSetup(formula)).bubbles_min[1] <= 1
        assert not any("Bubbles" in text for text in visibility_advice(CellSetup(formula)))


def test_no_current_is_advised_that_no_supply_drives():
    held = CellSetup(
        "NaCl", 0.05, vessel="U-tube", supply_V=None, current_A=0.005, lamp="none", minutes=2
    )
    said = with_plain_spaces(" ".join(visibility_advice(held)))
    assert "Bubbles at the anode" in said
    assert not [f"{a:g} A" for a in (0.2, 0.5, 1.0) if f"With {a:g} A" in said]


def test_advice_follows_the_minutes_planned_and_the_balance_typed():
    dilute = CellSetup("NaCl", 0.05, minutes=4)
    short = with_plain_spaces(visibility_advice(dilute, balance_g=0.01))
    assert any("only after 4.9 min, but the run lasts 4 min" in text for text in short)
    assert visibility_advice(CellSetup("NaCl", 0.05, minutes=30), balance_g=0.01) == ()
    coarse = visibility_advice(CellSetup("CuSO4"), balance_g=0.1)
    assert coarse != visibility_advice(CellSetup("CuSO4"), balance_g=0.01)
    coarse = with_plain_spaces(coarse)
    assert any("0.01 g and no lamp" in text for text in coarse)
    assert visibility_advice(CellSetup("H2O")) == ()


def test_hydrogen_is_far_below_what_burns_and_a_small_cupboard_is_not():
    """60 C in each of fifteen groups: 114 cm3, or 0.57 parts in a million of 200 m3, by hand."""
    room = hydrogen_budget(7.6, groups=15, room_m3=200)
    assert room.class_cm3 == pytest.approx(114)
    assert room.share_percent == pytest.approx(5.7e-5)
    assert hydrogen_budget(7.6, groups=15, room_m3=0.002).share_percent > HYDROGEN_BURNS_PERCENT


def test_a_label_says_its_band_and_sends_to_the_schools_own_data():
    labels = printed(CellSetup("CuCl2", 0.5))["labels"]
    assert "damages eyes, 0.2 to 1 mol/dm³" in labels
    assert "your own rules and safety data" in labels


def test_the_equipment_names_an_ampere_as_1000_ma_as_a_meter_does():
    strong = CellSetup("HNO3", 1.0, lamp="none", minutes=1)
    made = sheets((strong,), ClassNeeds(15, 60, 10, 0.1), Wording())
    (equipment,) = (sheet.html for sheet in made if sheet.name == "equipment")
    assert "to 1000 mA" in with_plain_spaces(equipment)
    assert "e+" not in equipment


def test_equipment_names_voltages_currents_and_the_paper_for_chlorine():
    brine = printed(CellSetup("NaCl", supply_V=9.0))["equipment"]
    assert "d.c. supply, 9 V, for currents from" in brine
    assert "starch-iodide paper" in brine
    assert "starch-iodide paper" not in printed(CellSetup("Na2SO4"))["equipment"]


def test_what_cannot_be_made_is_refused_in_its_own_row_of_the_order():
    setups = (CellSetup("CuSO4", 0.5), CellSetup("NaCl", 0.5))
    cupboards = {"CuSO4": Cupboard(stock_mol_dm3=0.1)}
    order = sheets(setups, ClassNeeds(15, 60, 10, 0.1), Wording(), cupboards)[0].html
    assert "Or dilute a stock solution of, mol/dm³: 0.1 cannot be used" in order
    assert "29.2 g of NaCl" in with_plain_spaces(order)


def test_refusals_use_the_names_above_the_fields():
    for make, label in (
        (lambda: ClassNeeds(15, -1, 10, 0.1), "Each group, cm³: −1 cannot"),
        (lambda: plan((), 20), "Period, minutes: 20 cannot"),
        (lambda: Cupboard("", 0), "Purity, %: 0 cannot"),
    ):
        with pytest.raises(InputError) as refused:
            make()
        said = page_refusal(refused.value)
        assert said.startswith(label)
        assert not any(name in said for name in LABELS if "_" in name)


def test_two_periods_are_about_as_long_as_each_other_and_a_long_run_is_cut():
    core = tuple(CellSetup(formula) for formula in CORE)
    lengths = [sum(entry.minutes for entry in each) for each in plan(core, 50)]
    assert lengths == [37, 37]
    (only,) = plan((CellSetup("CuSO4", minutes=60),), 50)
    assert sum(entry.minutes for entry in only) == 50
    assert "run 29 minutes (of 60: there is no time for more)" in only[1].what
    assert plan((), 50) == []


@pytest.mark.parametrize(
    ("salt", "anode"), [("MgSO4", "graphite"), ("NaCl", "copper"), ("CuSO4", "graphite")]
)
def test_clouds_that_demonstrate_shows_are_foretold(salt, anode):
    setup = CellSetup(salt, anode=anode)
    told = visibility(setup).liquid_text()
    _, at_the_end = observations(setup.run(samples=61))[-1]
    _, _, shown = at_the_end.partition("In the liquid: ")
    # Demonstrate says what is seen; a teacher also reads what comes of it in air
    seen = re.sub(r", which [^;]*", "", told)
    assert seen.removeprefix("in the liquid: ") == shown.partition(".")[0]
    assert bool(told) == (salt != "CuSO4")
    assert f"I{told[1:]}." in answers([setup], Wording()) or not told
