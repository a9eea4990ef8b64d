"""What can be collected of the gas that was made."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.substances import GASES, gas_volume_cm3, saturation_mol_m3

if TYPE_CHECKING:
    from collections.abc import Mapping

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


class GasCollection:
    """Splits a gas made at one electrode into what leaves and what stays dissolved.

    Hydrogen and oxygen: a stated share ``x`` of what is made dissolves while the liquid is far from
    saturated; an amount ``made`` loses ``s (1 - exp(-x made / s))`` where ``s`` saturates the whole
    liquid. At the least that can be collected everything dissolves first, ``x = 1``. Gases that the
    transport model carries (chlorine): what rose to the surface; the least is what is left once the
    whole liquid is saturated. Of these more bubbles are seen at the face than rise to the surface.

    Parameters
    ----------
    volume_m3
        Liquid, (samples,).
    temperature_C, pressure_kPa
        Of the room.
    left_mol
        Of each gas that the transport model carries, what left the liquid, (samples,).
    dissolved_mol
        Of the same, what is in the liquid as molecules, (samples,).
    bubbles_mol
        Of the same, what has formed bubbles at the electrode, (samples,).
    """

    gases = GASES

    def __init__(
        self,
        volume_m3: Array,
        temperature_C: float,
        pressure_kPa: float,
        left_mol: Mapping[str, Array],
        dissolved_mol: Mapping[str, Array],
        bubbles_mol: Mapping[str, Array],
    ) -> None:
        self._volume_m3 = volume_m3
        self._temperature_C = temperature_C
        self._pressure_kPa = pressure_kPa
        self._left = left_mol
        self._dissolved = dissolved_mol
        self._bubbles = bubbles_mol
        self._share = data.find("model", quantity="share dissolved").value

    def between(self, samples: slice, made_mol: Mapping[str, Array]) -> GasCollection:
        """Return the same for some samples on their own: what is collected counts from the first of them.

        Parameters
        ----------
        samples
            The samples.
        made_mol
            Of each gas, what the electrode has made by each sample of the whole run, mol.
        """
        # a gas that another electrode made has left the liquid as well
        gases = dict.fromkeys((*made_mol, *self._left))
        nothing = np.zeros_like(self._volume_m3)
        left = {gas: self.nominal_mol(gas, made_mol.get(gas, nothing)) for gas in gases}
        bubbles = {gas: self.bubbles_mol(gas, made_mol.get(gas, nothing)) for gas in gases}
        return GasCollection(
            self._volume_m3[samples],
            self._temperature_C,
            self._pressure_kPa,
            {gas: mol[samples] - mol[samples][:1] for gas, mol in left.items()},
            {gas: self._dissolved.get(gas, nothing)[samples] for gas in gases},
            {gas: mol[samples] - mol[samples][:1] for gas, mol in bubbles.items()},
        )

    def volume_cm3(self, moles: Array, *, over_water: bool = False) -> Array:
        """Return the volume of an amount at the room's temperature and pressure, cm3."""
        volume = gas_volume_cm3(
            moles,
            temperature_C=self._temperature_C,
            pressure_kPa=self._pressure_kPa,
            over_water=over_water,
        )
        return np.asarray(volume)

    def _after_dissolving(self, formula: str, made_mol: Array, share: float) -> Array:
        """Return what is not dissolved; more liquid dissolves more of what is made from then on."""
        full = saturation_mol_m3(formula, pressure_kPa=self._pressure_kPa) * self._volume_m3
        changes = np.flatnonzero(np.diff(full)) + 1
        parts, before_mol, dissolved_mol = [], 0.0, 0.0
        for part, most in zip(
            np.split(made_mol, changes), full[[0, *changes.tolist()]], strict=True
        ):
            since = -share * (part - before_mol) / most
            dissolved = dissolved_mol * np.exp(since) - most * np.expm1(since)
            parts.append(part - dissolved)
            before_mol, dissolved_mol = float(part[-1]), float(dissolved[-1])
        return np.concatenate(parts)

    def nominal_mol(self, formula: str, made_mol: Array) -> Array:
        """Return what is collected with the model's own mixing, mol."""
        if formula in self._left:
            return self._left[formula]
        return self._after_dissolving(formula, made_mol, self._share)

    def bubbles_mol(self, formula: str, made_mol: Array) -> Array:
        """Return what has formed bubbles at the electrode, mol; some dissolve again as they rise."""
        if formula in self._bubbles:
            return self._bubbles[formula]
        return self.nominal_mol(formula, made_mol)

    def range_mol(self, formula: str, made_mol: Array) -> tuple[Array, Array]:
        """Return the least and the most that can be collected, mol."""
        if formula in self._left:
            full = saturation_mol_m3(formula, pressure_kPa=self._pressure_kPa) * self._volume_m3
            unsaturated = np.maximum(full - self._dissolved[formula], 0.0)
            most = self._left[formula]
            return np.maximum(most - unsaturated, 0.0), most
        return self._after_dissolving(formula, made_mol, 1.0), made_mol
