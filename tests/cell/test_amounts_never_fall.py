"""What has passed an electrode does not come back: cumulative amounts never fall."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import fizzplate as fp

ROUNDING = 1e-9  # of all that was made


def largest_fall(run):
    """Return how far any cumulative amount steps back, of the largest amount."""
    falls = []
    for electrode in (run.cathode, run.anode):
        made = {p: electrode.amount_mol(p) for p in electrode._made.amounts_mol}
        most = max(float(amount[-1]) for amount in made.values())
        falls += [-float(np.diff(amount).min()) / most for amount in made.values()]
    return max(falls)


def test_lead_that_runs_out_on_a_strip_stays_on_the_cathode():
    """Its rate falls a thousandfold within a step; a formula of third order made the amount fall by 2e-5."""
    cell = fp.Cell(
        "Pb(NO3)2",
        concentration_mol_dm3=0.47472029892299544,
        cathode="platinum",
        anode="platinum",
        vessel="paper strip",
        supply_V=5.597869264926103,
    )
    run = cell.run(minutes=30)
    assert largest_fall(run) < ROUNDING
    assert run.cathode.share("Pb").min() > -ROUNDING


@settings(max_examples=8, deadline=None, derandomize=True)
@given(
    formula=st.sampled_from(["CuSO4", "CuCl2", "AgNO3", "NaCl", "KI", "Pb(NO3)2", "ZnSO4"]),
    strength=st.floats(0.02, 0.4),
    volts=st.floats(2.0, 10.0),
    vessel=st.sampled_from(["beaker", "dish", "paper strip"]),
)
def test_amounts_never_fall(formula, strength, volts, vessel):
    cell = fp.Cell(formula, concentration_mol_dm3=strength, supply_V=volts, vessel=vessel)
    assert largest_fall(cell.run(minutes=10, samples=61)) < ROUNDING


def test_a_fall_is_noticed():
    run = fp.Cell("CuSO4").run(minutes=1, samples=5)
    run.cathode._made.amounts_mol["Cu"][2] = 0.0
    assert largest_fall(run) > 0.1
    assert pytest.approx(0.0) == run.cathode.amount_mol("Cu")[2]
