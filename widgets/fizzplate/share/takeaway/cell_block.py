"""One cell of a list as a page holds it: what its menus offer, and a block with its runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from fizzplate.share.takeaway.offer import offer_of
from fizzplate.share.takeaway.packing import Block

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.lesson import CellSetup, Wording
    from fizzplate.share.takeaway.snapshots import Snapshot


@dataclass(frozen=True, slots=True)
class CellBlock:
    """A cell of the list.

    Parameters
    ----------
    offer
        What its menus offer, as plain data.
    text
        Its runs, packed.
    """

    offer: dict[str, Any]
    text: str


def cell_block(listed: CellSetup, made: Sequence[Snapshot], wording: Wording) -> CellBlock:
    """Pack the runs of a cell.

    Parameters
    ----------
    listed
        The cell as the list has it: one of those made.
    made
        The cells that can be chosen instead of it.
    wording
        The board's.
    """
    block = Block()
    runs = [_packed(block, each) for each in made]
    offer = offer_of(listed, [each.setup for each in made], wording)
    return CellBlock(offer, block.text({"runs": runs}))


def run_text(made: Snapshot) -> str:
    """Pack one run by itself."""
    block = Block()
    return block.text({"runs": [_packed(block, made)]})


def _packed(block: Block, made: Snapshot) -> dict[str, Any]:
    return {state: _pack(block, getattr(made, state)) for state in ("rest", "on")}


def _pack(block: Block, state: dict[str, Any]) -> dict[str, Any]:
    return block.record(state["header"], state["array_bytes"]) | {
        "lesson": block.fold(state["lesson"]),
        "charts": [block.chart(each) for each in state["charts"]],
        "certainty": [block.certainty(each) for each in state["certainty"]],
    }
