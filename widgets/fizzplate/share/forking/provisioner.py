"""A kernel provisioner that forks, and falls back to an ordinary kernel where it cannot."""

from __future__ import annotations

from pathlib import Path
from subprocess import DEVNULL
from typing import TYPE_CHECKING, Any, ClassVar

from jupyter_client.provisioning.local_provisioner import LocalProvisioner

from fizzplate.share.forking.warm_parent import ForkError

if TYPE_CHECKING:
    from fizzplate.share.forking.warm_parent import WarmParent

NAME = "fizzplate-forked"  # its entry point among the kernel provisioners


class ForkedKernel(LocalProvisioner):
    """Start kernels by forking them from the warm parent of this server, if it has one.

    Attributes
    ----------
    warm_parent
        Of the server; None means ordinary kernels.
    """

    warm_parent: ClassVar[WarmParent | None] = None

    async def launch_kernel(self, cmd: list[str], **kwargs: Any) -> Any:
        """Fork a kernel; if that fails, start an ordinary one and say so once."""
        kwargs.setdefault("stderr", DEVNULL)  # as of a forked one
        parent = type(self).warm_parent
        if parent is None:
            return await super().launch_kernel(cmd, **kwargs)
        folder = str(kwargs.get("cwd") or Path.cwd())
        try:
            manager: Any = self.parent
            process = await parent.fork(manager.connection_file, kwargs["env"], folder)
        except ForkError as problem:
            type(self).warm_parent = None
            self.log.error("Kernels are started one by one from now on: %s", problem)
            return await super().launch_kernel(cmd, **kwargs)
        self.process = process  # type: ignore[assignment]  # what is asked of a Popen it has
        self.pid = self.pgid = process.pid
        self.cwd = kwargs.get("cwd")
        return self.connection_info
