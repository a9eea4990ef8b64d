"""The servers that are measured: the command as a user starts it, and stock Voila beside it."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urljoin

COMMAND = [str(Path(sys.executable).with_name("fizzplate"))]
ROOT = Path(__file__).parents[2]
LABEL = "import ipywidgets\nipywidgets.Label('ready')"
START_S = 120
HASTY = (
    "from fizzplate.share import kernel_pool;"
    "kernel_pool.ENDED_AFTER_S, kernel_pool.LOOKED_AT_EVERY_S = 2.0, 0.5;"
    "from fizzplate.share.command import main;"
    "main()"
)
#: the command as it would be if it gave up lost pages within seconds
HASTY_COMMAND = [sys.executable, "-c", HASTY]
JUPYTER_FOLDERS = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")


@contextmanager
def fizzplate(*options, page="demonstrate", port=0, command=None, log=None, **environment):
    """Start the command; give the process and the page's address.

    Parameters
    ----------
    options
        Further options of the command.
    page
        The page whose address is given.
    port
        The port; 0 for any.
    command
        What to start in place of the installed command.
    log
        A file for what it writes on the terminal besides the address.
    environment
        Variables to set beside those that are set.
    """
    command = command or COMMAND
    with tempfile.TemporaryFile("w+", encoding="utf-8") as unseen:
        log = log or unseen
        process = subprocess.Popen(
            [*command, "--no-browser", "--port", str(port), "--page", page, *options],
            stdout=subprocess.PIPE,
            stderr=log,
            text=True,
            env={**os.environ, **environment},
        )
        try:
            address = next((line for line in process.stdout if line.startswith("http")), "")
            if not address:
                log.seek(0)
                raise RuntimeError(f"the command printed no address, but: {log.read()}")
            yield process, address.strip()
        finally:
            end(process)
            process.stdout.close()


@contextmanager
def page_at(server, page):
    """Give a page's address: at a server that runs already, or at one that is started for it."""
    if server:
        yield urljoin(server, page)
    else:
        with fizzplate(page=page) as (_, address):
            yield address


@contextmanager
def stock_voila(notebook=None):
    """Start Voila as it comes, on a notebook of one label or on another; give process and address."""
    with tempfile.TemporaryDirectory(prefix="stock-") as folder:
        shown = Path(folder, "label.ipynb") if notebook is None else Path(notebook)
        if notebook is None:
            write_notebook(shown, LABEL)
        port = free_port()
        clean = {name: str(Path(folder, name.lower())) for name in JUPYTER_FOLDERS}
        with Path(folder, "log").open("w", encoding="utf-8") as log:
            process = subprocess.Popen(
                [
                    *(Path(sys.executable).with_name("voila"), shown, "--no-browser"),
                    *(f"--port={port}", "--Voila.port_retries=0"),
                ],
                stdout=log,
                stderr=log,
                env={**os.environ, **clean},
            )
            try:
                wait_until(lambda: listens(port) or process.poll() is not None, START_S)
                if process.poll() is not None:
                    raise RuntimeError(Path(folder, "log").read_text(encoding="utf-8"))
                yield process, f"http://127.0.0.1:{port}/"
            finally:
                end(process)


def write_notebook(path, source):
    """Write a notebook of one cell; the format's own library takes two seconds to load."""
    cell = {
        "cell_type": "code",
        "id": "only",
        "source": source,
        "metadata": {},
        "outputs": [],
        "execution_count": None,
    }
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    notebook = {
        "cells": [cell],
        "metadata": {"kernelspec": kernel},
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    path.write_text(json.dumps(notebook), encoding="utf-8")


def notebook_of(page):
    """Give the notebook of a page."""
    return ROOT / "notebooks" / f"{page}.ipynb"


def end(process):
    """End a server politely, and otherwise if it does not heed that."""
    if process.poll() is None:
        process.terminate()
    try:
        process.wait(timeout=60)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait(timeout=30)


def free_port():
    """Give a port that is free now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def listens(port):
    """Say whether anything listens on a port of this machine."""
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def wait_until(condition, patience_s, pause_s=0.05):
    """Wait until something holds; say whether it came to hold."""
    until = time.monotonic() + patience_s
    while not condition():
        if time.monotonic() > until:
            return False
        time.sleep(pause_s)
    return True
