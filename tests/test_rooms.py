"""Rooms keep order: small, with a line on what lives there, and nobody reaches past what they offer."""

import ast
from pathlib import Path

import pytest

import fizzplate

PACKAGE = Path(fizzplate.__file__).parent
SOURCES = {
    ".".join(("fizzplate", *file.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(
        ".__init__"
    ): file
    for file in PACKAGE.rglob("*.py")
}
ROOMS = {name for name, file in SOURCES.items() if file.name == "__init__.py"}
MAX_MODULES = 18  # about what one screen of a folder shows


def room_of(module):
    return module if module in ROOMS else module.rpartition(".")[0]


def imports_past_a_room(module, text):
    """List what a module imports from inside a room that is neither its own nor one around it."""
    own = f"{room_of(module)}."
    return [
        node.module
        for node in ast.walk(ast.parse(text))
        if isinstance(node, ast.ImportFrom)
        and node.module in SOURCES.keys() - ROOMS
        and not own.startswith(f"{room_of(node.module)}.")
    ]


def test_nobody_imports_past_what_a_room_offers():
    past = {
        module: found
        for module, file in SOURCES.items()
        if (found := imports_past_a_room(module, file.read_text("utf-8")))
    }
    assert past == {}


def test_an_import_past_a_room_is_found():
    inside = "from fizzplate.cell.physics.butler_volmer import reactions"
    assert imports_past_a_room("fizzplate.views.bench.widget", inside)
    assert not imports_past_a_room("fizzplate.cell.physics.electrode_face", inside)


@pytest.mark.parametrize("room", sorted(ROOMS))
def test_a_room_says_what_lives_there_and_is_small(room):
    sentence = ast.get_docstring(ast.parse(SOURCES[room].read_text("utf-8")))
    assert sentence, "a room's __init__ begins with a line that says what lives there"
    modules = [name for name in SOURCES if room_of(name) == room and name != room]
    assert len(modules) <= MAX_MODULES, sorted(modules)
