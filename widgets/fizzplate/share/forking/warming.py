"""What is done once for all kernels: imports, and what is worked out the same for everyone."""

from __future__ import annotations

import contextlib
import gc
import importlib
import io
import json
import sys
import threading

from fizzplate.cell import Cell
from fizzplate.cell.known_runs import known_runs
from fizzplate.share.places import notebook

#: the pages that learners open; the teacher's sheets take seconds, and hold nobody else up
NOTEBOOKS = ("demonstrate", "explore", "measure", "revise")
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
    "fizzplate.views.prepare",  # the teacher's page is loaded at least
)
PATIENCE_S = 30.0  # for a thread that works something out ahead


def load() -> None:
    """Load what every kernel needs."""
    # nobody debugs a page, and the debugger alone is a third of what a kernel would take
    sys.modules["debugpy"] = None  # type: ignore[assignment]  # how an import is told to fail
    for module in MODULES:
        importlib.import_module(module)


def carry_out(name: str) -> None:
    """Carry out a notebook once, so that its modules are loaded and its caches are full.

    Raises
    ------
    RuntimeError
        If a thread still runs: it would not live on in what is forked, and what it holds would
        stay held.
    """
    from ipywidgets import Widget

    with known_runs.remembering(), contextlib.redirect_stdout(io.StringIO()):
        _run_cells(name)
        Widget.close_all()
        gc.collect()  # a page that has gone takes its threads along
        for thread in threading.enumerate():
            if thread is not threading.main_thread():
                thread.join(PATIENCE_S)
    if threading.active_count() > 1:
        raise RuntimeError(f"threads run in the warm parent: {threading.enumerate()}")


def draw() -> None:
    """Draw once: the first drawing finds the fonts."""
    from fizzplate.views.charts import charts

    charts(Cell("CuSO4").run(minutes=1))


def _run_cells(name: str) -> None:
    cells = json.loads(notebook(name).read_text(encoding="utf-8"))["cells"]
    names: dict[str, object] = {}
    for cell in cells:
        if cell["cell_type"] == "code":
            exec("".join(cell["source"]), names)  # noqa: S102  # our own notebooks
