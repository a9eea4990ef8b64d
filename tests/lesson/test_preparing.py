"""Amounts, times, air and plans: against hand calculations and what departments know."""

from __future__ import annotations

import math

import periodictable
import pytest

from fizzplate.chemistry import solutions
from fizzplate.chemistry.checks import InputError
from fizzplate.lesson import CORE, CellSetup, Wording
from fizzplate.lesson.amounts import Cupboard, Needs, amount, solids
from fizzplate.lesson.room_air import air_budget, air_of, alkali_mmol
from fizzplate.lesson.sheets import sheets
from fizzplate.lesson.showing import will_it_show
from fizzplate.lesson.timetable import one_period, plan

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


@pytest.mark.parametrize("formula", list(solutions()))
def test_masses_agree_with_another_table_of_atomic_masses(formula):
    strength = min(0.5, solutions()[formula].solubility_mol_dm3)
    found = amount(formula, strength, groups=1, each_cm3=900, balance_g=0.001)
    solid = found.solid.replace(".", "+").replace("(", "(")
    parts = [periodictable.formula(part).mass for part in solid.split("+")]
    assert found.mass_g == pytest.approx(strength * sum(parts), rel=1e-3)


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
        ({"purity_percent": 0}, "purity_percent"),
    ],
)
def test_what_cannot_be_made_is_refused(changes, words):
    given = {"formula": "CuSO4", "concentration_mol_dm3": 0.5, **CLASS, **changes}
    with pytest.raises(InputError, match=words):
        amount(**given)


def test_silver_asks_for_distilled_water():
    assert any("istilled" in text for text in amount("AgNO3", 0.1, **CLASS).says)
    assert solids("CuSO4") == ("CuSO4.5H2O", "CuSO4")


def test_a_coloured_cathode_comes_before_a_mass_that_counts():
    shown = will_it_show(CellSetup("CuSO4", lamp="none"))
    assert shown.colour_min < 0.5
    assert shown.colour_min < shown.balance_min < math.inf
    assert shown.range_A[0] < shown.current_A < shown.range_A[1]
    assert shown.bubbles_min[0] > shown.bubbles_min[1]


def test_the_lamp_keeps_a_coarse_balance_from_showing_enough():
    assert will_it_show(CellSetup("CuSO4")).balance_min == math.inf


def test_the_budget_of_the_trade():
    """60 C make 22 mg of chlorine; fifteen groups in 200 m3: 1.65 mg/m3 (computed by the trade)."""
    rate = 0.3675 * 0.2  # mg/s at 0.2 A
    found = air_budget("Cl2", rate, 5, groups=15, room_m3=200, air_changes_h=0)
    assert found.group_mg == pytest.approx(22, abs=0.1)
    assert found.concentration_mg_m3 == pytest.approx(1.65, abs=0.01)
    assert found.stop_min == pytest.approx(5 * 1.5 / 1.65, abs=0.05)


def test_air_changes_keep_the_level_below_a_ceiling():
    still = air_budget("Cl2", 0.05, 60, groups=15, room_m3=200, air_changes_h=0)
    aired = air_budget("Cl2", 0.05, 60, groups=15, room_m3=200, air_changes_h=6)
    ceiling = 15 * 0.05 / 200 / (6 / 3600)
    assert aired.concentration_mg_m3 < min(ceiling, still.concentration_mg_m3)
    again = air_budget("Cl2", 0.05, 600, groups=15, room_m3=200, air_changes_h=6)
    assert again.concentration_mg_m3 == pytest.approx(ceiling, rel=1e-3)
    slow = air_budget("Cl2", 1e-4, 60, groups=1, room_m3=200, air_changes_h=6)
    assert slow.stop_min == math.inf


def test_only_halides_have_a_budget():
    room = {"groups": 15, "room_m3": 200, "air_changes_h": 2}
    assert air_of(CellSetup("NaCl"), **room).gas == "Cl2"
    assert air_of(CellSetup("KBr"), **room).gas == "Br2"
    assert air_of(CellSetup("CuSO4"), **room) is None
    assert air_of(CellSetup("H2O"), **room) is None


def test_alkali_is_that_of_the_charge():
    """60 C in brine: up to 0.62 mmol of hydroxide (computed by the trade)."""
    assert alkali_mmol(CellSetup("NaCl", supply_V=None, current_A=0.2)) == pytest.approx(
        0.62, abs=0.02
    )
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
    entries, says = one_period(setups, period)
    assert sum(entry.minutes for entry in entries) <= period + 1e-9
    runs = [entry for entry in entries if "run" in entry.what]
    assert len(runs) == count or "shares its results" in says


def test_sheets_hold_every_solution_and_defer_to_the_school():
    setups = (*(CellSetup(formula) for formula in CORE), CellSetup("AgNO3", 0.1), CellSetup("H2O"))
    made = {sheet.name: sheet for sheet in sheets(setups, Needs(15, 60, 10, 0.1), Wording())}
    assert list(made) == ["order", "labels", "equipment", "risk", "worksheet", "answers"]
    for name in ("order", "labels", "risk", "worksheet", "answers"):
        for setup in setups[:-1]:
            assert setup.cell().name in made[name].html
    assert "local rules" in made["risk"].html
    assert "check against your own rules" in made["order"].html
    assert "Draft only" in made["risk"].html
    assert "2Cl⁻ → Cl₂ + 2e⁻" in made["answers"].html
    assert "2Cl⁻" not in made["worksheet"].html


def printed(setup, cupboards=None):
    """The sheets of one solution, by name."""
    made = sheets((setup,), Needs(15, 60, 10, 0.1), Wording(), cupboards)
    return {sheet.name: sheet.html for sheet in made}


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
