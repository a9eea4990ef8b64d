"""A run that is changed while it goes on, as plain data for the page: what is said of each of its stages.

Until the first change everything is said of the run as it would go on unchanged: the class has seen and
written that. From each change on, rule, explanation, tests and cards are those of the stage.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.chemistry import pretty, solutions
from fizzplate.chemistry.substances import product_name
from fizzplate.lesson import cautions
from fizzplate.lesson.classroom import cautions_of_added
from fizzplate.lesson.rule import remains_of
from fizzplate.lesson.state import texts
from fizzplate.views.bench.side_cards import lesson_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.cell import CellLike, Run
    from fizzplate.lesson import Wording
    from fizzplate.lesson.state import Change

PACES = (1, 5, 20, 60, 200)  # SPEEDS of scene/motion/clock.js; a test holds them equal
SHOW_S = 20.0  # its SHOW_S
BUBBLES_STAY_S = 4.2  # of the picture: for so long it shows a bubble (scene/motion/bubbles.js)
STRENGTH_MOL_DM3 = 0.1  # of what is offered to be added at first
#: what a stage has of its own; the rest is as in the run without changes
OWN = ("picture", "electrodes", "notes", "cautions", "table")


def lesson_in_stages(
    run: Run, unchanged: Run, changes: Sequence[Change], wording: Wording
) -> dict[str, Any]:
    """Say what a run with changes shows, stage by stage.

    Parameters
    ----------
    run
        With its changes.
    unchanged
        The same cell without them.
    changes
        What was changed.
    wording
        The board's.
    """
    lesson = lesson_of(unchanged, wording)
    words = dict(texts(change for change in changes if change.kind != "indicator"))
    of_run = cautions(run.cell, run, wording)
    lesson["stages"] = []
    stays_s = BUBBLES_STAY_S * usual_pace(float(unchanged.time_s[-1]))
    begins_s = 0.0
    for place, stage in enumerate(run.stages[1:], start=1):
        begins_s += 60 * run.stages[place - 1].minutes
        samples = run.samples_of_stage(place)
        if samples.stop - samples.start < 2:
            continue  # the liquid boils before, or the file has fewer samples
        part = run.of_stage(place)
        own = lesson_of(part, wording, remains_of(run, place, stays_s))
        on_cards = {text for card in own["electrodes"] for text in card["cautions"]}
        own["cautions"] = [text for text in of_run if text not in on_cards]
        own["classroom"].pop("row")
        first_s = float(run.time_s[samples.start])
        for name in ("seen", "narration"):
            before = [each for each in lesson[name] if each[0] <= begins_s]
            lesson[name] = [*before, *([first_s + at, text] for at, text in own[name])]
        added = cautions_of_added(_cell_before(run, place), run.cell_at(samples.start), wording)
        lesson["stages"].append(
            {name: own[name] for name in OWN}
            | {
                "classroom": own["classroom"],
                "fromS": round(begins_s, 3),
                "firstS": first_s,
                "swapped": stage.swapped,
                "text": words.get(_nearest(words, begins_s), ""),
                "addedCautions": list(added),
            }
        )
        _name_products(own["electrodes"], run, part, swapped=stage.swapped)
    _name_products(lesson["electrodes"], run, unchanged, swapped=False)
    return lesson


def usual_pace(duration_s: float) -> int:
    """Return how many seconds of a run pass in one of its picture.

    Examples
    --------
    >>> usual_pace(300.0)
    20
    """
    return next((pace for pace in PACES if duration_s / pace <= SHOW_S), PACES[-1])


def _name_products(cards: list[dict[str, Any]], run: Run, part: Run, *, swapped: bool) -> None:
    """Let cards name the products of the whole run, in its order, and the main one of their stage."""
    sides = (run.cathode, run.anode)[:: -1 if swapped else 1]
    for card, of_run, of_part in zip(cards, sides, (part.cathode, part.anode), strict=True):
        card["names"] = [product_name(product) for product in of_run.products]
        card["main"] = next(iter(of_part.products), "")


def _nearest(words: dict[float, str], at_s: float) -> float:
    return min(words, key=lambda each: abs(each - at_s), default=0.0)


def _cell_before(run: Run, place: int) -> CellLike:
    return run.cell_at(max(run.samples_of_stage(place).start - 1, 0))


def marks(changes: Sequence[Change]) -> list[dict[str, Any]]:
    """Return what stands at the ruler: each time at which something was changed, and what."""
    return [{"atS": at_s, "text": text} for at_s, text in texts(changes)]


def indicators_added(changes: Sequence[Change]) -> list[list[Any]]:
    """Return the indicators that were added: when, and which."""
    found = [[each.at_s, each.substance] for each in changes if each.kind == "indicator"]
    return sorted(found, key=lambda each: float(each[0]))


def offers(cell: CellLike, changes: Sequence[Change]) -> dict[str, Any]:
    """Return what may be changed while a cell runs, and what the fields hold at first."""
    held = "A" if cell.current_A is not None else "V"
    return {
        "holds": held,
        "supply": f"{cell.current_A if held == 'A' else cell.supply_V:.6g}",
        "pours": cell.vessel.stirred_by_hand,
        "salts": [
            [formula, f"{salt.name} {pretty(formula)}"] for formula, salt in solutions().items()
        ],
        "strength": f"{STRENGTH_MOL_DM3:g}",
        "made": [change.text for change in changes],
        "lastS": changes[-1].at_s if changes else None,
    }
