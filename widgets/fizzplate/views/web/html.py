"""HTML from templates, which escape what they are given unless it is HTML already."""

from __future__ import annotations

from functools import cache
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("fizzplate.views", "."),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def trusted_html(html: str) -> Markup:
    """Return HTML that this program has made itself, which is not to be escaped."""
    return Markup(html)  # noqa: S704


def render(template: str, **values: Any) -> Markup:
    """Fill a template of this package.

    Parameters
    ----------
    template
        Its file, below ``views``.
    values
        What it is filled with, by name; what is no ``Markup`` is escaped.

    Examples
    --------
    >>> render("web/templates/status.html.j2", sentence="Less than <1 g")
    Markup('<p role="status">Less than &lt;1 g</p>')
    """
    return trusted_html(_environment().get_template(template).render(values))


def status(sentence: str) -> Markup:
    """Return a sentence that a screen reader says when it can."""
    return render("web/templates/status.html.j2", sentence=sentence)


def alert(sentence: str) -> Markup:
    """Return a sentence that a screen reader says at once."""
    return render("web/templates/alert.html.j2", sentence=sentence)
