"""The cell with its classroom rule: what is offered as ``fizzplate.Cell``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.cell import Cell as BenchCell
from fizzplate.chemistry import made_mol
from fizzplate.lesson.rule.classroom_rule import Rule, classroom_rule

if TYPE_CHECKING:
    from fizzplate.words.wording import Wording


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
