"""Every page of the list, for tests that try all of them."""

from __future__ import annotations

from fizzplate.lesson.state import PAGES
from fizzplate.views.pages import page_class

PAGE_CLASSES = {name: page_class(name) for name in PAGES}


def for_every_page(table):
    """Return a test's table about pages as it is; one that lacks a page is refused.

    Parameters
    ----------
    table
        What the test needs to know of each page, by the page's name.
    """
    lacking = [name for name in PAGES if name not in table]
    assert not lacking, f"a test of all pages does not say what it needs for {', '.join(lacking)}"
    return table
