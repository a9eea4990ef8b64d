"""Tests of a gas: what each shows at an electrode of a run, and what it does not show."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import species_name
from fizzplate.chemistry.substances import GASES
from fizzplate.words import begin, choice, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell import ElectrodeRecord

TESTS = (
    "lighted splint",
    "glowing splint",
    "damp blue litmus",
    "damp starch-iodide paper",
    "limewater",
)
#: Gas that a test needs, cm3: a choice, of the order of common practice.
NEEDS_CM3 = {
    "lighted splint": 0.5,
    "glowing splint": 0.5,
    "damp blue litmus": 0.05,
    "damp starch-iodide paper": 0.02,
    "limewater": 0.5,
}
VAPOURS = ("Cl2", "Br2", "I2")  # a paper held over the liquid meets what is dissolved in it
PAPERS = ("damp blue litmus", "damp starch-iodide paper")
MIN_VAPOUR_MOL = 1e-5  # made so far: less does not reach a paper (a choice)
MIN_COLLECTED_FRACTION = (
    0.5  # of a gas: if less leaves the liquid, say how to hold a paper (a choice)
)
MIN_NAMED_CM3 = 0.05  # less is called hardly any
RELIGHTS = 0.35  # share of oxygen, well above air's (a choice)
BLEACHES = 0.01  # share of chlorine that a paper shows (a choice)
CLOUDS = 0.02  # share of carbon dioxide that limewater shows (a choice)
BANGS = 0.1  # share of oxygen in hydrogen that makes it bang (a choice)


@dataclass(frozen=True, slots=True)
class GasTestResult:
    """What a test gave.

    Parameters
    ----------
    result
        What is seen, as a sentence.
    picture
        How it is drawn: "pop", "bang", "relight", "brighter", "out", "bleach", "redden", "blue-black",
        "cloudy" or "nothing".
    meaning
        What it shows and what it does not.
    """

    result: str
    picture: str
    meaning: str


def gas_test(record: ElectrodeRecord, test: str) -> GasTestResult:
    """Return what a test gives with the gas that could be collected by the end of a run.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> run = Cell("Na2SO4").run(minutes=10)
    >>> gas_test(run.anode, "glowing splint").result
    'The splint relights.'
    >>> gas_test(run.cathode, "glowing splint").picture
    'out'
    """
    choice("test", test, TESTS)
    gas_cm3 = _collected_cm3(record)
    total = sum(gas_cm3.values())
    vapour = _vapour(record)
    if test in PAPERS and vapour:
        return _with_paper_held_close(_row(test, vapour), record, vapour, gas_cm3)
    if total <= 0:
        return GasTestResult(
            "There is no gas to test here.", "nothing", "Look at the electrode instead."
        )
    if total < NEEDS_CM3[test]:
        return GasTestResult(
            f"There is too little gas: about {page_quantity(total, 'cm3', '.1g')} can be collected, and this "
            f"test needs about {page_quantity(NEEDS_CM3[test], 'cm3')}.",
            "nothing",
            "It shows nothing yet: run the cell for longer, or with a larger current.",
        )
    return _result_of_mixture(test, {gas: volume / total for gas, volume in gas_cm3.items()})


def _result_of_mixture(test: str, share: Mapping[str, float]) -> GasTestResult:
    """Return what a test gives with a mixture, by the share of each gas."""
    main = max(share, key=lambda gas: share[gas])
    if test == "lighted splint" and share["H2"] > BANGS and share["O2"] > BANGS:
        return GasTestResult(
            "The gas bangs loudly.", "bang", "It shows hydrogen mixed with oxygen."
        )
    if test == "glowing splint" and share["O2"] >= RELIGHTS:
        return _row(test, "O2")
    if test == "glowing splint" and main == "O2":
        main = "CO2"
    if test in PAPERS and share["Cl2"] >= BLEACHES:
        return _row(test, "Cl2")
    if test == "limewater" and share["CO2"] >= CLOUDS:
        return _row(test, "CO2")
    if test == "limewater" and main == "CO2":
        main = "O2"
    return _row(test, main)


def _with_paper_held_close(
    tried: GasTestResult, record: ElectrodeRecord, gas: str, collected_cm3: Mapping[str, float]
) -> GasTestResult:
    """Say how a paper shows a gas of which hardly any leaves the liquid."""
    if gas not in GASES or collected_cm3[gas] >= MIN_COLLECTED_FRACTION * float(
        record.gas_cm3(gas)[-1]
    ):
        return tried
    made_cm3 = float(record.gas_cm3(gas)[-1])
    return replace(
        tried,
        meaning=f"{tried.meaning} Of the {page_quantity(made_cm3, 'cm3', '.2g')} of {species_name(gas)} made "
        f"so far {_how_little(collected_cm3[gas])} leaves the liquid, so hold the paper close to the "
        "surface, or dip one end of it into the liquid at the electrode: a trace is enough for this test.",
    )


def _how_little(volume_cm3: float) -> str:
    if volume_cm3 <= MIN_NAMED_CM3:
        return "hardly any"
    return f"only about {page_quantity(volume_cm3, 'cm3', '.2g')}"


def _row(test: str, gas: str) -> GasTestResult:
    row = data.find("gas_tests", test=test, gas=gas)
    seen = row.text
    return GasTestResult(f"{begin(seen)}.", row["picture"], say(f"{row.caveat}.", it="it"))


def _collected_cm3(record: ElectrodeRecord) -> dict[str, float]:
    return {
        gas: float(record.gas_cm3(gas, collected=True)[-1]) if gas in record.products else 0.0
        for gas in GASES
    }


def _vapour(record: ElectrodeRecord) -> str:
    """Return the halogen that is in the liquid at the electrode, or an empty text."""
    return next((h for h in VAPOURS if float(record.amount_mol(h)[-1]) > MIN_VAPOUR_MOL), "")
