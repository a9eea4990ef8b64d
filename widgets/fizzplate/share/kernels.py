"""Which kernels a page may run on."""

from __future__ import annotations

from jupyter_client.kernelspec import KernelSpecManager
from traitlets import default


class OwnInterpreter(KernelSpecManager):
    """Offer the interpreter that runs the command, and no kernel that is installed elsewhere.

    A kernel of the same name in the reader's home may belong to another environment, where
    this package is missing or older.

    Examples
    --------
    >>> sorted(OwnInterpreter().find_kernel_specs())
    ['python3']
    """

    @default("kernel_dirs")
    def _no_folders(self) -> list[str]:
        return []
