"""Papers of a set: the paper and its mark scheme, in as many versions as are typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import ipywidgets as widgets

from fizzplate.views.controls import field, read_field_number, refuse, tool
from fizzplate.views.paper import blueprint_html
from fizzplate.views.paper.printing import Printing
from fizzplate.views.web import alert, status
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from fizzplate.lesson.prepare import Sheet
    from fizzplate.questions.question_types import Question

MAX_VERSIONS = 5
MAKING = "Making the papers …"


class PapersPanel:
    """The button that makes papers, and the papers.

    Parameters
    ----------
    make
        Called with the number of versions; gives the papers, or a sentence about why there are none.
    changed
        Called when papers have been made, before they are shown, or another number has been typed.

    Attributes
    ----------
    parts
        The widgets, in the order of the page.
    printing
        The papers.
    made
        How many versions are shown; 0 if none.
    """

    def __init__(
        self, make: Callable[[int], list[Sheet] | str], changed: Callable[[], None]
    ) -> None:
        self._make, self._changed = make, changed
        self._versions = field("Versions", "1", key="versions")
        self._versions.observe(lambda _: changed(), names="value")
        self._message = widgets.HTML()
        self._blueprint = widgets.HTML()
        self.printing = Printing()
        self.made = 0
        row = widgets.Box([tool("Make a paper and its mark scheme", self.make), self._versions])
        row.add_class("fp-needs")
        self.parts = [row, self._message, self._blueprint, self.printing]

    @property
    def versions(self) -> str:
        """The number of versions as it is typed."""
        return str(self._versions.value)

    def show(self, versions: str) -> None:
        """Show a number of versions."""
        self._versions.value = versions

    def make(self) -> None:
        """Make the paper and its mark scheme, in as many versions as are typed."""
        try:
            versions = round(read_field_number("versions", self._versions.value, unit=""))
            if not 1 <= versions <= MAX_VERSIONS:
                raise InputError("versions", self._versions.value, f"1 to {MAX_VERSIONS}")
        except InputError as refusal:
            refuse(self._message, page_refusal(refusal), [self._versions], self._versions)
            return
        refuse(self._message, "", [self._versions])
        self.make_versions(versions)

    def make_versions(self, versions: int) -> None:
        """Make a number of versions."""
        self._message.value = status(MAKING)
        self.printing.busy = True
        made = self._make(versions)
        if isinstance(made, str):
            self._message.value = alert(made)
            self.printing.busy = False
            return
        self._message.value = ""
        self.made = versions
        self._changed()  # first, so that a program lost once papers are in sight cannot lose them
        self.printing.offer(made)

    def show_blueprint(self, questions: Sequence[Question]) -> None:
        """Show what every version holds."""
        self._blueprint.value = blueprint_html(questions)

    def clear(self) -> None:
        """Take the papers away: another set is asked."""
        self.made = 0
        self._blueprint.value = ""
        self.printing.offer([])
