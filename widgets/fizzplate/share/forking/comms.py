"""Widgets send nothing before their page has connected, because the page then asks for all their states."""

from __future__ import annotations

from typing import Any

import comm
from ipykernel.comm.comm import BaseComm
from ipykernel.kernelbase import Kernel
from ipywidgets import Widget


class WaitingComm(BaseComm):
    """A widget's channel that sends nothing until the page has connected.

    While a notebook runs, its widgets announce themselves and their changes in some three
    hundred messages, which server and kernel would pack and unpack for nobody: a page connects
    afterwards and asks for the states of all widgets at once.
    """

    page_has_come = False

    def publish_msg(self, *message: Any, **parts: Any) -> None:
        """Send a message, if there is a page to read it."""
        if WaitingComm.page_has_come:
            super().publish_msg(*message, **parts)  # type: ignore[no-untyped-call]
        elif Kernel.initialized():
            self.kernel = Kernel.instance()  # a widget whose channel has none would stay silent


def wait_for_the_page() -> None:
    """Have the widgets of this kernel keep silent until their page asks for them."""
    WaitingComm.page_has_come = False
    comm.create_comm = WaitingComm  # the library's own place for another kind of channel
    manager = comm.get_comm_manager()
    manager.register_target("jupyter.widget", Widget.handle_comm_opened)
    manager.register_target("jupyter.widget.control", _page_comes)


def _page_comes(channel: Any, message: Any) -> None:
    WaitingComm.page_has_come = True
    Widget.handle_control_comm_opened(channel, message)
