"""How sure a run is, as plain data for its page: ranges that follow the playhead, and sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.lesson import certainty
from fizzplate.lesson.rule import WIDE

if TYPE_CHECKING:
    from fizzplate.cell import Run
    from fizzplate.words import Wording


def certainty_of(run: Run, wording: Wording) -> list[dict[str, Any]]:
    """Return for each electrode the range of its main product's share at each sample, and sentences.

    A range is worth a line where it is as wide as ``wide``.

    The first call runs the model again with other constants, which takes longer than the run.

    Raises
    ------
    RuntimeError
        If one of these runs cannot be finished.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> from fizzplate.words import Wording
    >>> run = Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03).run(minutes=2, samples=5)
    >>> anode = certainty_of(run, Wording())[1]
    >>> len(anode["low"]), len(anode["high"]), len(anode["sentences"])
    (5, 5, 2)
    """
    sides = []
    for record, sentences in zip((run.cathode, run.anode), certainty(run, wording), strict=True):
        low, high = record.share_range(record.products[0]) if record.products else ((), ())
        sides.append(
            {"low": list(low), "high": list(high), "wide": WIDE, "sentences": list(sentences)}
        )
    return sides
