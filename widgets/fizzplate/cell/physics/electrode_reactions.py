"""Which reactions can carry the current at an electrode: rows of the table, for a material and a solution.

Each is one-way: an oxidation at the anode, a reduction at the cathode. Its standard potential, exchange
current density and transfer coefficient come from the tables ``electrode_reactions`` and ``kinetics``;
its limiting current density is that of Fick's law across the layer next to the face. How fast it runs is
computed in ``butler_volmer.py``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell.physics.crystals import Saturation, saturations
from fizzplate.cell.physics.passivity import film_V, is_wholly_passive
from fizzplate.chemistry import (
    FARADAY_C_MOL,
    GAS_J_MOL_K,
    ZERO_CELSIUS_K,
    balance,
    electrodes,
)
from fizzplate.chemistry.substances import GASES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.cell.physics.speciation import Speciation


STANDARD_MOL_M3 = 1000.0
TRACE = 1e-6  # of saturation: without any dissolved gas its Nernst potential is infinite
FORMED_ON_SURFACE = ("H2", "O2")  # they form on whatever covers the electrode
CORRODES_FROM_V = 0.1  # of standard potentials: by that much a metal's dilute ions lower its own
CARBON_BURNT = "CO2"  # not where something covers the carbon
# A dissolved halogen stands, when it is reduced, for all that it turns into and back at once: halic(I)
# acids, halate(I), trihalides. They are supplied to the face together; iodate(V) is reduced too slowly.
# Hydrogensulfate gives up its proton as fast.
SUPPLIED_TOGETHER = {
    "Cl2": ("Cl2", "HClO", "ClO-"),
    "Br2": ("Br2", "Br3^-", "HBrO", "BrO-"),
    "I2": ("I2", "I3^-", "HIO", "IO-"),
    "SO4^2-": ("SO4^2-", "HSO4-"),
    # Copper(I), whatever holds it: where the halide is swept away, most of it is free.
    "CuCl2-": ("CuCl2-", "Cu+", "CuCl(aq)", "CuCl3^2-"),
    "CuBr2-": ("CuBr2-", "Cu+"),
    "CuI2-": ("CuI2-", "Cu+"),
    # A haze of these that reaches the cathode is reduced there: the metal of it plates, dark and spongy.
    "Cu2+": ("Cu2+", "Cu(OH)2"),
    "Ag+": ("Ag+", "Ag2O"),
    "Pb2+": ("Pb2+", "Pb(OH)2"),
}


#: ions besides the one that limits a reaction whose activity its rate may go with
ORDERED_IN = {"H+": "hydrogen", "OH-": "hydroxide", "Cl-": "chloride", "Br-": "bromide"}
#: reactions whose exchange current density is known as a share of another's on the same material
SHARES_OF = {
    "carbon burnt in acid": "oxygen from water",
    "carbon burnt in alkali": "oxygen from hydroxide",
}


@dataclass(frozen=True, slots=True)
class ExchangeRow:
    """A row of the table ``kinetics``: the exchange current density of a reaction on a material."""

    reaction: str
    material: str

    @property
    def value_A_m2(self) -> float:
        """The exchange current density, A/m2."""
        return _kinetic_row("exchange current density", (self.reaction, self.material)).value

    @property
    def uncertainty_factor(self) -> float:
        """By what the true value may be larger or smaller; as of most rows, if it has none of its own.

        Examples
        --------
        >>> ExchangeRow("oxygen from water", "graphite").uncertainty_factor
        10.0
        >>> ExchangeRow("copper deposited", "any").uncertainty_factor
        3.0
        """
        own = (self.reaction, self.material)
        return _kinetic_row("uncertainty factor", own, ("any", "any")).value

    def changes_with(self, other: ExchangeRow) -> bool:
        """Return whether a change of another row changes this one: it is the same, or a share of it.

        Examples
        --------
        >>> oxygen = ExchangeRow("oxygen from water", "graphite")
        >>> burnt = ExchangeRow("carbon burnt in acid", "graphite")
        >>> burnt.changes_with(oxygen), oxygen.changes_with(burnt)
        (True, False)
        """
        return other in (self, ExchangeRow(SHARES_OF.get(self.reaction, ""), self.material))


#: by what the exchange current densities of rows are multiplied
ExchangeFactors = Mapping[ExchangeRow, float]


@dataclass(frozen=True, slots=True, eq=False)
class Reaction:
    """One way in which current can pass at an electrode of a given material.

    Parameters
    ----------
    name
        Name in the tables.
    product
        Formula under which its share of the charge is reported: what it forms, or an ion that this holds.
    product_count
        How much of the product there is in what is formed when it happens once as written.
    electrons
        Electrons that pass when it happens once as written.
    consumed, formed
        Amounts by formula when it happens once as written, electrons and water left out.
    limited_by
        What it uses up: rows, among all that is carried, and how readily each is supplied (summed); empty
        if nothing in the liquid is used up.
    orders
        What it forms slows it down, what it needs besides drives it: rows, and the power of the activity
        with which its rate goes.
    standard_potential_V, transfer_coefficient
        Kinetics as in the equations of ``butler_volmer.py``.
    exchange
        Where its exchange current density stands.
    film_V
        How much higher a potential it needs because of a film of oxide on the metal.
    supply_A_m
        ``n F D / (nu * nearest layer)`` in A m/mol: times concentration, the limiting current density.
    quotient
        The reaction quotient in its affinity: row of the species, exponent, reference, and trace
        that is always taken to be there, mol/m3.
    sigma
        +1 oxidation, -1 reduction.
    solid
        Formula of the solid on the electrode that it uses up, or empty.
    solids
        What the electrode gains of each solid when it happens once as written; negative: loses.
    saturations
        The salts that can crystallise from the metal ions that it forms.
    room_A_m
        ``n F D / nearest layer`` of these ions in A m/mol: times the room for them, the largest
        current density.
    """

    name: str
    product: str
    product_count: float
    electrons: int
    consumed: Mapping[str, int]
    formed: Mapping[str, int]
    limited_by: Mapping[int, float]
    orders: Mapping[int, float]
    standard_potential_V: float
    exchange: ExchangeRow
    transfer_coefficient: float
    film_V: float
    supply_A_m: float
    quotient: tuple[tuple[int, float, float, float], ...]
    sigma: int
    solid: str
    solids: Mapping[str, int]
    saturations: tuple[Saturation, ...]
    room_A_m: float


def reactions(
    role: str,
    material: str,
    model: Speciation,
    saturation_mol_m3: Mapping[str, float],
    diffusion_m2_s: Mapping[str, float],
    *,
    surface: str = "",
    plated: Iterable[str] = (),
    made_mol_dm3: Mapping[str, float] | None = None,
) -> tuple[Reaction, ...]:
    """Return all reactions of the tables that are possible with these species.

    Parameters
    ----------
    role
        "anode" or "cathode".
    material
        Name of the electrode's material.
    model
        The species of the solution.
    saturation_mol_m3
        Concentration of a dissolved gas at which its activity is that of the gas at one atmosphere.
    diffusion_m2_s
        Diffusion coefficient of each species.
    surface
        Name of the metal, or of the oxide, that soon covers the electrode and on which hydrogen, or
        oxygen, forms; empty if it stays bare.
    plated
        Solids that an earlier stage may have left on the electrode.
    made_mol_dm3
        The ions of the solution as it is made: they say whether a film of oxide keeps an anode's own metal
        from dissolving.
    """
    haze_reaches = data.find("model", quantity="haze reduced").value
    layer_m = data.find("model", quantity="nearest layer").value * 1e-6
    at = {name: i for i, name in enumerate(model.species)}
    own_metal = electrodes()[material].formula
    made = made_mol_dm3 or {}
    passive = role == "anode" and is_wholly_passive(material, made)
    per_volt = FARADAY_C_MOL / (GAS_J_MOL_K * (25 + ZERO_CELSIUS_K))
    possible = []
    for row in data.rows("electrode_reactions"):
        if row["electrode"] != role:
            continue
        equation = balance(row["equation"])
        consumed = {s: n for n, s in equation.reactants if s not in {"e-", "H2O"}}
        formed = {s: n for n, s in equation.products if s not in {"e-", "H2O"}}
        limit = row["limited_by"]
        solid = next((s for s in consumed if s not in at), "")
        if solid and solid != own_metal and solid not in plated:
            continue
        if passive and solid == own_metal:
            continue
        if limit and limit not in at:
            continue
        if surface and row["product"] == CARBON_BURNT:
            continue
        if any(s.endswith(("+", "-")) and s not in at for s in formed):
            continue
        on = surface if surface and row["product"] in FORMED_ON_SURFACE else material
        electrons = equation.electrons
        together = SUPPLIED_TOGETHER.get(limit, (limit,))
        supplied = {
            model.at[s]: haze_reaches if s in model.solids else 1.0
            for s in together
            if s in model.at
        }
        count = consumed.get(limit, 1)
        given = _crystallising(own_metal if solid == own_metal else "", material, formed, at)
        exchange = _exchange_row(row["reaction"], on)
        transfer = kinetic_value(row["reaction"], on, "transfer coefficient")
        pits = role == "anode" and solid == own_metal
        possible.append(
            Reaction(
                name=row["reaction"],
                product=row["product"],
                product_count=_held(row["product"], formed, model),
                electrons=electrons,
                consumed=consumed,
                formed=formed,
                limited_by=supplied,
                orders={
                    at[ion]: _order(row["reaction"], on, ion)
                    for ion in (*formed, *consumed)
                    if ion in ORDERED_IN and _order(row["reaction"], on, ion)
                },
                standard_potential_V=row.value,
                exchange=exchange,
                transfer_coefficient=transfer,
                film_V=film_V(material, made, row.value, exchange.value_A_m2, transfer * per_volt)
                if pits
                else 0.0,
                supply_A_m=(  # limiting current density for each mol/m3
                    electrons * FARADAY_C_MOL * diffusion_m2_s[limit] / (count * layer_m)
                    if limit
                    else math.inf
                ),
                quotient=tuple(  # of the Nernst equation
                    (
                        at[s],
                        sign * n,
                        saturation_mol_m3.get(s, STANDARD_MOL_M3),
                        TRACE * saturation_mol_m3[s] if s in saturation_mol_m3 else 0.0,
                    )
                    for side, sign in ((formed, 1.0), (consumed, -1.0))
                    for s, n in side.items()
                    if s in at
                ),
                sigma=1 if role == "anode" else -1,
                solid=solid,
                solids={
                    s: sign * n
                    for side, sign in ((consumed, -1), (formed, 1))
                    for s, n in side.items()
                    if s not in at and s not in GASES
                },
                saturations=saturations(given, at) if role == "anode" else (),
                room_A_m=electrons
                * FARADAY_C_MOL
                * min((diffusion_m2_s[ion] for ion in given), default=0.0)
                / layer_m,
            )
        )
    return tuple(possible)


def _crystallising(
    own_metal: str, material: str, formed: Mapping[str, int], at: Mapping[str, int]
) -> list[str]:
    """Return the ions whose salts can crystallise: those that form, or that an anode's own metal ends as.

    Copper dissolves as copper(I) too, which halide holds. Under a crust of a copper(II) salt no halide is
    left, ``2Cu+ -> Cu2+ + Cu``, and so the crust keeps it back as well.
    """
    given = [ion for ion in formed if ion in at and ion.endswith("+")]
    ends_as = electrodes()[material].dissolves_as
    if own_metal and not given and not any(s not in at for s in formed) and ends_as in at:
        return [ends_as]
    return given


def _held(product: str, formed: Mapping[str, int], model: Speciation) -> float:
    """Return how much of a product is formed, as it is or held in a complex."""
    if product in formed:
        return float(formed[product])
    total = model.row[product]
    return sum(n * float(model.parts(species)[total]) for species, n in formed.items())


def _exchange_row(reaction: str, material: str) -> ExchangeRow:
    quantity = "exchange current density"
    row = _kinetic_row(quantity, (reaction, material), (reaction, "any"))
    return ExchangeRow(reaction, row["material"])


def _order(reaction: str, material: str, ion: str) -> float:
    quantity = f"order in {ORDERED_IN[ion]} ions"
    try:
        return kinetic_value(reaction, material, quantity)
    except data.MissingRowError:
        return 0.0


def kinetic_value(reaction: str, material: str, quantity: str) -> float:
    """Return a value of the table ``kinetics`` for a material, or for any.

    Examples
    --------
    >>> kinetic_value("oxygen from water", "platinum", "transfer coefficient")
    0.5
    """
    return _kinetic_row(quantity, (reaction, material), (reaction, "any")).value


@cache
def _kinetic_row(quantity: str, *choices: tuple[str, str]) -> data.Row:
    """Return the row of the first of some reactions and materials that has one."""
    known = {
        (row["reaction"], row["material"]): row
        for row in data.rows("kinetics")
        if row["quantity"] == quantity
    }
    for each in choices:
        if each in known:
            return known[each]
    raise data.MissingRowError(f"data/kinetics.csv has no row with {quantity} of {choices[0]}")


def opposing(
    role: str, metal: str, anodic: Iterable[Reaction], cathodic: Iterable[Reaction]
) -> tuple[Reaction, ...]:
    """Return what runs against an electrode's own reactions at potentials where its metal corrodes.

    Parameters
    ----------
    role
        "anode" or "cathode".
    metal
        Formula of the electrode's metal.
    anodic, cathodic
        All that is possible on it in either direction.
    """
    dissolving = tuple(reaction for reaction in anodic if reaction.solid == metal)
    if not dissolving:
        return ()
    reduced = tuple(
        reaction
        for reaction in cathodic
        if any(
            reaction.standard_potential_V > own.standard_potential_V - CORRODES_FROM_V
            and (reaction.formed, reaction.consumed) != (own.consumed, own.formed)
            for own in dissolving
        )
    )
    if not reduced:
        return ()
    return reduced if role == "anode" else dissolving


@dataclass(frozen=True, slots=True)
class Electrode:
    """One electrode: its material, the reactions that are possible there, and what runs against them."""

    material: str
    reactions: tuple[Reaction, ...]
    opposing: tuple[Reaction, ...] = ()
