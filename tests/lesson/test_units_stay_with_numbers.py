"""In what a lesson says, no line ends between a number and its unit."""

import re

import pytest

from fizzplate.cell import Cell, Lamp
from fizzplate.lesson import CellSetup, Wording, differences
from fizzplate.lesson.classroom.investigations import investigations
from fizzplate.lesson.classroom.sweeps import sweep
from fizzplate.lesson.prepare.amounts import ClassNeeds
from fizzplate.lesson.prepare.sheets import sheets
from fizzplate.lesson.prepare.visibility import visibility_advice
from fizzplate.lesson.rule.gas_tests import gas_test
from fizzplate.lesson.state import LAMPS

APART = re.compile(r"\d (?:mol/dm³|cm³|mmol|mA|mg|min|[gAVs%])(?![\w³])")
#: a lamp is called by what is printed on it, which is also how links write it
LAMP_NAMES = re.compile("|".join(name for name in LAMPS if name != "none"))


def apart(text):
    return APART.findall(LAMP_NAMES.sub("", text))


def advice():
    for each in (CellSetup("NaCl"), CellSetup("CuSO4", minutes=2)):
        yield from visibility_advice(each)


def printed_sheets():
    setups = (CellSetup("NaCl", 0.5, also="KI"), CellSetup("HCl", 1.0))
    for sheet in sheets(setups, ClassNeeds(15, 60, 10, 0.1), Wording()):
        yield re.sub(r"<[^>]+>", " ", sheet.html)


def said_of_runs():
    for run in (
        Cell("NaCl", lamp=Lamp(6, 0.06)).run(minutes=5, samples=11),
        Cell("CuSO4", cathode="copper", anode="copper", lamp=Lamp(6, 0.06)).run(5, samples=11),
    ):
        for sentences in differences(run):
            yield from sentences
        result = gas_test(run.anode, "damp blue litmus")
        yield result.meaning


def explored():
    for each in investigations():
        yield each.vary
    yield next(each for each in investigations() if each.name == "Carbon or copper").answer()
    yield sweep("current against voltage", CellSetup("NaCl")).sentence
    yield CellSetup("CuSO4", 0.1).label


@pytest.mark.parametrize("said", [advice, printed_sheets, said_of_runs, explored])
def test_a_number_and_its_unit_stand_on_one_line(said):
    texts = list(said())
    assert any("\N{NO-BREAK SPACE}" in text for text in texts)
    assert [text for text in texts if apart(text)] == []


def test_a_number_apart_from_its_unit_is_found():
    assert apart("about 0.5 mol/dm³ and 30 g")
    assert not apart("the lamp 6 V, 0.06 A for 5 minutes, in 2 steps")
