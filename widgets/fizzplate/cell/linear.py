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
        self.inner = block - 1
        self.blocks = (nodes + 1) // block
        self.unknowns = m = unknowns
        self.columns = columns
        size = self.inner * m
        self._matrix = np.zeros((self.blocks, size, size))
        self._right = np.zeros((self.blocks, size, columns + 2 * m))
        base, row, entry = self._matrix.strides
        shape = (self.blocks, self.inner, m, m)
        strides = (base, m * (row + entry), row, entry)
        self._diagonal = as_strided(self._matrix, shape, strides)
        off = (self.blocks, self.inner - 1, m, m)
        self._lower = as_strided(self._matrix[:, m:, :], off, strides)
        self._upper = as_strided(self._matrix[:, :, m:], off, strides)
        cuts = self.blocks - 1
        self._small = np.zeros((cuts * m, cuts * m))
        self._places = np.arange(cuts)

    def _split(self, values: Array, lead: Array | None = None) -> tuple[Array, Array]:
        """Split an array over nodes into (blocks, inner, ...) and separators (cuts, ...)."""
        pad = np.zeros_like(values[:1]) if lead is None else lead
        whole = np.concatenate([values, pad]).reshape(
            self.blocks, self.inner + 1, *values.shape[1:]
        )
        return whole[:, : self.inner], whole[:-1, self.inner]

    def solve(self, lower: Array, diagonal: Array, upper: Array, right: Array) -> Array:
        """Solve for all right-hand sides.

        Parameters
        ----------
        lower, diagonal, upper
            Blocks (N, M, M); ``lower[0]`` and ``upper[N - 1]`` are not used.
        right
            (N, M, columns).

        Returns
        -------
        numpy.ndarray
            (N, M, columns).
        """
        m, inner, cuts = self.unknowns, self.inner, self.blocks - 1
        d_in, d_cut = self._split(diagonal)
        l_in, l_cut = self._split(lower)
        u_in, u_cut = self._split(upper)
        r_in, r_cut = self._split(right)
        self._diagonal[...] = d_in
        self._lower[...] = l_in[:, 1:]
        self._upper[...] = u_in[:, :-1]
        c = self.columns
        self._right[:, :, :c] = r_in.reshape(self.blocks, inner * m, c)
        # a block feels the separator before it and the one after it
        self._right[1:, :m, c : c + m] = l_in[1:, 0]
        self._right[:-1, -m:, c + m :] = u_in[:-1, -1]
        reduced = np.linalg.solve(self._matrix, self._right)
        if not cuts:
            return np.asarray(reduced[:, :, :c].reshape(-1, m, c), dtype=np.float64)
        ends = reduced[:-1, -m:]  # last node of the block before each separator
        starts = reduced[1:, :m]  # first node of the block after it
        small = self._small.reshape(cuts, m, cuts, m)
        k = self._places
        small[k, :, k] = d_cut - l_cut @ ends[:, :, c + m :] - u_cut @ starts[:, :, c : c + m]
        small[k[1:], :, k[:-1]] = -l_cut[1:] @ ends[1:, :, c : c + m]
        small[k[:-1], :, k[1:]] = -u_cut[:-1] @ starts[:-1, :, c + m :]
        cut_right = r_cut - l_cut @ ends[:, :, :c] - u_cut @ starts[:, :, :c]
        cut = np.linalg.solve(self._small, cut_right.reshape(cuts * m, c)).reshape(cuts, m, c)
        result = np.empty((self.blocks, inner + 1, m, c))
        body = reduced[:, :, :c]
        body[1:] -= reduced[1:, :, c : c + m] @ cut
        body[:-1] -= reduced[:-1, :, c + m :] @ cut
        result[:, :inner] = body.reshape(self.blocks, inner, m, c)
        result[:-1, inner] = cut
        return result.reshape(-1, m, c)[:-1]
