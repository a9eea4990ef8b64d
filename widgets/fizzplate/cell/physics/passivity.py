"""Which metals a film of oxide keeps from dissolving as an anode: a row of the table for each metal.

In alkali the oxides of nickel, iron, copper and silver are stable at any potential at which such an anode
lets a current pass, so the film forms within seconds and oxygen is evolved on it. Halide ions break it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data

if TYPE_CHECKING:
    from collections.abc import Mapping

HALIDES = frozenset({"Cl-", "Br-", "I-"})


def is_passive(material: str, ions_mol_dm3: Mapping[str, float]) -> bool:
    """Return whether an anode is passive in a solution of these ions.

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
    >>> is_passive("nickel", {"Na+": 1.1, "OH-": 1.0, "Cl-": 0.1})
    False
    >>> is_passive("zinc", {"Na+": 1.0, "OH-": 1.0})
    False
    """
    of_metals = {row["material"]: row.text for row in data.rows("passivity")}
    alkali = data.find("model", quantity="alkali that makes passive").value
    halide = data.find("model", quantity="halide that keeps active").value
    return (
        of_metals.get(material) == "passive"
        and ions_mol_dm3.get("OH-", 0.0) >= alkali
        and sum(ions_mol_dm3.get(ion, 0.0) for ion in HALIDES) < halide
    )


def passive_film(material: str) -> str:
    """Return how the film of a passive anode looks: "dark", or an empty text where nobody sees it.

    Examples
    --------
    >>> passive_film("copper"), passive_film("nickel"), passive_film("graphite")
    ('dark', '', '')
    """
    looks = {row["material"]: row["film"] for row in data.rows("passivity")}
    return looks.get(material, "")
