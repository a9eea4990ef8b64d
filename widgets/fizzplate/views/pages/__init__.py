"""The five pages."""

from fizzplate.views.pages.prepare import precompute

__all__ = [
    "precompute",
]
