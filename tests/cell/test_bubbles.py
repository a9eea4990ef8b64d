"""Bubbles of chlorine at an anode: when a class sees them, and what becomes of them.

That bubbles are seen within a minute at 0.5 mol/dm3 with the ordinary lamp, and none in very dilute salt or
at a milliampere, is common practice in classrooms, not a measurement.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.chemistry import InputError
from fizzplate.lesson.rule import BUBBLES_CM3

sys.path.insert(0, str(Path(__file__).parent))

from conservation import element_miss, released_mol

LAMP = fp.Lamp(6.0, 0.06)
ROUNDING = 1e-9


def anode_after_a_minute(formula="NaCl", **options):
    """Return the anode's record of a minute."""
    return fp.Cell(formula, **options).run(minutes=1, samples=7).anode


@pytest.mark.parametrize("formula", ["NaCl", "CuCl2", "HCl"])
def test_chlorine_bubbles_within_a_minute_at_half_a_mole(formula):
    bubbles = anode_after_a_minute(formula, lamp=LAMP).bubbles_cm3("Cl2")
    assert bubbles[-1] > BUBBLES_CM3
    # a class sees gas at an anode, not a tube full of it
    assert bubbles[-1] < 0.5


@pytest.mark.parametrize(
    "options", [{"concentration_mol_dm3": 0.005, "lamp": LAMP}, {"current_A": 0.001}]
)
def test_very_dilute_salt_and_a_milliampere_show_no_bubbles_of_chlorine(options):
    assert anode_after_a_minute(**options).bubbles_cm3("Cl2")[-1] < BUBBLES_CM3 / 10


@pytest.mark.parametrize("lamp", [LAMP, None])
@pytest.mark.parametrize("formula", ["NaCl", "CuCl2", "HCl"])
def test_chlorine_is_conserved_between_liquid_bubbles_and_air(formula, lamp):
    run = fp.Cell(formula, lamp=lamp).run(minutes=5, samples=21)
    assert element_miss(run, "Cl").max() < 1e-6
    bubbles = run.anode.bubbles_cm3("Cl2")
    collected = run.anode.gas_cm3("Cl2", collected=True)
    assert released_mol(run, "Cl2")[-1] > 0
    assert (collected <= bubbles * (1 + 1e-6)).all()
    # nothing bubbles that was not made, though some dissolves and comes up again
    assert (bubbles <= run.anode.gas_cm3("Cl2") * (1 + 1e-6)).all()
    assert np.diff(bubbles).min() > -ROUNDING * bubbles[-1]


def test_of_hydrogen_the_bubbles_are_what_is_collected():
    cathode = fp.Cell("NaCl", lamp=LAMP).run(minutes=2, samples=5).cathode
    assert cathode.bubbles_cm3("H2") == pytest.approx(cathode.gas_cm3("H2", collected=True))


def test_bubbles_are_counted_on_over_stages_that_add_and_dilute():
    stages = [
        fp.Stage(2),
        fp.Stage(2, water_cm3=10),
        fp.Stage(1, off=True),
        fp.Stage(2, add={"NaCl": (5.0, 1.0)}),
    ]
    run = fp.Cell("NaCl", lamp=LAMP).run(stages=stages, samples=29)
    bubbles = run.anode.bubbles_cm3("Cl2")
    whole = fp.Cell("NaCl", lamp=LAMP).run(minutes=2, samples=9).anode.bubbles_cm3("Cl2")
    assert bubbles[8] == pytest.approx(whole[-1], rel=1e-3)
    assert np.diff(bubbles).min() > -ROUNDING * bubbles[-1]
    off = (run.time_s > 241) & (run.time_s < 299)
    assert np.ptp(bubbles[off]) < 1e-3 * bubbles[-1]
    assert bubbles[-1] > bubbles[off][0] + BUBBLES_CM3


def test_bubbles_are_told_of_gases_alone():
    with pytest.raises(InputError, match="Cu"):
        anode_after_a_minute(lamp=LAMP).bubbles_cm3("Cu")
