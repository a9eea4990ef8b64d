"""What the solver, the record and the warnings read of a cell: declared here once, below them all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from fizzplate.cell.physics.circuit import Lamp, Supply
    from fizzplate.cell.physics.geometry import Geometry
    from fizzplate.cell.physics.vessels import Vessel
    from fizzplate.chemistry import Melt, Rule
    from fizzplate.words import Wording


class CellLike(Protocol):
    """A cell as it is set up: :class:`fizzplate.Cell` answers all of it, and can be run besides."""

    @property
    def name(self) -> str:
        """Name of the solution in words."""

    @property
    def melt(self) -> Melt | None:
        """The melt, if it holds one."""

    @property
    def mixture_mol_dm3(self) -> Mapping[str, float]:
        """Concentrations of what is dissolved, mol/dm3."""

    @property
    def stocks_mol_dm3(self) -> Mapping[str, float]:
        """The strongest solution of each salt that stages have poured in so far, mol/dm3."""

    @property
    def solution_formulae(self) -> tuple[str, ...]:
        """Formulae of the salts in the solution."""

    @property
    def concentration_mol_dm3(self) -> float:
        """Concentration of all salts together, mol/dm3."""

    @property
    def ions_mol_dm3(self) -> Mapping[str, float]:
        """Ions of the salts as made, mol/dm3."""

    @property
    def anode(self) -> str:
        """Material of the first stage's anode."""

    @property
    def cathode(self) -> str:
        """Material of the first stage's cathode."""

    @property
    def anode_mass_g(self) -> float | None:
        """Mass of the anode at the start, g, if it is known."""

    @property
    def cathode_mass_g(self) -> float | None:
        """Mass of the cathode at the start, g, if it is known."""

    @property
    def vessel(self) -> Vessel:
        """The vessel."""

    @property
    def geometry(self) -> Geometry:
        """Places along the gap, and the liquid at each."""

    @property
    def gap_cm(self) -> float:
        """Distance from surface to surface of the electrodes, cm."""

    @property
    def immersed_area_cm2(self) -> float:
        """Whole wetted surface of one electrode, cm2."""

    @property
    def volume_cm3(self) -> float:
        """Liquid, cm3."""

    @property
    def crystal(self) -> str | None:
        """Formula of a crystal laid on the middle of a paper strip, or None."""

    @property
    def supply(self) -> Supply:
        """The supply as a voltage and a current that it cannot pass."""

    @property
    def supply_V(self) -> float | None:
        """Voltage that is set, V, or None where a current is."""

    @property
    def current_A(self) -> float | None:
        """Current that is set, A, or None where a voltage is."""

    @property
    def supply_limit_A(self) -> float:
        """The largest current that the supply can give, A."""

    @property
    def lamp(self) -> Lamp | None:
        """A lamp in series, or None."""

    @property
    def temperature_C(self) -> float:
        """Temperature of the room, °C."""

    @property
    def pressure_kPa(self) -> float:
        """Air pressure in the room, kPa."""

    def as_it_is(self, *, swapped: bool, without: Collection[str]) -> CellLike:
        """Return the cell as a class finds it during a run: its wires swapped or not, some ions gone."""

    def rule(
        self,
        wording: Wording | None = None,
        *,
        dilute_chloride_below_mol_dm3: float | None = None,
    ) -> Rule:
        """Return what the classroom rule says of this cell."""
