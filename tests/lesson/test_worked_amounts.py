"""Amounts worked out line by line, forwards and backwards, against an independent calculation."""

from __future__ import annotations

import re

import pint
import pytest
from tests.questions.plain_spaces import with_plain_spaces

from fizzplate.lesson.measure.worked_amounts import (
    PRODUCTS,
    amount_working,
    electrons_for,
    time_or_current_working,
)
from fizzplate.words.refusals import InputError

FARADAY = 96485.33212


@pytest.mark.parametrize("product", PRODUCTS)
def test_the_working_agrees_with_an_independent_calculation(product):
    units = pint.UnitRegistry()
    charge = 0.45 * units.ampere * 17.5 * units.minute
    moles = (charge / (FARADAY * units.coulomb / units.mole) / electrons_for(product)).to("mole")
    steps = with_plain_spaces(amount_working(product, 0.45, 17.5))
    assert f"{charge.to('coulomb').magnitude:.6g} C" in steps[1]
    shown = float(steps[3].rsplit("= ", 1)[1].split()[0])
    assert shown == pytest.approx(moles.magnitude, rel=0.005)


def test_the_worked_example_of_a_textbook():
    """OpenStax, Chemistry 2e, example 17.9: Ag+, 10.23 A, 1 h: 36 830 C, 0.3817 mol, 41.19 g."""
    steps = with_plain_spaces(amount_working("Ag", 10.23, 60, figures=4))
    assert "36 828 C" in steps[1]
    assert "0.3817 mol" in steps[2]
    assert float(steps[-1].rsplit("= ", 1)[1].split()[0]) == pytest.approx(41.19, rel=0.005)


def test_forwards_and_backwards_meet():
    mass = float(amount_working("Cu", 0.5, 30)[-1].rsplit("= ", 1)[1].split()[0])
    assert mass == pytest.approx(0.296, abs=0.001)  # trade: 296 mg
    lasts = with_plain_spaces(time_or_current_working("Cu", mass, current_A=0.5))
    assert "30.0 min" in lasts[-1]
    needs = with_plain_spaces(time_or_current_working("Cu", mass, minutes=30))
    assert "0.499 A" in needs[-1]  # 0.296 g is rounded


def test_gases_are_worked_out_backwards_from_their_volume():
    steps = with_plain_spaces(
        amount_working("Cl2", 0.2, 10, seconds=30, temperature_C=20, figures=4)
    )
    assert "10 min × 60 + 30 s = 630 s" in steps[0]
    volume = float(re.search(r"= ([\d.]+) cm³", steps[-1])[1])
    assert "= 630" in time_or_current_working(
        "Cl2", volume_cm3=volume, current_A=0.2, temperature_C=20, figures=3
    )[-1]  # fmt: skip
    needs = time_or_current_working(
        "Cl2", volume_cm3=volume, minutes=10, seconds=30, temperature_C=20, figures=3
    )
    assert "0.200 A" in with_plain_spaces(needs[-1])
    with pytest.raises(InputError):
        time_or_current_working("Cu", volume_cm3=30, current_A=0.2)
