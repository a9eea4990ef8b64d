"""What every page has: a title, tools, an address, and one state that links, files and reloads bring back."""

from __future__ import annotations

from abc import ABC, abstractmethod
from contextlib import contextmanager
from dataclasses import replace
from importlib import import_module
from typing import TYPE_CHECKING, Any, ClassVar, Generic

import ipywidgets as widgets

from fizzplate.lesson import from_file, to_file
from fizzplate.lesson.state import (
    MAX_FIELD_LENGTH,
    PAGES,
    PageEntry,
    State,
    each_apart,
    from_link,
    from_text,
    to_link,
    to_text,
    without_melts,
)
from fizzplate.views.controls import BoardSettings, controls_by_key, fold
from fizzplate.views.web import render
from fizzplate.views.web.address import Address
from fizzplate.words import InputError, page_refusal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

STATE_NOT_READABLE = (
    "Your browser kept settings of this page that cannot be read, perhaps because the program has a new "
    "version. The page opens as its link says. Set the rest again."
)


class Page(ABC, Generic[State]):
    """The parts that every page has, and how its state is kept and brought back.

    A subclass makes its own parts, calls :meth:`lay_out` with them and then :meth:`start`. It says what
    it shows in :meth:`read_state` and shows a state in :meth:`show_state`; links, files, reloads and
    lost programs need nothing else.

    Parameters
    ----------
    take_away
        Makes a page to take away, as HTML, of the query of a link; without it that is not offered.

    Attributes
    ----------
    link_description
        What its link opens, as a sentence.
    state_type
        The type of its state.
    offers_predictions, has_list
        Whether it can ask the class before it tells, and whether it has a list to save and open.
    classes
        Of the page, for its look.
    widget
        What a notebook displays.
    board, address, tools
        The board's wording, the link, and the row that holds both.
    """

    link_description: ClassVar[str]
    state_type: ClassVar[type[Any]]
    offers_predictions: ClassVar[bool] = False
    has_list: ClassVar[bool] = False
    classes: ClassVar[tuple[str, ...]] = ("fp-page", "fp-column-page")

    def __init__(self, take_away: Callable[[str], str] | None = None) -> None:
        self._is_applying = True  # until the page has started
        self.board = BoardSettings(self.on_board, offers_predictions=self.offers_predictions)
        self.address = Address(
            self.open_query,
            self.open_file if self.has_list else None,
            link_description=self.link_description,
            take_away=take_away,
            restore=self.restore,
        )
        self.address.add_class("fp-tools-host")
        self.tools = widgets.HBox()
        self.tools.add_class("fp-list-tools")

    @classmethod
    def entry(cls) -> PageEntry:
        """Return the page's line in the list of pages."""
        return PAGES[cls.state_type.page]

    @classmethod
    def create_widget(cls, take_away: Callable[[str], str] | None = None) -> Any:
        """Return a new page as one widget, which a notebook displays.

        Parameters
        ----------
        take_away
            Makes a page to take away, as HTML, of the query of a link; without it that is not offered.
        """
        return cls(take_away).widget

    # what a subclass says of itself

    @abstractmethod
    def read_state(self) -> State:
        """Return what the page shows; which folds are open is added."""

    @abstractmethod
    def show_state(self, state: State) -> None:
        """Show a state; the board has its wording already."""

    @abstractmethod
    def on_board(self) -> None:
        """Follow the board's new wording."""

    # layout

    def settings_fold(self) -> Any:
        """Return the button that shows the tools and hides them again."""
        return fold("Settings", self.tools, key="settings")

    def lay_out(self, head: Sequence[Any], body: Sequence[Any], tools: Sequence[Any] = ()) -> None:
        """Put the page together: its title and head, its tools, and what it is for."""
        title = widgets.HTML(render("pages/templates/title.html.j2", page=self.entry()))
        top = widgets.HBox([title, *head])
        top.add_class("fp-head")
        self.tools.children = [*tools, self.address, self.board.bar]
        self.widget = widgets.Box([top, self.tools, *body])
        for name in self.classes:
            self.widget.add_class(name)

    def start(self) -> bool:
        """Show the page for the first time; tell whether its link was known already."""
        for each in self._folds().values():
            each.observe(lambda _: self.record(), names="value")
        if self.address.open_at_once():
            return True
        self.apply(self.state)
        return False

    # its state

    @property
    def state(self) -> State:
        """What the page shows, as one value."""
        unfolded = tuple(key for key, each in self._folds().items() if each.value)
        return replace(self.read_state(), unfolded=unfolded)

    @property
    def ask_option(self) -> dict[str, str]:
        """What a link says of whether the class is asked."""
        return {} if self.board.asking else {"ask": "off"}

    def apply(self, state: State) -> None:
        """Show a state as a whole."""
        with self._applying():
            self.board.show(state.wording, asking=state.options.get("ask") != "off")
            self.show_state(state)
            for key, each in self._folds().items():
                each.value = key in state.unfolded
        self.record()

    def record(self) -> None:
        """Put the page's state in the address, and give it to the browser to keep."""
        if self._is_applying:
            return
        state = self.state
        self.address.write(
            self.link_of(state), to_file(state) if self.has_list else "", to_text(state)
        )

    def link_of(self, state: State) -> str:
        """Return the query of the page's address."""
        return to_link(state)

    def read_link(self, query: str) -> tuple[State, list[str]]:
        """Read a link; give the state with sentences about what was left out."""
        return from_link(query, self.state)

    def open_query(self, query: str) -> None:
        """Open the page as a link says; what cannot be read is left out with a sentence."""
        state, left_out = self.read_link(query)
        self.address.say(left_out)
        self.apply(state)

    def open_file(self, text: str) -> None:
        """Open a saved list; one that cannot be read leaves everything as it is."""
        try:
            cells, left_out = from_file(text)
        except InputError as refusal:
            self.address.say([page_refusal(refusal)])
            return
        if not self.state_type.gives_lessons:
            cells = each_apart(without_melts(cells, left_out)) or self.state.cells
        self.address.say(left_out)
        self.apply(replace(self.state.at_rest(), cells=cells, open=0))

    def restore(self, text: str, field_texts: Mapping[str, str]) -> None:
        """Bring back what the browser kept: the state, and then what was typed and not yet sent.

        Parameters
        ----------
        text
            The state as the page gave it to the browser.
        field_texts
            Texts of fields by their keys.
        """
        try:
            state, left_out = from_text(self.state_type, text)
        except InputError:
            self.address.say([STATE_NOT_READABLE])
        else:
            if left_out:
                self.address.say(left_out)
            self.apply(state)
        self.type_in(field_texts)

    def type_in(self, field_texts: Mapping[str, str]) -> None:
        """Type texts into the fields of these keys, as a reader would."""
        fields = controls_by_key(self.widget)
        for key, text in field_texts.items():
            if isinstance(fields.get(key), widgets.Text | widgets.Textarea):
                fields[key].value = text[:MAX_FIELD_LENGTH]

    def _folds(self) -> dict[str, Any]:
        found = controls_by_key(self.widget).items()
        return {key: each for key, each in found if isinstance(each, widgets.ToggleButton)}

    @contextmanager
    def _applying(self) -> Iterator[None]:
        """Record nothing until a whole state is shown."""
        self._is_applying = True
        try:
            yield
        finally:
            self._is_applying = False


def page_class(name: str) -> type[Page[Any]]:
    """Return the class of a page of the list: its module has the page's name, the class its title.

    Raises
    ------
    ModuleNotFoundError, AttributeError
        If the page has no such module, or the module no such class.

    Examples
    --------
    >>> page_class("revise").__name__
    'Revise'
    """
    module = import_module(f"fizzplate.views.pages.{name}")
    found: type[Page[Any]] = getattr(module, PAGES[name].title)
    return found
