"""One cell as a page sets it up: everything that a link carries and a control shows."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.cell import Cell, Lamp, vessels
from fizzplate.chemistry import (
    classroom_rule,
    electrodes,
    melts,
    non_electrolytes,
    pretty,
    solutions,
)
from fizzplate.chemistry.substances import require_offered
from fizzplate.lesson.state.changes import (
    MAX_CHANGES,
    clock,
    in_order,
    stages_of,
    texts,
    whole_minutes,
)
from fizzplate.words import DEFAULT_WORDING, InputError, choice, number, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell import Run
    from fizzplate.lesson.state.changes import Change
    from fizzplate.words import Wording

#: The class practical in an order that changes one ion at a time (common practice).
CORE = ("Na2SO4", "NaCl", "CuCl2", "CuSO4")
LAMPS: Mapping[str, Lamp | None] = MappingProxyType(
    {
        "6 V, 0.06 A": Lamp(6.0, 0.06),
        "6 V, 0.3 A": Lamp(6.0, 0.3),
        "12 V, 0.1 A": Lamp(12.0, 0.1),
        "none": None,
    }
)
#: the vessels that a page can draw
VESSELS = ("beaker", "U-tube", "dish", "paper strip")
MAX_PAGE_RUN_MINUTES = 60.0
MAX_CHLORINE_RUN_MINUTES = 5.0  # on a classroom's bench; common practice
MELT_CURRENT_A = 1.0  # held through a melt unless another is chosen


@dataclass(frozen=True, slots=True)
class CellSetup:
    """What is in the cell, what drives it and for how long.

    Parameters
    ----------
    solution, concentration_mol_dm3
        What is dissolved, and how strong.
    also, also_mol_dm3
        What is dissolved besides, and how strong; an empty text for nothing.
    volume_cm3
        The vessel's own if not given.
    cathode, anode
        Materials of the electrodes.
    supply_V, current_A
        What the supply holds: one of them is given.
    lamp
        A name in :data:`LAMPS`.
    vessel, crystal
        Where it is, and a crystal on a paper strip.
    temperature_C
        Of the room.
    minutes
        How long it runs, if nothing is changed at its end.
    beside
        What a second cell beside it has otherwise: the formula of another solution, or the material of
        both its electrodes; an empty text for no second cell.
    changes
        What is changed while it runs, in the order in which that was decided; in a second cell as well.

    Examples
    --------
    >>> CellSetup("CuSO4", anode="copper").cell().anode
    'copper'
    """

    solution: str = CORE[0]
    concentration_mol_dm3: float = 0.5
    also: str = ""
    also_mol_dm3: float = 0.1
    volume_cm3: float | None = None
    cathode: str = "graphite"
    anode: str = "graphite"
    supply_V: float | None = 6.0
    current_A: float | None = None
    lamp: str = "6 V, 0.06 A"
    vessel: str = "beaker"
    crystal: str | None = None
    temperature_C: float = 25.0
    minutes: float = 5.0
    beside: str = ""
    changes: tuple[Change, ...] = ()

    @property
    def unchanged(self) -> CellSetup:
        """The same without what is changed while it runs."""
        return replace(self, changes=()) if self.changes else self

    @property
    def whole_minutes(self) -> float:
        """How long it runs: a run that is changed at its end goes on for as long again."""
        return whole_minutes(self.changes, self.minutes)

    @property
    def changes_text(self) -> str:
        """What is changed and when, in words; empty if nothing is.

        Examples
        --------
        >>> from fizzplate.lesson.state.changes import Change
        >>> CellSetup(changes=(Change(130, "swap"),)).changes_text
        'at 2:10 wires swapped'
        """
        return "; ".join(f"at {clock(at_s)} {words}" for at_s, words in texts(self.changes))

    def run(self, samples: int) -> Run:
        """Run it with all that is changed while it runs.

        Parameters
        ----------
        samples
            Number of instants recorded in :attr:`minutes`; a longer run has more, as close together.

        Raises
        ------
        InputError
            If something cannot be used, or the run would be too long.
        RuntimeError
            If the model finds no end.
        """
        cell = self.cell()
        if not self.changes:
            return cell.run(minutes=self.minutes, samples=samples)
        parts = round(self.whole_minutes / self.minutes)
        stages = stages_of(self.changes, self.minutes)
        return cell.run(stages=stages, samples=parts * (samples - 1) + 1)

    def cell(self, *, gap_cm: float | None = None) -> Cell:
        """Make the cell, with the vessel's own gap between the electrodes if none is given.

        Equal set-ups share one cell, which is not to be changed.

        Raises
        ------
        InputError
            If something cannot be used; the message names it, what was given and what is allowed.
        """
        return _cell(self, gap_cm)

    @property
    def alone(self) -> CellSetup:
        """The same without a second cell beside it."""
        return replace(self, beside="") if self.beside else self

    @property
    def second(self) -> CellSetup | None:
        """The second cell: in everything else like the first, so that the one change explains what differs.

        Examples
        --------
        >>> CellSetup("CuSO4", beside="copper").second == CellSetup("CuSO4", cathode="copper", anode="copper")
        True
        >>> CellSetup("CuSO4", also="NaCl", beside="NaCl").second == CellSetup("NaCl")
        True
        """
        if not self.beside:
            return None
        if self.beside in electrodes():
            return replace(self, cathode=self.beside, anode=self.beside, beside="")
        return replace(self, solution=self.beside, also="", also_mol_dm3=0.1, beside="")

    @property
    def apart(self) -> tuple[CellSetup, ...]:
        """Each of its cells by itself: one, or two."""
        return (self.alone,) if self.second is None else (self.alone, self.second)

    @property
    def label(self) -> str:
        """A short name in the usual wording."""
        return self.label_in()

    def label_in(self, wording: Wording = DEFAULT_WORDING) -> str:
        """Return a short name: the formula, and what makes it differ from the class practical.

        Examples
        --------
        >>> CellSetup("CuSO4", 0.1, anode="copper").label_in()
        'CuSO₄ 0.1 mol/dm³, copper anode'
        >>> CellSetup("CuSO4", also="NaCl").label_in()
        'CuSO₄ 0.5 + NaCl 0.1 mol/dm³'
        >>> CellSetup("PbBr2(l)").label_in()
        'molten PbBr₂'
        >>> CellSetup("CuSO4", beside="copper").label_in()
        'CuSO₄ and CuSO₄, copper rods'
        """
        if self.second is not None:
            return f"{self.alone.label_in(wording)} and {self.second.label_in(wording)}"
        strength = self.concentration_mol_dm3
        name = replace(self, also="").formulae
        if self.also:
            also = page_quantity(self.also_mol_dm3, "mol/dm3", ".3g")
            name += f" {strength:.3g} + {pretty(self.also)} {also}"
        elif strength != DEFAULT_SETUP.concentration_mol_dm3 and self.solution in solutions():
            name += f" {page_quantity(strength, 'mol/dm3', '.3g')}"
        rods = [
            say("{material} {electrode}", wording, material=material, role=role)
            for role, material in (("cathode", self.cathode), ("anode", self.anode))
            if material != "graphite"
        ]
        if len(rods) > 1 and self.cathode == self.anode:
            rods = [f"{self.anode} rods"]
        place = [] if self.vessel == DEFAULT_SETUP.vessel else [self.vessel]
        return ", ".join([name, *rods, *place])

    @property
    def formulae(self) -> str:
        """What is dissolved or molten, without its strength: short enough for a button.

        Examples
        --------
        >>> CellSetup("NaCl", also="CuSO4").formulae
        'NaCl + CuSO₄'
        >>> CellSetup("PbBr2(l)").formulae, CellSetup("CuSO4", beside="NaCl").formulae
        ('molten PbBr₂', 'CuSO₄ and NaCl')
        """
        if self.second is not None:
            return " and ".join(dict.fromkeys((self.alone.formulae, self.second.formulae)))
        name = f"molten {pretty(self.solution)}" if self.is_melt else pretty(self.solution)
        return f"{name} + {pretty(self.also)}" if self.also else name

    @property
    def is_melt(self) -> bool:
        """Whether it is a melt, which has a current and a time, and no model that runs it."""
        return self.solution in melts()

    @property
    def melt_current_A(self) -> float:
        """The current that is held through a melt, A."""
        return MELT_CURRENT_A if self.current_A is None else self.current_A

    @property
    def supply_text(self) -> str:
        """What the supply holds.

        Examples
        --------
        >>> print(CellSetup("CuSO4").supply_text)
        6 V
        """
        if self.is_melt:
            return page_quantity(self.melt_current_A, "A")
        if self.current_A is not None:
            return page_quantity(self.current_A, "A")
        return page_quantity(self.supply_V or 0.0, "V")

    @property
    def strength_text(self) -> str:
        """How strong the solution is; of a mixture both, in the order of its substances.

        Examples
        --------
        >>> print(CellSetup("CuSO4", also="NaCl").strength_text)
        0.5 and 0.1 mol/dm³
        """
        if not self.also:
            return page_quantity(self.concentration_mol_dm3, "mol/dm3", ".2g")
        also = page_quantity(self.also_mol_dm3, "mol/dm3", ".2g")
        return f"{self.concentration_mol_dm3:.2g} and {also}"

    @property
    def strength_history_text(self) -> str:
        """How strong the solution is at first, and then by what is poured in while it runs.

        Examples
        --------
        >>> from fizzplate.lesson.state.changes import Change
        >>> print(CellSetup("CuSO4", changes=(Change(60, "water", 60.0),)).strength_history_text)
        0.5 mol/dm³, then diluted to 0.25
        """
        poured = [each for each in self.changes if each.pours]
        if not poured:
            return self.strength_text
        volume_cm3 = self.unchanged.cell().volume_cm3
        whole_cm3 = volume_cm3 + sum(each.amount for each in poured)
        strengths = {self.solution: self.concentration_mol_dm3}
        if self.also:
            strengths[self.also] = self.also_mol_dm3
        now = {}
        for formula, strength in strengths.items():
            own = [each for each in poured if each.substance == formula]
            added = sum(each.amount * each.strength_mol_dm3 for each in own)
            now[formula] = (strength * volume_cm3 + added) / whole_cm3
        ends = " and ".join(f"{each:.2g}" for each in now.values())
        if ends == " and ".join(f"{each:.2g}" for each in strengths.values()):
            return self.strength_text
        how = "diluted to" if all(now[each] < strengths[each] for each in now) else "brought to"
        return f"{self.strength_text}, then {how} {ends}"

    @property
    def supply_history_text(self) -> str:
        """What the supply holds at first, and then as it is set while it runs.

        Examples
        --------
        >>> from fizzplate.lesson.state.changes import Change
        >>> print(CellSetup("CuSO4", changes=(Change(60, "V", 9.0),)).supply_history_text)
        6 V, then 9 V
        """
        sets = [each for each in in_order(self.changes) if each.kind in {"V", "A"}]
        values = [self.supply_text, *(page_quantity(each.amount, each.kind) for each in sets)]
        return ", then ".join(values)

    @property
    def only_calculated(self) -> bool:
        """Whether a run is too long for a classroom's bench, by the chlorine that it gives."""
        cell = self.cell()
        if (
            cell.melt is not None
            or not cell.ions_mol_dm3
            or self.whole_minutes <= MAX_CHLORINE_RUN_MINUTES
        ):
            return False
        rule = classroom_rule(cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode)
        return rule.anode.product == "Cl2"


#: the class practical
DEFAULT_SETUP = CellSetup()


@lru_cache(maxsize=128)  # of 23 kB each
def _cell(setup: CellSetup, gap_cm: float | None) -> Cell:
    """Make a cell once: pages and questions ask for the same ones again and again."""
    if setup.changes:
        cell = _cell(setup.unchanged, gap_cm)
        _check_changes(setup, cell)
        return cell
    number("minutes", setup.minutes, unit="minutes", above=0, maximum=MAX_PAGE_RUN_MINUTES)
    choice("lamp", setup.lamp, LAMPS)
    choice("vessel", setup.vessel, VESSELS)
    require_offered(
        "solution", setup.solution, [*solutions(), *non_electrolytes(), *melts()], what="solution"
    )
    if setup.is_melt:
        _refuse_parts_of_a_melt(setup)
    if setup.also:
        require_offered("also", setup.also, solutions(), what="solution")
    if setup.also and setup.also == setup.solution:
        raise InputError("also", setup.also, "a substance other than the first, or none")
    if setup.second is not None:
        _check_second(setup, setup.second)
    takes_crystal = vessels()[setup.vessel].takes_crystal
    return Cell(
        {setup.solution: setup.concentration_mol_dm3, setup.also: setup.also_mol_dm3}
        if setup.also
        else setup.solution,
        concentration_mol_dm3=setup.concentration_mol_dm3,
        volume_cm3=setup.volume_cm3,
        cathode=setup.cathode,
        anode=setup.anode,
        supply_V=setup.supply_V,
        current_A=setup.current_A,
        lamp=LAMPS[setup.lamp],
        vessel=setup.vessel,
        gap_cm=gap_cm,
        crystal=setup.crystal if takes_crystal else None,
        temperature_C=setup.temperature_C,
    )


def _check_second(setup: CellSetup, second: CellSetup) -> None:
    """Refuse a second cell that is the same as the first, or cannot be made."""
    offered = [*electrodes(), *solutions()]
    require_offered("beside", setup.beside, offered, what="solution or electrode")
    if second == setup.alone:
        raise InputError(
            "beside", setup.beside, "a solution or electrodes other than the first cell's"
        )
    try:
        second.cell()
    except InputError as refusal:
        raise InputError("beside", setup.beside, refusal.allowed, why=refusal.why) from None


def _refuse_parts_of_a_melt(setup: CellSetup) -> None:
    """Refuse what a melt does not take: there is no model that would use it."""
    plain = replace(
        DEFAULT_SETUP,
        solution=setup.solution,
        supply_V=DEFAULT_SETUP.supply_V if setup.current_A is None else None,
        current_A=setup.current_A,
        minutes=setup.minutes,
    )
    for each in fields(CellSetup):
        given = getattr(setup, each.name)
        if given != getattr(plain, each.name):
            raise InputError(each.name, given, "only a current and a time for a melt")


def _check_changes(setup: CellSetup, cell: Cell) -> None:
    """Refuse what cannot be changed while a cell runs, in the words of whoever changes it."""
    if len(setup.changes) > MAX_CHANGES:
        most = f"at most {MAX_CHANGES} changes in one run"
        raise InputError("change", len(setup.changes), most)
    number(
        "minutes",
        setup.whole_minutes,
        unit="minutes",
        where="in all",
        maximum=MAX_PAGE_RUN_MINUTES,
        limit_reason="a run that is changed at its end goes on for as long again",
    )
    try:
        cell.check_stages(stages_of(setup.changes, setup.minutes))
    except InputError as refusal:
        if refusal.argument != "add" or not isinstance(refusal.given, dict):
            raise
        named = " and ".join(
            f"{cm3:g} cm³ of {solutions()[formula].name}"
            for formula, (cm3, _) in refusal.given.items()
        )
        raise InputError("add", named, refusal.allowed, why=refusal.why) from None
    if setup.second is not None:
        setup.second.cell()  # it is changed in the same way
