"""The equilibrium of one solution as it is made."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry.equilibria.activity import ConditionalConstants
from fizzplate.chemistry.equilibria.newton import EquilibriumSolver

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.chemistry.equilibria.system import ChemicalSystem

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

ROUNDS = 50
SETTLED = 1e-9  # of the ionic strength


def dissolve(system: ChemicalSystem, ions_mol_m3: Mapping[str, float]) -> Array:
    """Return every species of a solution made with these ions, (S,), mol/m3.

    Examples
    --------
    >>> from fizzplate.chemistry.equilibria import ChemicalSystem
    >>> system = ChemicalSystem.of(["Na+", "SO4^2-"], oxidised=False)
    >>> made = dissolve(system, {"Na+": 200.0, "SO4^2-": 100.0})
    >>> [member.formula for member in system.species]
    ['H+', 'Na+', 'SO4^2-', 'OH-', 'HSO4-', 'NaSO4-']
    >>> bool(30 < made[5] < 40)
    True
    """
    totals = np.array([[ions_mol_m3.get(name, 0.0)] for name in system.components])
    totals[0] = ions_mol_m3.get("H+", 0.0) - ions_mol_m3.get("OH-", 0.0)
    constants, solver = ConditionalConstants(system), EquilibriumSolver(system)
    strength = np.array(
        [0.5e-3 * sum(c * m.charge**2 for m, c in zip(system.species, totals[:, 0], strict=False))]
    )
    ln_K, _ = constants.at(np.abs(strength))
    x, v = solver.first_guess(totals, ln_K)
    for _ in range(ROUNDS):
        found = solver.solve(totals, np.concatenate(constants.at(np.abs(strength))), x, v)
        x, v = np.split(found.unknowns, [len(totals)])
        new = constants.ionic_strength_mol_dm3(found.species_mol_m3)
        if np.abs(new - strength) < SETTLED * new:
            break
        strength = new
    return found.species_mol_m3[:, 0]
