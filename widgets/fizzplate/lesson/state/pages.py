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
        When it is wanted, and what it offers and to whom; the home page says both.
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


#: every page by its name, in the order of the home page
PAGES = {
    each.name: each
    for each in (
        PageEntry(
            "Demonstrate",
            "in class now",
            "predict, watch, test, explain, record: one solution after another, for the whole room",
            DemonstrateState,
        ),
        PageEntry(
            "Explore",
            "at home",
            "any solution at any strength, two cells side by side, for one person or two",
            ExploreState,
        ),
        PageEntry(
            "Revise",
            "before an exam",
            "questions that are marked line by line, with the reason",
            ReviseState,
        ),
        PageEntry(
            "Prepare",
            "before the practical",
            "what to weigh, what will show, cautions and sheets to print, for teachers and technicians",
            PrepareState,
            for_learners=False,
        ),
        PageEntry(
            "Measure",
            "after it",
            "your class's own masses, volumes and times beside theory",
            MeasureState,
        ),
    )
}
