"""An earlier result, marked as outdated until the new one is there."""

from __future__ import annotations

from markupsafe import Markup

from fizzplate.views.web import render

WORKING_OUT = "Calculating the new results … These are still the old ones."


def mark_outdated(html: Markup, sentence: str = WORKING_OUT) -> Markup:
    """Mark a result as outdated, for the eye and for a screen reader.

    Parameters
    ----------
    html
        The result as it was shown; nothing where there is none yet.
    sentence
        The sentence above it.

    Examples
    --------
    >>> print(mark_outdated(Markup("<p>124.8 g</p>"), "Wait"))
    <p class="fp-outdated-status" role="status">Wait</p>
    <div class="fp-outdated" aria-busy="true"><p>124.8 g</p></div>
    >>> mark_outdated(Markup())
    Markup('')
    """
    if not html:
        return Markup()
    return render("controls/templates/outdated.html.j2", html=html, sentence=sentence)
