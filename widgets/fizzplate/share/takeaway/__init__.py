"""The page to take away: one file with the runs of a list in it, which needs no server and no network.

A site of files is put together of the same parts.
"""

from fizzplate.share.takeaway.cell_block import run_text
from fizzplate.share.takeaway.command import main
from fizzplate.share.takeaway.offer import offer_of
from fizzplate.share.takeaway.packing import Block
from fizzplate.share.takeaway.page import MAX_BYTES, TakeAwayError, take_away_page
from fizzplate.share.takeaway.question_set import quiz_state
from fizzplate.share.takeaway.shortening import short_program, short_style
from fizzplate.share.takeaway.snapshots import snapshots
from fizzplate.share.takeaway.variants import NO_LAMP, STRENGTHS_MOL_DM3, metal_of, possible

__all__ = [
    "MAX_BYTES",
    "NO_LAMP",
    "STRENGTHS_MOL_DM3",
    "Block",
    "TakeAwayError",
    "main",
    "metal_of",
    "offer_of",
    "possible",
    "quiz_state",
    "run_text",
    "short_program",
    "short_style",
    "snapshots",
    "take_away_page",
]
