"""Kernels forked from one warm parent: a class joins in seconds, and shares most of its memory."""

from fizzplate.share.forking.provisioner import NAME, ForkedKernel
from fizzplate.share.forking.warm_parent import ForkError, WarmParent, can_fork

__all__ = [
    "NAME",
    "ForkError",
    "ForkedKernel",
    "WarmParent",
    "can_fork",
]
