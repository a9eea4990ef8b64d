"""What is printed: sheets, question papers and their mark schemes."""

from fizzplate.views.paper.blueprint import MINUTES_A_MARK, blueprint_html
from fizzplate.views.paper.papers import papers

__all__ = [
    "MINUTES_A_MARK",
    "blueprint_html",
    "papers",
]
