"""Worked runs against solutions written separately: nothing of the package's equations is used here.

A finite-volume Nernst-Planck model of its own, on an even grid, solved by scipy; and Sand's formula.
Both hold for constant coefficients, so the package's corrections for concentration are off.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import fizzplate as fp
from fizzplate.cell.solver import batch as engine

FARADAY = 96485.33212  # C/mol
# diffusion at infinite dilution, m2/s: CRC Handbook of Chemistry and Physics, 97th edition
D_COPPER, D_SODIUM, D_SULFATE = 0.714e-9, 1.334e-9, 1.065e-9
GAP_M, AREA_M2 = 1e-3, 1e-4
CELLS = 200


@pytest.fixture(autouse=True)
def infinite_dilution(monkeypatch):
    corrected = engine.Model.of
    monkeypatch.setattr(
        engine.Model, "of", classmethod(lambda _, cell: corrected(cell, corrections=False))
    )


def column(solution, **options):
    return fp.Cell(
        solution,
        anode="copper",
        cathode="copper",
        vessel="still column",
        immersed_area_cm2=1.0,
        **options,
    )


def profiles(copper, sodium, current_A, seconds):
    """Return places and the concentrations of copper and sodium ions, mol/m3, (CELLS,) each.

    Copper and sodium sulfate between copper plates: the unknowns are the two cations, sulfate makes
    the liquid neutral; between cells the field is what carries the current by all three.
    """
    step = GAP_M / CELLS
    density = current_A / AREA_M2

    def rates(_, y):
        cu, na = y[:CELLS], y[CELLS:]
        so4 = cu + na / 2
        ions = ((2, D_COPPER, cu), (1, D_SODIUM, na), (-2, D_SULFATE, so4))
        mean = [(z, d, (c[1:] + c[:-1]) / 2) for z, d, c in ions]
        slope = [(z, d, (c[1:] - c[:-1]) / step) for z, d, c in ions]
        # positive towards the anode at the far end; the current runs to the cathode at place 0
        by_field = sum(z * z * d * c for z, d, c in mean)
        by_slope = sum(z * d * s for z, d, s in slope)
        field = (density / FARADAY - by_slope) / by_field
        flux_cu = -D_COPPER * (slope[0][2] + 2 * mean[0][2] * field)
        flux_na = -D_SODIUM * (slope[1][2] + mean[1][2] * field)
        at_plates = -density / (2 * FARADAY)
        flux_cu = np.concatenate([[at_plates], flux_cu, [at_plates]])
        flux_na = np.concatenate([[0.0], flux_na, [0.0]])
        return np.concatenate([-np.diff(flux_cu), -np.diff(flux_na)]) / step

    start = np.concatenate([np.full(CELLS, copper), np.full(CELLS, sodium)])
    solution = solve_ivp(rates, (0, seconds), start, method="BDF", rtol=1e-8, atol=1e-8)
    place = (np.arange(CELLS) + 0.5) * step
    return place, solution.y[:CELLS, -1], solution.y[CELLS:, -1]


@pytest.mark.parametrize("minutes", [1, 5, 30])
def test_copper_and_sodium_sulfate_between_copper_plates(minutes):
    """The flux of the separate model has its own field; half a per cent is the two grids' error."""
    current_A = 6e-4
    run = column({"CuSO4": 0.05, "Na2SO4": 0.1}, gap_cm=0.1, current_A=current_A).run(
        minutes=minutes, samples=3
    )
    place, copper, sodium = profiles(50.0, 200.0, current_A, 60.0 * minutes)
    for ion, other, scale in (("Cu2+", copper, 50.0), ("Na+", sodium, 200.0)):
        ours = np.interp(place, run.position_m, run.concentration(ion)[-1])
        assert np.abs(ours - other).max() < 0.005 * scale
    # something did happen
    assert copper.max() - copper.min() > 10


def test_a_separate_model_at_a_tenth_more_current_fails():
    run = column({"CuSO4": 0.05, "Na2SO4": 0.1}, gap_cm=0.1, current_A=6e-4).run(
        minutes=5, samples=3
    )
    place, copper, _ = profiles(50.0, 200.0, 6.6e-4, 300.0)
    ours = np.interp(place, run.position_m, run.concentration("Cu2+")[-1])
    with pytest.raises(AssertionError):
        assert np.abs(ours - copper).max() < 0.005 * 50.0


def test_sands_time_on_a_fine_grid():
    """tau = pi D (n F c / (2 j (1 - t)))^2: 17.44 s for 0.100 mol/dm3 copper(II) sulfate at 200 A/m2."""
    transport_number = D_COPPER / (D_COPPER + D_SULFATE)
    salt = 2 * D_COPPER * D_SULFATE / (D_COPPER + D_SULFATE)
    sand_s = math.pi * salt * (2 * FARADAY * 100 / (2 * 200 * (1 - transport_number))) ** 2
    assert sand_s == pytest.approx(17.44, rel=1e-3)
    cell = column("CuSO4", concentration_mol_dm3=0.1, gap_cm=0.2, current_A=0.02)
    run = cell.run(minutes=20 / 60, samples=2001)
    seen_s = float(run.time_s[np.argmax(run.cathode.share("H2") > 0.5)])
    assert seen_s == pytest.approx(sand_s, rel=0.005)
