"""Where a film of oxide darkens an electrode: on a passive anode, until it is a cathode again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics import is_passive, passive_film
from fizzplate.cell.warnings import MIN_CURRENT_A

if TYPE_CHECKING:
    from fizzplate.cell.run import Run

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def oxide_film(run: Run, side: int) -> Array:
    """Return 1 where a film of oxide darkens an electrode, else 0, (S,).

    It forms within seconds where the electrode is a passive anode, and goes where it is a cathode again.

    Parameters
    ----------
    run
        What happened.
    side
        0 for the electrode that begins as the cathode, 1 for the other.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> run = Cell("NaOH", anode="copper").run(minutes=1, samples=3)
    >>> oxide_film(run, 1).tolist(), oxide_film(run, 0).tolist()
    ([0.0, 1.0, 1.0], [0.0, 0.0, 0.0])
    """
    record = (run.cathode, run.anode)[side]
    film = np.zeros_like(run.current_A)
    if not passive_film(record.material):
        return film
    for k in range(1, film.size):
        film[k] = film[k - 1]
        if run.current_A[k] >= MIN_CURRENT_A:
            is_anode = run.swapped[k] == (side == 0)
            film[k] = is_anode and is_passive(record.material, run.cell_at(k).ions_mol_dm3)
    return film
