"""Sentences on what active metals do that the model leaves out (common practice)."""

import pytest

import fizzplate as fp

LAMP = fp.Lamp(6.0, 0.06)


@pytest.mark.parametrize(
    ("salt", "rods", "said"),
    [
        ("HNO3", {"cathode": "zinc"}, "The zinc cathode dissolves in nitric acid"),
        ("HNO3", {"anode": "iron"}, "The iron anode dissolves in nitric acid"),
        ("NaOH", {"anode": "zinc"}, "slowly dissolves in alkali"),
        ("CuCl2", {"cathode": "silver"}, "into silver chloride even when no current flows"),
    ],
)
def test_reactions_without_a_current_are_named(salt, rods, said):
    run = fp.Cell(salt, lamp=LAMP, **rods).run(minutes=1, samples=3)
    assert any(said in each for each in run.warnings)


def test_copper_two_that_an_anode_gives_meets_iodide():
    run = fp.Cell("NaI", concentration_mol_dm3=0.1, anode="copper").run(minutes=5, samples=6)
    said = any("turn iodide into iodine at once" in each for each in run.warnings)
    assert said == ("Cu2+" in run.anode.products)


def test_a_copper_anode_in_iodide_gives_copper_one_alone():
    run = fp.Cell("NaI", anode="copper", lamp=LAMP).run(minutes=5, samples=6)
    assert run.anode.products == ("CuI2-",)
