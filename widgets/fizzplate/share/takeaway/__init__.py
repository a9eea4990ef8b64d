"""The page to take away: one file with the runs of a list in it, which needs no server and no network."""

from fizzplate.share.takeaway.command import main
from fizzplate.share.takeaway.page import MAX_BYTES, TakeAwayError, take_away_page

__all__ = [
    "MAX_BYTES",
    "TakeAwayError",
    "main",
    "take_away_page",
]
