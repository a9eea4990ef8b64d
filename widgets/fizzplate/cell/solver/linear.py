"""Solve block-tridiagonal systems, many at once, by substructuring in plain numpy.

The path is cut into blocks of neighbouring nodes with one separating node between blocks. All
blocks are eliminated in one batched solve; what remains is a small dense system of the separators.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.lib.stride_tricks import as_strided

if TYPE_CHECKING:
    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


class BlockTridiagonal:
    """Storage and solver for B paths of N nodes with M unknowns each; N + 1 is a multiple of ``block``.

    Fill in ``lower``, ``diagonal``, ``upper`` (B, N, M, M) and ``right`` (B, N, M, columns), then
    solve; ``lower[:, 0]`` and ``upper[:, N - 1]`` are not used.

    Parameters
    ----------
    paths, nodes, unknowns
        B, N and M.
    columns
        Number of right-hand sides solved at once.
    block
        One more than the nodes in a block.
    """

    def __init__(self, paths: int, nodes: int, unknowns: int, columns: int, block: int = 8) -> None:
        if (nodes + 1) % block:
            raise ValueError(f"{nodes} nodes cannot be cut into blocks of {block - 1}")
        self.unknowns = m = unknowns
        self.columns = columns
        self._inner = inner = block - 1
        self._blocks = blocks = (nodes + 1) // block
        # one node more than there is, so that every block is followed by a separator
        kept = [np.zeros((paths, nodes + 1, m, wide)) for wide in (m, m, m, columns)]
        self.lower, self.diagonal, self.upper, self.right = (part[:, :-1] for part in kept)
        self._parts = [part.reshape(paths, blocks, block, m, part.shape[3]) for part in kept]
        size = inner * m
        self._matrix = np.zeros((paths, blocks, size, size))
        self._sides = np.zeros((paths, blocks, size, columns + 2 * m))
        path, base, row, entry = self._matrix.strides
        strides = (path, base, m * (row + entry), row, entry)
        self._in_diagonal = as_strided(self._matrix, (paths, blocks, inner, m, m), strides)
        off = (paths, blocks, inner - 1, m, m)
        self._in_lower = as_strided(self._matrix[:, :, m:, :], off, strides)
        self._in_upper = as_strided(self._matrix[:, :, :, m:], off, strides)
        cuts = blocks - 1
        self._small = np.zeros((paths, cuts * m, cuts * m))
        self._places = np.arange(cuts)

    def solve(self) -> Array:
        """Solve for all right-hand sides, (B, N, M, columns)."""
        m, inner, c = self.unknowns, self._inner, self.columns
        blocks, cuts = self._blocks, self._blocks - 1
        lower, diagonal, upper, right = self._parts
        paths = len(right)
        self._in_diagonal[...] = diagonal[:, :, :inner]
        self._in_lower[...] = lower[:, :, 1:inner]
        self._in_upper[...] = upper[:, :, : inner - 1]
        self._sides[..., :c] = right[:, :, :inner].reshape(paths, blocks, inner * m, c)
        # a block feels the separator before it and the one after it
        self._sides[:, 1:, :m, c : c + m] = lower[:, 1:, 0]
        self._sides[:, :-1, -m:, c + m :] = upper[:, :-1, inner - 1]
        reduced = solve_each(self._matrix, self._sides)
        if not cuts:
            return np.asarray(reduced[..., :c].reshape(paths, -1, m, c), dtype=np.float64)
        l_cut, u_cut = lower[:, :-1, inner], upper[:, :-1, inner]
        # what the last node before and the first node after each separator answer to
        before = l_cut @ reduced[:, :-1, -m:]
        after = u_cut @ reduced[:, 1:, :m]
        small = self._small.reshape(paths, cuts, m, cuts, m)
        k = self._places
        # a pair of index arrays puts the cuts first
        own = diagonal[:, :-1, inner] - before[..., c + m :] - after[..., c : c + m]
        small[:, k, :, k] = own.swapaxes(0, 1)
        small[:, k[1:], :, k[:-1]] = -before[:, 1:, :, c : c + m].swapaxes(0, 1)
        small[:, k[:-1], :, k[1:]] = -after[:, :-1, :, c + m :].swapaxes(0, 1)
        cut_right = right[:, :-1, inner] - before[..., :c] - after[..., :c]
        cut = solve_each(self._small, cut_right.reshape(paths, cuts * m, c))
        cut = cut.reshape(paths, cuts, m, c)
        result = np.empty((paths, blocks, inner + 1, m, c))
        body = reduced[..., :c]
        body[:, 1:] -= reduced[:, 1:, :, c : c + m] @ cut
        body[:, :-1] -= reduced[:, :-1, :, c + m :] @ cut
        result[:, :, :inner] = body.reshape(paths, blocks, inner, m, c)
        result[:, :-1, inner] = cut
        return result.reshape(paths, -1, m, c)[:, :-1]


def solve_each(matrices: Array, sides: Array) -> Array:
    """Solve a stack of systems by the first axis; one that is singular has no number for an answer."""
    try:
        return np.asarray(np.linalg.solve(matrices, sides), dtype=np.float64)
    except np.linalg.LinAlgError:
        if len(matrices) == 1:
            return np.full_like(sides, np.nan)
    return np.concatenate(
        [
            solve_each(matrix, side)
            for matrix, side in zip(
                np.split(matrices, len(matrices)), np.split(sides, len(sides)), strict=True
            )
        ]
    )
