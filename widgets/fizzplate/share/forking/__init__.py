"""Kernels forked from one warm parent: a class joins in seconds, and shares most of its memory."""

from fizzplate.share.forking.provisioner import ForkedKernel
from fizzplate.share.forking.warm_parent import ForkError, WarmParent, can_fork

__all__ = ["ForkError", "ForkedKernel", "WarmParent", "can_fork"]
