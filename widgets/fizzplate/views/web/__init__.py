"""What every page is built on: modules joined into one, theme, stylesheets, address and link."""

from fizzplate.views.web.html import alert, render, status, trusted_html
from fizzplate.views.web.module_joining import join_in_a_scope
from fizzplate.views.web.stylesheets import ONLY_SERVED, style_text
from fizzplate.views.web.widget import Widget, has_room

__all__ = [
    "ONLY_SERVED",
    "Widget",
    "alert",
    "has_room",
    "join_in_a_scope",
    "render",
    "status",
    "style_text",
    "trusted_html",
]
