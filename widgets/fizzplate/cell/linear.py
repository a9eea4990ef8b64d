"""Solve a block-tridiagonal system with a border, by substructuring in plain numpy.

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
    """Storage and solver for N nodes with M unknowns each; N + 1 is a multiple of ``block``.

    Fill in ``lower``, ``diagonal``, ``upper`` (N, M, M) and ``right`` (N, M, columns), then solve;
    ``lower[0]`` and ``upper[N - 1]`` are not used.

    Parameters
    ----------
    nodes, unknowns
        N and M.
    columns
        Number of right-hand sides solved at once.
    block
        One more than the nodes in a block.
    """

    def __init__(self, nodes: int, unknowns: int, columns: int, block: int = 8) -> None:
        if (nodes + 1) % block:
            raise ValueError(f"{nodes} nodes cannot be cut into blocks of {block - 1}")
        self.unknowns = m = unknowns
        self.columns = columns
        self._inner = inner = block - 1
        self._blocks = blocks = (nodes + 1) // block
        # one node more than there is, so that every block is followed by a separator
        kept = [np.zeros((nodes + 1, m, wide)) for wide in (m, m, m, columns)]
        self.lower, self.diagonal, self.upper, self.right = (part[:-1] for part in kept)
        self._parts = [part.reshape(blocks, block, m, part.shape[2]) for part in kept]
        size = inner * m
        self._matrix = np.zeros((blocks, size, size))
        self._sides = np.zeros((blocks, size, columns + 2 * m))
        base, row, entry = self._matrix.strides
        strides = (base, m * (row + entry), row, entry)
        self._in_diagonal = as_strided(self._matrix, (blocks, inner, m, m), strides)
        off = (blocks, inner - 1, m, m)
        self._in_lower = as_strided(self._matrix[:, m:, :], off, strides)
        self._in_upper = as_strided(self._matrix[:, :, m:], off, strides)
        cuts = blocks - 1
        self._small = np.zeros((cuts * m, cuts * m))
        self._places = np.arange(cuts)

    def solve(self) -> Array:
        """Solve for all right-hand sides, (N, M, columns)."""
        m, inner, c = self.unknowns, self._inner, self.columns
        blocks, cuts = self._blocks, self._blocks - 1
        lower, diagonal, upper, right = self._parts
        self._in_diagonal[...] = diagonal[:, :inner]
        self._in_lower[...] = lower[:, 1:inner]
        self._in_upper[...] = upper[:, : inner - 1]
        self._sides[:, :, :c] = right[:, :inner].reshape(blocks, inner * m, c)
        # a block feels the separator before it and the one after it
        self._sides[1:, :m, c : c + m] = lower[1:, 0]
        self._sides[:-1, -m:, c + m :] = upper[:-1, inner - 1]
        reduced = np.linalg.solve(self._matrix, self._sides)
        if not cuts:
            return np.asarray(reduced[:, :, :c].reshape(-1, m, c), dtype=np.float64)
        l_cut, u_cut = lower[:-1, inner], upper[:-1, inner]
        # what the last node before and the first node after each separator answer to
        before = l_cut @ reduced[:-1, -m:]
        after = u_cut @ reduced[1:, :m]
        small = self._small.reshape(cuts, m, cuts, m)
        k = self._places
        small[k, :, k] = diagonal[:-1, inner] - before[:, :, c + m :] - after[:, :, c : c + m]
        small[k[1:], :, k[:-1]] = -before[1:, :, c : c + m]
        small[k[:-1], :, k[1:]] = -after[:-1, :, c + m :]
        cut_right = right[:-1, inner] - before[:, :, :c] - after[:, :, :c]
        cut = np.linalg.solve(self._small, cut_right.reshape(cuts * m, c)).reshape(cuts, m, c)
        result = np.empty((blocks, inner + 1, m, c))
        body = reduced[:, :, :c]
        body[1:] -= reduced[1:, :, c : c + m] @ cut
        body[:-1] -= reduced[:-1, :, c + m :] @ cut
        result[:, :inner] = body.reshape(blocks, inner, m, c)
        result[:-1, inner] = cut
        return result.reshape(-1, m, c)[:-1]
