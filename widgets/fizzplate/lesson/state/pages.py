"""The one list of pages, from which server, home page, command and tests take them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.lesson.state.page_states import (
    DemonstrateState,
    ExploreState,
    MeasureState,
    PrepareState,
    ReviseState,
)
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.lesson.state.page_states import PageState


@dataclass(frozen=True, slots=True)
class PageEntry:
    """What is known of a page before it is opened.

    Parameters
    ----------
    title
        Its name as readers see it, which is also that of its class.
    occasion, contents
        When or for whom it is, and what it offers; the home page says both.
    state_type
        The type of its state, which says what the page's link carries.
    for_learners
        Whether learners open it, so that the server has it ready first.
    """

    title: str
    occasion: str
    contents: str
    state_type: type[PageState]
    for_learners: bool = True

    @property
    def name(self) -> str:
        """Its name in addresses, and that of its notebook, its module and its help."""
        return self.state_type.page

    @property
    def has_cells(self) -> bool:
        """Whether its link carries cells, so that it opens with a class's list."""
        return self.state_type.has_cells

    @property
    def summary(self) -> str:
        """What it is for, as one sentence.

        Examples
        --------
        >>> PAGES["revise"].summary
        'Before an exam: questions that are marked line by line, with the reason.'
        """
        return say("{Occasion}: {contents}.", occasion=self.occasion, contents=self.contents)


#: every page by its name, in the order of the home page; those that learners want most come first
PAGES = {
    each.name: each
    for each in (
        PageEntry(
            "Demonstrate",
            "for the projector",
            "a list of solutions, each predicted, run, tested and explained",
            DemonstrateState,
        ),
        PageEntry(
            "Explore",
            "for one person",
            "any cell, two side by side, sweeps, investigations, half-equations",
            ExploreState,
        ),
        PageEntry(
            "Measure",
            "after the practical",
            "compare your own masses, volumes and times with theory",
            MeasureState,
        ),
        PageEntry(
            "Revise",
            "before an exam",
            "questions that are marked line by line, with the reason",
            ReviseState,
        ),
        PageEntry(
            "Prepare",
            "before the lesson",
            "what to weigh, what will show, cautions, sheets to print",
            PrepareState,
            for_learners=False,
        ),
    )
}
