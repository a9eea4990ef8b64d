"""Voila's settings: closed to strangers unless a page needs it."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING, Any

from fizzplate.share.forking import NAME as FORKED

if TYPE_CHECKING:
    from pathlib import Path

    from fizzplate.share.network import Place

MAX_SOCKET_PATH_BYTES = 103  # of the systems in use: macOS 103, Linux 107
#: what a kernel's socket adds to the private folder: Voila's folder, then a name with a UUID
SOCKET_NAME = len("/voila_12345678/kernel-.json-ipc-1") + 36
#: what a page may load and reach: itself. The widgets' front end makes functions of text and loads
#: the modules that draw from memory (blob:), so those two stay open for scripts.
POLICY = "; ".join(
    (
        "default-src 'self'",
        "script-src 'self' 'unsafe-inline' 'unsafe-eval' blob:",
        "style-src 'self' 'unsafe-inline'",
        "img-src 'self' data: blob:",
        "font-src 'self' data:",
        "connect-src 'self' ws: wss: blob: data:",
        "object-src 'none'",
        "base-uri 'self'",
        "form-action 'self'",
        "frame-ancestors 'self'",
    )
)
SECURITY_HEADERS = {
    "Content-Security-Policy": POLICY,
    "Referrer-Policy": "same-origin",  # nothing leaves; a closing page still says whence it comes
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "SAMEORIGIN",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
#: the widgets' own front end; everything else that is installed stays out of the page
EXTENSIONS = [
    "anywidget",
    "@voila-dashboards/widgets-manager8",
    "@jupyter-widgets/jupyterlab-manager",
]
#: the cookies end with the browser's session, and no other site's form sends them along
FOR_THIS_SESSION = {"expires_days": None, "samesite": "Lax"}
#: bytes; a package of questions that is opened has 5,000,000 at most, a third more on the way
MAX_MESSAGE_BYTES = 8_000_000
PING_S = 20  # a connection that has silently gone is noticed after two of them
#: one plain line for each failure, whichever library reports it
LOGGING = {
    "formatters": {
        "console": {"class": "fizzplate.share.handlers.refusal_handler.OneLineFormatter"}
    },
    "root": {"level": "ERROR", "handlers": ["console"]},
    "loggers": {"Server": {"propagate": False}},
}


def settings(folder: Path, place: Place, max_kernels: int) -> Any:
    """Return Voila's settings.

    Parameters
    ----------
    folder
        Where connection files and sockets go.
    place
        Where to serve.
    max_kernels
        How many kernels may run at once.
    """
    from traitlets.config import Config

    config = Config()
    config.Voila.connection_dir_root = str(folder)
    config.Voila.ip = place.host
    config.Voila.port = place.port
    config.Voila.config_file_paths = []
    config.Voila.log_level = "ERROR"
    config.Voila.logging_config = LOGGING
    config.Voila.kernel_websocket_connection_class = (
        "fizzplate.share.handlers.channels.PageConnection"
    )
    config.Voila.identity_provider_class = "fizzplate.share.handlers.visitors.LinkHolders"
    config.Voila.token = place.key
    config.IdentityProvider.cookie_options = FOR_THIS_SESSION
    config.Voila.tornado_settings = {
        "headers": SECURITY_HEADERS,
        "xsrf_cookie_kwargs": FOR_THIS_SESSION,
        "compress_response": True,
        "log_function": lambda _: None,  # who asked for what is not kept
        # on this computer a page elsewhere may not reach this server under a name that it had
        # pointed here; on a network the key sees to that, and the names of this computer are many
        "allow_remote_access": not place.is_local,
        "websocket_ping_interval": PING_S,
        "websocket_ping_timeout": PING_S,
        "ws_ping_interval": 0,  # Jupyter's own: tornado's does the same
        "websocket_compression_options": {},
        "websocket_max_message_size": MAX_MESSAGE_BYTES,
        "teacher_key": place.teacher_key,
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
    config.VoilaConfiguration.multi_kernel_manager_class = (
        "fizzplate.share.kernel_pool.ClassKernels"
    )
    config.ClassKernels.max_kernels = max_kernels
    # a killed kernel is not replaced by an empty one: its page says so, and goes on after a reload
    config.KernelRestarter.restart_limit = 0
    config.KernelProvisionerFactory.default_provisioner_name = FORKED
    if sys.platform != "win32" and len(os.fsencode(folder)) + SOCKET_NAME <= MAX_SOCKET_PATH_BYTES:
        # kernels that start together race for TCP ports; sockets in our own folder do not
        config.KernelManager.transport = "ipc"
    return config
