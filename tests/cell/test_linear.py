"""The solver of block-tridiagonal systems beside numpy's dense one."""

from __future__ import annotations

import numpy as np
import pytest

from fizzplate.cell.solver.linear import BlockTridiagonal, solve_each


@pytest.mark.parametrize("nodes", [3, 7, 11])  # one block without a separator, two, three
@pytest.mark.parametrize("unknowns", [1, 3])
def test_it_solves_what_the_dense_matrix_solves(nodes, unknowns):
    random = np.random.default_rng([2026, nodes, unknowns])
    paths, columns = 2, 2
    system = BlockTridiagonal(paths, nodes, unknowns, columns, block=4)
    for part in (system.lower, system.diagonal, system.upper, system.right):
        part[...] = random.normal(size=part.shape)
    system.diagonal += 6.0 * np.eye(unknowns)  # far from singular
    dense = np.zeros((paths, nodes, unknowns, nodes, unknowns))
    for node in range(nodes):
        dense[:, node, :, node] = system.diagonal[:, node]
        if node:
            dense[:, node, :, node - 1] = system.lower[:, node]
            dense[:, node - 1, :, node] = system.upper[:, node - 1]
    size = nodes * unknowns
    expected = np.linalg.solve(
        dense.reshape(paths, size, size), system.right.reshape(paths, size, columns)
    )
    found = system.solve()
    assert found.shape == (paths, nodes, unknowns, columns)
    np.testing.assert_allclose(found.reshape(expected.shape), expected, rtol=1e-10, atol=1e-12)


def test_nodes_that_cannot_be_cut_into_blocks_are_refused():
    with pytest.raises(ValueError, match="8 nodes cannot be cut into blocks of 7"):
        BlockTridiagonal(1, 8, 2, 1)


def test_one_singular_system_leaves_the_others_their_answers():
    matrices = np.stack([np.eye(2), np.zeros((2, 2)), 2.0 * np.eye(2)])
    found = solve_each(matrices, np.ones((3, 2, 1)))
    assert found[0].ravel().tolist() == [1.0, 1.0]
    assert np.isnan(found[1]).all()
    assert found[2].ravel().tolist() == [0.5, 0.5]
