"""The pages of the list in ``lesson.state.pages``."""

from fizzplate.views.pages.page import page_class
from fizzplate.views.pages.prepare import precompute

__all__ = [
    "page_class",
    "precompute",
]
