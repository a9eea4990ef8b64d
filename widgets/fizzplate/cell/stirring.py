"""How bubbles stir the film: an extra mixing coefficient that follows the gas made.

Beside a wall that gases alone, an unmixed layer ``d_b = d_1 (j_1 / j)^(1/2)`` is left, ``j`` the
gas-making current density. With the film's own thickness ``d``, ``r = d / d_b``, the two ways of
supply blend as ``(1 + r^n)^(1/n)``: a trace of gas changes nothing, much gas rules. The mixing
coefficient ``D_ref ((1 + r^n)^(1/n) - 1)`` in the film does that. The curtain of bubbles forms and
fades with a time constant.
"""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate import data

REFERENCE_DIFFUSION_M2_S = 1e-9
REFERENCE_DENSITY_A_M2 = 1e4
BUBBLES = ("H2", "O2", "CO2")  # chlorine dissolves as it is made and stirs only once it leaves


@dataclass(frozen=True, slots=True)
class Stirring:
    """Stirring of a film of a given thickness by the bubbles made at its electrode.

    Examples
    --------
    >>> stirring = Stirring.of(film_m=2e-4)
    >>> stirring.wanted_m2_s(0.0)[0]
    0.0
    >>> trace, plenty = (stirring.wanted_m2_s(j)[0] * 1e9 for j in (1.0, 1000.0))
    >>> bool(trace < 0.01 < 4 < plenty)
    True
    """

    r2_m2_A: float  #: square of ``r`` for each A/m2
    blend: float  #: n
    build_up_s: float

    @classmethod
    def of(cls, film_m: float) -> Stirring:
        """Return the stirring of a film of this thickness, m."""
        thinnest_m = data.find("model", quantity="bubble film").value * 1e-6
        return cls(
            r2_m2_A=(film_m / thinnest_m) ** 2 / REFERENCE_DENSITY_A_M2,
            blend=data.find("model", quantity="bubble blend").value,
            build_up_s=data.find("model", quantity="bubble build-up").value,
        )

    def wanted_m2_s(self, gas_A_m2: float) -> tuple[float, float]:
        """Return the mixing coefficient (m2/s) that a steady gas-making current leads to, and its slope.

        The slope is by the current density, m4/(s A).
        """
        if gas_A_m2 <= 0.0:
            return 0.0, 0.0
        power = (self.r2_m2_A * gas_A_m2) ** (self.blend / 2)
        whole = (1 + power) ** (1 / self.blend)
        slope = whole / (1 + power) * power / (2 * gas_A_m2)
        return REFERENCE_DIFFUSION_M2_S * (whole - 1), REFERENCE_DIFFUSION_M2_S * slope
