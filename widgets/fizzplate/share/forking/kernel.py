"""What a forked process does: become a kernel of its own."""

from __future__ import annotations

import os
import signal
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping


MAX_PROCESS_NAME_LENGTH = 15  # of a process, in Linux


def become_kernel(
    connection_file: str, environment: Mapping[str, str], folder: str, lifeline: int
) -> None:
    """Run a kernel in this newly forked process until it is asked to end.

    Parameters
    ----------
    connection_file
        The file that says how to reach it.
    environment
        The whole environment of the kernel.
    folder
        Where it works.
    lifeline
        A pipe that closes when the server has gone.
    """
    # its error output may quote what a visitor sent, so it must not reach the server's terminal
    with Path(os.devnull).open("wb") as nowhere:
        os.dup2(nowhere.fileno(), 2)
    os.setsid()  # a Ctrl-C in the terminal is the server's
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.environ.clear()
    os.environ.update(environment)
    os.chdir(folder)
    # names the process after its kernel, for whoever looks at a list of processes
    Path("/proc/self/comm").write_text(
        Path(connection_file).stem[:MAX_PROCESS_NAME_LENGTH], encoding="ascii"
    )
    threading.Thread(target=_end_with_the_server, args=(lifeline,), daemon=True).start()

    import numpy as np
    from ipykernel.kernelapp import IPKernelApp
    from traitlets.config import Config

    from fizzplate.share.forking.comms import wait_for_the_page

    class ForkedApp(IPKernelApp):
        """A kernel with its settings as arguments: reading a command line would cost three megabytes."""

        def parse_command_line(self, argv: Any = None) -> None:
            """Take no options from anywhere."""

        def init_kernel(self) -> None:
            """Have the widgets wait for their page; they were imported before there was a kernel."""
            super().init_kernel()  # type: ignore[no-untyped-call]
            wait_for_the_page()

    np.random.seed()  # noqa: NPY002  # all that were forked would otherwise draw alike
    config = Config()
    # history would start a thread and a database in every kernel, for what nobody will ask again
    config.HistoryManager.enabled = False
    ForkedApp.launch_instance([], connection_file=connection_file, config=config)


def _end_with_the_server(lifeline: int) -> None:
    os.read(lifeline, 1)  # nothing is ever written: it returns when the other end has closed
    os.kill(os.getpid(), signal.SIGKILL)
