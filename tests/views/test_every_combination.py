"""Whatever is chosen, the page can show its run."""

import pytest

import fizzplate as fp
from fizzplate.chemistry import electrodes
from fizzplate.views.bench.payload import payload
from fizzplate.views.bench.side_cards import lesson_of

LAMP = fp.Lamp(6.0, 0.06)
# every halide, sulfate and nitrate that does something of its own at an electrode
SOLUTIONS = ("NaCl", "KBr", "KI", "CuCl2", "CuSO4", "AgNO3", "Pb(NO3)2", "FeSO4", "ZnSO4", "HCl")


@pytest.mark.parametrize("anode", list(electrodes()))
@pytest.mark.parametrize("formula", SOLUTIONS)
def test_a_run_is_told_and_drawn(formula, anode):
    cell = fp.Cell(formula, concentration_mol_dm3=0.3, anode=anode, cathode=anode, lamp=LAMP)
    run = cell.run(minutes=1, samples=3)
    assert lesson_of(run)
    assert payload(run).header["electrodes"][1]["products"]


@pytest.mark.parametrize("formula", list(fp.solutions()))
def test_every_solution_is_told_and_drawn(formula):
    strength = 0.5 * min(1.0, fp.solutions()[formula].solubility_mol_dm3)
    run = fp.Cell(formula, concentration_mol_dm3=strength, vessel="U-tube").run(1, samples=3)
    assert lesson_of(run)
    assert payload(run).header["electrodes"][0]["products"]
