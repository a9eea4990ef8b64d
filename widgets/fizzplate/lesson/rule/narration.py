"""What happens in the cell at every moment of a run, in a teacher's words, and what can be seen of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import electrodes
from fizzplate.chemistry.gases import GASES
from fizzplate.chemistry.product_tests import observation_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.cell import Run

ROLES = ("cathode", "anode")
SWITCH_OPEN = "The switch is open: ions wander, no current flows and nothing is discharged."
BUBBLES = "bubbles"  # in what is seen of a gas
LEAST_CURRENT_A = 1e-5
NOTICEABLE_SHARE = 0.1
FADED = 0.02
ALKALINE_PH = 10
MORE_GAS = 1.3  # times as much, before one electrode is said to have more bubbles (a choice)


def _words(role: str) -> dict[str, str]:
    return {row["product"]: row.text for row in data.rows("happenings") if row["role"] == role}


def sentence_at(run: Run, sample: int) -> str:
    """Return one or two sentences on what happens at a sample of a run."""
    return _event_writer(run)(sample)


def narration(run: Run) -> tuple[tuple[int, str], ...]:
    """Return (sample, sentence) wherever the sentence changes, the first at sample 0.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> narration(Cell("CuSO4").run(minutes=2))[0][0]
    0
    """
    return _changes(run, _event_writer(run))


def observations(run: Run) -> tuple[tuple[int, str], ...]:
    """Return what an observer would see, naming no product, as :func:`narration` does what happens.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> observations(Cell("CuSO4").run(minutes=2))[0][1].split(". At the anode")[0]
    'At the cathode: an orange-brown deposit on the electrode'
    """
    return _changes(run, _observation_writer(run))


def _changes(run: Run, says: Callable[[int], str]) -> tuple[tuple[int, str], ...]:
    said: list[tuple[int, str]] = []
    for sample in range(run.time_s.size):
        sentence = says(sample)
        if not said or sentence != said[-1][1]:
            said.append((sample, sentence))
    return tuple(said)


def _event_writer(run: Run) -> Callable[[int], str]:
    """Return what says what happens at a sample."""
    doing = _electrode_writer(run, {role: _words(role) for role in ROLES})

    def says(sample: int) -> str:
        if idle := _idle(run, sample):
            return idle
        parts = [f"At the {role} {doing(role, sample)}." for role in ROLES]
        return " ".join([*parts, _afterwards(run, sample)]).strip()

    return says


def _observation_writer(run: Run) -> Callable[[int], str]:
    """Return what says what can be seen at a sample."""
    products = {*run.cathode.products, *run.anode.products}
    seen = {product: observation_of(product) for product in products}
    doing = _electrode_writer(run, dict.fromkeys(ROLES, seen))
    more = _more_bubbles(run)

    def says(sample: int) -> str:
        if idle := _idle(run, sample):
            return idle
        at = [doing(role, sample) for role in ROLES]
        parts = [f"At the {role}: {what}." for role, what in zip(ROLES, at, strict=True)]
        if all(BUBBLES in what for what in at):
            parts.append(more)
        faded = _blue_lost(run, sample)
        return " ".join([*parts, *([_faded(faded)] if faded >= FADED else [])])

    return says


def _idle(run: Run, sample: int) -> str:
    """Say that no current flows, or nothing where one does."""
    if abs(float(run.current_A[sample])) >= LEAST_CURRENT_A:
        return ""
    if run.supply_voltage_V.max() == 0.0:
        return SWITCH_OPEN
    return "Hardly any current flows: too few ions, or too low a voltage."


def _electrode_writer(
    run: Run, words: Mapping[str, Mapping[str, str]]
) -> Callable[[str, int], str]:
    """Return what says what an electrode does at a sample: what most of the charge does, and what else."""
    shares = [
        {product: record.share(product) for product in record.products}
        for record in (run.cathode, run.anode)
    ]

    def says(role: str, sample: int) -> str:
        now = {p: float(share[sample]) for p, share in shares[_side(run, role, sample)].items()}
        ranked = sorted((p for p in now if p in words[role]), key=lambda p: -now[p])
        main = words[role][ranked[0]]
        if len(ranked) > 1 and now[ranked[1]] >= NOTICEABLE_SHARE:
            besides = words[role][ranked[1]]
            return f"{main}; besides, {besides}" if besides not in main else main
        return main

    return says


def _side(run: Run, role: str, sample: int) -> int:
    """Return which electrode has a role at a sample: 0 for the first stage's cathode."""
    return int((role == "anode") != bool(run.swapped[sample]))


def _more_bubbles(run: Run) -> str:
    """Say at which electrode more gas has come up by the end of a run."""
    cathode, anode = (
        sum(
            float(record.gas_cm3(gas, collected=True)[-1])
            for gas in GASES
            if gas in record.products
        )
        for record in (run.cathode, run.anode)
    )
    if cathode > MORE_GAS * anode:
        return "There are more bubbles at the cathode."
    if anode > MORE_GAS * cathode:
        return "There are more bubbles at the anode."
    return "There are about as many bubbles at both."


def _afterwards(run: Run, sample: int) -> str:
    """Say what has become of the colour, or of the liquid by the cathode."""
    if "Cu2+" in run.ions and run.concentration("Cu2+")[0].max() > 0:
        lost = _blue_lost(run, sample)
        if electrodes()[run.cell.anode].active and abs(lost) < FADED:
            return "The blue stays: as much copper comes as goes."
        if lost >= FADED:
            return _faded(lost)
    if float(run.cathode.pH[sample]) > ALKALINE_PH and not bool(run.swapped[sample]):
        return "Round the cathode the solution has turned alkaline."
    return ""


def _faded(lost: float) -> str:
    return f"The blue has faded by {100 * lost:.0f} %."


def _blue_lost(run: Run, sample: int) -> float:
    """Return what part of the copper that makes the solution blue has gone."""
    if "Cu2+" not in run.ions:
        return 0.0
    first, now = (run.concentration("Cu2+")[k] @ run.volume_m3 for k in (0, sample))
    return 1 - float(now / first) if first > 0 else 0.0
