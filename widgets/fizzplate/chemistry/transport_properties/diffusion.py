"""Diffusion coefficients of dissolved species at infinite dilution."""

from __future__ import annotations

from fizzplate import data


def diffusion_coefficient_m2_s(species: str) -> float:
    """Return the diffusion coefficient at 25 °C and infinite dilution, m2/s.

    Raises
    ------
    MissingRowError
        If the tables do not have the species.

    Examples
    --------
    >>> diffusion_coefficient_m2_s("Cu2+")
    7.14e-10
    """
    return data.find("diffusion", species=species).value
