"""What answers a request: pages, files, the websocket of a page, refusals, and who may come in."""

from fizzplate.share.handlers.pages import PLAIN_PAGES
from fizzplate.share.handlers.refusing import FULL, NO_ROOM, lacking, plain_pages
from fizzplate.share.handlers.routes import routes
from fizzplate.share.handlers.templates import compile_once
from fizzplate.share.handlers.visitors import visitor

__all__ = [
    "FULL",
    "NO_ROOM",
    "PLAIN_PAGES",
    "compile_once",
    "lacking",
    "plain_pages",
    "routes",
    "visitor",
]
