"""Cells worked out side by side give what each gives by itself."""

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.cell.solver import model as engine
from fizzplate.cell.solver import step_choice
from fizzplate.chemistry import InputError

LAMP = fp.Lamp(6.0, 0.06)


def assert_same(together, alone):
    assert together.charge_C == pytest.approx(alone.charge_C, rel=1e-6)
    assert together.current_A == pytest.approx(alone.current_A, rel=1e-6, abs=1e-9)
    assert together.steps == alone.steps
    for name in alone.ions:
        scale = alone.concentration(name).max() + 1e-9
        difference = together.concentration(name) - alone.concentration(name)
        # rounding grows tenfold where acid meets alkali
        assert np.abs(difference).max() < 1e-5 * scale
    for one, other in ((together.cathode, alone.cathode), (together.anode, alone.anode)):
        assert set(one.products) == set(other.products)
        for product in other.products:
            assert one.amount_mol(product) == pytest.approx(
                other.amount_mol(product), rel=1e-6, abs=1e-12
            )


def all_as_alone(cells, minutes=3):
    for run, cell in zip(fp.run_many(cells, minutes, samples=7), cells, strict=True):
        assert run.cell is cell
        assert_same(run, cell.run(minutes=minutes, samples=7))


def test_a_sweep_of_concentrations():
    all_as_alone(
        [fp.Cell("NaCl", concentration_mol_dm3=c, lamp=LAMP) for c in np.geomspace(0.01, 2, 7)]
    )


def test_measures_supply_and_lamp_may_differ():
    all_as_alone(
        [
            fp.Cell("CuSO4", supply_V=3.0),
            fp.Cell("CuSO4", supply_V=6.0, lamp=LAMP, gap_cm=2.0),
            fp.Cell("CuSO4", current_A=0.02, volume_cm3=80.0),
            fp.Cell("CuSO4", supply_V=9.0, supply_limit_A=0.1, immersed_area_cm2=3.0),
        ]
    )


def test_cells_of_other_kinds_stand_among_them_in_order():
    all_as_alone(
        [
            fp.Cell("NaCl", lamp=LAMP),
            fp.Cell("KI", lamp=LAMP),
            fp.Cell("NaCl", lamp=LAMP, vessel="U-tube"),
            fp.Cell("CuSO4", anode="copper", anode_mass_g=0.001, current_A=0.05),
            fp.Cell("NaCl", lamp=LAMP, concentration_mol_dm3=0.1),
        ]
    )


def test_a_cell_with_too_low_a_voltage_stands_still_beside_one_that_runs():
    low, high = fp.run_many(
        [fp.Cell("Na2SO4", supply_V=0.01), fp.Cell("Na2SO4", supply_V=6.0)], 1, samples=3
    )
    assert low.charge_C[-1] == 0.0
    assert high.charge_C[-1] > 0.1


def test_the_cells_of_a_sweep_share_their_steps(monkeypatch):
    """They are solved as one system: as many rounds as the slowest needs, not as all together."""
    sizes = []
    improve = engine.Transport.improve

    def counting(self, now, *rest):
        sizes.append(len(now.u))
        return improve(self, now, *rest)

    monkeypatch.setattr(engine.Transport, "improve", counting)
    cells = [fp.Cell("NaCl", concentration_mol_dm3=c) for c in np.linspace(0.1, 1, 8)]
    fp.run_many(cells, 5, samples=3)
    rounds, most = len(sizes), max(sizes)
    assert most == 8
    # a run that has ended is not worked on any more
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[-1] < 8
    sizes.clear()
    cells[0].run(minutes=5, samples=3)
    assert rounds < 2 * len(sizes)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"minutes": 0.0}, "minutes"),
        ({"samples": 1}, "samples"),
        ({"cells": [fp.Cell("NaCl"), fp.Cell("PbBr2(l)")]}, "no bench model for melts"),
    ],
)
def test_what_cannot_be_run_is_refused(changes, said):
    given = {"cells": [fp.Cell("NaCl")], "minutes": 1.0, "samples": 3} | changes
    with pytest.raises(InputError, match=said):
        fp.run_many(given.pop("cells"), given.pop("minutes"), **given)


def test_a_liquid_that_loses_all_ions_is_run_with_a_trace_and_says_so(monkeypatch):
    """Silver takes the chloride out of thin brine: what is left of it at the anode is water."""
    monkeypatch.setattr(
        step_choice, "MAX_STEP_ATTEMPTS", 200
    )  # it gives up sooner: a usual run takes fifty
    cell = fp.Cell(
        "KCl",
        concentration_mol_dm3=0.01,
        cathode="iron",
        anode="silver",
        vessel="dish",
        temperature_C=22.8,
        supply_V=10.16,
    )
    run = cell.run(minutes=20, samples=21)
    assert any("1 mmol/dm3 of sodium nitrate" in each for each in run.warnings)
    assert any("current could be several times smaller" in each for each in run.warnings)
    assert run.concentration("Na+")[0] == pytest.approx(1.0)


def test_no_usual_run_has_a_trace_added():
    for formula in ("Na2SO4", "NaCl", "CuCl2", "CuSO4"):
        assert not any("sodium nitrate" in each for each in fp.Cell(formula).run(1).warnings)
