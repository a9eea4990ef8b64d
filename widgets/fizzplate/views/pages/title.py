"""The name over every page."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets


def title(page: str) -> Any:
    """Return the heading of a page, by its name."""
    return widgets.HTML(
        '<h1 class="fp-title">Fizz <span class="fp-and">&amp;</span> Plate '
        f'<span class="fp-page-name">{page}</span></h1>'
    )
