"""What the makers of questions about a chart share: charts of stored runs, and their questions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.chemistry import solutions
from fizzplate.lesson.state import read_cell
from fizzplate.questions.content import Chart, ChartLine, Constant, Part, data_sentence
from fizzplate.questions.maker import UNDECLARED
from fizzplate.questions.makers.parts import choice
from fizzplate.questions.question_types import ChoiceQuestion, NumberQuestion, Question
from fizzplate.words import NO_BREAK, begin, say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.questions.makers.charts.stored_runs import StoredRun
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

TIME = "Time, minutes"
READ_TO = 0.05  # of the value: how well a line is read
Y_LABELS = {"mg": "Mass, mg", "cm³": "Volume, cm³", "C": "Charge, C"}


def unit_of(quantity: str) -> str:
    """Return the unit that ends a quantity's name."""
    return quantity.rsplit(", ", 1)[1]


def title_of(run: StoredRun, *, supply: bool = True) -> str:
    """Name a run by its solution, its electrodes and, if wanted, its current or voltage."""
    setup = read_cell(run.cell)[0]
    held = (
        f"{setup.current_A:.2f}{NO_BREAK}A"
        if setup.current_A is not None
        else f"{setup.supply_V:.0f}{NO_BREAK}V"
    )
    rods = "copper" if setup.anode == "copper" else "carbon"
    strength = f"{setup.concentration_mol_dm3:g}{NO_BREAK}mol/dm³"
    title = f"{begin(solutions()[setup.solution].name)}, {strength}, {rods} electrodes"
    return f"{title}, {held}" if supply else title


def chart_of(
    run: StoredRun, lines: Mapping[str, str], *, title: str = "", y_label: str = ""
) -> Chart:
    """Draw quantities of a run, by the name of each line."""
    unit = unit_of(next(iter(lines.values())))
    return Chart(
        title or title_of(run),
        TIME,
        y_label or Y_LABELS[unit],
        tuple(
            ChartLine(name, run.minutes, run.quantity(quantity)) for name, quantity in lines.items()
        ),
    )


def line_name(quantity: str, wording: Wording) -> str:
    """Return a quantity's name without its unit."""
    return say(quantity.rsplit(", ", 1)[0], wording)


def chart_number_question(
    stem: str,
    part: Part,
    chart: Chart,
    *,
    data: tuple[str | Constant, ...] = (),
    watch: str = "",
) -> Question:
    """Return a question with a number for its answer, read from a chart."""
    text = f"{stem} {data_sentence(*data)}" if data else stem
    why = " ".join(part.steps)
    return NumberQuestion(
        *UNDECLARED, text, why, parts=(part,), chart=chart, stem=stem, data=data, watch=watch
    )


def chart_choice_question(
    text: str,
    rng: RandomSource,
    right: str,
    wrong: list[Wrong],
    reason: str,
    chart: Chart,
    *,
    watch: str = "",
) -> Question:
    """Return a question with one right option, about a chart."""
    options = choice(rng, right, wrong, reason, keep=1)
    return ChoiceQuestion(*UNDECLARED, text, reason, options=options, chart=chart, watch=watch)
