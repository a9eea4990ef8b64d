"""Limiting currents, transition times and profiles against their closed formulae.

Levich, Sand and the ambipolar diffusion of a binary salt (textbook results), at the constant
coefficients of infinite dilution (CRC Handbook, 97th edition), for which alone the formulae hold.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.published.databases import crc_diffusion_m2_s

import fizzplate as fp
from fizzplate.cell.physics.mixing import Stirring
from fizzplate.cell.solver import batch as engine
from fizzplate.cell.solver.transport import Transport
from fizzplate.chemistry.constants import FARADAY_C_MOL

COPPER, SULFATE = crc_diffusion_m2_s("Cu2+", 2), crc_diffusion_m2_s("SO4^2-", -2)
AREA_M2 = 5.5e-4
FILM_M = 4e-4


@pytest.fixture(autouse=True)
def infinite_dilution(monkeypatch):
    """Build the transport model with the concentration corrections off."""
    corrected = engine.Model.of
    monkeypatch.setattr(
        engine.Model, "of", classmethod(lambda _, cell: corrected(cell, corrections=False))
    )
    # the formulae are of a still film: a trace of hydrogen or a lighter liquid would stir it
    monkeypatch.setattr(Stirring, "wanted_m2_s", lambda *_: (0.0, 0.0))
    monkeypatch.setattr(Transport, "let_films_flow", lambda *_: None)


def copper_cell(solution, **options):
    return fp.Cell(solution, anode="copper", cathode="copper", **options)


def copper_density_A_m2(run):
    return float(run.current_A[-1] * run.cathode.share("Cu")[-1]) / AREA_M2


# along the plateau: beyond it hydrogen takes over
@pytest.mark.parametrize("supply_V", [1.2, 1.5, 1.8])
def test_limiting_current_of_copper_sulfate_alone(supply_V):
    """j = 2 n F D c / delta for a z:z salt: 27.56 A/m2 at 0.100 mol/dm3 and 1 mm."""
    run = copper_cell("CuSO4", concentration_mol_dm3=0.1, supply_V=supply_V).run(
        minutes=6, samples=13
    )
    bulk = float(run.concentration("Cu2+")[-1][run.position_m.size // 2])
    expected = 2 * 2 * FARADAY_C_MOL * COPPER * bulk / FILM_M
    by_hand = 2 * 2 * FARADAY_C_MOL * COPPER * 100 / 1e-3
    assert by_hand == pytest.approx(27.56, rel=1e-3)
    # the nearest layer of 0.2 um and the trace of acid are worth a per cent
    assert copper_density_A_m2(run) == pytest.approx(expected, rel=0.02)


def test_limiting_current_with_excess_of_another_salt_is_half_of_it():
    run = copper_cell({"CuSO4": 0.01, "Na2SO4": 1.0}, supply_V=0.6).run(minutes=6, samples=13)
    bulk = float(run.concentration("Cu2+")[-1][run.position_m.size // 2])
    expected = 2 * FARADAY_C_MOL * COPPER * bulk / FILM_M
    assert copper_density_A_m2(run) == pytest.approx(expected, rel=0.03)


def test_transition_time_of_copper_sulfate():
    """Sand: tau = pi D (n F c / (2 j (1 - t)))^2 with the salt's D; 17.44 s at 200 A/m2."""
    transport_number = COPPER / (COPPER + SULFATE)
    salt = 2 * COPPER * SULFATE / (COPPER + SULFATE)

    def sand_s(density_A_m2):
        reach = 2 * FARADAY_C_MOL * 100 / (2 * density_A_m2 * (1 - transport_number))
        return math.pi * salt * reach**2

    assert sand_s(200) == pytest.approx(17.44, rel=1e-3)
    # 1000 A/m2, so that depletion stays well inside the film
    cell = copper_cell("CuSO4", concentration_mol_dm3=0.1, current_A=1000 * AREA_M2)
    run = cell.run(minutes=1.5 / 60, samples=1501)
    seen_s = float(run.time_s[np.argmax(run.cathode.share("H2") > 0.5)])
    # the ordinary grid; a refined one is for the full proof
    assert seen_s == pytest.approx(sand_s(1000), rel=0.03)


def test_profile_between_copper_electrodes_is_straight_in_the_films():
    run = copper_cell("CuSO4", concentration_mol_dm3=0.1, supply_V=0.1).run(minutes=6, samples=7)
    inside = run.position_m < FILM_M
    profile = run.concentration("Cu2+")[-1][inside]
    line = np.polyval(np.polyfit(run.position_m[inside], profile, 1), run.position_m[inside])
    assert np.abs(profile - line).max() < 0.005 * profile.max()
    whole = run.concentration("Cu2+")[-1]
    assert whole[0] + whole[-1] == pytest.approx(200.0, rel=0.01)


def test_a_limiting_current_without_migration_fails_for_the_salt_alone():
    run = copper_cell("CuSO4", concentration_mol_dm3=0.1, supply_V=1.6).run(minutes=6, samples=13)
    with pytest.raises(AssertionError):
        assert copper_density_A_m2(run) == pytest.approx(
            2 * FARADAY_C_MOL * COPPER * 100 / FILM_M, rel=0.02
        )
