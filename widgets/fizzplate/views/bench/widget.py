"""The bench: one widget that holds the cell, its side cards, the ruler, the charts and the words."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Any

import traitlets

from fizzplate.cell import known_runs
from fizzplate.lesson import Wording
from fizzplate.lesson.rule import MeltRun
from fizzplate.views.bench.melt_state import melt_lesson, melt_payload
from fizzplate.views.bench.payload import payload, payload_at_rest
from fizzplate.views.bench.side_cards import lesson_at_rest, lesson_of
from fizzplate.views.bench.stages import indicators_added, lesson_in_stages, marks, offers
from fizzplate.views.figures import charts
from fizzplate.views.web import Widget, has_room, style_text
from fizzplate.views.workshop import plain_species

if TYPE_CHECKING:
    from fizzplate.cell import Cell, Run
    from fizzplate.lesson.state import Change
    from fizzplate.views.bench.payload import Payload


ONLY_CALCULATED = (
    "Only calculated, not for the bench: making chlorine for so long needs a fume cupboard."
)
ONLY_CALCULATED_ASKING = (
    "Only calculated, not for the bench."  # chlorine is not named while a class is asked
)


@dataclass(frozen=True, slots=True)
class About:
    """What the page needs to know about a run, apart from the run itself.

    Parameters
    ----------
    key
        A name under which the page remembers how far the run was played, and what a class said about it.
    label
        What the results table calls it.
    asking
        Whether the class predicts first.
    only_calculated
        Whether it is too long for a classroom's bench.
    wording
        The board's wording.
    changes, unchanged
        What is changed while it runs, and the run of the same cell without that.
    may_change
        Whether the page offers to change something while it runs.
    """

    key: str = ""
    label: str = ""
    asking: bool = False
    only_calculated: bool = False
    wording: Wording = field(default_factory=Wording)
    changes: tuple[Change, ...] = ()
    unchanged: Run | None = None
    may_change: bool = False


def bench_state(run: Run | MeltRun, about: About, *, again: bool = False) -> dict[str, Any]:
    """Give the bench's state through a run: the arrays, where each begins, and the words.

    Parameters
    ----------
    run
        What is shown.
    about
        What the page calls it, and how it asks.
    again
        Whether to show it where it was left.
    """
    wording, unchanged = about.wording, about.unchanged
    if isinstance(run, MeltRun):
        sent = melt_payload(run.cell, run, wording)
        return _state(sent, melt_lesson(run.cell, run, wording), about, again=again)
    if unchanged is None or not about.changes:
        sent, lesson = payload(run, wording), lesson_of(run, wording)
    else:
        sent = payload(run, wording, unchanged)
        lesson = lesson_in_stages(run, unchanged, about.changes, wording)
    lesson |= {"marks": marks(about.changes), "indicatorsAdded": indicators_added(about.changes)}
    if about.may_change:
        lesson["change"] = offers(run.cells[-1], about.changes)
    return _state(sent, lesson, about, again=again)


def bench_state_at_rest(cell: Cell, about: About) -> dict[str, Any]:
    """Give the bench's state while the switch is open: what is in the cell, and the words.

    Parameters
    ----------
    cell
        The cell before its run.
    about
        What the page calls it, and how it asks.
    """
    if cell.melt is not None:
        sent = melt_payload(cell, None, about.wording)
        return _state(sent, melt_lesson(cell, None, about.wording), about)
    sent, lesson = known_runs.find(
        (cell.description, "bench at rest", about.wording),
        lambda: (payload_at_rest(cell, about.wording), lesson_at_rest(cell, about.wording)),
    )
    return _state(sent, dict(lesson), about)


def _state(
    sent: Payload, lesson: dict[str, Any], about: About, *, again: bool = False
) -> dict[str, Any]:
    if about.only_calculated:
        lesson["cautions"] = [ONLY_CALCULATED, *lesson["cautions"]]
        lesson["generalCaution"] = f"{ONLY_CALCULATED_ASKING} {lesson['generalCaution']}"
    lesson |= {
        "key": about.key,
        "label": about.label,
        "asking": about.asking,
        "again": again,
    }
    return {"header": dict(sent.header), "array_bytes": sent.array_bytes, "lesson": lesson}


def charts_of(run: Run | MeltRun, about: About) -> list[dict[str, Any]]:
    """Give the charts of a run, with the box of their axes; a melt has none."""
    if isinstance(run, MeltRun):
        return []
    return [asdict(chart) for chart in charts(run, about.wording)]


class Bench(Widget):
    """The cell on the bench, as it is at rest or through a run.

    A run crosses once, whole; the page plays it without asking Python again.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> bench = Bench()
    >>> bench.show(Cell("CuSO4").run(minutes=2))
    >>> bench.lesson["electrodes"][0]["product"]
    'copper'
    """

    module = "bench/bench.js"
    render = "renderBench"

    header = traitlets.Dict(help="What is in the cell, and where each array begins.").tag(sync=True)
    array_bytes = traitlets.Bytes(help="The run's arrays, little-endian 32-bit floats.").tag(
        sync=True
    )
    lesson = traitlets.Dict(help="What the side cards, the sentence and the table say.").tag(
        sync=True
    )
    charts: traitlets.List[dict[str, Any]] = traitlets.List(
        help="Drawings with the box of their axes."
    ).tag(sync=True)
    second = traitlets.Dict(
        help="Header, array_bytes and lesson of a second cell beside it; empty if there is none."
    ).tag(sync=True)
    species = traitlets.Dict(help="Atoms and charge of what an equation may hold.").tag(sync=True)
    show_count = traitlets.Int(
        0, help="Counts what has been shown; a change makes the page draw again."
    ).tag(sync=True)

    certainty: traitlets.List[dict[str, Any]] = traitlets.List(
        help="How sure the shares of the current are at each electrode, once that is known."
    ).tag(sync=True)
    busy = traitlets.Bool(help="Whether another cell or run is awaited: what is shown is old.").tag(
        sync=True
    )
    place = traitlets.Unicode(help="Which of a page's benches it is, in words.").tag(sync=True)
    reveals_products = traitlets.Bool(
        False, help="Whether the page may show a class that predicts what forms in this run."
    ).tag(sync=True)
    in_steps = traitlets.Bool(
        False, help="Whether the page can show a lesson in steps, each with what it needs."
    ).tag(sync=True)
    has_room = traitlets.Bool(
        help="Whether the server of this page can gather the answers of a class's phones."
    ).tag(sync=True)
    next_label = traitlets.Unicode(
        help="What the lesson goes on to after this cell; empty after the last one."
    ).tag(sync=True)
    request: traitlets.Dict[str, Any] = traitlets.Dict(
        help="What the page last asked for: the switch, the next cell, or a change during the run."
    ).tag(sync=True)
    change_reply: traitlets.Dict[str, Any] = traitlets.Dict(
        help="Whether the last change was made: what is said of it, or why it is refused."
    ).tag(sync=True)
    reset: traitlets.Dict[str, Any] = traitlets.Dict(
        help="When the page last forgot what a class had said, or brought it back."
    ).tag(sync=True)

    def __init__(self, place: str = "") -> None:
        super().__init__(
            style=style_text(), place=place, species=plain_species(), has_room=has_room()
        )

    def show(
        self,
        run: Run | MeltRun,
        about: About | None = None,
        *,
        again: bool = False,
        second: tuple[Run, About] | None = None,
    ) -> None:
        """Play a run from its beginning, or show it as it was left.

        Parameters
        ----------
        run
            What to show.
        about
            What the page calls it, and how it asks.
        again
            Whether to show it where it was left.
        second
            The run of a second cell beside it, and what the page calls that.
        """
        known = about or About()
        self._hand_over(
            bench_state(run, known, again=again),
            bench_state(*second, again=again) if second else {},
        )
        self.charts = charts_of(run, known)  # the cell moves while its charts are drawn

    def say_how_sure(self, sides: list[dict[str, Any]]) -> None:
        """Add to the run that is shown how sure it is, as :func:`certainty_of` gives it."""
        self.certainty = sides

    def rest(
        self,
        cell: Cell,
        about: About | None = None,
        *,
        second: tuple[Cell, About] | None = None,
    ) -> None:
        """Show a cell with its switch open, and a second one beside it."""
        self._hand_over(
            bench_state_at_rest(cell, about or About()),
            bench_state_at_rest(*second) if second else {},
        )

    def _hand_over(self, parts: dict[str, Any], second: dict[str, Any]) -> None:
        with self.hold_sync():
            self.second = second
            for name, value in parts.items():
                setattr(self, name, value)
            self.charts = []
            self.certainty = []
            self.reveals_products = False  # the page knows what its class has seen already
            self.busy = False
            self.show_count += 1
