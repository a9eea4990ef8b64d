"""Every hazard of what a cell holds and makes is told, in one voice: cautions, labels, waste, risk draft."""

from __future__ import annotations

import itertools
import re
import sys

import numpy as np
import pytest
from tests.lesson.hazard_checks import RUN_MIN, left_out, random_cells
from tests.questions.plain_spaces import with_plain_spaces

import fizzplate as fp
from fizzplate import data
from fizzplate.chemistry import InputError, melts
from fizzplate.lesson import CellSetup, Wording
from fizzplate.lesson.classroom.contents import contents
from fizzplate.lesson.classroom.hazards import (
    SEVERITIES,
    cautions,
    hazards,
    hazards_before_run,
    label,
    waste,
)
from fizzplate.lesson.measure import possible_causes
from fizzplate.lesson.prepare.amounts import ClassNeeds, Cupboard, acid_stocks, amount
from fizzplate.lesson.prepare.sheets import sheets
from fizzplate.questions.tables import rows
from fizzplate.words.say import DEFAULT_WORDING

PLACES = (
    ("beaker", None),
    ("U-tube", None),
    ("dish", None),
    ("paper strip", None),
    ("paper strip", "KMnO4"),
)
#: what a caution and a label of each severity must both speak of
SPEAKS = {
    "irritant": r"irritat|bleach|acid|alkali",
    "harmful": r"harmful|poisonous|salts",
    "oxidising": r"burn|fire|oxidising",
    "flammable": r"flammable|burns|fire",
    "burns": r"burn|hot|molten",
    "damages eyes": r"damages? eyes",
    "corrosive": r"burn|corrosive|salts",
    "toxic": r"toxic|cancer|poison|asthma|salts",
}


def said_of(formula, **options):
    return " ".join(cautions(fp.Cell(formula, **options)))


def printed(*setups, cupboards=None):
    made = sheets(setups, ClassNeeds(15, 60, 10, 0.1), Wording(), cupboards)
    return {sheet.name: with_plain_spaces(re.sub(r"<[^>]+>", " ", sheet.html)) for sheet in made}


def set_ups():
    """Give every pair of electrodes in a beaker, and every electrode on either side in every other vessel."""
    for anode, cathode in itertools.product(fp.electrodes(), repeat=2):
        alike_or_one_inert = anode == cathode or "graphite" in {anode, cathode}
        for vessel, crystal in PLACES if alike_or_one_inert else PLACES[:1]:
            yield {"anode": anode, "cathode": cathode, "vessel": vessel, "crystal": crystal}


@pytest.mark.parametrize("formula", fp.solutions())
def test_nothing_hazardous_is_left_out_whatever_the_electrodes_vessel_and_crystal(formula):
    """By rule and tables, with and without a crystal."""
    most = fp.solutions()[formula].solubility_mol_dm3
    walked, offered = 0, list(set_ups())
    for set_up in offered:
        try:
            cell = fp.Cell(formula, concentration_mol_dm3=min(0.5, most), **set_up)
        except InputError:
            continue  # what is refused needs no caution
        assert left_out(cell) == [], set_up
        walked += 1
    assert walked >= 0.6 * len(offered) or formula == "NaF"


@pytest.mark.parametrize("formula", fp.solutions())
def test_nothing_hazardous_is_left_out_at_any_strength(formula):
    most = fp.solutions()[formula].solubility_mol_dm3
    for strength in (0.01, 0.1, 0.3, 0.5, 1.0, 1.5, most):
        cell = fp.Cell(formula, concentration_mol_dm3=min(strength, most))
        assert left_out(cell) == [], strength


def test_nothing_hazardous_is_left_out_of_three_hundred_mixtures():
    problems = {str(dict(c.mixture_mol_dm3)): left_out(c) for c in random_cells(300, seed=1)}
    assert {name: each for name, each in problems.items() if each} == {}


def test_nothing_hazardous_is_left_out_of_what_runs_make():
    """Ten quick ones; ``python tests/lesson/hazard_checks.py 300`` does more, in every vessel.

    Seventy more, each with one electrode material, are in ``tests/views/test_every_combination.py``.
    """
    for cell in random_cells(10, seed=100, vessels=("beaker",), most=1):
        run = cell.run(minutes=RUN_MIN, samples=2)
        assert left_out(cell, run) == [], (dict(cell.mixture_mol_dm3), cell.anode, cell.cathode)


@pytest.mark.parametrize("untold", ["Ni2+", "Cl2", "ClO-", "OH-", "H2"])
def test_the_check_notices_a_hazard_that_is_not_told(monkeypatch, untold):
    def fewer(cell, run=None, wording=DEFAULT_WORDING):
        return tuple(
            each for each in hazards(cell, run, wording) if each.species not in {untold, "Ni"}
        )

    cell = fp.Cell("Na2SO4" if untold == "Ni2+" else "NaCl", anode="nickel")
    cell = cell if untold == "Ni2+" else fp.Cell("NaCl")
    monkeypatch.setattr(sys.modules[hazards.__module__], "hazards", fewer)
    monkeypatch.setattr("tests.lesson.hazard_checks.hazards", fewer)
    assert left_out(cell) != []


def test_each_species_has_one_severity_at_each_strength_and_its_words_agree():
    rows = data.rows("hazards")
    keys = [tuple(row[c] for c in ("species", "salt", "where", "from_mol_dm3")) for row in rows]
    assert len(keys) == len(set(keys))
    for row in rows:
        assert row.text in SEVERITIES
        assert row["caution"].endswith(".")
        assert row["label"]
        assert row["risk"]
        assert row["waste"] or row["where"] == "setup"
        assert row["waste"] in {"", *(each["route"] for each in data.rows("waste"))}
        assert row.status in {data.Status.PRACTICE, data.Status.REMEMBERED}
        if row.text in SPEAKS and row["where"] != "melt":
            for words in (row["caution"], row["label"]):
                assert re.search(SPEAKS[row.text], words), row
        if row.text == "low hazard":
            assert not re.search("corrosive|toxic|damages|burns", row["label"])
        assert ("eacher only" in row["label"]) <= ("eacher" in row["caution"])


def test_what_only_the_teacher_does_is_marked_wherever_its_words_say_so():
    for row in data.rows("hazards"):
        said = "teacher only" in f"{row['caution']} {row['label']}"
        assert (row["who"] == "teacher") == said, row["species"]


def test_what_only_the_teacher_does_is_made_and_laid_out_once_not_for_every_group():
    """A lead solution is not handed to fifteen groups, nor are nickel rods."""
    lead, brine = CellSetup("Pb(NO3)2", minutes=1), CellSetup("NaCl", minutes=1)
    told = printed(lead, CellSetup("Na2SO4", anode="nickel", minutes=1), brine)
    order = told["order"]
    assert re.search(r"lead\(II\) nitrate.*?100 cm³ \(66 cm³ needed\)\s+16.6 g of Pb", order)
    assert re.search(r"sodium sulfate.*?100 cm³ \(66 cm³ needed\)\s+7.1 g of Na", order)
    assert re.search(r"sodium chloride.*?1000 cm³ \(990 cm³ needed\)\s+29.2 g of NaCl", order)
    assert order.count("Demonstration by the teacher only") == 2
    groups, teachers = told["equipment"].split("1 set, for the teacher&#x27;s demonstrations:")
    assert "15 sets of:" in groups
    assert "nickel rod" not in groups
    assert "fume cupboard" not in groups
    assert "nickel rod" in teachers
    assert "fume cupboard" in teachers


@pytest.mark.parametrize("formula", fp.solutions())
def test_a_stronger_solution_is_never_called_less_severe(formula):
    most = fp.solutions()[formula].solubility_mol_dm3
    worst = []
    for share in (0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1.0):
        found = hazards_before_run(fp.Cell(formula, concentration_mol_dm3=share * most))
        worst.append(max((SEVERITIES.index(each.severity) for each in found), default=0))
    assert worst == sorted(worst)


@pytest.mark.parametrize(
    ("rod", "metal"),
    [
        ("nickel", "nickel"),
        ("copper", "copper"),
        ("silver", "silver"),
        ("zinc", "zinc"),
        ("iron", "iron"),
    ],
)
def test_an_anode_that_dissolves_is_warned_of_labelled_and_collected(rod, metal):
    sheet = printed(CellSetup("Na2SO4", anode=rod, minutes=0.5))
    assert metal in said_of("Na2SO4", anode=rod).lower()
    bottles, used = sheet["labels"].split("For bottles of used solution")
    assert metal not in bottles.lower()
    assert metal in re.sub(f"{rod} anode", "", used.lower())
    assert f"in the bottle for {metal} waste; put none of it down the sink" in sheet["disposal"]


def test_a_run_says_how_strong_what_the_anode_releases_becomes():
    cell = fp.Cell("HCl", concentration_mol_dm3=2.0, anode="zinc", supply_V=12.0, volume_cm3=20)
    strong = hazards(cell, cell.run(minutes=60, samples=3))
    assert [each.severity for each in strong if each.species == "Zn2+"] == ["corrosive"]
    assert [each.severity for each in hazards(cell) if each.species == "Zn2+"] == ["irritant"]


@pytest.mark.parametrize(
    ("formula", "told"),
    [
        ("NaNO3", {"H+": "corrosive", "OH-": "corrosive"}),
        ("Na2SO4", {"H+": "irritant", "OH-": "irritant"}),
    ],
)
def test_acid_and_alkali_that_a_run_makes_are_as_severe_as_they_become_strong(formula, told):
    """Worked out apart: the charge that passed makes so much of each, on half of the liquid."""
    cell = fp.Cell(formula, concentration_mol_dm3=1.2, vessel="U-tube", supply_V=30)
    run = cell.run(minutes=48 if formula == "NaNO3" else 10, samples=3)
    most = run.charge_C[-1] / 96485 / (cell.volume_cm3 / 2000)
    assert (most > 0.6) == ("corrosive" in told.values())
    assert {
        each.species: each.severity for each in hazards(cell, run) if each.species in told
    } == told


def test_a_side_that_turns_alkaline_is_told_also_where_acid_was_poured_in():
    cell = fp.Cell({"K2SO4": 0.5, "H2SO4": 0.01}, vessel="U-tube", supply_V=20)
    run = cell.run(minutes=10, samples=3)
    assert run.cathode.pH[-1] > 12
    assert "alkali near the cathode" in label(hazards(cell, run))


@pytest.mark.parametrize(
    ("formula", "rod", "metal"),
    [
        ("HCl", "zinc", "zinc"),
        ("H2SO4", "nickel", "nickel"),
        ("HNO3", "copper", "copper"),
        ("HNO3", "silver", "silver"),
        ("Pb(NO3)2", "zinc", "zinc"),
        ("NiSO4", "iron", "iron"),
    ],
)
def test_a_rod_that_the_liquid_eats_without_current_is_told_and_collected(formula, rod, metal):
    """Also as the cathode: it stands in the liquid before and after the run."""
    found = hazards(fp.Cell(formula, cathode=rod))
    assert re.search(rf"{metal}(\(II\)| with chloride)?: ", label(found))
    assert any(f"the bottle for {metal} waste" in each for each in waste(found))
    assert not any("pour what is left" in each for each in waste(found))


def test_the_metal_and_the_gas_that_form_without_current_are_told():
    assert "loose lead" in label(hazards(fp.Cell("Pb(NO3)2", cathode="zinc", anode="platinum")))
    hydrogen = hazards(fp.Cell({"HCl": 0.5, "CuCl2": 0.5}, cathode="iron"))
    assert "hydrogen: extremely flammable" in label(hydrogen)


def test_what_turned_acid_before_the_wires_were_swapped_was_there_and_is_told():
    cell = fp.Cell("Na2SO4", cathode="nickel")
    run = cell.run(stages=[fp.Stage(1), fp.Stage(4, swapped=True)], samples=6)
    assert run.anode.pH.min() < 3
    assert min(run.anode.pH[-1], run.cathode.pH[-1]) > 4
    assert "acid near the anode" in label(hazards(cell, run))


@pytest.mark.parametrize("rod", ["copper", "zinc", "iron", "nickel"])
def test_fluoride_with_an_anode_that_makes_an_acidic_salt_is_told_of_hydrofluoric_acid(rod):
    assert "hydrofluoric acid" in said_of("NaF", anode=rod)


def test_what_a_run_makes_besides_the_rules_products_is_told():
    cell = fp.Cell("FeSO4", concentration_mol_dm3=0.1)
    run = cell.run(minutes=0.5, samples=2)
    assert not any("Iron(III)" in each for each in cautions(cell))
    assert any("Iron(III)" in each for each in cautions(cell, run))


def test_oxygen_is_told_only_where_a_run_makes_enough_to_matter():
    bromide = fp.Cell("NaBr")
    run = bromide.run(minutes=10, samples=11)
    assert 0 < run.anode.gas_cm3("O2")[-1] < 0.1
    assert not [each for each in cautions(bromide, run) if "Oxygen" in each]
    assert "O2" not in [each.species for each in hazards(bromide, run)]
    chloride = fp.Cell("NaCl", concentration_mol_dm3=0.05)
    run = chloride.run(minutes=30, samples=11)
    assert run.anode.gas_cm3("O2")[-1] > 0.1
    assert [each for each in cautions(chloride, run) if "Oxygen" in each]


def test_alkali_is_as_strong_as_in_the_larger_volume_of_its_stage():
    cell = fp.Cell("Na2SO4", volume_cm3=20.0, current_A=0.2)
    run = cell.run(stages=[fp.Stage(0.01, off=True), fp.Stage(8, water_cm3=60.0)], samples=9)
    volume_m3 = run.cells[-1].geometry.volume_m3
    half = np.cumsum(volume_m3) - volume_m3 / 2 < volume_m3.sum() / 2
    mean_mol_m3 = run.concentration("OH-")[1:][:, half] @ volume_m3[half] / volume_m3[half].sum()
    told = contents(cell, run)["OH-", "made"]
    assert told == pytest.approx(mean_mol_m3.max() / 1e3, rel=1e-9)


def test_a_run_says_how_much_hydrofluoric_acid_there_is_even_where_no_pH_falls_below_four():
    """Fluoride takes up the acid of the anode, so its pH stays above that of what counts as acid."""
    cell = fp.Cell("NaF", concentration_mol_dm3=0.5, anode="platinum", lamp=fp.Lamp(6.0, 0.06))
    run = cell.run(minutes=2, samples=3)
    assert run.anode.pH.min() > 4
    assert contents(cell, run)["HF", "made"] > 1e-4


def test_fluoride_alone_is_for_the_teacher_and_its_acid_side_holds_hydrofluoric_acid():
    said = said_of("NaF", concentration_mol_dm3=0.1)
    assert "liquid near the anode turns acid, and hydrofluoric acid forms there" in said
    assert said.count("emonstration by the teacher only") >= 2
    sheet = printed(CellSetup("NaF", 0.1))
    assert "face shield" in sheet["equipment"]
    assert "hydrofluoric acid" in sheet["labels"]


@pytest.mark.parametrize(
    ("acid", "percent", "g_cm3", "g_mol"),
    [("HCl", 36, 1.18, 36.46), ("H2SO4", 98, 1.84, 98.08), ("HNO3", 70, 1.42, 63.01)],
)
def test_an_acid_is_ordered_as_a_volume_of_a_named_stock(acid, percent, g_cm3, g_mol):
    strength = 10 * percent * g_cm3 / g_mol  # mol/dm3, by hand
    assert acid_stocks()[acid].value == pytest.approx(strength, rel=0.005)
    made = amount(acid, 1.0, groups=15, each_cm3=60)
    assert made.mass_g == 0
    assert made.stock_cm3 == pytest.approx(1000 / strength, rel=0.005)
    order = printed(CellSetup(acid, 1.0))["order"]
    assert f"cm³ of concentrated {fp.solutions()[acid].name}" in order
    assert "add the acid slowly to the water, never water to acid" in order
    assert not re.search(r"[\d.]+ g of", order)
    bought = printed(CellSetup(acid, 1.0), cupboards={acid: Cupboard(stock_mol_dm3=2.0)})["order"]
    assert f"500 cm³ of the stock of {fp.solutions()[acid].name}, 2 mol/dm³" in bought
    assert "Concentrated" not in bought


@pytest.mark.parametrize("alkali", ["NaOH", "KOH"])
def test_alkali_is_said_to_dissolve_with_much_heat(alkali):
    order = printed(CellSetup(alkali))["order"]
    assert "a little at a time: it gives out a lot of heat" in order
    assert "Let it cool, and make up to 1000 cm³" in order


def test_a_mixture_has_its_acid_added_last():
    order = printed(CellSetup("Na2SO4", 0.5, also="H2SO4", also_mol_dm3=0.1))["order"]
    assert order.index("dissolve the Na₂SO₄") < order.index("add the acid slowly")


def test_a_crystal_has_hazard_stain_waste_and_equipment():
    strip = CellSetup("Na2SO4", vessel="paper strip", crystal="KMnO4")
    sheet = printed(strip)
    for name, words in (
        ("labels", "potassium permanganate: oxidising, harmful if swallowed, damages eyes, stains"),
        ("risk", "one crystal with tweezers"),
        ("equipment", "a few crystals of potassium permanganate"),
        ("equipment", "against stains"),
        ("disposal", "manganese waste"),
    ):
        assert words in sheet[name], name
    assert "permanganate" not in printed(CellSetup("Na2SO4", vessel="paper strip"))["risk"]


@pytest.mark.parametrize(
    ("solution", "anode", "cathode", "told"),
    [
        ("HNO3", "copper", "graphite", True),
        ("HNO3", "graphite", "silver", True),
        ("HNO3", "platinum", "iron", True),
        ("HNO3", "platinum", "platinum", False),
        ("HNO3", "graphite", "graphite", False),
        ({"KNO3": 0.5, "H2SO4": 0.2}, "zinc", "graphite", True),
        ({"KNO3": 0.5, "H2SO4": 0.2}, "platinum", "platinum", False),
        ("KNO3", "copper", "copper", False),
    ],
)
def test_acid_nitrate_with_a_metal_gives_nitrogen_oxides(solution, anode, cathode, told):
    said = said_of(solution, anode=anode, cathode=cathode)
    assert bool(re.search("nitrogen oxides.*fume cupboard", said)) == told


def test_waste_is_neutralised_then_its_halogens_destroyed_then_collected():
    found = hazards(fp.Cell({"HCl": 0.5, "CuCl2": 0.5}))
    steps = [step.split(":")[0].split(",")[0] for step in waste(found)[:-1]]
    assert steps == ["Acid", "Chlorine", "Collect it"]
    assert "never add thiosulfate to acid" in waste(found)[1]


@pytest.mark.parametrize("formula", fp.solutions())
def test_nothing_goes_down_the_sink_without_its_condition(formula):
    for step in waste(hazards(fp.Cell(formula))):
        assert "sink" not in step or "none of it down the sink" in step or "local rules" in step


def test_a_caution_does_not_break_between_a_number_and_its_unit():
    assert "run for at most 5\N{NO-BREAK SPACE}minutes" in said_of("NaCl")


@pytest.mark.parametrize("formula", melts())
def test_a_melt_has_its_own_cautions_never_a_beakers(formula):
    cell = fp.Cell(formula)
    said = said_of(formula)
    everything = " ".join((said, label(hazards(cell)), *waste(hazards(cell))))
    assert re.search("teacher only, in a fume cupboard|never in a school", said)
    assert re.search("hot|about 960", said)
    assert "toxic" in said or "corrosive" in said
    for beakers in (
        "beaker",
        "plenty of water",
        "near the anode",
        "aired room",
        "at most 5\N{NO-BREAK SPACE}minutes",
    ):
        assert beakers not in everything
    for product in (cell.rule().cathode.product, cell.rule().anode.product):
        assert any(each.species == product for each in hazards(cell)), product


@pytest.mark.parametrize("formula", melts())
@pytest.mark.parametrize("anode", ["copper", "silver", "zinc", "nickel", "iron"])
def test_a_metal_anode_that_dissolves_in_a_melt_has_a_caution_and_its_waste(formula, anode):
    cell = fp.Cell(formula, anode=anode)
    assert re.search(f"node of {anode} dissolves in the melt", said_of(formula, anode=anode))
    assert any(f"as {anode} waste" in step for step in waste(hazards(cell)))


def test_hydrogen_explodes_and_chlorine_harms_people_with_asthma():
    said = said_of("NaCl")
    assert "Hydrogen burns, and explodes when mixed with air" in said
    assert "people with asthma" in said


def test_wherever_propanone_is_used_no_flame_is_near():
    points = [row["text"] for row in rows("plan_points")]
    used = [
        text
        for text in (*(cause.improvement for cause in possible_causes()), *points)
        if "propanone" in text
    ]
    assert len(used) >= 2
    assert all("flammable: no flames near" in text for text in used)


@pytest.mark.parametrize("strength", [0.1, 0.5, 2.0])
def test_zinc_chloride_has_one_severity(strength):
    cell = fp.Cell("ZnCl2", concentration_mol_dm3=strength)
    (zinc,) = (each for each in hazards(cell) if each.species == "Zn2+")
    severe = strength >= 0.4
    assert zinc.severity == ("corrosive" if severe else "irritant")
    assert ("burns" in zinc.caution) == ("burns" in zinc.label) == severe


@pytest.mark.parametrize(("formula", "strength"), [("FeSO4", 0.5), ("FeSO4", 1.0), ("CaCl2", 1.5)])
def test_iron_sulfate_and_calcium_chloride_have_cautions(formula, strength):
    name = {"FeSO4": "Iron(II) salts", "CaCl2": "Calcium chloride"}[formula]
    assert name in said_of(formula, concentration_mol_dm3=strength)


def test_every_list_defers_and_names_the_schools_first_aid():
    sheet = printed(CellSetup("CuSO4"), CellSetup("NaCl"))
    for name in ("order", "labels", "disposal", "risk"):
        assert "follow your school&#x27;s procedure" in sheet[name], name
        assert "local rules and a qualified person decide" in sheet[name], name
