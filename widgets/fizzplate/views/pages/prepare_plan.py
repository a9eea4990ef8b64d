"""The plan of a lesson: what fits into one period, or how the cells share several."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from fizzplate.lesson.prepare import one_period, plan
from fizzplate.views.pages.prepare_visibility import refusal_of
from fizzplate.views.web import render

if TYPE_CHECKING:
    from collections.abc import Iterable

    from markupsafe import Markup

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.lesson.prepare import PlanEntry


def timetables(setups: Iterable[CellSetup], period_min: float, wording: Wording) -> Markup:
    """Write the timetables; a solution that cannot be made is left out."""
    usable = tuple(setup for setup in setups if refusal_of(setup) is None)
    periods = plan(usable, period_min, wording)
    tables = [
        _timetable(f"Period {k}", period, period_min) for k, period in enumerate(periods, start=1)
    ]
    if len(periods) > 1:
        entries, notes = one_period(usable, period_min, wording)
        tables.insert(0, _timetable("In one period", entries, period_min, notes))
    return render("pages/templates/plan.html.j2", timetables=tables)


def _timetable(
    name: str, entries: list[PlanEntry], period_min: float, notes: str = ""
) -> dict[str, Any]:
    total = sum(entry.minutes for entry in entries)
    return {
        "caption": f"{name}: {total:.3g} of {period_min:g} minutes",
        "rows": [[entry.what, f"{entry.minutes:.3g} min"] for entry in entries],
        "notes": notes,
    }
