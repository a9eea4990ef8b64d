"""What answers a request: pages, files, the websocket of a page, refusals, and who may come in."""

from fizzplate.share.handlers.files import FrontEnd
from fizzplate.share.handlers.pages import PLAIN_PAGES
from fizzplate.share.handlers.refusal_handler import DISK_FULL, FULL, lacking, plain_pages
from fizzplate.share.handlers.routes import routes
from fizzplate.share.handlers.templates import compile_once
from fizzplate.share.handlers.visitors import visitor

__all__ = [
    "DISK_FULL",
    "FULL",
    "PLAIN_PAGES",
    "FrontEnd",
    "compile_once",
    "lacking",
    "plain_pages",
    "routes",
    "visitor",
]
