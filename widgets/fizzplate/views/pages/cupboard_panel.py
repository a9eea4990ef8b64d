"""What the cupboard holds of each substance: the solid, its purity, a stock solution."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import pretty, solutions
from fizzplate.lesson.prepare import Cupboard, acid_stocks, solids
from fizzplate.views.controls import field, menu, read_field_number
from fizzplate.words import LABELS, InputError

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    Typed = tuple[str, str, str]

PURE = "100"


class CupboardPanel:
    """The controls for one substance at a time, and what was typed of each.

    Parameters
    ----------
    on_change
        Called after something was chosen or typed of a substance.
    on_show
        Called after another substance was chosen.

    Attributes
    ----------
    controls
        The widgets, in the order of the page.
    entries
        Of each substance the solid, its purity and the stock's strength, as they are typed.
    """

    def __init__(self, on_change: Callable[[], None], on_show: Callable[[], None]) -> None:
        self._on_change, self._on_show = on_change, on_show
        self._is_showing = False
        self.entries: dict[str, Typed] = {}
        self._substance = menu("Substance", {"": ""}, key="substance")
        self._solid = menu(LABELS["solid"], {"": ""}, key="solid")
        self._purity = field(LABELS["purity_percent"], PURE, key="purity")
        self._stock = field(LABELS["stock_mol_dm3"], "", key="stock")
        #: by the names that they are refused by
        self._fields = {
            "solid": self._solid,
            "purity_percent": self._purity,
            "stock_mol_dm3": self._stock,
        }
        self.controls = [self._substance, *self._fields.values()]
        self._substance.observe(lambda _: self._on_substance(), names="value")
        for each in self._fields.values():
            each.observe(lambda _: self._on_typed(), names="value")

    @property
    def substance(self) -> str:
        """Whose cupboard is shown."""
        return str(self._substance.value)

    @property
    def statement(self) -> str:
        """What there is of the substance that is shown, in words."""
        if not self.substance:
            return "In the cupboard: nothing is needed"
        solid = {value: name for name, value in self._solid.options}.get(self._solid.value)
        parts = [str(solid)]
        if self._purity.layout.display != "none":
            parts.append(f"{self._purity.value} % pure")
        stock = self._stock.value.strip()
        parts.append(f"a stock solution of {stock} mol/dm³" if stock else "no stock solution")
        return f"In the cupboard: {', '.join(parts)}"

    @property
    def fields(self) -> list[Any]:
        """Those controls that a refusal may be about."""
        return list(self._fields.values())

    def restore(self, typed: Mapping[str, Typed]) -> None:
        """Take what was typed before; what fits no substance is left out."""
        self.entries = {
            formula: each
            for formula, each in typed.items()
            if formula in solutions() and each[0] in solids(formula)
        }

    def offer(self, formulae: Sequence[str], substance: str = "") -> None:
        """Offer the substances of a solution, and show one of them."""
        self._is_showing = True
        self._substance.options = [(pretty(each), each) for each in formulae] or [("", "")]
        if substance in formulae:
            self._substance.value = substance
        self._substance.layout.display = None if len(formulae) > 1 else "none"
        self._show()
        self._is_showing = False

    def read(self) -> dict[str, Cupboard]:
        """Read what was typed of every substance.

        Raises
        ------
        InputError
            If something is no number.
        """
        return {formula: _cupboard(*each) for formula, each in self.entries.items()}

    def refused(self, argument: str) -> Any:
        """Find the control of what is refused, if its substance is the one that is shown."""
        typed = self.entries.get(self.substance)
        try:
            if typed is not None:
                _cupboard(*typed)
        except InputError as refusal:
            return self._fields.get(argument) if refusal.argument == argument else None
        return None

    def _on_substance(self) -> None:
        if not self._is_showing:
            self._is_showing = True
            self._show()
            self._is_showing = False
            self._on_show()

    def _show(self) -> None:
        """Show what there is of the substance, as it was typed."""
        formula = self.substance
        offered = solids(formula) if formula else ("",)
        solid, purity, stock = self.entries.get(formula, (offered[0], PURE, ""))
        acid = acid_stocks().get(formula)  # it is never weighed as a pure substance
        self._solid.options = [
            (acid["name"] if acid else pretty(each) if each else "none", each) for each in offered
        ]
        self._purity.layout.display = "none" if acid else None
        self._solid.value = solid
        self._purity.value, self._stock.value = purity, stock

    def _on_typed(self) -> None:
        if not self._is_showing and self.substance:
            self.entries[self.substance] = (
                self._solid.value,
                self._purity.value,
                self._stock.value.strip(),
            )
            self._on_change()


def read_typed(text: str) -> Any:
    """Read a number as people type it; what is none is left as it is, to be refused by name."""
    try:
        value = read_field_number("", text, unit="")
    except InputError:
        return text
    return int(value) if value.is_integer() else value


def _cupboard(solid: str, purity: str, stock: str) -> Cupboard:
    """Read what was typed of a substance; what cannot be used is refused."""
    return Cupboard(solid, read_typed(purity), read_typed(stock) if stock else None)
