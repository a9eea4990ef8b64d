"""How surely a run's results are known: the run again, with one uncertain constant changed at a time.

Exchange current densities are known to a factor of ten and films to a third, so a share near a change of
product is no single number. The constants that matter most in a run are multiplied and divided by their
factors, one at a time, and these runs are solved side by side. Their differences from the run are
independent of each other: they add up by squares, those upwards and those downwards apart.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.influence import Film
from fizzplate.cell.made import Made
from fizzplate.cell.solver import Model, simulate_models

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from fizzplate.cell.influence import Change
    from fizzplate.cell.physics import CellLike, ExchangeRow
    from fizzplate.cell.solver import Stage

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


def _changed(model: Model, change: Change) -> Model:
    """Return the model with one constant changed."""
    if isinstance(change.constant, Film):
        return replace(model, film_factor=change.factor)
    return replace(model, exchange_factors={change.constant: change.factor})


@dataclass(frozen=True)
class Uncertainty:
    """What a run with other constants would make; computed when it is first asked for.

    Parameters
    ----------
    cell, trace_mol_dm3
        What was run, and the trace of salt that it needed to find an end.
    stages, cells_from
        What it was taken through, and by the place of a stage the cell as it is from that stage on.
    samples
        Number of instants recorded.
    changes
        The constants that are changed, one at a time.
    """

    cell: CellLike
    trace_mol_dm3: float
    stages: Sequence[Stage]
    cells_from: Mapping[int, CellLike]
    samples: int
    changes: tuple[Change, ...]

    @cached_property
    def changed(self) -> tuple[tuple[Made, Made], ...]:
        """What electrode 0 and 1 make after each change."""
        if not self.changes:
            return ()
        model = Model.of(self.cell, trace_mol_dm3=self.trace_mol_dm3)
        models = [_changed(model, change) for change in self.changes]
        cells_from = {place: [cell] * len(models) for place, cell in self.cells_from.items()}
        trajectories = simulate_models(models, self.stages, self.samples, changes=cells_from)
        return tuple((Made.at(0, t.segments), Made.at(1, t.segments)) for t in trajectories)

    def band(self, side: int, nominal: Array, of: Callable[[Made], Array]) -> tuple[Array, Array]:
        """Return the least and most of a quantity of electrode 0 or 1, two (samples,).

        Parameters
        ----------
        side
            The electrode.
        nominal
            The quantity in the run itself, (samples,).
        of
            The same quantity of what an electrode made.
        """
        up: dict[ExchangeRow | Film, Array] = {}
        down: dict[ExchangeRow | Film, Array] = {}
        for change, made in zip(self.changes, self.changed, strict=True):
            difference = of(made[side]) - nominal
            nothing = np.zeros_like(nominal)
            # of a constant's two changes, the one that goes farther
            up[change.constant] = np.maximum(up.get(change.constant, nothing), difference)
            down[change.constant] = np.maximum(down.get(change.constant, nothing), -difference)
        low = nominal - np.sqrt(sum(each**2 for each in down.values()))
        high = nominal + np.sqrt(sum(each**2 for each in up.values()))
        return low, high
