"""Components, species and solids of a liquid, read from the table ``speciation``.

A component is what others are made of: H+, each ion, and one form of each oxidised halogen and of each
metal in another oxidation state. The total of a component is what no reaction in the liquid changes; that
of H+ is the acid excess and may be negative. A species and a solid are rows: a sum of components, with
log K at infinite dilution.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.chemistry.formula import parse_formula

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Mapping, Sequence

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

PROTON = "H+"
SOLVENT = "H2O"
#: what an electrode can make of the ions on the left, one form of it
MADE_AT_ELECTRODES: Mapping[frozenset[str], str] = {
    frozenset({"Cl-"}): "HClO",
    frozenset({"Br-"}): "HBrO",
    frozenset({"I-"}): "IO3-",
    frozenset({"Fe2+"}): "Fe3+",
    frozenset({"Cu2+", "Cl-"}): "Cu+",
    frozenset({"Cu2+", "Br-"}): "Cu+",
    frozenset({"Cu2+", "I-"}): "Cu+",
}


@dataclass(frozen=True, slots=True)
class Reaction:
    """A row of the table: ``sum(products) - sum(reactants)``.

    Parameters
    ----------
    change
        Number of each species that is made, by formula; negative for what is used up. Water is left out.
    log_K
        At 25 °C and infinite dilution, concentrations in mol/dm3.
    strength_coefficient
        ``b`` of :mod:`fizzplate.chemistry.equilibria.activity`.
    solid
        The solid that it dissolves, or an empty text.
    """

    change: Mapping[str, int]
    log_K: float
    strength_coefficient: float
    solid: str


@dataclass(frozen=True, slots=True)
class Member:
    """A species or a solid as a sum of components.

    Parameters
    ----------
    formula
        Its formula; a dissolved molecule that is also known as a solid ends in ``(aq)``.
    parts
        How much of each component one of it holds.
    log_K
        Of its formation from the components, concentrations in mol/dm3.
    strength_coefficient
        ``b``, summed like log K.
    charge
        In units of the elementary charge.
    """

    formula: str
    parts: Mapping[str, float]
    log_K: float
    strength_coefficient: float
    charge: int

    def is_pair_of(self, ions: Container[str]) -> bool:
        """Return whether it is made of some of these ions and nothing else."""
        return len(self.parts) > 1 and all(
            name in ions and amount > 0 for name, amount in self.parts.items()
        )


@dataclass(frozen=True, slots=True)
class ChemicalSystem:
    """What can be in a liquid: C components, S species and K solids.

    Parameters
    ----------
    components
        Formulae, H+ first.
    species, solids
        Members; the components themselves are the first species.
    """

    components: tuple[str, ...]
    species: tuple[Member, ...]
    solids: tuple[Member, ...]

    @classmethod
    def of(cls, ions: Iterable[str], *, oxidised: bool = True) -> ChemicalSystem:
        """Return the system of a liquid with these ions.

        Parameters
        ----------
        ions
            Formulae; H+ need not be named.
        oxidised
            Whether electrodes may make other oxidation states of them.
        """
        given = [PROTON, *dict.fromkeys(ion for ion in ions if ion not in {PROTON, "OH-", "HSO4-"})]
        if oxidised:
            extra = [made for need, made in MADE_AT_ELECTRODES.items() if need <= set(given)]
            given = list(dict.fromkeys([*given, *extra]))
        known = {
            name: Member(name, {name: 1.0}, 0.0, 0.0, parse_formula(name).charge) for name in given
        }
        waiting = list(_reactions())
        while True:
            ready = [r for r in waiting if not r.solid and len(_unknown(r, known)) == 1]
            if not ready:
                break
            for reaction in ready:
                waiting.remove(reaction)
                member = _solve_for(_unknown(reaction, known)[0], reaction, known)
                known[member.formula] = member
        solids = [
            _solve_for(r.solid, r, known)
            for r in waiting
            if r.solid and set(r.change) - {r.solid} <= known.keys()
        ]
        return cls(tuple(given), tuple(known.values()), tuple(solids))

    def ions_held(self, holders: Sequence[str], ions: Container[str]) -> Array:
        """Return how much of each holder each species counts as, (holders, S).

        A pair of ``ions`` counts as the ions that it holds, every other species as itself.
        """
        held = np.zeros((len(holders), len(self.species)))
        at = {name: i for i, name in enumerate(holders)}
        for k, member in enumerate(self.species):
            counts = member.parts if member.is_pair_of(ions) else {member.formula: 1.0}
            for name, amount in counts.items():
                if name in at:
                    held[at[name], k] = amount
        return held

    def matrix(self, members: Iterable[Member]) -> Array:
        """Return how much of each component each member holds, (members, C)."""
        rows = [[member.parts.get(name, 0.0) for name in self.components] for member in members]
        return np.array(rows, dtype=np.float64).reshape(-1, len(self.components))


def _unknown(reaction: Reaction, known: Mapping[str, Member]) -> list[str]:
    return [name for name in reaction.change if name not in known]


def _solve_for(formula: str, reaction: Reaction, known: Mapping[str, Member]) -> Member:
    """Return the one member of a reaction that is not known yet as a sum of components."""
    own = reaction.change[formula]
    parts: dict[str, float] = {}
    log_K, strength = reaction.log_K, reaction.strength_coefficient
    for name, count in reaction.change.items():
        if name == formula:
            continue
        log_K -= count * known[name].log_K
        strength -= count * known[name].strength_coefficient
        for component, amount in known[name].parts.items():
            parts[component] = parts.get(component, 0.0) - count * amount / own
    parts = {name: amount for name, amount in parts.items() if amount}
    charge = 0 if formula == reaction.solid else parse_formula(formula).charge
    return Member(formula, parts, log_K / own, strength / own, charge)


@cache
def _reactions() -> tuple[Reaction, ...]:
    found: dict[tuple[str, str], dict[str, float]] = {}
    for row in data.rows("speciation"):
        found.setdefault((row["kind"], row["equation"]), {})[row["quantity"]] = row.value
    reactions = []
    for (kind, equation), values in found.items():
        left, right = (_side(text) for text in equation.split(" -> "))
        change = {name: right.get(name, 0) - left.get(name, 0) for name in [*left, *right]}
        change.pop(SOLVENT, None)
        reactions.append(
            Reaction(
                change,
                values["log K"],
                values.get("strength coefficient", 0.0),
                next(iter(left)) if kind == "solid" else "",
            )
        )
    return tuple(reactions)


def _side(text: str) -> dict[str, int]:
    counts = {}
    for term in text.split(" + "):
        digits = term[: len(term) - len(term.lstrip("0123456789"))]
        counts[term[len(digits) :]] = int(digits or 1)
    return counts
