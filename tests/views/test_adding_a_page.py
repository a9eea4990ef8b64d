"""A new page is one line in the list of pages and what truly differs; then everything knows it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from tests.pages import for_every_page

import fizzplate
from fizzplate.lesson.state import PAGES
from fizzplate.share.places import notebook

STATE = '''

@dataclass(frozen=True, slots=True)
class PuzzleState(PageState):
    """Nothing but the board's wording."""

    page: ClassVar[str] = "puzzle"
    has_cells: ClassVar[bool] = False
'''
ENTRY = '        PageEntry("Puzzle", "for a wet day", "a cell to guess", PuzzleState),\n'
MODULE = '''"""The Puzzle page."""

from fizzplate.lesson.state.page_states import PuzzleState
from fizzplate.views.pages.page import Page


class Puzzle(Page[PuzzleState]):
    """A page with nothing but its title and tools."""

    link_description = "It opens Puzzle."
    state_type = PuzzleState

    def __init__(self, take_away=None):
        super().__init__(take_away)
        self.lay_out([], [])
        self.start()

    def read_state(self):
        return PuzzleState(wording=self.board.wording)

    def show_state(self, state):
        pass

    def on_board(self):
        self.record()


page = Puzzle.create_widget
'''
HELP = "<ul><li>Guess what is in the cell.</li></ul>\n"
SHOW = "from fizzplate.views.pages.puzzle import page\n\npage()"
BEGIN = """
import sys
from fizzplate.lesson.state import PAGES
from fizzplate.share.places import notebook
from fizzplate.views.pages import page_class
"""
WHAT_IS_MISSING = """
def missing(look_up):
    try:
        look_up()
    except Exception as error:
        print(f"{type(error).__name__}: {error}")

missing(lambda: notebook("puzzle"))
missing(lambda: page_class("puzzle"))
"""
EVERYTHING = """
from jinja2 import Environment, FileSystemLoader
from fizzplate.share.command import parser
from fizzplate.share.forking import warming
from fizzplate.share.places import template_folder

assert parser().parse_args(["--page", "puzzle"]).page == "puzzle"
assert "Puzzle (for a wet day)" in " ".join(parser().format_help().split())
templates = FileSystemLoader(template_folder() / "voila/templates/fizzplate")
home = Environment(loader=templates, autoescape=True).get_template("home.html")
html = home.render(base="", ending="", query="?v=1&cells=NaCl", cells=["NaCl"], pages=PAGES.values())
card = html[html.index('<a href="puzzle">') :].partition("</a>")[0]
assert '<span class="quiet">For a wet day</span>' in card
assert "<strong>Puzzle</strong><span>A cell to guess.</span>" in card
assert "<svg" not in card  # nor another page's picture
assert "These pages open with it: Demonstrate, Explore, Prepare." in html
assert "puzzle" in [task.args[0] for task in warming.tasks() if hasattr(task, "args")]
warming.carry_out("puzzle")
page = page_class("puzzle")()
page.restore(page.address.page_state, {})
assert not page.address.notices, page.address.notices
"""


@pytest.fixture
def checkout(tmp_path):
    """Copy package and notebooks, and put the new page's state and its line in the list there."""
    package = tmp_path / "widgets" / "fizzplate"
    shutil.copytree(Path(fizzplate.__file__).parent, package)  # with what is compiled already
    shutil.copytree(notebook("measure").parent, tmp_path / "notebooks", dirs_exist_ok=True)
    states = package / "lesson" / "state" / "page_states.py"
    text = states.read_text("utf-8")
    before = text.index("\n\nState = TypeVar")
    states.write_text(text[:before] + STATE + text[before:], "utf-8")
    pages = package / "lesson" / "state" / "pages.py"
    head, end, tail = pages.read_text("utf-8").rpartition("    )\n}")
    head = head.replace("    PrepareState,\n", "    PrepareState,\n    PuzzleState,\n", 1)
    pages.write_text(head + ENTRY + end + tail, "utf-8")
    return tmp_path


def python(checkout, script):
    """Run a script with the copy of the package."""
    paths = os.environ | {"PYTHONPATH": str(checkout / "widgets")}
    return subprocess.run(
        [sys.executable, "-c", BEGIN + script],
        env=paths,
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_page_without_its_notebook_or_module_names_what_is_missing(checkout):
    assert python(checkout, WHAT_IS_MISSING).stdout.splitlines() == [
        "FileNotFoundError: the notebook 'puzzle' is not part of this installation",
        "ModuleNotFoundError: No module named 'fizzplate.views.pages.puzzle'",
    ]


def test_with_its_own_parts_it_is_served_listed_and_brought_back(checkout):
    pages = checkout / "widgets" / "fizzplate" / "views" / "pages"
    (pages / "puzzle.py").write_text(MODULE, "utf-8")
    (pages / "templates" / "help" / "puzzle.html.j2").write_text(HELP, "utf-8")
    book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(SHOW)])
    nbformat.write(book, checkout / "notebooks" / "puzzle.ipynb")
    done = python(checkout, EVERYTHING)
    assert done.returncode == 0, done.stderr


def test_a_test_of_all_pages_refuses_a_table_without_one():
    with pytest.raises(AssertionError, match="does not say what it needs for prepare"):
        for_every_page(dict.fromkeys(PAGES.keys() - {"prepare"}))


def test_there_is_a_notebook_for_every_page_and_one_for_those_who_program():
    books = {path.stem: path for path in notebook("measure").parent.glob("*.ipynb")}
    assert books.keys() == PAGES.keys() | {"from_python"}
    for name, page in PAGES.items():
        book = nbformat.read(books[name], as_version=4)
        assert book.metadata.title == f"{page.title} · Fizz & Plate"
        assert f"from fizzplate.views.pages.{name} import page" in book.cells[0].source
