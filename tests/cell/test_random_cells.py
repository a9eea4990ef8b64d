"""Two dozen cells drawn at random from all that is offered finish and conserve what they must."""

import sys
from pathlib import Path

import numpy as np
import pytest
from tests.printed import figures, printed_by

sys.path.insert(0, str(Path(__file__).parent))

from random_cells import SEED, random_cell, what_does_not_hold

PARTS = 4
CELLS_A_PART = 6


@pytest.mark.parametrize("part", range(PARTS))
def test_random_cells_finish_and_conserve_matter_and_charge(part):
    random = np.random.default_rng([SEED, part])
    for _ in range(CELLS_A_PART):
        cell, minutes, told = random_cell(random)
        broken = what_does_not_hold(cell.run(minutes=minutes, samples=31))
        assert not broken, (told, minutes, broken)


def test_by_hand_they_print_what_did_not_hold_and_how_long_they_took():
    printed = printed_by("cell/random_cells.py", "2")
    assert "2 cells, broken: 0 {}" in printed
    (median_s,), (slowest_s,) = (
        figures(printed, "median ", " s"),
        figures(printed, "slowest ", " s"),
    )
    assert slowest_s >= 0.9 * median_s


def test_a_record_that_lost_copper_is_noticed():
    random = np.random.default_rng(SEED)
    cell, _, _ = random_cell(random)
    run = cell.run(minutes=2, samples=5)
    ion = run.ions[0]
    run.concentration(ion)[-1] *= 0.99
    assert what_does_not_hold(run)
