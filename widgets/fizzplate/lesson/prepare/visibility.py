"""Whether a class will see and measure anything, and when."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.cell import run_many, vessels
from fizzplate.chemistry.substances import GASES, observation_of
from fizzplate.lesson.classroom import choice_of
from fizzplate.lesson.rule import BUBBLES_CM3, haze_words, reacts_without_current, seen_at
from fizzplate.lesson.state import LAMPS
from fizzplate.words import DEFAULT_WORDING, InputError, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from fizzplate.cell import Cell, Run
    from fizzplate.lesson.state import CellSetup
    from fizzplate.words import Wording

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

MAX_SEARCH_MINUTES = 30.0  # of a run, in which to look for the first visible sign
COLOUR_MG_CM2 = 0.05  # of metal: some fifty nanometres, coloured (a choice)
TIMES_RESOLUTION = 20.0  # of the balance, for a result worth having
TUBE_CM3 = 5.0  # a small tube of gas
GAPS = (0.5, 1.6)  # of the vessel's usual gap: the range that a class sets up
GAP_FALLBACKS = (1.0, 0.75, 0.5, 0.25)  # of the way to such a gap, where the vessel cannot take it
SUPPLIES_V = (9.0, 12.0)  # that a school's low-voltage supply has besides 6 V
FINER_BALANCES_G = (0.01, 0.001)
CURRENTS_A = (0.1, 0.2, 0.5, 1.0)  # to which a constant current may be raised
COLOUR = "colour"
ROLES = ("cathode", "anode")


@dataclass(frozen=True, slots=True)
class Visibility:
    """When something is seen or measured, minutes; infinite if not within ``MAX_SEARCH_MINUTES``.

    Parameters
    ----------
    bubbles_min
        At cathode and anode.
    colour_min, balance_min, tube_min
        Until the cathode is coloured, the balance shows enough, a tube of gas is full.
    current_A
        After a minute.
    gases
        The main product at cathode and anode where it is a gas, or an empty text.
    plates
        Whether the main product at the cathode is a metal.
    seen
        What is seen at cathode and anode in the planned time, as Demonstrate says it of the same cell: by
        product, the main one first.
    clouds
        What clouds the liquid at the end of that time, as Demonstrate says it.
    """

    bubbles_min: tuple[float, float]
    colour_min: float
    balance_min: float
    tube_min: float
    current_A: float
    gases: tuple[str, str]
    plates: bool
    seen: tuple[Mapping[str, str], Mapping[str, str]]
    clouds: tuple[str, ...]

    def liquid_text(self) -> str:
        """Say what clouds the liquid; an empty text where nothing does.

        Examples
        --------
        >>> from fizzplate.lesson import CellSetup
        >>> visibility(CellSetup("MgSO4")).liquid_text()
        'in the liquid: a white haze'
        """
        return f"in the liquid: {'; '.join(self.clouds)}" if self.clouds else ""

    def seen_text(self, role: str) -> str:
        """Say what is seen at an electrode and from when on, where that is after the first moment.

        Examples
        --------
        >>> from fizzplate.lesson import CellSetup
        >>> visibility(CellSetup("CuSO4")).seen_text("cathode")
        'an orange-brown deposit on the electrode after 18 s'
        """
        at = ROLES.index(role)
        parts = []
        for product, words in self.seen[at].items():
            starts_min = math.nan
            if product in GASES and words == observation_of(product):
                starts_min = self.bubbles_min[at]
            elif at == 0 and self.plates and product not in GASES:
                starts_min = self.colour_min
            when = f" after {duration_text(starts_min)}" if math.isfinite(starts_min) else ""
            parts.append(f"{words}{when}")
        return "; also, ".join(dict.fromkeys(parts)) or "nothing: hardly any current flows"


def visibility(setup: CellSetup, *, balance_g: float = 0.01) -> Visibility:
    """Work out when a class sees and measures something.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> shown = visibility(CellSetup("CuSO4"))
    >>> shown.colour_min < 1 < shown.balance_min
    True
    """
    return _visibility_in(_long_runs(setup).default, setup, balance_g)


def visibility_without_lamp(setup: CellSetup, *, balance_g: float = 0.01) -> Visibility:
    """Work out the same of a set-up whose lamp is taken out.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> with_lamp = visibility(CellSetup("CuSO4"))
    >>> visibility_without_lamp(CellSetup("CuSO4")).current_A > with_lamp.current_A
    True
    """
    return _visibility_in(_long_runs(setup).without_lamp, setup, balance_g)


def _visibility_in(run: Run, setup: CellSetup, balance_g: float) -> Visibility:
    plated = _plated_g(run)
    bubbles = [_bubbles_cm3(run, role) for role in ("cathode", "anode")]
    collected = [_gas_cm3(run, role) for role in ("cathode", "anode")]
    lost = sum(
        (np.minimum(run.anode.mass_g(solid), 0) for solid in run.anode.solids),
        np.zeros_like(run.time_s),
    )
    seen = seen_at(run, setup.minutes)
    last = min(int(np.searchsorted(run.time_s, 60 * setup.minutes)), run.time_s.size - 1)
    main = [next(iter(record.products), "") for record in (run.cathode, run.anode)]
    return Visibility(
        (
            _minutes_until(run, bubbles[0], BUBBLES_CM3),
            _minutes_until(run, bubbles[1], BUBBLES_CM3),
        ),
        _minutes_until(run, plated, _coloured_g(setup)),
        _minutes_until(run, np.maximum(plated, -lost), TIMES_RESOLUTION * balance_g),
        _minutes_until(run, np.maximum(*collected), TUBE_CM3),
        _at_minute_A(run),
        (main[0] if main[0] in GASES else "", main[1] if main[1] in GASES else ""),
        main[0] in run.cathode.solids,
        (seen["cathode"], seen["anode"]),
        tuple(dict.fromkeys(haze_words(run, last).values())),
    )


def current_range_A(setup: CellSetup) -> tuple[float, float]:
    """Return the lowest and the highest current after a minute, A, for all distances of the rods.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> low, high = current_range_A(CellSetup("CuSO4"))
    >>> low < visibility(CellSetup("CuSO4")).current_A < high
    True
    """
    runs = _long_runs(setup)
    currents = [_at_minute_A(run) for run in (runs.default, runs.nearer, runs.farther)]
    return min(currents), max(currents)


def _at_minute_A(run: Run) -> float:
    return float(run.current_A[np.searchsorted(run.time_s, 60.0)])


def visibility_advice(
    setup: CellSetup, *, balance_g: float = 0.01, wording: Wording = DEFAULT_WORDING
) -> tuple[str, ...]:
    """Say what shows only after the planned time, or never, and what makes it show in time.

    It begins with what an electrode does by itself, without any current.

    Examples
    --------
    >>> from fizzplate.lesson import CellSetup
    >>> visibility_advice(CellSetup("Na2SO4"))
    ()
    >>> weak = CellSetup("NaCl", supply_V=None, current_A=0.001, lamp="none")
    >>> visibility_advice(weak)[0].split(". ")[0]
    'Bubbles at the anode: not within 30 min, because the chlorine stays dissolved'
    """
    if not setup.cell().ions_mol_dm3:
        return ()
    shown = visibility(setup, balance_g=balance_g)
    sentences = list(reacts_without_current(setup.cell(), wording))
    for role, gas, minutes in zip(
        ("cathode", "anode"), shown.gases, shown.bubbles_min, strict=True
    ):
        if gas and minutes > setup.minutes:
            name = choice_of(gas, getattr(setup, role))
            why = f", because the {name} stays dissolved" if math.isinf(minutes) else ""
            late, advice = _late_text(minutes, setup), _speed_up_advice(setup, role)
            template = "Bubbles at {the_electrode}: {late}{why}. {advice}"
            sentences.append(say(template, wording, role=role, late=late, why=why, advice=advice))
    if shown.plates and shown.colour_min > setup.minutes:
        late, advice = _late_text(shown.colour_min, setup), _speed_up_advice(setup, COLOUR)
        sentences.append(
            say("Colour on {the_cathode}: {late}. {advice}", wording, late=late, advice=advice)
        )
    if shown.plates and shown.balance_min > setup.minutes:
        sentences.append(_to_weigh(setup, balance_g))
    return tuple(sentences)


def duration_text(minutes: float) -> str:
    """Write a time as a class reads it.

    Examples
    --------
    >>> duration_text(0.1), duration_text(6.31), duration_text(math.inf)
    ('6 s', '6.3 min', 'not within 30 min')
    """
    if not math.isfinite(minutes):
        return f"not within {page_quantity(MAX_SEARCH_MINUTES, 'min')}"
    if minutes < 1:
        return page_quantity(60 * minutes, "s", ".0f")
    return page_quantity(minutes, "min", ".2g")


def milliamps(current_A: float, figures: int = 3) -> str:
    """Write a current in mA to so many figures, without powers of ten, which a supply does not show.

    Examples
    --------
    >>> milliamps(1.0), milliamps(0.0488), milliamps(0.9996), milliamps(0.0037, 2)
    ('1000', '48.8', '1000', '3.7')
    """
    return f"{float(f'{1e3 * current_A:.{figures}g}'):g}"


def _late_text(minutes: float, setup: CellSetup) -> str:
    """Say how late something shows, and how long the run lasts."""
    if math.isinf(minutes):
        return duration_text(minutes)
    return f"only after {duration_text(minutes)}, but the run lasts {page_quantity(setup.minutes, 'min')}"


def _stronger(setup: CellSetup) -> Iterator[tuple[str, CellSetup]]:
    """Yield changes that let more current through, the smallest first."""
    if setup.current_A is not None:
        for current_A in CURRENTS_A:
            other = replace(setup, current_A=current_A)
            if current_A > setup.current_A and _possible(other):
                yield page_quantity(current_A, "A"), other
        return
    own = LAMPS[setup.lamp]
    if own is not None:
        for name, lamp in LAMPS.items():
            if lamp is not None and lamp.rated_A > own.rated_A and lamp.rated_V <= own.rated_V:
                yield f"the lamp {name}", replace(setup, lamp=name)
        yield "no lamp", replace(setup, lamp="none")
    for supply_V in SUPPLIES_V:
        if supply_V > (setup.supply_V or 0):
            yield (
                f"no lamp and a supply of {page_quantity(supply_V, 'V')}",
                replace(setup, lamp="none", supply_V=supply_V),
            )


def _possible(setup: CellSetup) -> bool:
    """Say whether a supply can drive the constant current."""
    try:
        setup.cell()
    except InputError:
        return False
    return True


def _speed_up_advice(setup: CellSetup, what: str) -> str:
    """Say with which lamp, supply or current it shows within the planned time, and when."""
    for words, other in _stronger(setup):
        run = _planned_run(other)
        if what == COLOUR:
            found = _minutes_until(run, _plated_g(run), _coloured_g(setup))
        else:
            found = _minutes_until(run, _bubbles_cm3(run, what), BUBBLES_CM3)
        if found <= setup.minutes:
            return f"With {words}: after {duration_text(found)}."
    return "No lamp or supply on this page shows it in time: plan a longer run, or tell the class."


def _to_weigh(setup: CellSetup, balance_g: float) -> str:
    """Say with which balance, and whether without the lamp, there is enough to weigh, and when."""
    balances = (balance_g, *[each for each in FINER_BALANCES_G if each < balance_g][:1])
    ways = [("", visibility)]
    if setup.current_A is None and setup.lamp != "none":
        ways.append((" and no lamp", visibility_without_lamp))
    for words, visibility_of in ways:
        for each in balances:
            found = visibility_of(setup, balance_g=each).balance_min
            if math.isfinite(found):
                return (
                    f"Enough to weigh: after {duration_text(found)}, with a balance that reads to "
                    f"{page_quantity(each, 'g')}{words}."
                )
    shows = " or ".join(page_quantity(each, "g") for each in balances)
    return f"Enough to weigh: {duration_text(math.inf)}, with a balance that reads to {shows}."


@dataclass(frozen=True, slots=True)
class _LongRuns:
    """Runs of a set-up as it is, without its lamp, and with its rods nearer and farther."""

    default: Run
    without_lamp: Run
    nearer: Run
    farther: Run


def _long_runs(setup: CellSetup) -> _LongRuns:
    """Return runs that are the same however long the class runs the set-up."""
    return _runs_side_by_side(replace(setup, minutes=MAX_SEARCH_MINUTES))


@lru_cache(maxsize=32)
def _runs_side_by_side(setup: CellSetup) -> _LongRuns:
    """Run all four as one batch, which takes little more than half the time of one after another."""
    unlit = setup if setup.current_A is not None else replace(setup, lamp="none")
    cells = (setup.cell(), unlit.cell(), *(_with_gap(setup, gap) for gap in GAPS))
    return _LongRuns(*run_many(cells, setup.minutes))


@lru_cache(maxsize=64)
def _planned_run(setup: CellSetup) -> Run:
    return setup.cell().run(minutes=setup.minutes)


def _with_gap(setup: CellSetup, gap: float) -> Cell:
    """Return the cell with so many times its vessel's usual gap, or as near to that as it can take."""
    own = vessels()[setup.vessel].gap_cm
    wanted = min(max(gap * own.default, own.minimum), own.maximum)
    for part in GAP_FALLBACKS:
        try:
            return setup.cell(gap_cm=own.default + part * (wanted - own.default))
        except InputError:  # too little liquid for so long a tube, or too high a voltage
            continue
    return setup.cell()


def _coloured_g(setup: CellSetup) -> float:
    return 1e-3 * COLOUR_MG_CM2 * vessels()[setup.vessel].immersed_area_cm2.default


def _plated_g(run: Run) -> Array:
    solids = (run.cathode.mass_g(solid) for solid in run.cathode.solids)
    return np.asarray(sum(solids, np.zeros_like(run.time_s)))


def _gas_cm3(run: Run, role: str) -> Array:
    record = getattr(run, role)
    volumes = [record.gas_cm3(gas, collected=True) for gas in record.products if gas in GASES]
    return np.asarray(sum(volumes, np.zeros_like(run.time_s)))


def _bubbles_cm3(run: Run, role: str) -> Array:
    record = getattr(run, role)
    volumes = [record.bubbles_cm3(gas) for gas in record.products if gas in GASES]
    return np.asarray(sum(volumes, np.zeros_like(run.time_s)))


def _minutes_until(run: Run, values: Array, enough: float) -> float:
    """Return the time at which a growing value is first enough, minutes; infinite if it never is."""
    reached = np.flatnonzero(values >= enough)
    if not reached.size:
        return math.inf
    k = int(reached[0])
    if k == 0:
        return 0.0
    part = (enough - values[k - 1]) / (values[k] - values[k - 1])
    return float(run.time_s[k - 1] + part * (run.time_s[k] - run.time_s[k - 1])) / 60
