"""How bubbles stir the film: an extra mixing coefficient that follows the gas made.

At an electrode that only its bubbles stir, the unmixed layer is ``d_b = d_1 (j_1 / j)^(1/2)`` thick, with
``j`` the gas-making current density. With the layer ``d`` that free convection alone leaves (:mod:`convection
<fizzplate.cell.physics.convection>`), ``r = d / d_b``, the two ways of supply blend as ``q = (1 +
r^n)^(1/n)``: a trace of gas changes nothing, and much gas decides alone. The mixing coefficient ``D_ref (q^p
- 1)`` in the film does that within 12 %, where ``p = 1 + (1 - d / film) / 3``: a layer that convection thins
takes in less than in proportion (power 3/4), the whole film in proportion. The curtain of bubbles forms and
fades with a time constant.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Sequence

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]
    Places = np.ndarray[tuple[int, ...], np.dtype[np.int_]]

REFERENCE_DIFFUSION_M2_S = 1e-9
REFERENCE_DENSITY_A_M2 = 1e4
MIN_GAS_A_M2 = 1e-9  # stands for zero
# chlorine's bubbles (bubbles.py) are small and most dissolve again on their way: they do not stir
BUBBLES = ("H2", "O2", "CO2")


@dataclass(frozen=True, slots=True)
class Stirring:
    """Stirring of a film by the bubbles made at its electrode.

    Examples
    --------
    >>> stirring = Stirring.of(film_m=2e-4)
    >>> gas_A_m2, still_m = np.array([[0.0, 1.0, 1000.0]]), np.full((1, 3), 2e-4)
    >>> none, trace, plenty = stirring.wanted_m2_s(gas_A_m2, still_m)[0][0] * 1e9
    >>> bool(none < 1e-12 < trace < 0.01 < 4 < plenty)
    True
    """

    film_m: float
    thinnest_m: Array  #: d_1 in each cell, (B, 1)
    blend: float  #: n
    build_up_s: float

    @classmethod
    def of(cls, film_m: float, film_factors: Sequence[float] = (1.0,)) -> Stirring:
        """Return the stirring of a film of this thickness, m; each cell's layers are thicker by a factor."""
        thinnest_m = data.find("model", quantity="bubble film").value * 1e-6
        return cls(
            film_m=film_m,
            thinnest_m=thinnest_m * np.array(film_factors)[:, None],
            blend=data.find("model", quantity="bubble blend").value,
            build_up_s=data.find("model", quantity="bubble build-up").value,
        )

    def keep(self, members: Places) -> Stirring:
        """Return the same of these cells alone."""
        return replace(self, thinnest_m=self.thinnest_m[members])

    def wanted_m2_s(self, gas_A_m2: Array, still_m: Array) -> tuple[Array, Array]:
        """Return the mixing (m2/s) that steady gas-making current densities lead to, and its slope.

        ``still_m`` is the layer that free convection alone leaves, m. The slope is by the current density,
        m4/(s A).
        """
        some = np.maximum(gas_A_m2, MIN_GAS_A_M2)
        r2 = (still_m / self.thinnest_m) ** 2 / REFERENCE_DENSITY_A_M2 * some
        power = r2 ** (self.blend / 2)
        p = 1 + (1 - still_m / self.film_m) / 3 if self.film_m else 1.0
        # the whole less 1, where it is next to nothing
        more = np.expm1(np.log1p(power) * p / self.blend)
        slope = p * (1 + more) / (1 + power) * power / (2 * some)
        return REFERENCE_DIFFUSION_M2_S * more, REFERENCE_DIFFUSION_M2_S * slope
