"""The record of a run: arrays over the samples, with amounts in the units of school chemistry."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.words import DEFAULT_WORDING, Rendering, board_slots, choice

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell.electrode_record import ElectrodeRecord
    from fizzplate.cell.influence import Change
    from fizzplate.cell.physics import CellLike
    from fizzplate.cell.solver import Stage
    from fizzplate.data import Source
    from fizzplate.words import Sentence, Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


MIN_DISSOLVED = (
    0.1  # of an ion as it was made: where less is dissolved, it has precipitated (a choice)
)


@dataclass(frozen=True)
class Run:
    """The record of one run. S samples, N places from the face of electrode 0 to the other face.

    Parameters
    ----------
    cells
        What was run, and the same after each change of its supply or its liquid by a stage.
    stages
        What the run was taken through.
    time_s, current_A, charge_C
        Time, current in the wire and charge passed so far (never negative), (S,).
    voltage_V, lamp_voltage_V, supply_voltage_V
        Between the electrodes, across the lamp, and both together, (S,).
    swapped
        True while the first cathode acts as anode, (S,).
    cathode, anode
        The electrode at position 0 (cathode of the first stage), and the other.
    ions, dissolved
        Formulae of the ions and of the dissolved products.
    position_m
        Places along the gap, the cathode's face at 0, (N,).
    volume_m3
        Liquid that each place owns at the start, (N,); over a run see :attr:`liquid_m3`.
    pH
        At every place, -log10 of the activity of hydrogen ions, (S, N).
    conductivity_S_m
        (S, N).
    temperature_C
        An estimate of the liquid's temperature with the heat that the wall loses, (S,).
    warning_sentences
        To be filled for a board and a place: outside a range, supply at its limit, would boil.
    sources
        The bibliography entries behind this run.
    changes
        The uncertain constants that matter most here, and what the ranges at both electrodes multiply
        them by, one at a time; at most six.
    steps
        Number of time steps that were taken.
    """

    cells: tuple[CellLike, ...]
    stages: tuple[Stage, ...]
    time_s: Array
    current_A: Array
    charge_C: Array
    voltage_V: Array
    lamp_voltage_V: Array
    supply_voltage_V: Array
    swapped: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
    cathode: ElectrodeRecord
    anode: ElectrodeRecord
    ions: tuple[str, ...]
    dissolved: tuple[str, ...]
    position_m: Array
    volume_m3: Array
    pH: Array
    conductivity_S_m: Array
    temperature_C: Array
    warning_sentences: tuple[Sentence, ...]
    sources: tuple[Source, ...]
    changes: tuple[Change, ...]
    steps: int
    _concentration: Mapping[str, Array] = field(repr=False)
    _velocity: Mapping[str, Array] = field(repr=False)
    _haze: Mapping[str, Array] = field(repr=False)
    _settled_mol: Mapping[str, Array] = field(repr=False)
    _liquid: tuple[tuple[int, Array], ...] = field(repr=False)

    @property
    def cell(self) -> CellLike:
        """What was run, as it was at the start."""
        return self.cells[0]

    @property
    def volume_cm3(self) -> Array:
        """Volume of the liquid, (S,), cm3: larger from a stage on that adds some."""
        counts = [count for count, _ in self._liquid]
        return np.repeat([1e6 * float(volume_m3.sum()) for _, volume_m3 in self._liquid], counts)

    def cell_at(self, sample: int) -> CellLike:
        """Return the cell as it was at a sample: stages set the supply anew and pour liquid in."""
        ends = np.cumsum([count for count, _ in self._liquid])
        return self.cells[int(np.searchsorted(ends, sample, side="right"))]

    def samples_of_stage(self, place: int) -> slice:
        """Return the samples of a stage; one at the instant of a change shows what was before it."""
        ends_s = np.cumsum([60.0 * stage.minutes for stage in self.stages]) * (1 + 1e-9)
        first = 0 if place == 0 else int(np.searchsorted(self.time_s, ends_s[place - 1], "right"))
        return slice(first, int(np.searchsorted(self.time_s, ends_s[place], "right")))

    def of_stage(self, place: int) -> Run:
        """Return a stage as a run of its own: its times and amounts count from its first sample.

        With the wires swapped its cathode is what was the anode, and the places along the gap run the
        other way. Its cell has the ions that are dissolved as the stage begins.

        Parameters
        ----------
        place
            Which stage, from 0.

        Raises
        ------
        ValueError
            If the run has fewer than two samples of the stage.

        Examples
        --------
        >>> from fizzplate.cell import Cell, Stage
        >>> run = Cell("CuSO4").run(stages=[Stage(2), Stage(2, swapped=True)], samples=9)
        >>> run.of_stage(0).anode.products[0], run.of_stage(1).anode.products[0]
        ('O2', 'Cu2+')
        """
        samples = self.samples_of_stage(place)
        if samples.stop - samples.start < 2:
            raise ValueError(f"the run has no two samples of stage {place}")
        swapped = self.stages[place].swapped
        way = -1 if swapped else 1
        liquid_m3 = self.liquid_m3[samples.start, ::way]
        electrodes_ = [each.between(samples) for each in (self.cathode, self.anode)][::way]
        sides = [replace(each, _side=side) for side, each in enumerate(electrodes_)]
        cell = self.cell_at(samples.start)
        gone = {
            ion
            for ion, made in cell.ions_mol_dm3.items()
            if ion in self._concentration
            and self._mean_mol_dm3(ion, samples.start) < MIN_DISSOLVED * made
        }

        def cut(values: Mapping[str, Array], sign: float = 1.0) -> dict[str, Array]:
            return {name: sign * each[samples, ::way] for name, each in values.items()}

        position_m = self.position_m[-1] - self.position_m[::-1] if swapped else self.position_m
        return replace(
            self,
            cells=(cell.as_it_is(swapped=swapped, without=gone),),
            stages=(replace(self.stages[place], swapped=False, add=None, water_cm3=None),),
            time_s=self.time_s[samples] - self.time_s[samples.start],
            current_A=self.current_A[samples],
            charge_C=self.charge_C[samples] - self.charge_C[samples.start],
            voltage_V=self.voltage_V[samples],
            lamp_voltage_V=self.lamp_voltage_V[samples],
            supply_voltage_V=self.supply_voltage_V[samples],
            swapped=np.zeros(samples.stop - samples.start, dtype=bool),
            cathode=sides[0],
            anode=sides[1],
            position_m=position_m,
            volume_m3=liquid_m3,
            pH=self.pH[samples, ::way],
            conductivity_S_m=self.conductivity_S_m[samples, ::way],
            temperature_C=self.temperature_C[samples],
            changes=(),
            _concentration=cut(self._concentration),
            _velocity=cut(self._velocity, sign=way),
            _haze=cut(self._haze),
            _settled_mol={name: each[samples] for name, each in self._settled_mol.items()},
            _liquid=((samples.stop - samples.start, liquid_m3),),
        )

    def _mean_mol_dm3(self, name: str, sample: int) -> float:
        """Return the mean concentration of an ion at a sample, mol/dm3."""
        liquid_m3 = self.liquid_m3[sample]
        return 1e-3 * float(self.concentration(name)[sample] @ liquid_m3 / liquid_m3.sum())

    @property
    def liquid_m3(self) -> Array:
        """Liquid that each place owns, (S, N), m3: more from a stage on that adds some."""
        counts = [count for count, _ in self._liquid]
        return np.repeat([volume_m3 for _, volume_m3 in self._liquid], counts, axis=0)

    @property
    def warnings(self) -> tuple[str, ...]:
        """Sentences on what is out of range or worth knowing, in the usual wording."""
        return self.warnings_in(DEFAULT_WORDING)

    def warnings_in(
        self, wording: Wording, rendering: Rendering = Rendering.PLAIN
    ) -> tuple[str, ...]:
        """Return the warnings in a board's wording, written for a page, print, a drawing or plainly.

        Examples
        --------
        >>> from fizzplate.cell import Cell
        >>> from fizzplate.words.wording import Wording
        >>> run = Cell("KI").run(minutes=1, samples=3)
        >>> run.warnings_in(Wording(electrode_names="negative"))[1].partition(", it")[0]
        'Where iodine meets the alkali from the negative electrode'
        """
        board = board_slots(wording)
        return tuple(each.fill(board, rendering) for each in self.warning_sentences)

    def columns(self) -> dict[str, Array]:
        """Return the run as columns by name, each (S,), with units in their names.

        Of each electrode: its potential and pH, and of each product its share of the current, the amount
        made so far, the mass gained of a solid, the volume made of a gas. Of the liquid, its volume where
        a stage adds some, and what has precipitated. ``pandas.DataFrame`` and
        other tables take it as it is.

        Examples
        --------
        >>> from fizzplate.cell import Cell
        >>> columns = Cell("CuSO4").run(minutes=1, samples=3).columns()
        >>> columns["time_s"].tolist(), float(columns["cathode_Cu_mass_g"][0])
        ([0.0, 30.0, 60.0], 0.0)
        """
        columns = {
            name: getattr(self, name)
            for name in (
                *("time_s", "current_A", "charge_C", "voltage_V", "lamp_voltage_V"),
                *("supply_voltage_V", "temperature_C", "swapped"),
            )
        }
        for role in ("cathode", "anode"):
            electrode: ElectrodeRecord = getattr(self, role)
            columns[f"{role}_potential_V"] = electrode.potential_V
            columns[f"{role}_pH"] = electrode.pH
            for product in electrode.products:
                columns[f"{role}_{product}_share"] = electrode.share(product)
                columns[f"{role}_{product}_amount_mol"] = electrode.amount_mol(product)
                if product in electrode.gases:
                    columns[f"{role}_{product}_gas_cm3"] = electrode.gas_cm3(product)
            for solid in electrode.solids:
                columns[f"{role}_{solid}_mass_g"] = electrode.mass_g(solid)
        if len({volume_m3.sum() for _, volume_m3 in self._liquid}) > 1:
            columns["volume_cm3"] = self.volume_cm3
        for solid in self.hazes:
            columns[f"haze_{solid}_amount_mol"] = self.haze_mol(solid)
        return columns

    def to_csv(self, path: str | Path) -> None:
        """Write :meth:`columns` to a file of comma-separated values, a line a sample.

        What is no number, such as a potential while the switch is open, is an empty cell.

        Raises
        ------
        OSError
            If the file cannot be written.
        """
        columns = self.columns()
        with Path(path).open("w", encoding="utf-8", newline="") as file:
            lines = csv.writer(file)
            lines.writerow(columns)
            for values in zip(*(column.tolist() for column in columns.values()), strict=True):
                lines.writerow("" if math.isnan(value) else value for value in values)

    @property
    def pressure_kPa(self) -> float:
        """Air pressure in the room, kPa."""
        return self.cell.pressure_kPa

    def concentration(self, name: str) -> Array:
        """Return the concentration of an ion or a dissolved product, (S, N), mol/m3.

        Pairs and complexes count as the ions that they hold: "Cu2+" stands for all dissolved copper(II),
        and "OH-" for what copper holds too. For acid and alkali, see :attr:`pH`.

        Raises
        ------
        InputError
            If the name is neither.
        """
        return self._concentration[choice("name", name, self._concentration)]

    def amount_mol(self, name: str) -> Array:
        """Return how much of an ion or a dissolved product is in the whole liquid, (S,), mol.

        Pairs and complexes count as in :meth:`concentration`, and what a stage adds counts from then on.

        Raises
        ------
        InputError
            If the name is neither.
        """
        return self._in_all_liquid(self.concentration(name))

    def _in_all_liquid(self, mol_m3: Array) -> Array:
        """Add up concentrations (S, N) over the liquid that there is at each sample, (S,)."""
        ends = np.cumsum([count for count, _ in self._liquid])
        found = [
            mol_m3[end - count : end] @ volume_m3
            for end, (count, volume_m3) in zip(ends, self._liquid, strict=True)
        ]
        return np.concatenate(found)

    def drift_velocity_m_s(self, ion: str) -> Array:
        """Return the velocity at which the field moves an ion, (S, N), m/s, positive to the anode."""
        return self._velocity[choice("ion", ion, self._velocity)]

    @property
    def hazes(self) -> tuple[str, ...]:
        """Formulae of the solids that can precipitate in the liquid."""
        return tuple(self._haze)

    def haze_mol(self, formula: str) -> Array:
        """Return what has precipitated of a solid, (S,), mol: what clouds the liquid and what has settled.

        Zero for one that never forms.
        """
        return self._in_all_liquid(self.haze_mol_m3(formula)) + self.settled_mol(formula)

    def settled_mol(self, formula: str) -> Array:
        """Return how much of a precipitated solid has settled at the bottom, (S,), mol: it stays there."""
        return self._settled_mol.get(formula, np.zeros_like(self.time_s))

    def haze_mol_m3(self, formula: str) -> Array:
        """Return how much of a precipitated solid clouds each place, (S, N), mol/m3 of liquid."""
        nowhere = np.zeros((self.time_s.size, self.position_m.size))
        return self._haze.get(formula, nowhere)
