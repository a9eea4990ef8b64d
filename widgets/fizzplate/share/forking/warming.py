"""What is done once for all kernels: imports, and calculations that are the same for everyone."""

from __future__ import annotations

import contextlib
import gc
import importlib
import io
import json
import os
import sys
import threading
import time
from functools import partial
from typing import TYPE_CHECKING

from fizzplate.cell import Cell, known_runs
from fizzplate.lesson import CORE
from fizzplate.lesson.state import PAGES
from fizzplate.questions.marking import distinct_words
from fizzplate.share.places import notebook

if TYPE_CHECKING:
    from collections.abc import Callable

#: the pages that learners open, most wanted first, and those that only teachers open
FOR_LEARNERS = [page.name for page in PAGES.values() if page.for_learners]
FOR_TEACHERS = [page.name for page in PAGES.values() if not page.for_learners]
#: what a kernel loads as it starts, then the pages: the kernel must be there before widgets are made
MODULES = (
    "ipykernel.kernelapp",
    "ipykernel.ipkernel",
    "ipykernel.debugger",
    "IPython.core.completerlib",
    "numpy.random",
    "fizzplate.share.forking.comms",
    "IPython.core.debugger",
    "IPython.extensions.storemagic",
    "tornado.platform.asyncio",
    "tornado.queues",
    "fizzplate.share.takeaway",
    "fizzplate.views.pages",
)
#: the tag of a cell that prints results: no served page has it, but its runs are those that a class asks for
PRINTS = "notebook-only"
#: if this is set, only the pages that it names, with commas between them, are run ahead: for a small
#: computer, and for tests that start many servers
ONLY = "FIZZPLATE_WARM_ONLY"
PATIENCE_S = 30.0  # for a thread that works something out ahead
LOOKED_AT_EVERY_S = 0.05


def load() -> None:
    """Load what every kernel needs."""
    # nobody debugs a page, and the debugger alone is a third of what a kernel would take
    sys.modules["debugpy"] = None  # type: ignore[assignment]  # how an import is told to fail
    gc.disable()  # nothing that is loaded goes again: to look for what does would be a tenth of the work
    for module in MODULES:
        importlib.import_module(module)
    gc.freeze()
    gc.enable()


def tasks() -> list[Callable[[], None]]:
    """List what is calculated ahead, in parts so small that a learner hardly waits meanwhile."""
    if chosen := os.environ.get(ONLY):
        return [partial(carry_out, name) for name in chosen.split(",")]
    first, *others = FOR_LEARNERS
    return [
        partial(carry_out, first, printing=False),  # the first kernel waits for it
        draw,
        *(partial(carry_out, name) for name in (first, *others)),
        read_an_answer,
        *(partial(precompute_preparation, solution) for solution in CORE),
        *(partial(carry_out, name) for name in FOR_TEACHERS),
    ]


def read_an_answer() -> None:
    """Read one word as an answer is read, by rules that take a while to be made ready."""
    distinct_words(["ion"])


def carry_out(name: str, *, printing: bool = True) -> None:
    """Run a notebook once, so that its modules are loaded and its caches are full.

    Parameters
    ----------
    name
        Of the page.
    printing
        Whether the cells that print results are run as well.

    Raises
    ------
    RuntimeError
        If a thread still runs: it would not live on in what is forked, and what it holds would
        stay held.
    """
    from ipywidgets import Widget

    with known_runs.store_new_runs(), contextlib.redirect_stdout(io.StringIO()):
        _run_cells(name, printing=printing)
        Widget.close_all()
        until = time.monotonic() + PATIENCE_S
        gc.collect()  # a page that has gone takes its threads along, once they have done their work
        while len(alive := threading.enumerate()) > 1 and time.monotonic() < until:
            for thread in alive:
                if thread is not threading.main_thread():
                    thread.join(LOOKED_AT_EVERY_S)
            gc.collect()
    if threading.active_count() > 1:
        raise RuntimeError(f"threads run in the warm parent: {threading.enumerate()}")


def precompute_preparation(solution: str) -> None:
    """Calculate what the teacher's page says about a solution."""
    from fizzplate.views.pages import precompute

    with known_runs.store_new_runs():
        precompute(solution)


def draw() -> None:
    """Draw once: the first drawing finds the fonts."""
    from fizzplate.views.figures import charts

    charts(Cell("CuSO4").run(minutes=1))


def _run_cells(name: str, *, printing: bool) -> None:
    cells = json.loads(notebook(name).read_text(encoding="utf-8"))["cells"]
    names: dict[str, object] = {}
    for cell in cells:
        prints = PRINTS in cell["metadata"].get("tags", [])
        if cell["cell_type"] == "code" and (printing or not prints):
            exec("".join(cell["source"]), names)  # noqa: S102  # our own notebooks
