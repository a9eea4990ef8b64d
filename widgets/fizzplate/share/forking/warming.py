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
from functools import partial
from typing import TYPE_CHECKING

from fizzplate.cell import Cell, known_runs
from fizzplate.lesson import CORE
from fizzplate.lesson.state import PAGES
from fizzplate.share.places import notebook

if TYPE_CHECKING:
    from collections.abc import Callable

#: the pages that learners open, most wanted first, and those that only teachers open
FOR_LEARNERS = [page.name for page in PAGES.values() if page.for_learners]
FOR_TEACHERS = [page.name for page in PAGES.values() if not page.for_learners]
#: what a kernel loads as it starts: the kernel must be there before widgets are made
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
    *(f"fizzplate.views.pages.{name}" for name in FOR_TEACHERS),  # they are loaded at least
)
#: if this is set, only the pages that it names, with commas between them, are run ahead: for a small
#: computer, and for tests that start many servers
ONLY = "FIZZPLATE_WARM_ONLY"
PATIENCE_S = 30.0  # for a thread that works something out ahead


def load() -> None:
    """Load what every kernel needs."""
    # nobody debugs a page, and the debugger alone is a third of what a kernel would take
    sys.modules["debugpy"] = None  # type: ignore[assignment]  # how an import is told to fail
    for module in MODULES:
        importlib.import_module(module)


def tasks() -> list[Callable[[], None]]:
    """List what is calculated ahead, in parts so small that a learner hardly waits meanwhile."""
    if chosen := os.environ.get(ONLY):
        return [partial(carry_out, name) for name in chosen.split(",")]
    first, *others = (partial(carry_out, name) for name in FOR_LEARNERS)
    teachers = [
        *(partial(precompute_preparation, solution) for solution in CORE),
        *(partial(carry_out, name) for name in FOR_TEACHERS),
    ]
    return [first, draw, *others, *teachers]


def carry_out(name: str) -> None:
    """Run a notebook once, so that its modules are loaded and its caches are full.

    Raises
    ------
    RuntimeError
        If a thread still runs: it would not live on in what is forked, and what it holds would
        stay held.
    """
    from ipywidgets import Widget

    with known_runs.store_new_runs(), contextlib.redirect_stdout(io.StringIO()):
        _run_cells(name)
        Widget.close_all()
        gc.collect()  # a page that has gone takes its threads along
        for thread in threading.enumerate():
            if thread is not threading.main_thread():
                thread.join(PATIENCE_S)
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


def _run_cells(name: str) -> None:
    cells = json.loads(notebook(name).read_text(encoding="utf-8"))["cells"]
    names: dict[str, object] = {}
    for cell in cells:
        if cell["cell_type"] == "code":
            exec("".join(cell["source"]), names)  # noqa: S102  # our own notebooks
