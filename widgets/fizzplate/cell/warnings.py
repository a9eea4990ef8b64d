"""A run's warnings: sentences for what is out of range or left out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.cell.physics import HALIDES, MAX_SUPPLY_V, breaks_films, displacements
from fizzplate.chemistry import non_electrolytes, parse_formula, species_name
from fizzplate.words import Quantity, Sentence

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from fizzplate.cell.air_oxygen import OxygenBeside
    from fizzplate.cell.physics import CellLike

BOILING_C = 95.0  # it spits and steams before it boils
HOT_C = 50.0
STRONG_MOL_DM3 = 2.0
ROUGH, SPONGY = 0.6, 0.95  # of a metal's limiting current, common practice
NOTABLE_WATER = 0.02  # of the volume
FALLEN = 0.995  # of the current that was set: less gets a warning
FITTED_C = (15.0, 35.0)
MIN_CURRENT_A = 1e-5  # less counts as no current, in scripts too (views/kit/format.js); a choice
LEAST_OXYGEN_A = 5e-5  # half of the 0.1 mA that a school's meter shows; a choice
NOTABLE_OXYGEN = 0.05  # of the current: as wide as a band of shares that a page shows


@dataclass(frozen=True, slots=True)
class Crystals:
    """Crystals at an electrode that makes metal ions."""

    source: str  #: formula of the metal that dissolves, or of the ions that form from others
    salt: str  #: name of what crystallises
    besides: bool  #: whether some of the current makes another product


@dataclass(frozen=True, slots=True)
class RunConditions:
    """What the warnings depend on."""

    cell: CellLike
    supply_limited: bool
    min_current_A: float  #: while the switch is closed
    highest_temperature_C: float
    boils_after_s: float | None  #: when the run ends for that reason
    anode_gone: bool
    products: tuple[str, ...]
    roughness: float
    water_lost_cm3: float
    trace_mol_dm3: float
    oxygen_beside: (
        OxygenBeside | None
    )  #: oxygen of the air at the cathode, which the model leaves out
    crystallising: tuple[Crystals, ...]


def warnings(conditions: Iterable[RunConditions]) -> tuple[Sentence, ...]:
    """Return the warnings that apply to any part of a run, to be filled for a board and a place."""
    sentences = [sentence for now in conditions for sentence in _warnings(now)]
    return tuple(each for k, each in enumerate(sentences) if each not in sentences[:k])


def _warnings(now: RunConditions) -> Iterator[Sentence]:
    yield from _supply_warnings(now)
    yield from _electrode_warnings(now)
    yield from _liquid_warnings(now)
    yield from _oxygen_of_the_air(now.oxygen_beside)
    yield from (Sentence(row.text) for row in data.rows("left_out") if _all_hold(row["when"], now))
    yield from _displacement(now.cell)


def _supply_warnings(now: RunConditions) -> Iterator[Sentence]:
    cell = now.cell
    if now.supply_limited and cell.current_A is None and cell.supply_V is not None:
        yield Sentence(
            "The supply reached its largest current, {limit}, so its voltage fell below the "
            "{voltage} that was set.",
            {"limit": Quantity(cell.supply_limit_A, "A"), "voltage": Quantity(cell.supply_V, "V")},
        )
    if cell.current_A is not None and now.min_current_A < FALLEN * cell.current_A:
        yield Sentence(
            "To keep the current at {wanted}, the supply would need more than {most}. It stays at {most}, so "
            "the current falls to {least}.",
            {
                "wanted": Quantity(cell.current_A, "A", ".3g"),
                "most": Quantity(MAX_SUPPLY_V, "V"),
                "least": Quantity(now.min_current_A, "A", ".2g"),
            },
        )
    if now.boils_after_s is not None:
        yield Sentence(
            "After {time} so large a current would boil the solution, so the run ends there: do not try "
            "this in a real cell. The model leaves the heating out and stays at room temperature.",
            {"time": _duration(now.boils_after_s)},
        )
    elif now.highest_temperature_C > HOT_C:
        yield Sentence(
            "The current would warm the solution to about {temperature}. The model leaves the "
            "heating out and stays at room temperature.",
            {"temperature": Quantity(now.highest_temperature_C, "°C", ".0f")},
        )


def _duration(seconds: float) -> Quantity:
    return Quantity(seconds, "s", ".2g") if seconds < 60 else Quantity(seconds / 60, "min", ".2g")


def _electrode_warnings(now: RunConditions) -> Iterator[Sentence]:
    cell = now.cell
    if now.anode_gone and cell.anode_mass_g is not None:
        yield Sentence(
            "All {mass} of the {material} {anode} dissolves before the end of the run. After that, the model "
            "continues with the other reactions as if the electrode were still there.",
            {"material": cell.anode, "mass": Quantity(cell.anode_mass_g, "g")},
        )
    for crystals in now.crystallising:
        yield _of_crystals(crystals)
    if now.roughness > SPONGY:
        yield Sentence(
            "Metal ions do not reach the electrode fast enough for this current: the deposit is dark and "
            "spongy, and falls off."
        )
    elif now.roughness > ROUGH:
        yield Sentence(
            "The current is {share} of the largest for which metal ions reach the electrode fast enough: the "
            "deposit is rough, and grains fall off.",
            {"share": Quantity(100 * now.roughness, "%", ".0f")},
        )


def _of_crystals(crystals: Crystals) -> Sentence:
    besides = "; the rest of the current makes another product" if crystals.besides else ""
    if parse_formula(crystals.source).charge:
        return Sentence(
            "At {the_anode} {ions} ions form faster than they move away: the solution there is saturated "
            "with {salt}, and crystals cover {the_anode}. Under them only as many form as move "
            "away{besides}. The picture does not show the crystals.",
            {"ions": species_name(crystals.source), "salt": crystals.salt, "besides": besides},
        )
    return Sentence(
        "The {metal} of {the_anode} gives off ions faster than they move away: the solution there is "
        "saturated with {salt}, and crystals cover {the_anode}. Under them it dissolves only as fast as "
        "its ions move away{besides}. The picture does not show the crystals.",
        {"metal": species_name(crystals.source), "salt": crystals.salt, "besides": besides},
    )


def _liquid_warnings(now: RunConditions) -> Iterator[Sentence]:
    cell = now.cell
    if cell.concentration_mol_dm3 > STRONG_MOL_DM3:
        yield Sentence(
            "The model knows conductivities only up to {most}: at {strength} its currents are estimates.",
            {
                "strength": Quantity(cell.concentration_mol_dm3, "mol/dm3"),
                "most": Quantity(STRONG_MOL_DM3, "mol/dm3"),
            },
        )
    if not FITTED_C[0] <= cell.temperature_C <= FITTED_C[1]:
        yield Sentence(
            "The model knows conductivities only from {least} to {most}: at {temperature} its currents are "
            "estimates.",
            {
                "temperature": Quantity(cell.temperature_C, "°C", ".3g"),
                "least": Quantity(FITTED_C[0]),
                "most": Quantity(FITTED_C[1], "°C"),
            },
        )
    if now.water_lost_cm3 > NOTABLE_WATER * cell.volume_cm3:
        yield Sentence(
            "The current turns about {water} of water into gas. The model keeps the volume as it was, so its "
            "concentrations are a little too low at the end.",
            {"water": Quantity(now.water_lost_cm3, "cm3", ".2g")},
        )
    if now.trace_mol_dm3:
        yield Sentence(
            "Part of the liquid would lose all its ions, and the model cannot calculate that. So it added "
            "{trace} of sodium nitrate, which is less salt than tap water contains. Without it the "
            "current could be several times smaller.",
            {"trace": Quantity(1e3 * now.trace_mol_dm3, "mmol/dm3")},
        )
    for formula in cell.solution_formulae:
        if formula in non_electrolytes():
            yield Sentence(non_electrolytes()[formula].reason)
            yield Sentence(
                "The model includes a trace of salt, because even the purest water in a school contains some."
            )


def _oxygen_of_the_air(beside: OxygenBeside | None) -> Iterator[Sentence]:
    if beside is None or beside.oxygen_A < LEAST_OXYGEN_A or beside.share < NOTABLE_OXYGEN:
        return
    flows = beside.run_A >= MIN_CURRENT_A
    small = Sentence(
        "the current is as small as {current}",
        {"current": Quantity(1e3 * beside.run_A, "mA", ".2g")},
    )
    yield Sentence(
        "Oxygen from the air is dissolved in the solution and also takes electrons at {the_cathode}: about "
        "{oxygen} at first. That matters here, because {reason}. The model leaves this oxygen out. It is "
        "slowly used up, but more keeps coming from the air.",
        {
            "oxygen": Quantity(1e3 * beside.oxygen_A, "mA", ".2g"),
            "reason": small if flows else "hardly any other current flows",
        },
    )


def _all_hold(when: str, now: RunConditions) -> bool:
    """Return whether every condition of a row holds, such as ``anode copper & ion Cl-``."""
    cell = now.cell
    known = {f"anode {cell.anode}", f"cathode {cell.cathode}", f"vessel {cell.vessel.name}"}
    known |= {f"ion {ion}" for ion in cell.ions_mol_dm3}
    known |= {f"product {product}" for product in now.products}
    if cell.crystal:
        known.add("crystal")
    if "H+" not in cell.ions_mol_dm3:
        known.add("no acid")
    if "I-" not in cell.ions_mol_dm3:
        known.add("no iodide")
    if len(HALIDES & set(cell.ions_mol_dm3)) > 1:
        known.add("two halides")
    if not breaks_films(cell.ions_mol_dm3):
        known.add("no film breaker")
    return all(condition in known for condition in when.split(" & "))


def _displacement(cell: CellLike) -> Iterator[Sentence]:
    """Say where an electrode would react with the solution without any current."""
    for each in displacements(cell):
        yield Sentence(
            "The {material} {electrode} reacts with the {reactant} even when no current flows: {seen}. The "
            "model only takes the voltage from that, and leaves out what it makes and uses up.",
            {
                "role": each.role,
                "material": each.material,
                "reactant": each.reactant,
                "seen": each.seen,
            },
        )
