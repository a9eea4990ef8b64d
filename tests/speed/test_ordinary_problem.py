"""The comparison is fair only if scipy is fed with a true Jacobian: it is that of the right-hand side."""

import sys
from pathlib import Path

import numpy as np
import pytest

import fizzplate as fp

sys.path.insert(0, str(Path(__file__).parent))

from ordinary_solvers import OrdinaryProblem


def test_the_analytic_jacobian_is_that_of_the_rates():
    problem = OrdinaryProblem(fp.Cell("NaCl", lamp=fp.Lamp(6.0, 0.06)))
    y = problem.start.copy()
    y[: problem.size] *= 1 + 0.01 * np.sin(np.arange(problem.size))
    y[-2:] = 0.5
    # the Jacobian leaves out how coefficients answer to composition: they are held here
    totals = y[: problem.size].reshape(problem.nodes, problem.m).T
    species = problem.model.speciation.at_own_strength(totals, problem.equilibrium[:, 0])
    held = problem.model.mobilities.evaluate(species.system_mol_m3)
    problem.model.mobilities.evaluate = lambda _: held
    constants = problem.model.speciation.constants_at(species.system_mol_m3[:, None])
    problem.transport.model.constants_at = lambda _: constants
    jacobian = problem.jacobian(0.0, y)
    for column in [*range(0, problem.size, 29), y.size - 2, y.size - 1]:
        step = 1e-5 * max(abs(y[column]), 1e-2)
        more, less = y.copy(), y.copy()
        more[column] += step
        less[column] -= step
        by_difference = (problem.rates(0.0, more) - problem.rates(0.0, less)) / (2 * step)
        scale = np.abs(jacobian[:, column]).max()
        assert jacobian[:, column] == pytest.approx(by_difference, abs=1e-3 * scale)
