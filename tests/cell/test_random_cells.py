"""Two dozen cells drawn at random from all that is offered finish and conserve what they must."""

import sys
from pathlib import Path

import pytest
from tests.printed import figures, printed_by

sys.path.insert(0, str(Path(__file__).parent))

from random_cells import SAMPLES, random_cell, what_does_not_hold

PARTS = 4
CELLS_A_PART = 6


@pytest.mark.parametrize("part", range(PARTS))
def test_random_cells_finish_and_conserve_matter_and_charge(part):
    for number in range(part * CELLS_A_PART, (part + 1) * CELLS_A_PART):
        cell, stages, description = random_cell(number)
        broken = what_does_not_hold(cell.run(stages=stages, samples=SAMPLES))
        assert not broken, (number, description, broken)


def test_by_hand_they_print_what_did_not_hold_and_how_long_they_took():
    printed = printed_by("cell/random_cells.py", "2")
    assert "2 cells, broken: 0;" in printed
    (median_s,), (slowest_s,) = (
        figures(printed, "median ", " s"),
        figures(printed, "slowest ", " s"),
    )
    assert slowest_s >= 0.9 * median_s


def test_a_record_that_lost_copper_is_noticed():
    cell, _, _ = random_cell(0)
    run = cell.run(minutes=2, samples=5)
    ion = run.ions[0]
    run.concentration(ion)[-1] *= 0.99
    assert what_does_not_hold(run)
