"""What a shared server shows: the pages and the programs behind them, and nothing else.

`postBuild` puts this where Jupyter looks, and beside it the headers and limits that the command
`fizzplate` sets too. That command has its own server and does not read this.
"""

from __future__ import annotations

import atexit
import os
import shutil
import sys
import tempfile
from pathlib import Path

from jupyter_server.auth import Authorizer
from jupyter_server.services.kernels.handlers import MainKernelHandler

c = get_config()  # noqa: F821  # Jupyter's, in its settings files


class PagesOnly(Authorizer):
    """Lets a page talk to its program; files, terminals and new programs stay closed.

    Voila's own addresses are not asked about here: they are open to whoever is signed in.
    """

    def is_authorized(self, handler, user, action, resource):  # noqa: ARG002  # Jupyter's own form
        """Tell whether a request of Jupyter's own interface may pass."""
        if resource == "api":  # whether the server is up, which hubs ask
            return action == "read"
        listing = isinstance(handler, MainKernelHandler)
        return resource == "kernels" and action in {"read", "execute"} and not listing


c.ServerApp.authorizer_class = PagesOnly
c.ServerApp.terminals_enabled = False
c.ServerApp.default_url = "/voila"  # the page that leads to all others
c.ServerApp.websocket_compression_options = {}
# nothing malformed is read, and a page opens what pages open
c.ServerApp.kernel_websocket_connection_class = "fizzplate.share.handlers.channels.PageConnection"
# a page is found by its name; no folder is listed
c.ContentsManager.hide_globs = ["*"]
c.ContentsManager.allow_hidden = False
# what widgets say to each other; code from a browser is not among it
c.MappingKernelManager.allowed_message_types = [
    "comm_open",
    "comm_close",
    "comm_msg",
    "comm_info_request",
    "kernel_info_request",
    "shutdown_request",
]
# programs whose page has gone end soon, those of open pages never
c.MappingKernelManager.cull_interval = 30
c.MappingKernelManager.cull_idle_timeout = 120
c.MappingKernelManager.cull_connected = False

# Matplotlib reads its list of fonts only where it may write too, and makes it anew elsewhere, which
# takes seconds: the programs of this server share a copy of the list that `postBuild` made.
fonts = tempfile.mkdtemp(prefix="fizzplate-fonts-")
atexit.register(shutil.rmtree, fonts, ignore_errors=True)
shutil.copytree(Path(sys.prefix, "share", "matplotlib"), fonts, dirs_exist_ok=True)
os.environ["MPLCONFIGDIR"] = fonts
