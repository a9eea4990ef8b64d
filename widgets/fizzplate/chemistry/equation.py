"""A balanced equation, and how it is written, typeset and spoken."""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate.chemistry import notation
from fizzplate.chemistry.substances import state_of

Side = tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class Equation:
    """A balanced equation with whole-number coefficients.

    Parameters
    ----------
    reactants, products
        (coefficient, formula) of each; the electron is ``e-``.
    electrons_taken
        Electrons written with a minus on the left instead of on the right.
    states
        Whether state symbols are shown.
    """

    reactants: Side
    products: Side
    electrons_taken: bool = False
    states: bool = False

    @property
    def electrons(self) -> int:
        """Number of electrons that pass, whichever side they stand on."""
        return sum(n for n, species in (*self.reactants, *self.products) if species == "e-")

    @property
    def is_oxidation(self) -> bool:
        """Whether electrons are given."""
        return any(species == "e-" for _, species in self.products)

    def _sides(self) -> tuple[Side, Side, int]:
        """Return both sides as written, and the electrons taken away on the left."""
        if not (self.electrons_taken and self.is_oxidation):
            return self.reactants, self.products, 0
        rest = tuple(part for part in self.products if part[1] != "e-")
        return self.reactants, rest, self.electrons

    def _join(self, write: object, plus: str, minus: str, arrow: str, state: object) -> str:
        def part(n: int, species: str) -> str:
            shown = write(species)  # type: ignore[operator]
            if self.states and species != "e-":
                shown += state(state_of(species))  # type: ignore[operator]
            return f"{n if n > 1 else ''}{shown}"

        left, right, taken = self._sides()
        text = plus.join(part(n, s) for n, s in left)
        if taken:
            text += minus + part(taken, "e-")
        return text + arrow + plus.join(part(n, s) for n, s in right)

    def __str__(self) -> str:
        return self._join(str, " + ", " - ", " -> ", lambda s: f"({s})")

    def pretty(self) -> str:
        """Return the equation with Unicode sub- and superscripts."""
        return self._join(notation.pretty, " + ", " − ", " → ", lambda s: f"({s})")

    def html(self) -> str:
        """Return the equation marked up with sub and sup."""
        return self._join(notation.html, " + ", " − ", " → ", lambda s: f"({s})")

    def latex(self) -> str:
        r"""Return the equation for LaTeX's mathematics."""
        return self._join(
            notation.latex, " + ", " - ", r" \rightarrow ", lambda s: rf"\,\mathrm{{({s})}}"
        )

    def speech(self) -> str:
        """Return the equation as it is spoken."""

        def part(n: int, species: str) -> str:
            said = notation.speech(species)
            if species == "e-" and n > 1:
                said += "s"
            return f"{n} {said}" if n > 1 or species == "e-" else said

        left, right, taken = self._sides()
        text = ", plus ".join(part(n, s) for n, s in left)
        if taken:
            text += f", less {part(taken, 'e-')}"
        return f"{text}, gives {', plus '.join(part(n, s) for n, s in right)}"
