"""What a run shows of its liquid: ions and molecules that a class knows, each with its complexes."""

from __future__ import annotations

import numpy as np
import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.cell import Liquid
from fizzplate.chemistry import parse_formula, solutions


@pytest.mark.parametrize("formula", [f for f, salt in solutions().items() if salt.ions])
def test_every_species_shown_has_a_name_that_a_class_can_read(formula):
    liquid = Liquid.of(fp.Cell(formula, anode="silver", cathode="copper"))
    named = {row["species"] for row in data.rows("species")}
    assert {*liquid.ions, *liquid.dissolved} <= named


@pytest.mark.parametrize(
    ("solution", "metal", "shown"),
    [
        ("CuCl2", "Cu", {"Cu2+", "CuCl2-"}),
        ("Zn(NO3)2", "Zn", {"Zn2+", "Zn(OH)4^2-"}),
        ("FeSO4", "Fe", {"Fe2+", "Fe3+"}),
        ("Pb(NO3)2", "Pb", {"Pb2+", "Pb(OH)3-"}),
    ],
)
def test_a_metal_is_all_there_among_the_ions_shown(solution, metal, shown):
    """What a chart or a colour is drawn from misses no complex, hydrolysed, with halide or in alkali."""
    run = fp.Cell(solution, lamp=fp.Lamp(6.0, 0.06)).run(minutes=2, samples=5)
    holders = {ion for ion in run.ions if parse_formula(ion).elements.get(metal)}
    assert holders == shown
    dissolved = sum(run.concentration(ion) @ run.volume_m3 for ion in holders)
    clouds = sum(
        parse_formula(solid).elements.get(metal, 0) * run.haze_mol(solid) for solid in run.hazes
    )
    on_electrodes = sum(record.mass_g(metal) for record in (run.cathode, run.anode))
    on_electrodes = on_electrodes / fp.chemistry.molar_mass_g_mol(metal)
    if "PbO2" in run.anode.solids:
        on_electrodes = on_electrodes + run.anode.mass_g("PbO2") / (
            fp.chemistry.molar_mass_g_mol("PbO2")
        )
    charge = sum(
        parse_formula(name).charge * run.concentration(name) for name in (*run.ions, *run.dissolved)
    )
    assert np.abs(charge).max() < 1e-6 * 500
    whole = dissolved + clouds + on_electrodes
    assert whole == pytest.approx(np.full(5, whole[0]), rel=1e-9)
    assert float(whole[0] - dissolved[-1]) > 1e-6 * whole[0]


@pytest.mark.parametrize(
    ("solution", "strength", "pH", "off"),
    [
        ("NaCl", 0.5, 7.0, 0.01),  # whatever the salt, as much H+ as OH- is active
        (
            "HCl",
            0.1,
            1.1,
            0.03,
        ),  # of its concentration alone 1.0; a meter reads 1.09 to 1.11 (practice)
        ("NaOH", 0.5, 13.52, 0.05),
        ("H2SO4", 0.1, 1.01, 0.05),  # pitzer.dat of PHREEQC
    ],
)
def test_the_pH_is_that_of_a_meter(solution, strength, pH, off):
    liquid = Liquid.of(fp.Cell(solution, concentration_mol_dm3=strength))
    assert liquid.pH == pytest.approx(np.full(liquid.position_m.size, pH), abs=off)


def test_the_pH_at_a_face_is_that_of_the_liquid_there():
    run = fp.Cell("Na2SO4", current_A=0.02).run(minutes=1, samples=3)
    assert run.cathode.pH == pytest.approx(run.pH[:, 0])
    assert run.anode.pH == pytest.approx(run.pH[:, -1])
