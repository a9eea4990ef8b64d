"""What each page brings back, as one typed value: after a reload, a lost program, from a link or a file.

A link carries the cells, the board's wording and a few options (:mod:`links`). The text that the
browser keeps carries that link and everything else: JSON with the page's name and a version.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import TYPE_CHECKING, Any, ClassVar, Self, TypeVar, get_args, get_origin, get_type_hints

from fizzplate.lesson.state.links import (
    VERSION,
    LinkState,
    each_apart,
    from_query,
    query_of,
    to_query,
    without_melts,
)
from fizzplate.words import InputError

if TYPE_CHECKING:
    from collections.abc import Callable

MAX_STATE_LENGTH = 1_000_000  # characters of a whole state
MAX_FIELD_LENGTH = 20_000  # characters of one text in it


@dataclass(frozen=True, slots=True)
class PageState(LinkState):
    """What every page brings back.

    Parameters
    ----------
    unfolded
        Keys of the folds that are open.

    Attributes
    ----------
    page
        Name of the page whose state it is.
    link_options
        Names of what the page's link carries besides the wording.
    has_cells
        Whether its link carries cells.
    gives_lessons
        Whether it can show a melt, and two cells beside each other. A page that cannot leaves melts out,
        with a sentence, and lists two cells one after the other.
    """

    unfolded: tuple[str, ...] = ()

    page: ClassVar[str] = ""
    link_options: ClassVar[tuple[str, ...]] = ()
    has_cells: ClassVar[bool] = True
    gives_lessons: ClassVar[bool] = False

    def at_rest(self) -> Self:
        """Return the same with nothing under way, as something else is opened."""
        return self


@dataclass(frozen=True, slots=True)
class DemonstrateState(PageState):
    """A list of solutions, which of them is in the cell, and whether its switch is closed."""

    on: bool = False

    page: ClassVar[str] = "demonstrate"
    link_options: ClassVar[tuple[str, ...]] = ("ask",)
    gives_lessons: ClassVar[bool] = True

    def at_rest(self) -> Self:
        """Return the same with its switch open."""
        return replace(self, on=False)


@dataclass(frozen=True, slots=True)
class ExploreState(PageState):
    """One cell or two, and a sweep.

    Parameters
    ----------
    on
        Whether the switch of each cell is closed.
    sweep
        Name of the sweep that is chosen.
    drawn_sweep, drawn_cell
        Name of the sweep that is drawn and its cell, as links write it; nothing if none is.
    """

    on: tuple[bool, ...] = ()
    sweep: str = ""
    drawn_sweep: str = ""
    drawn_cell: str = ""

    page: ClassVar[str] = "explore"
    link_options: ClassVar[tuple[str, ...]] = ("ask",)

    def at_rest(self) -> Self:
        """Return the same with its switches open and no sweep drawn."""
        return replace(self, on=(), drawn_sweep="", drawn_cell="")


@dataclass(frozen=True, slots=True)
class MeasureState(PageState):
    """The settings beside a class's table; the table itself is kept by the browser.

    Parameters
    ----------
    causes
        Sizes of the causes of error as they are typed, by name.
    readings, readings_in, columns, group
        A logger's typed readings and their units; the columns of its file that are chosen; the row
        of the group that its charge is for.
    calculator
        What is chosen and typed in the calculator, by key.
    """

    causes: Mapping[str, str] = field(default_factory=dict)
    readings: str = ""
    readings_in: tuple[str, str] = ("min", "A")
    columns: tuple[str, str] = ("", "")
    group: int = 0
    calculator: Mapping[str, str] = field(default_factory=dict)

    page: ClassVar[str] = "measure"
    link_options: ClassVar[tuple[str, ...]] = ("metal", "gas", "collected", "balance", "tube")
    has_cells: ClassVar[bool] = False


@dataclass(frozen=True, slots=True)
class PrepareState(PageState):
    """A list of solutions and the numbers of a lesson.

    Parameters
    ----------
    numbers
        The lesson's numbers as they are typed, by name.
    cupboards
        Of each substance the solid, its purity and the stock's strength, as they are typed.
    substance
        Whose cupboard is shown.
    """

    numbers: Mapping[str, str] = field(default_factory=dict)
    cupboards: Mapping[str, tuple[str, str, str]] = field(default_factory=dict)
    substance: str = ""

    page: ClassVar[str] = "prepare"


@dataclass(frozen=True, slots=True)
class ReviseState(PageState):
    """A set of questions, which its link describes.

    Parameters
    ----------
    opened
        Whether the questions are those of an opened file, which the browser keeps.
    versions
        The number of versions as it is typed.
    papers
        How many versions of the paper are made; 0 if none.
    cells_to_watch
        The cells that are shown below a question, as links write them.
    level_known
        Whether a link or the learner has said which level the set is of.
    """

    opened: bool = False
    versions: str = "1"
    papers: int = 0
    cells_to_watch: str = ""
    level_known: bool = False

    page: ClassVar[str] = "revise"
    link_options: ClassVar[tuple[str, ...]] = (
        *("set", "edition", "count", "level", "topics", "topic", "style", "min", "units"),
        "blueprint",
    )
    has_cells: ClassVar[bool] = False

    def at_rest(self) -> Self:
        """Return the same without an opened file, a paper and cells to watch."""
        return replace(self, opened=False, papers=0, cells_to_watch="")


State = TypeVar("State", bound=PageState)
LINK_FIELDS = {each.name for each in fields(LinkState)}


def to_link(state: PageState) -> str:
    """Write what a link carries of a state, as the query of an address.

    Examples
    --------
    >>> to_link(MeasureState(options={"metal": "Ag"}))
    'v=1&metal=Ag'
    """
    if state.has_cells:
        return to_query(state)
    return query_of({}, state.wording, state.options)


def from_link(query: str, before: State) -> tuple[State, list[str]]:
    """Read a link into a state; what a link does not carry stays as it was.

    Returns
    -------
    tuple
        The state, and sentences about what was left out.

    Examples
    --------
    >>> from_link("?metal=Ag", MeasureState(readings="0, 0.2"))[0].readings
    '0, 0.2'
    """
    read, left_out = from_query(query, before.link_options)
    if not before.gives_lessons:
        kept = each_apart(without_melts(read.cells, left_out))
        opened = read.cells[read.open].alone
        read = replace(
            read,
            cells=kept or LinkState().cells,
            open=kept.index(opened) if opened in kept else 0,
        )
    return replace(
        before.at_rest(), **{name: getattr(read, name) for name in LINK_FIELDS}
    ), left_out


def to_text(state: PageState) -> str:
    """Write a whole state as text, which the browser keeps.

    Examples
    --------
    >>> to_text(DemonstrateState(cells=DemonstrateState().cells[:1], on=True))
    '{"page": "demonstrate", "version": 1, "link": "v=1&cells=Na2SO4", "unfolded": [], "on": true}'
    """
    rest = {
        each.name: _plain(getattr(state, each.name)) for each in _fields_beside_link(type(state))
    }
    head = {"page": state.page, "version": VERSION, "link": to_link(state)}
    return json.dumps(head | rest, ensure_ascii=False)


def from_text(kind: type[State], text: str) -> tuple[State, list[str]]:
    """Read a whole state from the text that the browser kept.

    Parameters
    ----------
    kind
        The page's own.
    text
        As :func:`to_text` wrote it.

    Returns
    -------
    tuple
        The state, and sentences about what was left out.

    Raises
    ------
    InputError
        If it is no state of this page, or is one of another version.

    Examples
    --------
    >>> state = ExploreState(on=(True,), sweep="distance")
    >>> from_text(ExploreState, to_text(state)) == (state, [])
    True
    """
    given = _read_json(kind, text)
    state, left_out = from_link(str(given.get("link", "")), kind())
    hints = get_type_hints(kind, localns={"Mapping": Mapping})
    for each in _fields_beside_link(kind):
        if each.name not in given:
            continue
        try:
            value = _typed(hints[each.name], given[each.name])
        except TypeError:
            left_out.append(f"{each.name}: the browser stored it in a form that cannot be read.")
        else:
            state = replace(state, **{each.name: value})
    return state, left_out


def _fields_beside_link(kind: type[PageState]) -> list[Any]:
    return [each for each in fields(kind) if each.name not in LINK_FIELDS]


def _read_json(kind: type[PageState], text: str) -> dict[str, Any]:
    try:
        given = json.loads(text) if len(text) <= MAX_STATE_LENGTH else None
    except (ValueError, RecursionError):
        given = None
    if not isinstance(given, dict):
        raise InputError("page", text[:40], "what this page stored in the browser")
    if (given.get("page"), given.get("version")) != (kind.page, VERSION):
        of = f"{given.get('page')}, version {given.get('version')}"
        raise InputError("page", of[:60], f"{kind.page}, version {VERSION}")
    return given


def _plain(value: Any) -> Any:
    """Give a value as JSON holds it; a text is cut to what is kept of one."""
    match value:
        case str():
            return value[:MAX_FIELD_LENGTH]
        case tuple():
            return [_plain(each) for each in value]
        case Mapping():
            return {name: _plain(each) for name, each in value.items()}
    return value


def _typed(hint: Any, value: Any) -> Any:
    """Read a value of JSON as one of a type.

    Raises
    ------
    TypeError
        If it is none.
    """
    read: Callable[[Any, Any], Any] = _typed
    args = get_args(hint)
    if get_origin(hint) is tuple and isinstance(value, list):
        kinds = [args[0]] * len(value) if args[-1] is Ellipsis else list(args)
        if len(kinds) == len(value):
            return tuple(map(read, kinds, value))
    elif get_origin(hint) is Mapping and isinstance(value, dict):
        return {name: read(args[1], each) for name, each in value.items()}
    elif type(value) is hint:
        return value[:MAX_FIELD_LENGTH] if isinstance(value, str) else value
    raise TypeError(hint)
