"""Solids that precipitate leave the place where they form, settle, and nowhere exceed the pure solid."""

import sys
from pathlib import Path

import numpy as np
import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.cell.physics import molar_volume_m3
from fizzplate.cell.physics.haze import Crowding

sys.path.insert(0, str(Path(__file__).parent))

from random_cells import what_does_not_hold

CLOUDED = {
    "copper(I) chloride at a copper anode in brine": {"solution": "NaCl", "anode": "copper"},
    "copper(I) chloride in a dish": {
        "solution": "NaCl",
        "anode": "copper",
        "vessel": "dish",
        "immersed_area_cm2": 0.05,
        "supply_V": 12.0,
    },
    "magnesium hydroxide on a strip": {
        "solution": "MgCl2",
        "concentration_mol_dm3": 0.008,
        "vessel": "paper strip",
        "supply_V": 30.0,
    },
    "calcium hydroxide in a still column": {
        "solution": "CaCl2",
        "concentration_mol_dm3": 0.0066,
        "cathode": "iron",
        "anode": "iron",
        "vessel": "still column",
        "supply_V": 12.0,
    },
}


@pytest.mark.parametrize("name", list(CLOUDED))
def test_solids_take_no_more_room_than_there_is_and_are_conserved(name):
    run = fp.Cell(**CLOUDED[name]).run(minutes=30, samples=31)
    assert max(float(run.haze_mol(solid)[-1]) for solid in run.hazes) > 1e-7
    filled = sum(molar_volume_m3(solid) * run.haze_mol_m3(solid) for solid in run.hazes)
    assert filled.max() < 1
    assert what_does_not_hold(run) == []
    for solid in run.hazes:
        settled_mol = run.settled_mol(solid)
        assert (np.diff(settled_mol) >= -1e-12 * settled_mol.max()).all()
        assert (settled_mol <= run.haze_mol(solid) * (1 + 1e-9)).all()


def test_what_forms_at_a_face_is_carried_into_the_liquid():
    """With nothing to carry it, all of the haze stayed within a few micrometres of the anode."""
    run = fp.Cell("NaCl", anode="copper").run(minutes=10, samples=11)
    film = run.position_m < run.position_m[-1] - 2e-4
    away_mol = sum(
        run.haze_mol_m3(solid)[-1, film] @ run.volume_m3[film] for solid in ("CuCl", "Cu2O")
    )
    assert away_mol > 0.3 * sum(float(run.haze_mol(solid)[-1]) for solid in ("CuCl", "Cu2O"))


def test_a_haze_settles_at_its_speed_and_stays_at_the_bottom_over_stages():
    run = fp.Cell("AgNO3", concentration_mol_dm3=0.1, cathode="silver", anode="silver").run(
        stages=[
            fp.Stage(1, off=True, add={"NaCl": (2.0, 0.1)}),
            fp.Stage(20, off=True),
            fp.Stage(1, off=True, water_cm3=5.0),
        ],
        samples=23,
    )
    speed_m_s = 1e-3 * data.find("model", quantity="haze settling").value
    depth_m = 1e-3 * data.find("vessels", vessel="beaker", quantity="depth").value
    made_mol = run.haze_mol("AgCl")
    floating = 1 - run.settled_mol("AgCl") / made_mol
    assert floating == pytest.approx(np.exp(-speed_m_s / depth_m * run.time_s), rel=5e-3)
    assert made_mol == pytest.approx(made_mol[0] * np.ones(23), rel=1e-4)


def test_nothing_settles_in_a_strip():
    run = fp.Cell("MgCl2", vessel="paper strip").run(minutes=10, samples=3)
    assert run.haze_mol("Mg(OH)2")[-1] > 1e-7
    assert not run.settled_mol("Mg(OH)2").any()


def test_every_solid_that_can_cloud_a_liquid_has_a_density():
    solids = {
        row["equation"].split()[0] for row in data.rows("speciation") if row["kind"] == "solid"
    }
    assert solids == {row["solid"] for row in data.rows("densities")}


def test_crowding_follows_the_share_that_is_filled():
    """The derivative by the share at a node is that of the coefficient at the face."""
    crowding = Crowding(["Mg(OH)2"])
    filled, more = np.array([[0.1, 0.4]]), np.array([[1e-6, 0.0]])
    spread, slope = crowding.spread_m2_s(filled)
    assert spread[0, 0] == pytest.approx(1e-5 * 0.25**4)
    after, _ = crowding.spread_m2_s(filled + more)
    assert (after - spread)[0, 0] / 1e-6 == pytest.approx(slope[0, 0], rel=1e-4)
