"""Serve one page with Voila, for this machine only, and leave nothing behind."""

from __future__ import annotations

import os
import signal
import socket
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from fizzplate.share.places import notebook, template_folder

if TYPE_CHECKING:
    from collections.abc import Iterator

LOOPBACK = "127.0.0.1"
FIRST_PORT = 8866
PORTS_TRIED = 50
LONGEST_SOCKET_PATH = 103  # of the systems in use: macOS 103, Linux 107
SOCKET_NAME = len("/voila_12345678/kernel-.json-ipc-1") + 36  # what a kernel adds to the folder
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

    Raises
    ------
    OSError
        If it, or every one tried, is taken.
    """
    tried = [wanted] if wanted is not None else range(FIRST_PORT, FIRST_PORT + PORTS_TRIED)
    for port in tried:
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((LOOPBACK, port))
            except OSError:
                continue
            return int(probe.getsockname()[1])
    raise OSError(f"port {wanted} is taken" if wanted is not None else "no free port was found")


@contextmanager
def private_runtime() -> Iterator[Path]:
    """Keep connection files and sockets in a folder of our own, gone when the server ends."""
    with tempfile.TemporaryDirectory(prefix="fizzplate-") as folder:
        os.environ["JUPYTER_RUNTIME_DIR"] = folder
        search = [str(template_folder()), os.environ.get("JUPYTER_PATH", "")]
        os.environ["JUPYTER_PATH"] = os.pathsep.join(part for part in search if part)
        yield Path(folder)


def settings(folder: Path, port: int) -> Any:
    """Return Voila's settings: what strangers need not see stays closed."""
    from traitlets.config import Config

    config = Config()
    config.Voila.connection_dir_root = str(folder)
    config.Voila.ip = LOOPBACK
    config.Voila.port_retries = 0
    config.Voila.open_browser = True  # our own way of opening it, below
    config.Voila.port = port
    config.Voila.config_file_paths = []
    config.Voila.tornado_settings = {"headers": SECURITY_HEADERS}
    config.Voila.log_level = "WARN"
    config.VoilaConfiguration.template = "fizzplate"
    config.VoilaConfiguration.theme = "light"
    config.VoilaConfiguration.allow_template_override = "NO"
    config.VoilaConfiguration.allow_theme_override = "NO"
    config.VoilaConfiguration.show_tracebacks = False
    config.VoilaConfiguration.strip_sources = True
    config.VoilaConfiguration.file_allowlist = []
    config.VoilaConfiguration.extension_allowlist = EXTENSIONS
    config.MappingKernelManager.cull_interval = 10
    config.MappingKernelManager.cull_idle_timeout = 120
    config.MappingKernelManager.cull_connected = False
    if sys.platform != "win32" and len(str(folder)) + SOCKET_NAME <= LONGEST_SOCKET_PATH:
        # kernels that start together race for TCP ports; sockets in our own folder do not
        config.KernelManager.transport = "ipc"
    return config


def serve(page: str, port: int, *, open_browser: bool) -> None:
    """Serve a page until interrupted; print its address on a line of its own."""
    from voila.app import Voila

    class Server(Voila):  # type: ignore[misc]  # Voila ships no types
        """Voila that says where it is once it listens, and stops on a polite request."""

        def launch_browser(self) -> None:
            """Say the address: the port is open, and the loop is about to start."""
            print(f"http://{LOOPBACK}:{port}/", flush=True)  # noqa: T201  # the command's output
            if open_browser:
                import webbrowser

                webbrowser.open(f"http://{LOOPBACK}:{port}/")

    def stop(*_: object) -> NoReturn:
        raise KeyboardInterrupt

    path = notebook(page)
    with private_runtime() as folder:
        signal.signal(signal.SIGTERM, stop)
        Server.launch_instance(argv=[str(path)], config=settings(folder, port))
