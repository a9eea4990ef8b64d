"""Whatever is chosen, the page can show its run, and nothing hazardous is left out of what it made."""

import pytest
from tests.lesson.hazard_checks import left_out

import fizzplate as fp
from fizzplate.chemistry import electrodes
from fizzplate.views.bench.payload import payload
from fizzplate.views.bench.side_cards import lesson_of

LAMP = fp.Lamp(6.0, 0.06)
# every halide, sulfate and nitrate that does something of its own at an electrode
SOLUTIONS = ("NaCl", "KBr", "KI", "CuCl2", "CuSO4", "AgNO3", "Pb(NO3)2", "FeSO4", "ZnSO4", "HCl")


@pytest.mark.parametrize("anode", list(electrodes()))
@pytest.mark.parametrize("formula", SOLUTIONS)
def test_a_run_is_told_and_drawn_with_all_its_hazards(formula, anode):
    cell = fp.Cell(formula, concentration_mol_dm3=0.3, anode=anode, cathode=anode, lamp=LAMP)
    run = cell.run(minutes=1, samples=3)
    for side_card in lesson_of(run)["electrodes"]:
        assert side_card["equation"]
        assert side_card["spoken"]
        assert {term for term, _ in side_card["rows"]} == {"Rule", "Seen", "Test"}
    for electrode in payload(run).header["electrodes"]:
        assert electrode["products"]
    assert left_out(cell, run) == []
