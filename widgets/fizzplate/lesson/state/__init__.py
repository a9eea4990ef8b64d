"""What a page shows, as a value that links and files read and write."""

from fizzplate.lesson.state.cell_setup import (
    CORE,
    DEFAULT_SETUP,
    LAMPS,
    MAX_CHLORINE_RUN_MINUTES,
    VESSELS,
    CellSetup,
)
from fizzplate.lesson.state.links import (
    LinkState,
    from_file,
    from_query,
    query_of,
    read_cell,
    to_file,
    to_query,
    write_cell,
)
from fizzplate.lesson.state.page_states import (
    MAX_FIELD_LENGTH,
    DemonstrateState,
    ExploreState,
    MeasureState,
    PrepareState,
    ReviseState,
    State,
    from_link,
    from_text,
    to_link,
    to_text,
)
from fizzplate.lesson.state.pages import PAGES, PageEntry

__all__ = [
    "CORE",
    "DEFAULT_SETUP",
    "LAMPS",
    "MAX_CHLORINE_RUN_MINUTES",
    "MAX_FIELD_LENGTH",
    "PAGES",
    "VESSELS",
    "CellSetup",
    "DemonstrateState",
    "ExploreState",
    "LinkState",
    "MeasureState",
    "PageEntry",
    "PrepareState",
    "ReviseState",
    "State",
    "from_file",
    "from_link",
    "from_query",
    "from_text",
    "query_of",
    "read_cell",
    "to_file",
    "to_link",
    "to_query",
    "to_text",
    "write_cell",
]
