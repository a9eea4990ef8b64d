"""The wording that an examination board wants: one setting of the teacher."""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate.chemistry.checks import choice


@dataclass(frozen=True, slots=True)
class Wording:
    """How half-equations are written.

    Parameters
    ----------
    oxygen_from
        "OH-" (hydroxide is discharged) or "H2O" (water is oxidised).
    hydrogen_from
        "H+" or "H2O".
    electrons
        "right" or "minus": taken away on the left.
    states
        Whether state symbols are shown.
    """

    oxygen_from: str = "OH-"
    hydrogen_from: str = "H+"
    electrons: str = "right"
    states: bool = False

    def __post_init__(self) -> None:
        choice("oxygen_from", self.oxygen_from, ("OH-", "H2O"))
        choice("hydrogen_from", self.hydrogen_from, ("H+", "H2O"))
        choice("electrons", self.electrons, ("right", "minus"))
