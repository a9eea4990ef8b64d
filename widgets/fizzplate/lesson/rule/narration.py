"""What happens in the cell at every moment of a run, in a teacher's words, and what can be seen of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from fizzplate import data
from fizzplate.cell import MIN_CURRENT_A, oxide_film
from fizzplate.chemistry import electrodes, wording_for
from fizzplate.chemistry.substances import GASES
from fizzplate.lesson.rule.remains import BUBBLES_STAY
from fizzplate.lesson.rule.rule_vs_model import copper_masses
from fizzplate.lesson.rule.sights import (
    DARK_FILM,
    NOTHING,
    haze_looks,
    reacts_without_current,
    sights,
)
from fizzplate.words import DEFAULT_WORDING, page_quantity, say

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from fizzplate.cell import ElectrodeRecord, Run
    from fizzplate.lesson.rule.remains import Remains
    from fizzplate.words import Wording

ROLES = ("cathode", "anode")
SWITCH_OPEN = (
    "The switch is open: the ions move at random, no current flows and nothing is discharged."
)
SWITCH_OPEN_SEEN = "The switch is open: the ions move at random, and no current flows."
NO_CURRENT_SEEN = "Hardly any current flows."
NO_BUBBLES_SEEN = "no bubbles are seen"
NO_CHLORINE_BUBBLES = "no bubbles, because the gas that forms there dissolves"
NO_NEW_BUBBLES = "no new bubbles are seen"
NOTICEABLE_SHARE = 0.1
FADED = 0.02
ALKALINE_PH = 10
BUBBLES_CM3 = 0.02  # of gas that has left an electrode: enough for visible bubbles (a choice)
MORE_GAS = 1.3  # times as much, before one electrode is said to have more bubbles (a choice)


def _events(role: str, wording: Wording) -> dict[str, str]:
    """Return what happens at an electrode, by its product."""
    return {
        row["product"]: say(row.text, wording)
        for row in data.rows("happenings")
        if row["role"] == role
    }


def sentence_at(run: Run, sample: int, wording: Wording = DEFAULT_WORDING) -> str:
    """Return one or two sentences on what happens at a sample of a run."""
    return _event_writer(run, wording)(sample)


def narration(run: Run, wording: Wording = DEFAULT_WORDING) -> tuple[tuple[int, str], ...]:
    """Return (sample, sentence) wherever the sentence changes, the first at sample 0.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> narration(Cell("CuSO4").run(minutes=2))[0][0]
    0
    """
    return _changes(run, _event_writer(run, wording))


def observations(
    run: Run, wording: Wording = DEFAULT_WORDING, remains: Remains | None = None
) -> tuple[tuple[int, str], ...]:
    """Return what an observer would see, naming no product, as :func:`narration` does what happens.

    Parameters
    ----------
    run
        What is seen, or a stage of it as a run of its own.
    wording
        The board's.
    remains
        Of a stage, what is still seen of what was made before it (:func:`remains_of`).

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> observations(Cell("CuSO4").run(minutes=2))[0][1].split(". At the anode")[0]
    'At the cathode: an orange-brown deposit on the electrode'
    """
    return _changes(run, _observation_writer(run, wording, remains or (lambda _role, _sample: ())))


def _changes(run: Run, sentence_of: Callable[[int], str]) -> tuple[tuple[int, str], ...]:
    changes: list[tuple[int, str]] = []
    for sample in range(run.time_s.size):
        sentence = sentence_of(sample)
        if not changes or sentence != changes[-1][1]:
            changes.append((sample, sentence))
    return tuple(changes)


def _event_writer(run: Run, wording: Wording) -> Callable[[int], str]:
    """Return the function that says what happens at a sample."""
    board = wording_for(run.cell.ions_mol_dm3, wording)
    events = {role: _events(role, board) for role in ROLES}
    products = _products_shown(run, events)

    def sentence(sample: int) -> str:
        if idle := _idle(run, sample):
            return idle
        parts = [
            say(
                "At {the_electrode} {event}.",
                board,
                role=role,
                event=_join([events[role][each] for each in products(role, sample)]),
            )
            for role in ROLES
        ]
        return " ".join([*parts, _consequence(run, sample, board)]).strip()

    return sentence


def seen_at(run: Run, minutes: float | None = None) -> dict[str, dict[str, str]]:
    """Return what is seen at each electrode for most of a run, as :func:`observations` says it.

    Parameters
    ----------
    run
        The run.
    minutes
        How much of it the class watches; all of it without.

    Returns
    -------
    dict
        By role, what is seen of each product, the main one first; nothing where hardly any current flows.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> seen_at(Cell("CuSO4").run(minutes=2))["cathode"]
    {'Cu': 'an orange-brown deposit on the electrode'}
    """
    last = run.time_s.size - 1
    if minutes is not None:
        last = min(int(np.searchsorted(run.time_s, 60 * minutes)), last)
    seen = _seen_of(run, last, NO_CHLORINE_BUBBLES)
    made = {*run.cathode.products, *run.anode.products}
    products = _products_shown(run, dict.fromkeys(ROLES, dict.fromkeys(made, "")))
    lasts_s = np.diff(run.time_s[: last + 1])
    found = {}
    for role in ROLES:
        lengths: dict[tuple[int, tuple[str, ...]], float] = {}
        for sample, length in enumerate(lasts_s):
            if not _idle(run, sample):
                shown = _side(run, role, sample), products(role, sample)
                lengths[shown] = lengths.get(shown, 0.0) + float(length)
        side, longest = max(lengths, key=lambda shown: lengths[shown], default=(0, ()))
        found[role] = {product: seen[role][side][product] for product in longest}
    return found


def liquid_seen(run: Run) -> str:
    """Return what is seen to become of the liquid as a whole in a run; empty where nothing is.

    What is seen round an electrode belongs to that electrode.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> liquid_seen(Cell("NaCl", anode="iron").run(minutes=5, samples=3))
    'a dirty green haze'
    >>> liquid_seen(Cell("Na2SO4").run(minutes=1, samples=3))
    ''
    """
    middle, last = run.time_s.size // 2, run.time_s.size - 1
    looks = [look for at in (middle, last) for look in haze_looks(run, at).values()]
    if _blue_lost(run, last) >= FADED:
        looks.append("its blue fades")
    return "; ".join(dict.fromkeys(looks))


def _seen_of(run: Run, last: int, no_bubbles: str) -> dict[str, list[dict[str, str]]]:
    """Say by role what is seen at each electrode of its products; chlorine may all have dissolved by then."""
    seen = {role: [sights(record, role) for record in (run.cathode, run.anode)] for role in ROLES}
    for record in (run.cathode, run.anode):
        if "Cl2" in record.products and record.bubbles_cm3("Cl2")[last] < BUBBLES_CM3:
            for at in seen["anode"]:
                at["Cl2"] = no_bubbles
    return seen


def _observation_writer(run: Run, wording: Wording, remains: Remains) -> Callable[[int], str]:
    """Return the function that says what can be seen at a sample."""
    seen = _seen_of(run, run.time_s.size - 1, NO_BUBBLES_SEEN)
    made = {*run.cathode.products, *run.anode.products}
    without_bubbles = {each for at in seen["anode"] for each in at if at[each] == NO_BUBBLES_SEEN}
    bubbling = made & set(GASES) - without_bubbles
    products = _products_shown(run, dict.fromkeys(ROLES, dict.fromkeys(made, "")))
    filmed = [oxide_film(run, side) for side in (0, 1)]

    def what(role: str, sample: int, shown: tuple[str, ...]) -> str:
        side = _side(run, role, sample)
        film = [DARK_FILM] if filmed[side][sample] else []
        now = [*(seen[role][side][each] for each in shown), *film]
        left = remains(role, sample)
        if set(shown) & bubbling:
            left = tuple(each for each in left if each != BUBBLES_STAY)  # new ones are among them
            now = [
                each for each in now if each != NO_BUBBLES_SEEN
            ]  # of chlorine, beside another gas
        elif BUBBLES_STAY in left:
            now = [NO_NEW_BUBBLES if each == NO_BUBBLES_SEEN else each for each in now]
        return _join([*now, *left])

    def at_rest(sample: int) -> list[str]:
        """Say what is left at the electrodes where nothing more happens."""
        left = {role: remains(role, sample) for role in ROLES}
        return [
            say("At {the_electrode}: {what}.", wording, role=role, what=_join(list(what_is_left)))
            for role, what_is_left in left.items()
            if what_is_left
        ]

    by_itself = reacts_without_current(run.cell, wording)

    def sentence(sample: int) -> str:
        if idle := _idle(run, sample):
            words = SWITCH_OPEN_SEEN if idle == SWITCH_OPEN else NO_CURRENT_SEEN
            return " ".join([words, *at_rest(sample), *by_itself])
        at = {role: products(role, sample) for role in ROLES}
        parts = [
            say("At {the_electrode}: {what}.", wording, role=role, what=what(role, sample, shown))
            for role, shown in at.items()
        ]
        if all(set(shown) & bubbling for shown in at.values()):
            parts += filter(None, [_more_bubbles(run, sample, wording)])
        parts += [*_in_the_liquid(run, sample), *by_itself]
        faded = _blue_lost(run, sample)
        return " ".join([*parts, *([_faded(faded)] if faded >= FADED else [])])

    return sentence


def _idle(run: Run, sample: int) -> str:
    """Say that no current flows, or nothing where one does."""
    if abs(float(run.current_A[sample])) >= MIN_CURRENT_A:
        return ""
    if run.supply_voltage_V.max() == 0.0:
        return SWITCH_OPEN
    return "Hardly any current flows: there are too few ions, or the voltage is too low."


def _products_shown(
    run: Run, words: Mapping[str, Mapping[str, str]]
) -> Callable[[str, int], tuple[str, ...]]:
    """Return the function that lists an electrode's main product at a sample, and a notable second one."""
    shares = [
        {product: record.share(product) for product in record.products}
        for record in (run.cathode, run.anode)
    ]

    def products(role: str, sample: int) -> tuple[str, ...]:
        now = {p: float(share[sample]) for p, share in shares[_side(run, role, sample)].items()}
        ranked = sorted((p for p in now if p in words[role]), key=lambda p: -now[p])
        return (ranked[0], *(p for p in ranked[1:2] if now[p] >= NOTICEABLE_SHARE))

    return products


def _join(phrases: list[str]) -> str:
    """Join what is said of each product: the same is said once, and nothing only alone."""
    each = dict.fromkeys(phrases)
    return "; also, ".join([phrase for phrase in each if phrase != NOTHING] or each)


def _in_the_liquid(run: Run, sample: int) -> list[str]:
    """Say how what clouds the liquid looks now, if anything does."""
    clouds = dict.fromkeys(haze_looks(run, sample).values())
    return [f"In the liquid: {'; '.join(clouds)}."] if clouds else []


def _side(run: Run, role: str, sample: int) -> int:
    """Return which electrode has a role at a sample: 0 for the first stage's cathode."""
    return int((role == "anode") != bool(run.swapped[sample]))


def _bubbles_in_sight_cm3(record: ElectrodeRecord, sample: int) -> float:
    """Return the volume of bubbles between where they form and the surface: some dissolve on the way."""
    return sum(
        0.5 * float((record.bubbles_cm3(gas) + record.gas_cm3(gas, collected=True))[sample])
        for gas in GASES
        if gas in record.products
    )


def _more_bubbles(run: Run, sample: int, wording: Wording) -> str:
    """Say at which electrode more bubbles have been in sight by a sample; nothing before there are some."""
    cathode, anode = (_bubbles_in_sight_cm3(each, sample) for each in (run.cathode, run.anode))
    if max(cathode, anode) < BUBBLES_CM3:
        return ""
    if cathode > MORE_GAS * anode:
        return say("There are more bubbles at {the_cathode}.", wording)
    if anode > MORE_GAS * cathode:
        return say("There are more bubbles at {the_anode}.", wording)
    return "There are about equally many bubbles at both electrodes."


def _consequence(run: Run, sample: int, wording: Wording) -> str:
    """Say what has happened to the colour, or to the liquid near the cathode."""
    if "Cu2+" in run.ions and run.concentration("Cu2+")[0].max() > 0:
        lost = _blue_lost(run, sample)
        if electrodes()[run.cell.anode].formula == "Cu" and abs(lost) < FADED:
            return _copper_at_both(run, sample)
        if lost >= FADED:
            return _faded(lost)
    if float(run.cathode.pH[sample]) > ALKALINE_PH and not bool(run.swapped[sample]):
        return say("Near {the_cathode} the solution has turned alkaline.", wording)
    return ""


def _copper_at_both(run: Run, sample: int) -> str:
    """Say what an anode and a cathode of copper do to the blue."""
    masses = copper_masses(run, sample)
    if not masses.loss_mg:
        return ""
    if masses.comparison:
        return f"{masses.comparison[0].upper()}{masses.comparison[1:]}."
    return "The blue stays: as much copper dissolves as is deposited."


def _faded(lost: float) -> str:
    return f"The blue has faded by {page_quantity(100 * lost, '%', '.0f')}."


def _blue_lost(run: Run, sample: int) -> float:
    """Return what part of the copper that makes the solution blue has gone."""
    if "Cu2+" not in run.ions:
        return 0.0
    first, now = (run.amount_mol("Cu2+")[k] for k in (0, sample))
    return 1 - float(now / first) if first > 0 else 0.0
