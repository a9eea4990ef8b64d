"""What one electrode did in a run: arrays over the samples, in the units of school chemistry."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry import electrodes, molar_mass_g_mol
from fizzplate.words import choice

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.cell.made import Made
    from fizzplate.cell.physics import GasCollection
    from fizzplate.cell.uncertainty import Uncertainty

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MIN_PRODUCT_SHARE = 1e-6  # of the charge: less is no product


@dataclass(frozen=True)
class ElectrodeRecord:
    """What happened at one electrode; every array has one entry a sample.

    Parameters
    ----------
    material
        Name of the material.
    products
        Formulae of what was made, the largest share of the charge first. A dissolving copper
        electrode makes "Cu2+"; halogen reduced again makes its ion.
    potential_V
        Against the standard hydrogen electrode; not a number while the switch is open.
    pH
        At the face, (samples,): -log10 of the activity of hydrogen ions, as a pH meter reads it.
    limiting_share
        How much of what can reach the face plates: 0 where a metal's ions are as many at the face as
        beyond the film, 1 at its limiting current, (samples,); 0 where no metal plates.
    """

    material: str
    products: tuple[str, ...]
    potential_V: Array
    pH: Array
    limiting_share: Array
    _side: int = field(repr=False)
    _made: Made = field(repr=False)
    _uncertainty: Uncertainty = field(repr=False)
    _gas_collection: GasCollection = field(repr=False)

    @property
    def solids(self) -> tuple[str, ...]:
        """Formulae of the solids that the electrode may have gained or lost."""
        return tuple(self._made.solids_mol)

    @property
    def gases(self) -> tuple[str, ...]:
        """Formulae of the products that are gases."""
        return tuple(each for each in self.products if each in self._gas_collection.gases)

    def share(self, formula: str) -> Array:
        """Return the fraction of the current that makes a product now (Faraday efficiency), (samples,)."""
        return self._of(self._made.shares, formula)

    def amount_mol(self, formula: str) -> Array:
        """Return what has been made so far, (samples,), mol; of a gas, with what dissolved."""
        return self._of(self._made.amounts_mol, formula)

    def charge_C(self, formula: str) -> Array:
        """Return the charge that has made a product so far, (samples,), C."""
        return self._of(self._made.charges_C, formula)

    def mass_g(self, formula: str) -> Array:
        """Return what the electrode has gained of a solid so far, (samples,), g; negative: lost."""
        if formula not in self._made.solids_mol:
            return np.zeros_like(self.pH)
        return np.asarray(self._made.solids_mol[formula] * molar_mass_g_mol(formula))

    def charge_share(self, formula: str) -> Array:
        """Return the fraction of all charge so far that made a product, (samples,); 0 before any passed."""
        return _charge_share(self._made, formula)

    def charge_share_range(self, formula: str) -> tuple[Array, Array]:
        """Return the least and most that the fraction of all charge so far could be, two (samples,).

        As :meth:`share_range`, which says how.
        """
        low, high = self._band(lambda made: _charge_share(made, formula))
        return np.maximum(low, 0.0), np.minimum(high, 1.0)

    def share_range(self, formula: str) -> tuple[Array, Array]:
        """Return the least and most that the share of a product could be, two (samples,).

        Exchange current densities are known to a factor of ten or so (``kinetics.csv``), the layer at an
        electrode to a third (``model.csv``). The run is computed again with the most influential of
        them multiplied or divided by their factors, one at a time, at most six in all, the first time
        that a range is asked for. The differences add up by squares, up and down apart.

        Raises
        ------
        RuntimeError
            If one of these runs cannot be finished.

        Examples
        --------
        >>> from fizzplate.cell import Cell
        >>> run = Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03).run(minutes=1, samples=3)
        >>> low, high = run.anode.share_range("O2")
        >>> bool(low[-1] < 0.25 < run.anode.share("O2")[-1] < 0.5 < high[-1])
        True
        """
        low, high = self._band(lambda made: self._of(made.shares, formula))
        return np.maximum(low, 0.0), np.minimum(high, 1.0)

    def amount_range_mol(self, formula: str) -> tuple[Array, Array]:
        """Return the least and most that could have been made so far, two (samples,), mol.

        As :meth:`share_range`, which says how.
        """
        low, high = self._band(lambda made: self._of(made.amounts_mol, formula))
        return np.maximum(low, 0.0), high

    def mass_range_g(self, formula: str) -> tuple[Array, Array]:
        """Return the least and most that the electrode could have gained of a solid, two (samples,), g.

        As :meth:`share_range`, which says how; negative: lost, of its own metal alone.
        """
        low, high = self._band(lambda made: self._of(made.solids_mol, formula))
        if formula != electrodes()[self.material].formula:
            low = np.maximum(low, 0.0)
        molar_mass = molar_mass_g_mol(formula)
        return low * molar_mass, high * molar_mass

    def volume_range_cm3(self, formula: str) -> tuple[Array, Array]:
        """Return the least and most gas that could have been made so far, two (samples,), cm3, dry.

        As :meth:`share_range`, which says how. How much of the gas that was made can be collected is
        another question: :meth:`gas_range_cm3`.
        """
        choice("formula", formula, self._gas_collection.gases)
        low, high = self.amount_range_mol(formula)
        return self._gas_collection.volume_cm3(low), self._gas_collection.volume_cm3(high)

    def between(self, samples: slice) -> ElectrodeRecord:
        """Return what happened during some samples on their own: amounts count from the first of them.

        Products are those of these samples, the largest share of their charge first. Ranges are not known.
        """
        made = self._made.between(samples)
        passed_C = {product: float(charge_C[-1]) for product, charge_C in made.charges_C.items()}
        gases = {gas: self.amount_mol(gas) for gas in self.gases}
        return replace(
            self,
            products=main_products(passed_C),
            potential_V=self.potential_V[samples],
            pH=self.pH[samples],
            limiting_share=self.limiting_share[samples],
            _made=made,
            _uncertainty=replace(self._uncertainty, changes=()),
            _gas_collection=self._gas_collection.between(samples, gases),
        )

    def _of(self, values: Mapping[str, Array], formula: str) -> Array:
        return values.get(formula, np.zeros_like(self.pH))

    def _band(self, of: Callable[[Made], Array]) -> tuple[Array, Array]:
        return self._uncertainty.band(self._side, of(self._made), of)

    def gas_cm3(self, formula: str, *, collected: bool = False, over_water: bool = False) -> Array:
        """Return the volume of a gas so far, (samples,), cm3 at the room's temperature and pressure.

        Parameters
        ----------
        formula
            "H2", "O2", "Cl2" or "CO2".
        collected
            Leave out what stays dissolved.
        over_water
            With the water vapour that it carries when collected over water.

        Raises
        ------
        InputError
            If the formula is not that of a gas.
        """
        choice("formula", formula, self._gas_collection.gases)
        made = self.amount_mol(formula)
        moles = self._gas_collection.nominal_mol(formula, made) if collected else made
        return self._gas_collection.volume_cm3(moles, over_water=over_water)

    def bubbles_cm3(self, formula: str) -> Array:
        """Return the volume of a gas that has formed bubbles at the electrode so far, (samples,), cm3.

        Of chlorine most bubbles dissolve again as they rise, so less is collected than is seen.

        Examples
        --------
        >>> from fizzplate.cell import Cell
        >>> anode = Cell("HCl").run(minutes=2, samples=3).anode
        >>> bool(anode.gas_cm3("Cl2", collected=True)[-1] < anode.bubbles_cm3("Cl2")[-1])
        True

        Raises
        ------
        InputError
            If the formula is not that of a gas.
        """
        choice("formula", formula, self._gas_collection.gases)
        moles = self._gas_collection.bubbles_mol(formula, self.amount_mol(formula))
        return self._gas_collection.volume_cm3(moles)

    def gas_range_cm3(self, formula: str) -> tuple[Array, Array]:
        """Return the least and most of a gas that can be collected, two (samples,), cm3, dry.

        Least: the whole liquid has been mixed and has taken up all that it can. Most: nothing more
        dissolves than in the model.
        """
        choice("formula", formula, self._gas_collection.gases)
        low, high = self._gas_collection.range_mol(formula, self.amount_mol(formula))
        return self._gas_collection.volume_cm3(low), self._gas_collection.volume_cm3(high)


def _charge_share(made: Made, formula: str) -> Array:
    """Return the fraction of an electrode's charge so far that made a product, (samples,)."""
    whole_C = sum(made.charges_C.values())
    passed_C = made.charges_C.get(formula, 0.0 * np.asarray(whole_C))
    return np.divide(passed_C, whole_C, out=np.zeros_like(passed_C), where=whole_C > 0)


def main_products(passed_C: Mapping[str, float]) -> tuple[str, ...]:
    """Return what is a product, by the charge that made it, the largest first."""
    least_C = MIN_PRODUCT_SHARE * sum(passed_C.values())
    ranked = sorted(passed_C, key=lambda product: -passed_C[product])
    return tuple(product for product in ranked if passed_C[product] > least_C)
