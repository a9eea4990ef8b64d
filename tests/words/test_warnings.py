"""A run's warnings follow the board's names, and are written for the place where they are shown."""

from __future__ import annotations

import fizzplate as fp
from fizzplate.words.rendering import Rendering

SIGNS = fp.Wording(electrode_names="negative", oxygen_from="H2O")


def test_warnings_name_the_electrodes_as_the_board_does_and_write_units_for_the_page() -> None:
    cell = fp.Cell("HCl", concentration_mol_dm3=2, cathode="zinc", temperature_C=36, crystal=None)
    run = cell.run(minutes=0.1, samples=2)
    reacts = (
        "The zinc {} reacts with the acid even when no current flows: bubbles of a colourless gas form on "
        "it. The model only takes the voltage from that, and leaves out what it makes and uses up."
    )
    assert reacts.format("cathode") in run.warnings
    assert reacts.format("negative electrode") in run.warnings_in(SIGNS)
    warm = "The model knows conductivities only from 15 to 35 °C: at 36 °C its currents"
    assert any(each.startswith(warm) for each in run.warnings)


def test_units_of_a_warning_are_raised_on_a_page() -> None:
    run = fp.Cell("NaCl", concentration_mol_dm3=3).run(minutes=0.1, samples=2)
    (plain,) = [each for each in run.warnings if "conductivities" in each]
    (page,) = [each for each in run.warnings_in(SIGNS, Rendering.PAGE) if "conductivities" in each]
    assert plain.startswith("The model knows conductivities only up to 2 mol/dm3: at 3 mol/dm3 ")
    assert page.startswith(
        "The model knows conductivities only up to 2\N{NO-BREAK SPACE}mol/dm³: at 3\N{NO-BREAK SPACE}mol/dm³ "
    )


def test_the_rule_names_electrodes_and_the_source_of_oxygen_as_the_board_does() -> None:
    said = str([fp.Cell(salt).rule(SIGNS) for salt in ("Na2SO4", "NaCl", "PbBr2(l)", "CuSO4")])
    said += str(fp.Cell("CuSO4", anode="copper").rule(SIGNS))
    assert "cathode is" not in said
    assert "the negative electrode" in said
    assert "oxygen forms from water" in said
    for name in ("the cathode", "the anode", "hydroxide ions of the water"):
        assert name not in said
