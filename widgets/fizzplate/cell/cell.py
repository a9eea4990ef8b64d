"""The cell as a teacher sets it up, checked before anything runs."""

from __future__ import annotations

from copy import copy
from types import MappingProxyType
from typing import TYPE_CHECKING

from fizzplate.cell.heating import runs_below_boiling
from fizzplate.cell.known_runs import known_runs
from fizzplate.cell.physics import MAX_SUPPLY_V, Geometry, Lamp, Supply, geometry, vessels
from fizzplate.cell.setup import (
    DEFAULT_SUPPLY_V,
    Liquid,
    bleaches_made,
    check_samples,
    halides_oxidised,
    mixture_after,
    read_crystal,
    read_mass_g,
    read_mixture,
    read_size,
    read_supply_limit_A,
    read_volume_cm3,
    refuse_dangers,
    refuse_no_room,
    refuse_too_much_current,
    stocks_after,
    voltage_or_current,
)
from fizzplate.cell.solver import MAX_RUN_MINUTES, Stage
from fizzplate.chemistry import (
    classroom_rule,
    electrodes,
    made_mol,
    melts,
    non_electrolytes,
    solutions,
)
from fizzplate.chemistry.substances import dangers, require_offered
from fizzplate.words import InputError, Sentence, choice, number

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from fizzplate.cell.run import Run
    from fizzplate.chemistry import Rule
    from fizzplate.words import Wording


class Cell:
    """A solution in a vessel with two electrodes, a supply and perhaps a lamp.

    Parameters
    ----------
    solution
        Formula of the salt ("CuSO4"), or a mixture with its concentrations in mol/dm3
        (``{"NaCl": 0.5, "CuSO4": 0.1}``); "H2O" or "C12H22O11" for contrast; a melt ("PbBr2(l)"), which
        has the rule but cannot be run.
    concentration_mol_dm3
        Concentration of a single salt, mol/dm3.
    volume_cm3
        Volume of solution, cm3; the vessel's own if not given (60 cm3 in a beaker). The size
        of a paper strip or a still column fixes its volume.
    anode, cathode
        Materials of the electrodes.
    supply_V
        Voltage of the supply, at most 30 V; 6 V if neither it nor ``current_A`` is given.
    current_A
        Constant current, A. One that needs more than 30 V at the start is refused; one that needs more
        later falls.
    supply_limit_A
        The largest current that the supply can give, A.
    lamp
        A lamp in series.
    vessel
        "beaker", "U-tube", "dish", "paper strip" or "still column".
    gap_cm
        Distance from surface to surface of the electrodes, cm; the vessel's own if not given.
    immersed_area_cm2
        Whole wetted surface of one electrode, cm2; the vessel's own if not given.
    anode_mass_g, cathode_mass_g
        Masses of the electrodes at the start, g; a warning tells when an anode is used up.
    crystal
        "KMnO4": a crystal laid on the middle of a paper strip, or None.
    temperature_C, pressure_kPa
        Of the room.

    Raises
    ------
    InputError
        If an argument cannot be used; the message names it, what was given and what is allowed.

    Examples
    --------
    >>> run = Cell("CuSO4").run(minutes=2)
    >>> run.cathode.products[0], run.anode.products[0]
    ('Cu', 'O2')
    """

    def __init__(
        self,
        solution: str | Mapping[str, float],
        *,
        concentration_mol_dm3: float = 0.5,
        volume_cm3: float | None = None,
        anode: str = "graphite",
        cathode: str = "graphite",
        supply_V: float | None = None,
        current_A: float | None = None,
        supply_limit_A: float = 1.0,
        lamp: Lamp | None = None,
        vessel: str = "beaker",
        gap_cm: float | None = None,
        immersed_area_cm2: float | None = None,
        anode_mass_g: float | None = None,
        cathode_mass_g: float | None = None,
        crystal: str | None = None,
        temperature_C: float = 25.0,
        pressure_kPa: float = 101.325,
    ) -> None:
        #: a melt, which has the rule and quantities but cannot be run
        self.melt = melts().get(solution) if isinstance(solution, str) else None
        #: concentrations of what is dissolved, mol/dm3
        self.mixture_mol_dm3 = (
            read_mixture(solution, concentration_mol_dm3)
            if self.melt is None
            else MappingProxyType({self.melt.formula: 1.0})
        )
        #: solutions poured in by stages, by formula of the salt the strongest, mol/dm3
        self.stocks_mol_dm3: Mapping[str, float] = MappingProxyType({})
        #: ions that have precipitated or reacted since, by formula
        self.gone: frozenset[str] = frozenset()
        self.anode = require_offered("anode", anode, electrodes(), what="electrode")
        self.cathode = require_offered("cathode", cathode, electrodes(), what="electrode")
        self.supply_limit_A = read_supply_limit_A(supply_limit_A)
        self.supply_V, self.current_A = voltage_or_current(
            supply_V, current_A, supply_limit_A=self.supply_limit_A
        )
        if lamp is not None and not isinstance(lamp, Lamp):
            raise InputError("lamp", lamp, "a Lamp, such as Lamp(6.0, 0.06), or None")
        self.lamp = lamp
        self.vessel = vessels()[choice("vessel", vessel, vessels())]
        wanted_cm3 = read_volume_cm3(self.vessel, volume_cm3)
        self.gap_cm = read_size(self.vessel, "gap_cm", gap_cm, "cm")
        self.immersed_area_cm2 = read_size(
            self.vessel, "immersed_area_cm2", immersed_area_cm2, "cm2"
        )
        self.anode_mass_g = read_mass_g("anode_mass_g", anode_mass_g)
        self.cathode_mass_g = read_mass_g("cathode_mass_g", cathode_mass_g)
        self.crystal = read_crystal(self.vessel, crystal)
        self._refuse_dangers()
        self.temperature_C = number(
            "temperature_C", temperature_C, unit="°C", minimum=10, maximum=40
        )
        self.pressure_kPa = number(
            "pressure_kPa", pressure_kPa, unit="kPa", minimum=60, maximum=110
        )
        self.geometry: Geometry = self._filled_with(wanted_cm3)
        #: liquid, cm3
        # without the rounding of adding up the nodes
        self.volume_cm3 = round(float(self.geometry.volume_m3.sum()) * 1e6, 9)
        if self.current_A is not None and self.melt is None:
            refuse_too_much_current(self, self.current_A)

    def _filled_with(self, volume_cm3: float) -> Geometry:
        """Return the path of the current through so much liquid."""
        return geometry(
            self.vessel,
            gap_cm=self.gap_cm,
            immersed_area_cm2=self.immersed_area_cm2,
            volume_cm3=volume_cm3,
        )

    def _refuse_dangers(self) -> None:
        """Refuse what must never be together."""
        rods = (self.anode, self.cathode)
        for row in dangers(self.ions_mol_dm3, electrodes=rods, crystal=self.crystal or ""):
            if self.crystal is not None and f"crystal {self.crystal}" in row["when"]:
                raise InputError("crystal", self.crystal, row["instead"], why=Sentence(row.text))
            raise InputError("solution", self.name, row["instead"], why=Sentence(row.text))

    @property
    def solution_formulae(self) -> tuple[str, ...]:
        """Formulae of the salts in the solution."""
        return tuple(self.mixture_mol_dm3)

    @property
    def name(self) -> str:
        """Name of the solution in words."""
        if self.melt is not None:
            return self.melt.name
        names = {formula: salt.name for formula, salt in solutions().items()}
        names |= {formula: liquid.name for formula, liquid in non_electrolytes().items()}
        return " and ".join(names[formula] for formula in self.mixture_mol_dm3)

    @property
    def concentration_mol_dm3(self) -> float:
        """Concentration of all salts together, mol/dm3."""
        return sum(self.mixture_mol_dm3.values())

    @property
    def ions_mol_dm3(self) -> Mapping[str, float]:
        """Ions of the salts as made, mol/dm3; of a melt, their proportions."""
        if self.melt is not None:
            return MappingProxyType({ion: float(n) for ion, n in self.melt.ions.items()})
        ions: dict[str, float] = {}
        for formula, concentration in self.mixture_mol_dm3.items():
            salt = solutions().get(formula)
            for ion, count in salt.ions.items() if salt else ():
                if ion not in self.gone:
                    ions[ion] = ions.get(ion, 0.0) + count * concentration
        return MappingProxyType(ions)

    def rule(
        self,
        wording: Wording | None = None,
        *,
        dilute_chloride_below_mol_dm3: float | None = None,
    ) -> Rule:
        """Return what the classroom rule says of this cell.

        Parameters
        ----------
        wording
            The board's wording of half-equations.
        dilute_chloride_below_mol_dm3
            Concentration below which a chloride counts as giving oxygen; never, if not given.

        Examples
        --------
        >>> Cell("NaCl").rule().cathode.product
        'H2'
        >>> Cell("PbBr2(l)").rule().cathode.product
        'Pb'
        """
        return classroom_rule(
            self.ions_mol_dm3,
            molten=self.melt is not None,
            anode=self.anode,
            cathode=self.cathode,
            wording=wording,
            dilute_chloride_below_mol_dm3=dilute_chloride_below_mol_dm3,
        )

    def rule_amounts_mol(self, charge_C: float) -> tuple[float, float]:
        """Return what a charge makes at the cathode and at the anode by the classroom rule, mol.

        Examples
        --------
        >>> lead, bromine = Cell("PbBr2(l)").rule_amounts_mol(2 * 96485.33212)
        >>> round(lead, 6), round(bromine, 6)
        (1.0, 1.0)
        """
        rule = self.rule()
        cathode, anode = (
            made_mol(electrode.half_equation, electrode.product, charge_C)
            for electrode in (rule.cathode, rule.anode)
        )
        return cathode, anode

    @property
    def supply(self) -> Supply:
        """The supply as a voltage and a current that it cannot pass."""
        if self.current_A is not None:
            return Supply(MAX_SUPPLY_V, self.current_A)
        return Supply(self.supply_V or DEFAULT_SUPPLY_V, self.supply_limit_A)

    def at_voltage(self, supply_V: float) -> Cell:
        """Return the same cell at another voltage of its supply, without its lamp.

        Raises
        ------
        InputError
            If no supply here gives this voltage.

        Examples
        --------
        >>> cell = Cell("NaCl", lamp=Lamp(6.0, 0.06)).at_voltage(3.0)
        >>> cell.supply_V, cell.lamp
        (3.0, None)
        """
        changed = copy(self)
        changed.supply_V, changed.current_A = voltage_or_current(
            supply_V, None, supply_limit_A=self.supply_limit_A
        )
        changed.lamp = None
        return changed

    def as_it_is(self, *, swapped: bool, without: Collection[str]) -> Cell:
        """Return the cell as a class finds it during a run: its wires swapped or not, some ions gone.

        Examples
        --------
        >>> cell = Cell("CuSO4", anode="copper").as_it_is(swapped=True, without={"Cu2+"})
        >>> cell.anode, cell.cathode, list(cell.ions_mol_dm3)
        ('graphite', 'copper', ['SO4^2-'])
        """
        found = copy(self)
        found.gone = frozenset(without)
        if swapped:
            found.anode, found.cathode = self.cathode, self.anode
            found.anode_mass_g, found.cathode_mass_g = self.cathode_mass_g, self.anode_mass_g
        return found

    def check_stages(self, stages: Sequence[Stage]) -> None:
        """Raise an :class:`InputError` if a cell may not be taken through stages: :meth:`run` says why.

        Examples
        --------
        >>> Cell("NaCl").check_stages([Stage(1), Stage(1, water_cm3=40)])
        """
        self.check_runs()
        self._by_stages(stages)

    def _by_stages(self, plan: Sequence[Stage]) -> list[Cell]:
        """Return the cell as it is in each stage: the same object as before where nothing changes."""
        cells, cell, oxidised, made = [], self, set[str](), set[str]()
        for stage in plan:
            cell = cell._changed_by(stage, made)
            oxidised |= halides_oxidised(cell, stage)
            made |= bleaches_made(cell, oxidised)
            cells.append(cell)
        return cells

    def _changed_by(self, stage: Stage, made: Iterable[str]) -> Cell:
        """Return the cell with what a stage sets and pours in; ``made`` are ions that a current has made."""
        setting = self.supply_V, self.current_A
        if stage.supply_V is not None or stage.current_A is not None:
            setting = voltage_or_current(
                stage.supply_V, stage.current_A, supply_limit_A=self.supply_limit_A
            )
        if setting == (self.supply_V, self.current_A) and not stage.added_cm3:
            return self
        changed = copy(self)
        changed.supply_V, changed.current_A = setting
        if stage.added_cm3:
            refuse_no_room(self, stage, vessels().values())
            changed.mixture_mol_dm3 = mixture_after(self, stage)
            changed.stocks_mol_dm3 = stocks_after(self, stage)
            refuse_dangers(changed, stage, made)
            changed.geometry = self._filled_with(self.volume_cm3 + stage.added_cm3)
            changed.volume_cm3 = float(changed.geometry.volume_m3.sum()) * 1e6
        if stage.current_A is not None and not stage.off:
            refuse_too_much_current(changed, stage.current_A)
        return changed

    def run(
        self,
        minutes: float | None = None,
        *,
        samples: int = 121,
        stages: Sequence[Stage] | None = None,
    ) -> Run:
        """Electrolyse, and return the record of what happened.

        Where the current would bring the liquid to the boil, the run ends there, with a warning.

        Parameters
        ----------
        minutes
            How long the switch is closed.
        samples
            Number of instants recorded, from 0 to the end.
        stages
            Instead of ``minutes``: stretches with the wires swapped or the switch open, with another
            setting of the supply, or with something poured in.

        Raises
        ------
        InputError
            If the time or the number of samples is out of range, both or neither of ``minutes`` and
            ``stages`` are given, the cell holds a melt, or a stage sets or pours in what a cell may not
            have.
        RuntimeError
            If the run cannot be finished, even with a trace of salt in the liquid.

        Examples
        --------
        >>> run = Cell("Na2SO4").run(minutes=2, samples=5)
        >>> run.time_s.tolist()
        [0.0, 30.0, 60.0, 90.0, 120.0]
        """
        self.check_runs()
        if (minutes is None) == (stages is None):
            raise InputError("minutes", minutes, "either a time in minutes or stages, not both")
        plan = [Stage(minutes)] if minutes is not None else list(stages or [])
        total = sum(stage.minutes for stage in plan)
        number("minutes", total, unit="minutes", where="in all", above=0, maximum=MAX_RUN_MINUTES)
        check_samples(samples)
        cells = self._by_stages(plan)
        changes = {
            place: [cells[place]]
            for place in range(1, len(cells))
            if cells[place] is not cells[place - 1]
        }
        return known_runs.find(
            (self.description, tuple(plan), samples),
            lambda: runs_below_boiling(cells[:1], plan, samples, changes=changes)[0],
        )

    def liquid(self) -> Liquid:
        """Return the liquid as it was made, before any current flows.

        Raises
        ------
        InputError
            If the cell holds a melt.
        """
        self.check_runs()
        return known_runs.find((self.description, "liquid"), lambda: Liquid.of(self))

    @property
    def description(self) -> tuple[object, ...]:
        """Everything that a run depends on."""
        return (
            tuple(self.mixture_mol_dm3.items()),
            self.anode,
            self.cathode,
            self.supply_V,
            self.current_A,
            self.supply_limit_A,
            self.lamp,
            self.vessel.name,
            self.volume_cm3,
            self.gap_cm,
            self.immersed_area_cm2,
            self.anode_mass_g,
            self.cathode_mass_g,
            self.crystal,
            self.temperature_C,
            self.pressure_kPa,
        )

    def check_runs(self) -> None:
        """Raise an :class:`InputError` if there is no bench model for what the cell holds."""
        if self.melt is not None:
            raise InputError(
                "solution",
                self.melt.formula,
                "a solution: there is no bench model for melts, only the rule, equations and quantities",
            )
