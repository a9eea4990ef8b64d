"""What a stage pours into a cell, and what is refused of it."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.chemistry import non_electrolytes, solutions, species_name
from fizzplate.chemistry.equilibria import ChemicalSystem
from fizzplate.chemistry.substances import dangers
from fizzplate.data import rows
from fizzplate.words import InputError, Quantity, Sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from fizzplate.cell.physics import CellLike, Vessel
    from fizzplate.cell.solver import Stage

#: what chlorine and bromine turn into in a liquid without acid: acid sets the halogen free again
BLEACHES: Mapping[str, str] = MappingProxyType({"Cl-": "ClO-", "Br-": "BrO-"})


def _what_was_poured(stage: Stage) -> tuple[str, object]:
    """Return the argument of a stage that adds liquid, and what was given, to be named in a refusal."""
    return ("add", dict(stage.add)) if stage.add else ("water_cm3", stage.water_cm3)


def refuse_no_room(cell: CellLike, stage: Stage, offered: Iterable[Vessel]) -> None:
    """Refuse what a vessel has no room for, or what nobody can stir in; others may be ``offered``.

    Raises
    ------
    InputError
        If the vessel is not stirred by hand, or would overflow.
    """
    argument, given = _what_was_poured(stage)
    vessel = cell.vessel
    if not vessel.stirred_by_hand or vessel.volume_cm3 is None:
        stirred = " or ".join(each.name for each in offered if each.stirred_by_hand)
        raise InputError(
            argument,
            given,
            f"a {stirred}",
            why=f"the liquid in a {vessel.name} is not stirred, so what is poured in would not mix",
        )
    room_cm3 = vessel.volume_cm3.maximum - cell.volume_cm3
    if stage.added_cm3 > room_cm3 * (1 + 1e-12):
        raise InputError(
            argument,
            given,
            Sentence("at most {room} more", {"room": Quantity(max(room_cm3, 0.0), "cm3", ".3g")}),
            why=Sentence(
                "the {vessel} holds {most} and already contains {volume}",
                {
                    "vessel": vessel.name,
                    "most": Quantity(vessel.volume_cm3.maximum, "cm3"),
                    "volume": Quantity(cell.volume_cm3, "cm3", ".3g"),
                },
            ),
        )


def mixture_after(cell: CellLike, stage: Stage) -> Mapping[str, float]:
    """Return what has been put into a cell by the start of a stage, in its larger volume, mol/dm3.

    Raises
    ------
    InputError
        If a solid would form that the model does not know.
    """
    volume_cm3 = cell.volume_cm3 + stage.added_cm3
    mixture = {
        formula: strength * cell.volume_cm3 / volume_cm3
        for formula, strength in cell.mixture_mol_dm3.items()
        # water needs no name beside a salt, and sugar takes part in nothing
        if not (stage.add and formula in non_electrolytes())
    }
    for formula, (poured_cm3, strength) in (stage.add or {}).items():
        mixture[formula] = mixture.get(formula, 0.0) + strength * poured_cm3 / volume_cm3
    _refuse_unknown_solids(mixture, stage)
    return MappingProxyType(mixture)


def refuse_dangers(cell: CellLike, stage: Stage, made: Iterable[str]) -> None:
    """Refuse to pour in what must never meet what is in a cell, or the ions that a current has made.

    Raises
    ------
    InputError
        If something in the liquid is dangerous together.
    """
    rods = (cell.anode, cell.cathode)
    # an acid that was there before has met what the current made, or has been neutralised since
    poured = {ion for f in stage.add or () for ion in _ions_of(f)}
    for row in (
        *dangers(cell.ions_mol_dm3, electrodes=rods),
        *dangers({*poured, *made}, electrodes=rods),
    ):
        raise InputError(*_what_was_poured(stage), row["instead"], why=Sentence(row.text))


def stocks_after(cell: CellLike, stage: Stage) -> Mapping[str, float]:
    """Return the strongest solution of each salt that has been poured in so far, mol/dm3."""
    stocks = dict(cell.stocks_mol_dm3)
    for formula, (_, strength) in (stage.add or {}).items():
        stocks[formula] = max(stocks.get(formula, 0.0), strength)
    return MappingProxyType(stocks)


def halides_oxidised(cell: CellLike, stage: Stage) -> set[str]:
    """Return the halide ions of which the current of a stage makes a halogen that stays in the liquid."""
    return set() if stage.off else set(BLEACHES) & set(cell.ions_mol_dm3)


def bleaches_made(cell: CellLike, oxidised: Iterable[str]) -> set[str]:
    """Return what acid would turn into a poisonous halogen after a stage.

    A liquid without alkali that holds acid stays acid: a halogen in it stays as it is. Alkali turns it into
    bleach even when the switch is open.

    Parameters
    ----------
    cell
        The cell as it is in the stage.
    oxidised
        The halide ions of which a current has made a halogen so far.
    """
    ions = cell.ions_mol_dm3
    stays_acid = "H+" in ions and "OH-" not in ions
    return set() if stays_acid else {BLEACHES[halide] for halide in oxidised}


def _ions_of(formula: str) -> Iterable[str]:
    return solutions()[formula].ions if formula in solutions() else ()


def _refuse_unknown_solids(mixture: Mapping[str, float], stage: Stage) -> None:
    """Refuse to pour together what gives a solid of which the model has no solubility."""
    ions = {ion for f in mixture for ion in _ions_of(f)}
    for row in rows("precipitates"):
        cation, anion = row["cation"], row["anion"]
        if {cation, anion} <= ions and not _knows_solid(cation, anion):
            argument, given = _what_was_poured(stage)
            raise InputError(
                argument,
                given,
                "a solution that keeps the liquid clear, or clouds it with a solid that the model knows",
                why=f"solid {species_name(row.text)} would form, and the model has no solubility for it",
            )


def _knows_solid(cation: str, anion: str) -> bool:
    """Return whether the table ``speciation`` has a solid of these two ions."""
    own = [ion for ion in (cation, anion) if ion != "OH-"]
    return any(
        cation in solid.parts
        and (solid.parts.get("H+", 0.0) < 0 if anion == "OH-" else anion in solid.parts)
        for solid in ChemicalSystem.of(own).solids
    )
