"""Runs that once crept along take as many steps as what happens in them needs."""

import fizzplate as fp


def test_a_dilute_solution_at_a_high_voltage_does_not_swing_from_step_to_step():
    """Coefficients at a predicted composition made every other step differ, and a trace of salt ended it."""
    cell = fp.Cell(
        "CuSO4",
        concentration_mol_dm3=0.0022626522196499974,
        cathode="copper",
        anode="nickel",
        supply_V=21.209072513152154,
        temperature_C=31.879351889787717,
    )
    run = cell.run(stages=[fp.Stage(10, swapped=True)], samples=11)
    assert run.steps < 400
    assert not any("sodium nitrate" in warning for warning in run.warnings)
