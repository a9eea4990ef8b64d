"""Each question leads to a cell that shows it: the one that its words name, if they name one."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from fizzplate.chemistry import solutions
from fizzplate.lesson import read_cell
from fizzplate.questions import cell_to_watch
from fizzplate.questions.sets import MAKERS

sys.path.insert(0, str(Path(__file__).parent))
from question_checks import made  # beside this file

#: how a question says which solution is in the cell
SET_UP = re.compile(
    r"^(?:[^.]*? )?([A-Z]?[a-z()I ]+ (?:solution|acid)) is electrolysed", re.IGNORECASE
)


@pytest.mark.parametrize("name", MAKERS)
def test_the_cell_is_one_that_can_be_opened_and_the_one_that_was_asked_about(name):
    names = {each.name.lower(): formula for formula, each in solutions().items()}
    for seed in range(30):
        question = made(name, seed)
        cells, is_itself = cell_to_watch(question)
        setups = []
        for each in cells.split(";"):
            setup, remarks = read_cell(each)
            assert not remarks
            setups.append(setup)
        found = SET_UP.match(question.text)
        asked = found and next((n for n in names if found[1].lower().endswith(n)), None)
        if asked:
            assert is_itself
            assert names[asked] in {each.solution for each in setups}, question.text


def test_electrodes_that_are_named_are_in_the_cell():
    for seed in range(60):
        question = made("oxidised or reduced", seed)
        metal = re.search(r"with (copper|silver) electrodes", question.text)
        if metal:
            assert f"anode={metal[1]}" in cell_to_watch(question)[0]
