"""What is happening in the cell, in a teacher's words, at every moment of a run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import electrodes

if TYPE_CHECKING:
    from fizzplate.cell import Run
    from fizzplate.cell.run import ElectrodeRecord

LEAST_CURRENT_A = 1e-5
NOTICEABLE_SHARE = 0.1
FADED = 0.02


def _words(role: str) -> dict[str, str]:
    return {row["product"]: row.text for row in data.rows("happenings") if row["role"] == role}


def sentence_at(run: Run, sample: int) -> str:
    """Return one or two sentences on what happens at a sample of a run."""
    if abs(float(run.current_A[sample])) < LEAST_CURRENT_A:
        if run.supply_voltage_V.max() == 0.0:
            return "The switch is open: ions wander, no current flows and nothing is discharged."
        return "Hardly any current flows: too few ions, or too low a voltage."
    swapped = bool(run.swapped[sample])
    cathode, anode = (run.anode, run.cathode) if swapped else (run.cathode, run.anode)
    said = (
        f"At the cathode {_doing(cathode, _words('cathode'), sample)}. "
        f"At the anode {_doing(anode, _words('anode'), sample)}."
    )
    return f"{said} {_afterwards(run, sample)}".strip()


def _doing(record: ElectrodeRecord, words: dict[str, str], sample: int) -> str:
    shares = {product: float(record.share(product)[sample]) for product in record.products}
    ranked = sorted((p for p in shares if p in words), key=lambda p: -shares[p])
    main = words[ranked[0]]
    if len(ranked) > 1 and shares[ranked[1]] >= NOTICEABLE_SHARE:
        return f"{main}; besides, {words[ranked[1]]}"
    return main


def _afterwards(run: Run, sample: int) -> str:
    """Say what has become of the colour, or of the liquid by the cathode."""
    if "Cu2+" in run.ions:
        copper = run.concentration("Cu2+") @ run.volume_m3
        if copper[0] > 0:
            lost = 1 - float(copper[sample] / copper[0])
            if electrodes()[run.cell.anode].active and abs(lost) < FADED:
                return "The blue stays: as much copper comes as goes."
            if lost >= FADED:
                return f"The blue has faded by {100 * lost:.0f} %."
    if float(run.cathode.pH[sample]) > 10 and not bool(run.swapped[sample]):
        return "Round the cathode the solution has turned alkaline."
    return ""


def narration(run: Run) -> tuple[tuple[int, str], ...]:
    """Return (sample, sentence) wherever the sentence changes, the first at sample 0.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> narration(Cell("CuSO4").run(minutes=2))[0][0]
    0
    """
    said: list[tuple[int, str]] = []
    for sample in range(run.time_s.size):
        sentence = sentence_at(run, sample)
        if not said or sentence != said[-1][1]:
            said.append((sample, sentence))
    return tuple(said)
