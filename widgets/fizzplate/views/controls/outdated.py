"""What was worked out before, marked as old until the new is there."""

from __future__ import annotations

from html import escape

WORKING_OUT = "Working out the new results … What stands here is old."


def mark_outdated(html: str, says: str = WORKING_OUT) -> str:
    """Mark a result as old, for the eye and for a screen reader.

    Parameters
    ----------
    html
        The result as it was shown; nothing where there is none yet.
    says
        What is said over it.

    Examples
    --------
    >>> mark_outdated("<p>124.8 g</p>", "Wait")
    '<p class="fp-old-said" role="status">Wait</p><div class="fp-old" aria-busy="true"><p>124.8 g</p></div>'
    >>> mark_outdated("")
    ''
    """
    if not html:
        return ""
    said = f'<p class="fp-old-said" role="status">{escape(says)}</p>'
    return f'{said}<div class="fp-old" aria-busy="true">{html}</div>'
