"""The wording that an examination board wants: one setting of the teacher."""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate.words.refusals import choice, number
from fizzplate.words.sentence import SIGNS, SOURCES, begin, electrode_slots

ELECTRODE_NAMES = ("cathode", "negative", "both")


@dataclass(frozen=True, slots=True)
class Wording:
    """What an examination board wants said: names of the electrodes, sources of gases, half-equations.

    How electrons and states are written, and what counts as dilute, belong to it as well.

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
    electrode_names
        "cathode", "negative" (negative electrode), or "both".
    dilute_below_mol_dm3
        Concentration below which a chloride counts as giving oxygen; 0: never. Boards differ.
    """

    oxygen_from: str = SOURCES["O2"][0]
    hydrogen_from: str = SOURCES["H2"][0]
    electrons: str = "right"
    states: bool = False
    electrode_names: str = "cathode"
    dilute_below_mol_dm3: float = 0.0

    def __post_init__(self) -> None:
        choice("oxygen_from", self.oxygen_from, SOURCES["O2"])
        choice("hydrogen_from", self.hydrogen_from, SOURCES["H2"])
        choice("electrons", self.electrons, ("right", "minus"))
        choice("electrode_names", self.electrode_names, ELECTRODE_NAMES)
        number("dilute_below_mol_dm3", self.dilute_below_mol_dm3, unit="mol/dm3", minimum=0)

    def source_of(self, product: str) -> str:
        """Return what a gas of water comes from; an empty text for another product.

        What is right for an acid or an alkali too is the wording that
        :func:`fizzplate.chemistry.wording_for` returns.

        Examples
        --------
        >>> Wording(oxygen_from="H2O").source_of("O2"), Wording().source_of("Cu")
        ('H2O', '')
        """
        return {"O2": self.oxygen_from, "H2": self.hydrogen_from}.get(product, "")

    @property
    def short_names(self) -> tuple[str, ...]:
        """Short names of cathode and anode, for a drawing."""
        return tuple(SIGNS.values()) if self.electrode_names == "negative" else tuple(SIGNS)

    def title(self, role: str) -> str:
        """Name an electrode as the board does.

        Examples
        --------
        >>> Wording(electrode_names="both").title("anode")
        'Anode (positive electrode)'
        """
        slots = electrode_slots(self.electrode_names, self.oxygen_from, self.hydrogen_from)
        return begin(slots[f"{role}_in_full"])
