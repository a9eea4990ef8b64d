"""What is said to be seen: clouds in the liquid, films on anodes, nothing twice or of the wrong electrode."""

from __future__ import annotations

import re

import pytest

import fizzplate as fp
from fizzplate.lesson import cautions, differences, observations
from fizzplate.lesson.rule.explanation import explanation
from fizzplate.lesson.rule.remains import remains_of
from fizzplate.lesson.rule.residue import residue
from fizzplate.views.bench.side_cards import lesson_of

LAMP = fp.Lamp(6.0, 0.06)
COPPER = {"anode": "copper", "cathode": "copper"}


def run_of(mixture, minutes=10, samples=21, stages=None, **options):
    cell = fp.Cell(mixture, **({"lamp": LAMP} | options))
    return cell.run(minutes=None if stages else minutes, samples=samples, stages=stages)


def seen(run, sample=-1):
    return observations(run)[sample][1]


def back_to_what_was_seen(run):
    step = explanation(run.cell, run=run)[-1]
    assert step.title == "Back to what was seen"
    return step.sentence


@pytest.mark.parametrize(
    ("anode", "cloud", "solid"),
    [
        ("iron", "a dirty green haze, which turns brown in air", "iron(II) hydroxide"),
        ("zinc", "a white haze", "zinc hydroxide"),
    ],
)
def test_the_hydroxide_of_a_metal_anode_in_brine_is_seen_in_the_liquid(anode, cloud, solid):
    run = run_of("NaCl", anode=anode)
    assert seen(run).endswith(f"In the liquid: {cloud.split(', which')[0]}.")
    assert "In the liquid" not in seen(run, 0)
    assert f"In the liquid: {cloud}: {solid}." in back_to_what_was_seen(run)
    assert any("turns brown" in each for each in run.warnings) == (anode == "iron")


# why something is as it is, what it will become, and what the eye does not see
EXPLAINING = re.compile(
    r"because|too (few|low)|gas that forms|dissolv|discharg|turns? \w+ in air|which", re.IGNORECASE
)


@pytest.mark.parametrize("supply_V", [0.5, 2.0, 2.3, 2.6, 6.0])
@pytest.mark.parametrize("solution", ["NaCl", "CuCl2", "Na2SO4", "MgSO4"])
def test_what_is_said_to_be_seen_explains_nothing(solution, supply_V):
    run = run_of(solution, supply_V=supply_V, minutes=2)
    assert not [text for _, text in observations(run) if EXPLAINING.search(text)]


@pytest.mark.parametrize("anode", ["copper", "iron", "silver"])
def test_what_is_said_to_be_seen_of_clouds_is_how_they_look_now(anode):
    said = [text for _, text in observations(run_of("NaCl", anode=anode))]
    assert not [text for text in said if EXPLAINING.search(text)]


def test_an_open_switch_is_said_to_be_seen_without_a_reason():
    run = fp.Cell("NaCl").run(stages=[fp.Stage(1, off=True)], samples=2)
    assert seen(run) == "The switch is open: the ions move at random, and no current flows."


def test_more_bubbles_are_said_to_be_seen_once_there_are_some():
    run = run_of("Na2SO4", minutes=5, samples=61)
    assert "more bubbles" not in seen(run, 0)
    assert "There are more bubbles at the cathode." in seen(run)


def test_a_sight_that_two_gases_share_is_not_said_to_tell_which_it_is():
    said = back_to_what_was_seen(run_of("Na2SO4"))
    assert "Cathode: bubbles of a colourless gas; this is hydrogen." in said
    assert "Anode: bubbles of a colourless gas; this is oxygen." in said
    rod = back_to_what_was_seen(run_of("CuSO4", **COPPER))
    assert "Anode: the copper electrode becomes thinner, because copper dissolves as Cu²⁺." in rod


def test_a_clear_liquid_is_not_said_to_be_cloudy():
    assert "In the liquid" not in seen(run_of("Na2SO4"))


def test_a_passive_anode_is_seen_to_darken():
    run = run_of("NaOH", anode="copper")
    assert "a dark film covers the electrode" in seen(run)
    said = back_to_what_was_seen(run)
    assert "a dark film covers the electrode, an oxide that keeps the metal from dissolving" in said
    assert "In the model, mostly bubbles of a colourless gas; this is oxygen" in said
    (card,) = lesson_of(run, fp.Wording())["electrodes"][1:]
    film = "bubbles of a colourless gas, and a dark film covers the electrode"
    assert ("Seen", film) in [tuple(row) for row in card["rows"]]
    assert "dark film" not in seen(run_of("NaOH", anode="nickel"))


def test_copper_that_dissolves_in_two_ways_becomes_thinner_once():
    run = run_of({"NaCl": 0.03, "Na2SO4": 0.1}, **COPPER)
    shares = [run.anode.share(each)[-1] for each in ("Cu2+", "CuCl2-")]
    assert min(shares) > 0.1
    assert seen(run).count("becomes thinner") == 1


def test_copper_one_is_spoken_of_only_where_some_forms():
    passive = run_of({"NaOH": 1.0, "NaCl": 0.002}, anode="copper")
    assert passive.anode.products == ("O2",)
    assert not any("copper(I)" in each for each in passive.warnings)
    assert any("copper(I)" in each for each in run_of("NaCl", anode="copper").warnings)


def test_an_electrode_is_said_to_dissolve_only_if_it_is_of_that_metal():
    swap = [fp.Stage(5), fp.Stage(5, swapped=True)]
    plated = run_of("CuSO4", stages=swap)  # copper on graphite, which then dissolves again
    assert any(
        "the deposit on the electrode becomes thinner" in each for _, each in observations(plated)
    )
    assert not any("copper electrode" in each for _, each in observations(plated))
    iron = run_of("FeSO4", stages=[fp.Stage(20), fp.Stage(5, swapped=True)])
    back = [each for _, each in observations(iron) if "Fe2+" in iron.cathode.products and each]
    assert not any("iron electrode" in each for each in back)


def test_nothing_is_not_seen_beside_something():
    run = run_of("KI", stages=[fp.Stage(5), fp.Stage(5, swapped=True)], samples=41)
    assert "I-" in run.anode.products
    for _, each in observations(run):
        assert "nothing is seen; also" not in each
        assert "also, nothing is seen" not in each


def test_after_a_swap_no_halogen_is_said_to_be_plated():
    run = run_of("KI", stages=[fp.Stage(5), fp.Stage(5, swapped=True)], samples=41)
    assert "I2" in run.cathode.products
    assert not any("plates" in each for each in differences(run)[0])


def test_an_anode_that_was_swapped_to_is_not_said_to_turn_iron_three_back():
    stages = [fp.Stage(3), fp.Stage(3, swapped=True)]
    run = run_of("NaCl", cathode="iron", stages=stages)
    assert "Fe2+" in run.cathode.products
    assert not any("back into iron(II)" in each for each in differences(run)[0])


@pytest.mark.parametrize("salt", ["AgNO3", "Cu(NO3)2"])
def test_nitrate_is_left_alone_while_a_metal_plates_that_needs_less_voltage(salt):
    assert not any("nitrite" in each for each in run_of(salt).warnings)


@pytest.mark.parametrize("salt", ["KNO3", "HNO3", "Zn(NO3)2"])
def test_nitrate_may_react_where_hydrogen_forms(salt):
    assert any("nitrite" in each for each in run_of(salt).warnings)


@pytest.mark.parametrize("metal", ["copper", "silver"])
@pytest.mark.parametrize("role", ["cathode", "anode"])
def test_copper_and_silver_dissolve_in_nitric_acid_without_current(metal, role):
    run = run_of("HNO3", **{role: metal})
    said = f"The {metal} {role} slowly dissolves in nitric acid even when no current flows"
    assert any(each.startswith(said) for each in run.warnings)
    assert not any("nitric" in each for each in run_of("KNO3", **{role: metal}).warnings)


@pytest.mark.parametrize(
    ("mixture", "metal"),
    [
        ({"ZnSO4": 0.5, "H2SO4": 0.1}, "Zinc"),
        ({"Cu(NO3)2": 0.3, "HNO3": 0.1}, "Copper"),
        ({"AgNO3": 0.1, "HNO3": 0.1}, "Silver"),
    ],
)
def test_a_deposit_is_said_to_dissolve_again_in_acid(mixture, metal):
    assert any(f"{metal} that has plated" in each for each in run_of(mixture).warnings)
    (salt, _) = mixture
    assert not any("that has plated" in each for each in run_of(salt).warnings)


@pytest.mark.parametrize(
    ("mixture", "change"),
    [
        ({"KI": 0.3, "HNO3": 0.3}, "Nitric acid slowly turns iodide into iodine even"),
        ({"FeSO4": 0.3, "HNO3": 0.3}, "Nitric acid slowly turns iron(II) into iron(III) even"),
    ],
)
def test_nitric_acid_oxidises_and_its_gases_get_a_caution(mixture, change):
    run = run_of(mixture)
    assert any(each.startswith(change) for each in run.warnings)
    for said in (cautions(run.cell), cautions(run.cell, run)):
        assert any("nitrogen oxides" in each and "fume cupboard" in each for each in said)


def test_chlorine_is_said_to_oxidise_iron_two_in_the_liquid():
    run = run_of({"FeSO4": 0.3, "NaCl": 1.0})
    (said,) = (each for each in run.warnings if each.startswith("Chlorine turns iron(II)"))
    assert "yellow to brown" in said
    assert "hard to detect" in said


def test_crystals_leave_current_for_another_product_only_where_one_forms():
    column = {"vessel": "still column", "supply_V": 1.0, "lamp": None}
    alone = run_of("CuSO4", 30, concentration_mol_dm3=1.3, **column, **COPPER)
    (said,) = (each for each in alone.warnings if "crystals cover" in each)
    assert min(alone.anode.share("Cu2+")[1:]) > 0.999
    assert "another product" not in said
    nickel = run_of("NaF", 10, anode="nickel", lamp=None)
    (said,) = (each for each in nickel.warnings if "crystals cover" in each)
    assert nickel.anode.share("O2")[-1] > 0.01
    assert "the rest of the current makes another product" in said


def test_silver_leaves_an_oxide_or_its_halide_and_zinc_dissolves_in_alkali():
    def left(salt, anode):
        cell = fp.Cell(salt, anode=anode)
        return residue(cell.rule(), cell.ions_mol_dm3)

    assert "together they make solid silver oxide" in " ".join(left("Na2SO4", "silver").changes)
    with_chloride = left("NaCl", "silver")
    assert "together they make solid silver chloride" in " ".join(with_chloride.changes)
    assert with_chloride.acidity == "alkaline"
    assert "a solid hydroxide, which dissolves in the alkali" in " ".join(
        left("NaOH", "zinc").changes
    )
    assert "a solid hydroxide, which clouds" in " ".join(left("NaCl", "zinc").changes)


@pytest.mark.parametrize("salt", ["HCl", "CuCl2", "NaBr", "KI"])
def test_a_silver_anode_leaves_no_silver_ions_beside_a_halide(salt):
    cell = fp.Cell(salt, anode="silver")
    left = residue(cell.rule(), cell.ions_mol_dm3)
    said = " ".join(left.sentences)
    assert "most of which stays on the anode" in said
    assert "now in the solution" not in said
    assert not any(halide in left.staying for halide in ("Cl⁻", "Br⁻", "I⁻"))


def what_is_left(run):
    (step,) = (each for each in explanation(run.cell, run=run) if each.title == "What is left")
    return step.sentence


@pytest.mark.parametrize(
    ("solution", "options", "instead"),
    [
        ("NaOH", {"anode": "copper"}, "mostly oxygen forms at the anode"),
        ("ZnSO4", {}, "mostly zinc forms at the cathode"),
        ("FeSO4", {}, "mostly iron(III) forms at the anode"),
        ("CuCl2", COPPER, "copper mostly dissolves as copper(I) at the anode"),
    ],
)
def test_what_is_left_says_where_the_run_made_something_else_than_the_rule(
    solution, options, instead
):
    assert instead in what_is_left(run_of(solution, 3, **options))


@pytest.mark.parametrize("solution", ["NaCl", "CuSO4", "Na2SO4"])
def test_what_is_left_says_no_more_where_rule_and_run_agree(solution):
    assert "In the model" not in what_is_left(run_of(solution, 3))


def test_a_passive_nickel_anode_makes_iodine_where_there_is_iodide_and_oxygen_else():
    for salt, other in (("KI", "iodine"), ("K2SO4", "oxygen")):
        (said,) = (
            each for each in run_of(salt, 2, anode="nickel").warnings if "passivation" in each
        )
        assert f"{other} forms instead" in said


def test_dark_silver_oxide_at_an_anode_is_said_where_oxygen_forms_beside_silver_ions():
    def said(**options):
        run = run_of("AgNO3", 2, concentration_mol_dm3=0.1, **options)
        return any("higher silver oxide" in each for each in run.warnings)

    assert said(anode="platinum")
    assert said()
    assert not said(anode="silver")


def test_fluoride_hides_the_yellow_of_iron_three():
    run = run_of("NaF", 10, anode="iron")
    assert "Fe3+" in run.anode.products
    assert any("hardly turns yellow" in each for each in run.warnings)


def at_change(solution, stages, at_s=0.0, **options):
    """Say what is seen so long after the last of some stages has begun."""
    run = run_of(solution, stages=stages, samples=121, **options)
    place = len(stages) - 1
    part = run.of_stage(place)
    found = observations(part, remains=remains_of(run, place, 60.0))
    return [text for at, text in found if part.time_s[at] - part.time_s[0] <= at_s][-1]


def test_after_a_change_what_stays_in_sight_is_said_to_be_seen():
    swap = [fp.Stage(5), fp.Stage(5, swapped=True)]
    brine = at_change("NaCl", swap)
    assert "At the cathode: the last bubbles from before the change still rise." in brine
    assert "nothing is seen" not in brine
    assert "last bubbles" not in at_change("NaCl", swap, 120.0)
    off = [fp.Stage(5), fp.Stage(5, off=True)]
    copper = at_change("CuSO4", off, 290.0)
    assert "an orange-brown deposit on the electrode, from before the change" in copper
    assert "bubbles" not in copper
    assert "At the anode: the last bubbles" in at_change("CuSO4", off)
    assert "keeps the colour" in at_change("KI", swap)


def test_of_a_deposit_that_dissolves_or_grows_nothing_is_said_twice():
    swap = [fp.Stage(5), fp.Stage(5, swapped=True)]
    copper = at_change("CuSO4", swap, 30.0)
    assert "the deposit on the electrode becomes thinner" in copper
    assert "from before the change." not in copper.replace("bubbles from before the change", "")
    more = [fp.Stage(5), fp.Stage(5, water_cm3=20)]
    assert "from before" not in at_change("CuSO4", more)


def test_a_gas_that_bubbles_beside_dissolved_chlorine_is_not_said_with_no_bubbles():
    mixture = {"KCl": 0.1, "Cu(NO3)2": 0.5}
    run = fp.Cell(mixture, vessel="U-tube", supply_V=9.0).run(minutes=10, samples=11)
    assert {"Cl2", "O2"} <= set(run.anode.products)
    _, said = observations(run)[-1]
    assert "At the anode: bubbles of a colourless gas." in said
    assert "no bubbles" not in said
