"""What a held current makes of a melt: by the rule and Faraday's law, with no bench model behind it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry import molar_mass_g_mol
from fizzplate.chemistry.substances import gas_volume_cm3, product_name
from fizzplate.words import page_quantity, say

if TYPE_CHECKING:
    from fizzplate.cell import Cell
    from fizzplate.chemistry import ElectrodeRule, Rule
    from fizzplate.words import Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

SAMPLES = 61
ROLES = ("cathode", "anode")
#: gases of a melt that are liquid when they have cooled: their mass is given, not a volume
VAPOURS = ("Br2",)

COMPUTED = (
    "Calculated here: what forms by the rule, the half-equations, and the amounts from current and time by "
    "Faraday's law. Only drawn: how the ions move and what is seen at the electrodes, because there is no "
    "model of a melt behind the picture."
)


@dataclass(frozen=True)
class MeltRun:
    """A melt through which a current was held for some time.

    Parameters
    ----------
    cell
        The cell with the melt.
    current_A
        The current.
    minutes
        How long it flows.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> run = MeltRun(Cell("PbBr2(l)"), current_A=1.0, minutes=10.0)
    >>> run.product("cathode"), round(float(run.mass_g("cathode")[-1]), 3)
    ('Pb', 0.644)
    """

    cell: Cell
    current_A: float
    minutes: float

    @cached_property
    def rule(self) -> Rule:
        """What the rule says of the melt."""
        return self.cell.rule()

    @property
    def time_s(self) -> Array:
        """Instants, s: shape (samples,)."""
        return np.linspace(0.0, 60.0 * self.minutes, SAMPLES)

    @property
    def charge_C(self) -> Array:
        """Charge passed, C: ``Q = I t``, shape (samples,)."""
        return self.current_A * self.time_s

    def product(self, role: str) -> str:
        """Return the formula of what forms at an electrode."""
        return self._at(role).product

    def amount_mol(self, role: str) -> Array:
        """Return how much has formed, mol: Faraday's law, shape (samples,)."""
        whole = self.cell.rule_amounts_mol(float(self.charge_C[-1]))[ROLES.index(role)]
        return np.asarray(whole * self.charge_C / self.charge_C[-1])

    def mass_g(self, role: str) -> Array:
        """Return the mass of what has formed, g: shape (samples,)."""
        return self.amount_mol(role) * molar_mass_g_mol(self.product(role))

    def gas_cm3(self, role: str) -> Array:
        """Return the volume of a gas once it has cooled to 25 °C, cm3: shape (samples,)."""
        return gas_volume_cm3(self.amount_mol(role))

    def made_text(self, role: str) -> str:
        """Say how much has formed at the end.

        Examples
        --------
        >>> from fizzplate.cell import Cell
        >>> run = MeltRun(Cell("NaCl(l)"), current_A=1.0, minutes=10.0)
        >>> print(run.made_text("cathode"), "|", run.made_text("anode"))
        0.143 g of sodium | 76.1 cm³ of chlorine at 25 °C
        """
        name = product_name(self.product(role))
        if form_of(self.product(role)) == "gas" and self.product(role) not in VAPOURS:
            volume = page_quantity(float(self.gas_cm3(role)[-1]), "cm3", ".3g")
            return f"{volume} of {name} at {page_quantity(25.0, '°C')}"
        return f"{page_quantity(float(self.mass_g(role)[-1]), 'g', '.3g')} of {name}"

    def quantities(self, wording: Wording) -> tuple[str, str, str]:
        """Say how the charge follows from current and time, and the amounts at cathode and anode from it."""
        charge = say(
            "A current of {current} for {time} carries a charge of {charge}: current × time in seconds.",
            wording,
            current=page_quantity(self.current_A, "A"),
            time=page_quantity(self.minutes, "minutes"),
            charge=page_quantity(float(self.charge_C[-1]), "C", ".4g"),
        )
        cathode, anode = (self._quantity(role, wording) for role in ROLES)
        return charge, cathode, anode

    def _quantity(self, role: str, wording: Wording) -> str:
        rule = self._at(role)
        made = next(n for n, species in rule.half_equation.products if species == rule.product)
        charges = rule.half_equation.electrons / made
        return say(
            "Each mole of {product} {moves} {charges} of electrons at {the_electrode}. So the charge makes "
            "{amount}, which is {made}.",
            wording,
            role=role,
            product=product_name(rule.product),
            moves="takes" if role == "cathode" else "gives",
            charges=f"{charges:g} {'mole' if charges == 1 else 'moles'}",
            amount=page_quantity(float(self.amount_mol(role)[-1]), "mol", ".3g"),
            made=self.made_text(role),
        )

    def _at(self, role: str) -> ElectrodeRule:
        return self.rule.cathode if role == "cathode" else self.rule.anode


def form_of(product: str) -> str:
    """Say what becomes of a product in a melt: ``"sinks"``, ``"floats"``, ``"settles"`` or ``"gas"``.

    Examples
    --------
    >>> form_of("Na"), form_of("Br2")
    ('floats', 'gas')
    """
    return data.find("melt_products", product=product)["form"]


def seen_in_melt(product: str) -> str:
    """Return what is seen at the electrode while a product forms in a melt.

    Examples
    --------
    >>> seen_in_melt("Br2")
    'bubbles of an orange-brown vapour'
    """
    return data.find("melt_products", product=product).text
