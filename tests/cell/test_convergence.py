"""How long iterations of a step go on."""

import numpy as np
import pytest

from fizzplate.cell.solver.convergence import (
    MAX_CLIPPED_ITERATIONS,
    MAX_ITERATIONS,
    MAX_QUICK,
    NewtonState,
    Tolerance,
)
from fizzplate.cell.solver.state import Unknowns
from fizzplate.cell.solver.transport import NewtonStep


def rounds_until_lost(*, takes_patience):
    """Return after how many iterations a step is given up whose changes are all cut back."""
    one = np.ones((1, 1, 1))
    here = Unknowns(one, np.zeros((1, 0)), np.zeros((1, 2)), np.zeros(1), np.zeros((1, 2)))
    newton = NewtonState.at(here, one, np.zeros((1, 1)), 1)
    newton.begin(np.array([0]), np.array([takes_patience]))
    cut_back = NewtonStep(
        here, 0.1 * one, one, one, one, np.zeros(1), np.zeros(1), np.array([True])
    )
    for rounds in range(1, 100):
        _, lost = newton.take(cut_back, np.ones(1), Tolerance())
        if lost[0]:
            return rounds
    raise AssertionError("never given up")


@pytest.mark.parametrize(
    ("takes_patience", "rounds"),
    [(False, MAX_QUICK), (True, MAX_ITERATIONS + MAX_CLIPPED_ITERATIONS)],
)
def test_a_step_that_takes_patience_is_tried_for_longer_than_one_that_may_be_cut(
    takes_patience, rounds
):
    assert rounds_until_lost(takes_patience=takes_patience) == rounds
    assert MAX_QUICK < MAX_ITERATIONS + MAX_CLIPPED_ITERATIONS
