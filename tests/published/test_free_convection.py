"""Limiting currents of copper against the correlation for free convection at a vertical plate.

Wilke, Eisenberg and Tobias, J. Electrochem. Soc. 100, 513 (1953): ``Sh = 0.67 (Sc Gr)^(1/4)``, from memory,
with ``Sc Gr = g d_rho L^3 / (rho nu D)`` and a face without copper ions. Copper(II) sulfate alone, so ions
also migrate: ``j = 2 F k c / (1 - t)`` with the salt's diffusion coefficient.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.chemistry.constants import FARADAY_C_MOL

# a rod of 5 mm, 5.5 cm2 wetted
AREA_M2 = 5.5e-4
HEIGHT_M = AREA_M2 / (math.pi * 5e-3)
GRAVITY_M_S2, WATER_KG_M3, VISCOSITY_M2_S = 9.81, 997.0, 0.893e-6
# CRC Handbook: 1 % by mass is 0.0632 mol/dm3 and 10.4 g/dm3 heavier than water (from memory, 3 %)
HEAVIER_KG_MOL = 0.165
# mol/dm3; diffusion coefficient of the salt, 1e-9 m2/s (from memory, 10 %); transport number of the copper
# ion (Pikal and Miller 1970, by Hittorf); voltage on the plateau
SOLUTIONS = {0.01: (0.72, 0.387, 1.5), 0.1: (0.59, 0.358, 3.0)}


def wilke_A_m2(strength_mol_dm3):
    c = 1e3 * strength_mol_dm3
    diffusion, transport_number, _ = SOLUTIONS[strength_mol_dm3]
    diffusion_m2_s = 1e-9 * diffusion
    heavier = HEAVIER_KG_MOL * c / WATER_KG_M3
    rayleigh = GRAVITY_M_S2 * heavier * HEIGHT_M**3 / (VISCOSITY_M2_S * diffusion_m2_s)
    k_m_s = 0.67 * rayleigh**0.25 * diffusion_m2_s / HEIGHT_M
    return 2 * FARADAY_C_MOL * k_m_s * c / (1 - transport_number)


def at_the_limit(strength_mol_dm3, **options):
    return fp.Cell(
        "CuSO4",
        anode="copper",
        cathode="copper",
        concentration_mol_dm3=strength_mol_dm3,
        **{"supply_V": SOLUTIONS[strength_mol_dm3][-1]} | options,
    ).run(minutes=15, samples=16)


def copper_A_m2(run, area_m2=AREA_M2):
    return run.current_A * run.cathode.share("Cu") / area_m2


@pytest.mark.parametrize("strength_mol_dm3", SOLUTIONS)
def test_limiting_current_of_copper_by_free_convection(strength_mol_dm3):
    run = at_the_limit(strength_mol_dm3)
    assert run.concentration("Cu2+")[-1][0] < 0.1 * 1e3 * strength_mol_dm3
    density_A_m2 = float(copper_A_m2(run)[-1])
    assert density_A_m2 == pytest.approx(wilke_A_m2(strength_mol_dm3), rel=0.25)


def test_it_grows_with_the_power_of_five_quarters_of_the_strength():
    weak, strong = (float(copper_A_m2(at_the_limit(c))[-1]) for c in SOLUTIONS)
    ratio = wilke_A_m2(0.1) / wilke_A_m2(0.01)
    assert (
        ratio > 14
    )  # 10^(5/4), less what slows the ions; a film of one thickness gives less than 10
    assert strong / weak == pytest.approx(ratio, rel=0.15)


def test_a_shorter_rod_takes_more_current_for_its_area():
    # Sh / L goes with L^(-1/4)
    long, short = (
        float(copper_A_m2(at_the_limit(0.1, immersed_area_cm2=cm2, supply_V=V), 1e-4 * cm2)[-1])
        for cm2, V in ((8.0, 3.0), (2.0, 4.0))
    )
    assert short / long == pytest.approx(4**0.25, rel=0.1)


def test_where_nothing_flows_the_layer_keeps_growing():
    column = fp.Cell(
        "CuSO4",
        anode="copper",
        cathode="copper",
        vessel="still column",
        gap_cm=2.0,
        concentration_mol_dm3=0.01,
        supply_V=1.5,
    ).run(minutes=15, samples=16)
    density = copper_A_m2(column, 1e-4)
    # Cottrell: with the square root of the time
    assert density[15] / density[5] == pytest.approx(3**-0.5, rel=0.1)
    beaker = copper_A_m2(at_the_limit(0.01))
    assert np.ptp(beaker[5:]) < 0.03 * beaker[5]
