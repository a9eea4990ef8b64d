"""The five pages."""

from fizzplate.views.pages.prepare import rehearse

__all__ = [
    "rehearse",
]
