"""The colour of a liquid by Beer and Lambert, in three bands of light."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.words import number

if TYPE_CHECKING:
    from collections.abc import Mapping

BANDS = ("red", "green", "blue")


@cache
def absorption_dm3_mol_cm(species: str) -> Mapping[str, float]:
    """Return the decadic molar absorption coefficient in each band; empty for a colourless species.

    Examples
    --------
    >>> absorption_dm3_mol_cm("Cu2+")["red"]
    5.0
    >>> dict(absorption_dm3_mol_cm("Na+"))
    {}
    """
    return MappingProxyType(
        {row["band"]: row.value for row in data.rows("colours") if row["species"] == species}
    )


def transmittance(
    concentration_mol_dm3: Mapping[str, float], path_cm: float
) -> tuple[float, float, float]:
    """Return the fractions of red, green and blue light that a mixture lets through.

    Parameters
    ----------
    concentration_mol_dm3
        By species; those without a colour count for nothing.
    path_cm
        Depth of liquid, cm.

    Raises
    ------
    InputError
        If the path is negative.

    Examples
    --------
    >>> red, green, blue = transmittance({"Cu2+": 0.5}, 1.0)
    >>> red < 0.01 < green < blue
    True
    """
    number("path_cm", path_cm, unit="cm", minimum=0)
    let_through = []
    for band in BANDS:
        absorbance = sum(
            absorption_dm3_mol_cm(species).get(band, 0.0) * max(c, 0.0) * path_cm
            for species, c in concentration_mol_dm3.items()
        )
        let_through.append(10.0**-absorbance)
    red, green, blue = let_through
    return red, green, blue
