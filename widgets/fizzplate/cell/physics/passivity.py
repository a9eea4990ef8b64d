"""Which metals a film of oxide keeps from dissolving as an anode: rows of the table for each metal.

In alkali the oxides of nickel, iron, copper and silver are stable at any potential at which such an anode
lets a current pass, so the film forms within seconds and oxygen is evolved on it. Halide ions break it in
pits, and hydroxide heals it: what counts is how much halide there is for each hydroxide ion. Above a
breakdown potential, which falls with the logarithm of that ratio, the metal dissolves in pits. It depends
on both reactions, at the potential that they share, how much of the current does so; no ratio is a cliff.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Mapping

HALIDES = frozenset({"Cl-", "Br-", "I-"})
NEGLIGIBLE = 1e-3  # of the halide that breaks a film: with less nothing dissolves


def is_passive(material: str, ions_mol_dm3: Mapping[str, float]) -> bool:
    """Return whether most of an anode's current makes something else than its ions, because of a film.

    Parameters
    ----------
    material
        Name of the anode's material.
    ions_mol_dm3
        Concentrations of the ions as the solution is made, mol/dm3.

    Examples
    --------
    >>> is_passive("nickel", {"Na+": 1.0, "OH-": 1.0})
    True
    >>> is_passive("nickel", {"Na+": 2.0, "OH-": 1.0, "Cl-": 1.0})
    False
    >>> is_passive("zinc", {"Na+": 1.0, "OH-": 1.0})
    False
    """
    return breaking_halide(material, ions_mol_dm3) < 1


def is_wholly_passive(material: str, ions_mol_dm3: Mapping[str, float]) -> bool:
    """Return whether there is a film, and so little halide that none of the metal dissolves.

    Examples
    --------
    >>> is_wholly_passive("nickel", {"Na+": 1.0, "OH-": 1.0, "I-": 1.0})
    True
    """
    return breaking_halide(material, ions_mol_dm3) < NEGLIGIBLE


def breaking_halide(material: str, ions_mol_dm3: Mapping[str, float]) -> float:
    """Return the halide for each hydroxide ion over what breaks the film; endless where there is no film.

    Examples
    --------
    >>> round(breaking_halide("iron", {"Na+": 0.6, "OH-": 0.5, "Cl-": 0.1}), 3)
    0.333
    >>> breaking_halide("iron", {"Na+": 0.5, "Cl-": 0.5})
    inf
    """
    of_metals = {row["material"]: row for row in data.rows("passivity") if row.unit == "words"}
    alkali = data.find("model", quantity="alkali that makes passive").value
    hydroxide = ions_mol_dm3.get("OH-", 0.0)
    if material not in of_metals or of_metals[material].text != "passive" or hydroxide < alkali:
        return math.inf
    halide = _halide(ions_mol_dm3)
    breaking = data.find("passivity", material=material, quantity="halide that breaks the film")
    return halide / hydroxide / breaking.value


def _halide(ions_mol_dm3: Mapping[str, float]) -> float:
    """Return how much halide there is that breaks films, as chloride, mol/dm3."""
    return sum(
        data.find("passivity", material=ion, quantity="weight").value * ions_mol_dm3.get(ion, 0.0)
        for ion in HALIDES
    )


def breaks_films(ions_mol_dm3: Mapping[str, float]) -> bool:
    """Return whether a solution holds any halide that breaks films of oxide.

    Examples
    --------
    >>> breaks_films({"Na+": 0.5, "Cl-": 0.5}), breaks_films({"K+": 0.5, "I-": 0.5})
    (True, False)
    """
    return _halide(ions_mol_dm3) > 0


def film_V(
    material: str,
    ions_mol_dm3: Mapping[str, float],
    standard_V: float,
    exchange_A_m2: float,
    tafel_per_V: float,
) -> float:
    """Return how much higher a potential a metal needs to dissolve through its film, V; 0 without a film.

    At the breakdown potential Tafel's law then gives the current density that the table names.

    Parameters
    ----------
    material, ions_mol_dm3
        As for :func:`is_passive`; not where it is wholly passive.
    standard_V, exchange_A_m2, tafel_per_V
        Of the reaction that dissolves it: standard potential, exchange current density, and by how much
        the logarithm of its rate rises with the potential.
    """
    ratio = breaking_halide(material, ions_mol_dm3)
    if math.isinf(ratio):
        return 0.0
    breakdown, fall, in_pits = (
        data.find("passivity", material="any", quantity=quantity).value
        for quantity in (
            "breakdown potential",
            "fall of the breakdown potential",
            "current density in pits",
        )
    )
    breakdown_V = breakdown - fall * math.log10(ratio)
    bare_V = standard_V + math.log(in_pits / exchange_A_m2) / tafel_per_V
    return max(breakdown_V - bare_V, 0.0)


def passive_film(material: str) -> str:
    """Return how the film of a passive anode looks: "dark", or an empty text where nobody sees it.

    Examples
    --------
    >>> passive_film("copper"), passive_film("nickel"), passive_film("graphite")
    ('dark', '', '')
    """
    looks = {row["material"]: row["film"] for row in data.rows("passivity") if row.unit == "words"}
    return looks.get(material, "")
