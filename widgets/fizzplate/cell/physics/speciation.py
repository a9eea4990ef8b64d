"""From conserved totals to the species at every node.

What is transported and stored are totals that no reaction in the liquid changes: the acid excess
``c(H+) - c(OH-) + ...``, total sulfate, each halide, each oxidised halogen, each metal. At every node
the species follow from the totals and one number, ln c(H+), by a scalar equation that is monotone:

``c(H+) - c(OH-) + c(HSO4-) + c(Cl2) - c(ClO-) - n c(M(OH)n) - k c(M(OH)k) - 2 c(Cu2O) = acid excess``

Bromine and iodine bind to their halide without acid, so they do not enter it. Electroneutrality is
exact: one total is never solved for but follows from the charges of the others. Which species there
can be stands in ``equilibria.py``. Units: mol/m3 and its powers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell.physics.acid_balance import AcidBalance
from fizzplate.cell.physics.equilibria import Equilibria

if TYPE_CHECKING:
    from fizzplate.cell.physics.species import SpeciesProfile

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

EXACT = 1e-12
PLAIN_ATTEMPTS = 3  # of Newton's method before it is kept within a bracket
HALVE_EVERY = 3
MAX_ITERATIONS = 200
MIN_LN_HYDROGEN, MAX_LN_HYDROGEN = -80.0, 25.0  # far beyond any liquid


class Speciation(Equilibria):
    """Solves the equilibria of a liquid for its species, node by node."""

    def first_guess(self, acid_excess: Array) -> Array:
        """Return ln c(H+) of water that holds the acid excess and nothing else."""
        larger = 0.5 * (np.abs(acid_excess) + np.sqrt(acid_excess**2 + 4 * self.water))
        hydrogen = np.where(acid_excess > 0, larger, self.water / larger)
        return np.asarray(np.log(hydrogen))

    def speciate(
        self, solved: Array, ln_hydrogen: Array, *, tolerance: float = EXACT
    ) -> SpeciesProfile:
        """Return the species at every node.

        Parameters
        ----------
        solved
            The totals solved for, (M, B, N) or (M, N).
        ln_hydrogen
            A guess of ln c(H+), (B, N) or (N,): the last one known.
        tolerance
            How far the acid balance may be off, relative to its terms, before the last Newton step;
            that one is taken along the slopes and squares what is left.
        """
        totals = self.all_totals(solved)
        low, high = (
            np.full(ln_hydrogen.shape, MIN_LN_HYDROGEN),
            np.full(ln_hydrogen.shape, MAX_LN_HYDROGEN),
        )
        for attempt in range(MAX_ITERATIONS):
            balance = AcidBalance(self, totals, ln_hydrogen)
            off = np.abs(balance.residual) > tolerance * balance.size
            if not off.any():
                break
            better = balance.better()
            if attempt >= PLAIN_ATTEMPTS:
                # the balance rises with ln c(H+): what is known of its sign brackets the answer
                low = np.where(balance.residual < 0, ln_hydrogen, low)
                high = np.where(balance.residual < 0, high, ln_hydrogen)
                inside = (better > low) & (better < high)
                # Newton's method can jump from end to end: halving now and then ends that
                trusted = inside & bool((attempt - PLAIN_ATTEMPTS) % HALVE_EVERY)
                better = np.where(off, np.where(trusted, better, 0.5 * (low + high)), ln_hydrogen)
            ln_hydrogen = better
        return balance.speciated()
