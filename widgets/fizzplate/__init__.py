"""Fizz & Plate: widgets for teaching the electrolysis of solutions.

At each electrode something fizzes or something plates. This package computes what, why, how much
and how fast from a model of the real cell; ``fizzplate.views`` shows it.
"""

from fizzplate.cell import Cell, Lamp, Run, Stage, run_many, sweep_voltage, vessels
from fizzplate.chemistry import balance, electrodes, explain, half_equation, overall, solutions
from fizzplate.questions import questions
from fizzplate.words import Wording

__version__ = "0.1.0"

__all__ = [
    "Cell",
    "Lamp",
    "Run",
    "Stage",
    "Wording",
    "balance",
    "electrodes",
    "explain",
    "half_equation",
    "overall",
    "questions",
    "run_many",
    "show",
    "solutions",
    "sweep_voltage",
    "vessels",
]


def show(shown: Run | Cell) -> None:
    """Show the animated bench below a notebook's cell: a run that plays, or a cell at rest.

    Parameters
    ----------
    shown
        What to show.

    Raises
    ------
    InputError
        If it is neither a run nor a cell.
    RuntimeError
        If Python does not run in a notebook.
    """
    # only here: whoever calculates needs no widgets
    from IPython import get_ipython
    from IPython.display import display

    from fizzplate.views.bench import NotebookBench

    if get_ipython() is None:
        raise RuntimeError(
            "fp.show draws in a notebook (JupyterLab, Notebook, Voila). Here, use run.columns() or "
            "run.to_csv(...)."
        )
    display(NotebookBench(shown))  # type: ignore[no-untyped-call]
