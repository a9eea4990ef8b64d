"""Serve one page with Voila, for this machine only, and leave nothing behind."""

from __future__ import annotations

import os
import socket
import sys
import tempfile
import webbrowser
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fizzplate.share.places import template_folder
from fizzplate.share.stopping import StopRequest

if TYPE_CHECKING:
    from collections.abc import Iterator

LOOPBACK = "127.0.0.1"
FIRST_PORT = 8866
PORTS_TRIED = 50
LONGEST_SOCKET_PATH = 103  # of the systems in use: macOS 103, Linux 107
#: what a kernel's socket adds to the private folder: Voila's folder, then a name with a UUID
SOCKET_NAME = len("/voila_12345678/kernel-.json-ipc-1") + 36
#: what Jupyter and IPython would otherwise write into, and read from, the reader's home
PRIVATE_FOLDERS = {
    "JUPYTER_RUNTIME_DIR": "",
    "JUPYTER_DATA_DIR": "data",
    "JUPYTER_CONFIG_DIR": "config",
    "IPYTHONDIR": "ipython",
}
SECURITY_HEADERS = {
    "Content-Security-Policy": "frame-ancestors 'self'",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
#: the widgets' own front end; everything else that is installed stays out of the page
EXTENSIONS = [
    "anywidget",
    "@voila-dashboards/widgets-manager8",
    "@jupyter-widgets/jupyterlab-manager",
]


def free_port(wanted: int | None) -> int:
    """Return a free port: the one wanted, or the first free one from 8866 on.

    Parameters
    ----------
    wanted
        The port to serve on; 0 leaves the choice to the system, None to this function.

    Raises
    ------
    OSError
        If it, or every one tried, cannot be used; the message says why.
    """
    tried = [wanted] if wanted is not None else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED)
    problem = ""
    for port in tried:
        with socket.socket() as probe:
            if sys.platform != "win32":  # where it would let two servers share a port
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((LOOPBACK, port))
            except OSError as refusal:
                problem = f"port {port} cannot be used: {(refusal.strerror or 'refused').lower()}"
                continue
            return int(probe.getsockname()[1])
    raise OSError(problem)


@contextmanager
def private_folder() -> Iterator[Path]:
    """Keep connection files, sockets, history and signatures in a folder that goes at the end.

    The reader's own Jupyter settings stay out of the page for the same reason. Matplotlib's list
    of fonts is left where matplotlib keeps it: making it anew takes seconds.
    """
    with tempfile.TemporaryDirectory(prefix="fizzplate-") as folder:
        for variable, name in PRIVATE_FOLDERS.items():
            os.environ[variable] = str(Path(folder, name))
        search = [str(template_folder()), os.environ.get("JUPYTER_PATH", "")]
        os.environ["JUPYTER_PATH"] = os.pathsep.join(part for part in search if part)
        yield Path(folder)


def settings(folder: Path, port: int) -> Any:
    """Return Voila's settings: what strangers need not see stays closed.

    Parameters
    ----------
    folder
        Where connection files and sockets go.
    port
        The port to serve on.
    """
    from traitlets.config import Config

    config = Config()
    config.Voila.connection_dir_root = str(folder)
    config.Voila.ip = LOOPBACK
    config.Voila.port = port
    config.Voila.port_retries = 0
    config.Voila.open_browser = True  # in the way of the server below
    config.Voila.config_file_paths = []
    config.Voila.log_level = "ERROR"
    config.Voila.tornado_settings = {
        "headers": SECURITY_HEADERS,
        # a page elsewhere may not reach this server under a name that it had pointed here
        "allow_remote_access": False,
    }
    config.VoilaConfiguration.template = "fizzplate"
    config.VoilaConfiguration.theme = "light"
    config.VoilaConfiguration.allow_template_override = "NO"
    config.VoilaConfiguration.allow_theme_override = "NO"
    config.VoilaConfiguration.show_tracebacks = False
    config.VoilaConfiguration.strip_sources = True
    config.VoilaConfiguration.file_allowlist = []
    config.VoilaConfiguration.extension_allowlist = EXTENSIONS
    config.VoilaConfiguration.kernel_spec_manager_class = "fizzplate.share.kernels.OwnInterpreter"
    # A closing page cannot stop its kernel while requests from other sites are refused, and that
    # refusal is worth more: kernels without a page are stopped here, those of open pages never.
    config.MappingKernelManager.cull_interval = 10
    config.MappingKernelManager.cull_idle_timeout = 120
    config.MappingKernelManager.cull_connected = False
    if sys.platform != "win32" and len(str(folder)) + SOCKET_NAME <= LONGEST_SOCKET_PATH:
        # kernels that start together race for TCP ports; sockets in our own folder do not
        config.KernelManager.transport = "ipc"
    return config


def serve(notebook: Path, port: int, *, open_browser: bool) -> None:
    """Serve a notebook until told to stop; print its address on a line of its own.

    Ctrl-C, a polite request to end and a closed terminal all stop it.

    Parameters
    ----------
    notebook
        The notebook to show.
    port
        A free port.
    open_browser
        Whether to open the page in the reader's browser, where there is one.
    """
    request = StopRequest()
    request.heed_signals()
    with private_folder() as folder:
        _server(f"http://{LOOPBACK}:{port}/", request, open_browser=open_browser).launch_instance(
            argv=[str(notebook)], config=settings(folder, port)
        )


def _server(address: str, request: StopRequest, *, open_browser: bool) -> Any:
    from jupyter_core.utils import run_sync
    from tornado.ioloop import IOLoop
    from voila.app import Voila

    class Server(Voila):  # type: ignore[misc]  # Voila ships no types
        """Voila that says where it is once it listens, and stops its kernels at once."""

        def launch_browser(self) -> None:
            """Say the address: the port is open, and the loop is about to start."""
            request.applies_to(IOLoop.current().asyncio_loop)  # type: ignore[attr-defined]  # untyped
            if request.asked:
                return
            print(address, flush=True)  # noqa: T201  # the command's output
            if open_browser and _has_screen():
                webbrowser.open(address)

        def _handle_signal_stop(self, *_: object) -> None:
            request.ask()

        def stop(self) -> None:
            """Stop the kernels first: a running one could still write into the private folder."""
            run_sync(self.kernel_manager.shutdown_all)(now=True)

    return Server


def _has_screen() -> bool:
    """Tell whether a browser has somewhere to show; without, Linux may offer one in letters."""
    return sys.platform != "linux" or any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY")
    )
