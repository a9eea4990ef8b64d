"""The cell with its classroom rule: what is offered as ``fizzplate.Cell``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.cell import Cell as BenchCell
from fizzplate.lesson.rule import Rule, classroom_rule

if TYPE_CHECKING:
    from fizzplate.lesson.wording import Wording


class Cell(BenchCell):
    """A cell as in :class:`fizzplate.cell.Cell`, which also knows its classroom rule."""

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
        """
        return classroom_rule(
            self.ions_mol_dm3,
            anode=self.anode,
            cathode=self.cathode,
            wording=wording,
            dilute_chloride_below_mol_dm3=dilute_chloride_below_mol_dm3,
        )
