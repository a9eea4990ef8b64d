"""What is printed: sheets, question papers and their mark schemes."""

from fizzplate.views.paper.blueprint import blueprint_html
from fizzplate.views.paper.papers import papers

__all__ = [
    "blueprint_html",
    "papers",
]
