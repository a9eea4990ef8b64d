"""Tables that are wider than a phone: they scroll in a frame that the keyboard reaches."""

from __future__ import annotations

from html import escape


def scrolling(table: str, label: str) -> str:
    """Put a table into a frame that can be scrolled.

    Examples
    --------
    >>> scrolling("<table></table>", "Amounts")
    '<div class="fp-scroll" role="group" tabindex="0" aria-label="Amounts"><table></table></div>'
    """
    return f'<div class="fp-scroll" role="group" tabindex="0" aria-label="{escape(label)}">{table}</div>'
