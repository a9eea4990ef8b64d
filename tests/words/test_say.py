"""A sentence is a template with named slots: the board fills those of its electrodes, also by their role."""

from __future__ import annotations

import ast
import re
from importlib import resources
from pathlib import Path

import pytest

from fizzplate.words import Sentence, Wording, board_slots, say

SIGNS = Wording(electrode_names="negative")
#: LaTeX and regular expressions, which have braces of their own
OTHER_BRACES = {"chemistry/notation.py", "chemistry/equation.py"}


@pytest.mark.parametrize(("role", "other"), [("cathode", "anode"), ("anode", "cathode")])
def test_an_electrode_chosen_by_its_role_is_named_as_the_board_names_it(role, other):
    template = "{Material} {electrode}: {the_electrode} and {the_other_electrode}."
    for board in (Wording(), SIGNS):
        names = board_slots(board)
        expected = f"Zinc {names[role]}: the {names[role]} and the {names[other]}."
        assert say(template, board, material="zinc", role=role) == expected
        part = Sentence("{the_electrode}", {"role": role})
        whole = Sentence("{At} {the_electrode}.", {"at": part, "role": other})
        assert whole.fill(names) == f"The {names[role]} the {names[other]}."


def test_without_a_role_no_electrode_is_chosen():
    with pytest.raises(KeyError, match="the_electrode"):
        say("Copper forms at {the_electrode}.")


def test_what_fills_a_slot_is_not_read_as_a_template():
    assert say("{what} forms.", what="{the_cathode}") == "{the_cathode} forms."


def braces_left_by_f_strings(source: str) -> list[str]:
    """Return the literal parts of f-strings that are templates again once the f-string is made."""
    return [
        part.value
        for string in ast.walk(ast.parse(source))
        if isinstance(string, ast.JoinedStr)
        for part in string.values
        if isinstance(part, ast.Constant) and re.search(r"[{}]", part.value)
    ]


def test_no_template_is_put_together_with_values_before_its_slots_are_filled():
    """A value with a brace would be read as a slot, and a reader could not search for the sentence."""
    assert braces_left_by_f_strings('f"{gas} forms at {{the_{role}}}"')
    root = Path(str(resources.files("fizzplate")))
    found = {
        path.relative_to(root).as_posix(): braces
        for layer in ("cell", "chemistry", "lesson", "questions", "views/controls")
        for path in (root / layer).rglob("*.py")
        if (braces := braces_left_by_f_strings(path.read_text("utf-8")))
    }
    assert set(found) == OTHER_BRACES
