"""A run crosses to the page whole, small enough, and with its sums untouched."""

import re
from importlib import resources

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.cell import MIN_CURRENT_A, Cell, Lamp
from fizzplate.cell.warnings import SPONGY
from fizzplate.views.bench.payload import MAX_BYTES, MAX_POSITIONS, payload, payload_at_rest
from fizzplate.words.wording import Wording

FLOAT32 = np.dtype("<f4")
WATER = Wording(oxygen_from="H2O", hydrogen_from="H2O")


@pytest.fixture(scope="module")
def brine():
    """Run the fullest case: chlorine, its acids and a lamp, for half an hour."""
    return Cell("NaCl", lamp=Lamp(6.0, 0.06)).run(minutes=30, samples=121)


@pytest.fixture(scope="module")
def sent(brine):
    return payload(brine)


def array(sent, name):
    place = sent.header["index"][name]
    return np.frombuffer(sent.array_bytes, FLOAT32)[place["offset"] :][: place["length"]]


def test_thirty_minutes_of_brine_fit_the_limit(sent):
    assert len(sent.array_bytes) <= MAX_BYTES
    assert array(sent, "position_m").size <= MAX_POSITIONS


def test_arrays_lie_one_behind_the_other_and_fill_the_bytes(sent):
    places = {(p["offset"], p["length"]) for p in sent.header["index"].values()}
    end = 0
    for offset, length in sorted(places):
        assert offset == end
        end = offset + length
    assert end * FLOAT32.itemsize == len(sent.array_bytes)


def test_sums_are_those_of_the_full_record(brine, sent):
    # 1e-6: a 32-bit float keeps seven figures.
    for side, record in enumerate((brine.cathode, brine.anode)):
        for product in record.products:
            made = array(sent, f"{side}:amount_mol:{product}")
            assert made[-1] == pytest.approx(record.amount_mol(product)[-1], rel=1e-6)
    assert array(sent, "charge_C")[-1] == pytest.approx(brine.charge_C[-1], rel=1e-6)
    with pytest.raises(AssertionError):
        assert array(sent, "charge_C")[-1] == pytest.approx(1.01 * brine.charge_C[-1], rel=1e-6)


def test_thinned_positions_keep_both_faces_and_their_concentrations(brine, sent):
    samples = brine.time_s.size
    places = array(sent, "position_m")
    assert places[0] == pytest.approx(brine.position_m[0], abs=1e-9)
    assert places[-1] == pytest.approx(brine.position_m[-1], rel=1e-6)
    for formula in (*brine.ions, *brine.dissolved):
        drawn = array(sent, f"c:{formula}").reshape(samples, places.size)
        whole = brine.concentration(formula)
        np.testing.assert_allclose(drawn[:, [0, -1]], whole[:, [0, -1]], rtol=1e-6, atol=1e-30)


def test_the_field_moves_no_molecule(sent):
    for species in sent.header["species"]:
        if species["charge"] == 0:
            assert not array(sent, f"v:{species['formula']}").any()
        else:
            assert array(sent, f"v:{species['formula']}").any()


def test_every_ion_has_its_tint_and_label(sent):
    tints = {s["formula"]: s["tint"] for s in sent.header["species"]}
    assert tints["Na+"] == "--fp-ion-na"
    assert tints["Cl-"] == "--fp-ion-cl"
    labels = {s["formula"]: s["label"] for s in sent.header["species"]}
    assert labels["Na+"] == "Na⁺"


def test_what_colours_the_liquid_is_sent_and_nothing_else(sent):
    def coloured(formula):
        colours = payload(Cell(formula).run(minutes=1, samples=2)).header["liquidColours"]
        return [each["formula"] for each in colours]

    assert [each["formula"] for each in sent.header["liquidColours"]] == ["Cl2"]
    assert coloured("Na2SO4") == []
    assert coloured("CuSO4") == ["Cu2+"]
    assert set(coloured("KI")) == {"I2", "I3^-"}
    (blue,) = payload(Cell("CuSO4").run(minutes=1, samples=2)).header["liquidColours"]
    red, green, violet = blue["absorbance"]
    assert red > green > violet


def test_sentences_and_scripts_agree_from_which_current_on_there_is_one():
    written = resources.files("fizzplate.views").joinpath("kit", "format.js").read_text("utf-8")
    (in_scripts,) = re.findall(r"const MIN_CURRENT_A = (\S+);", written)
    assert float(in_scripts) == MIN_CURRENT_A


def test_a_run_with_no_current_to_speak_of_is_drawn_idle(sent):
    assert not sent.header["idle"]
    assert payload(Cell("H2O").run(minutes=1, samples=2)).header["idle"]


def test_a_product_says_what_is_discharged_for_one_of_it():
    silver = payload(Cell("AgNO3").run(minutes=1, samples=3)).header["electrodes"][0]
    assert silver["products"][0]["consumed"] == {"formula": "Ag+", "count": 1}
    assert silver["layerTint"] == "--fp-silver"
    iodine = payload(Cell("KI").run(minutes=1, samples=3)).header["electrodes"][1]["products"][0]
    assert (iodine["kind"], iodine["consumed"]) == ("dissolved", {"formula": "I-", "count": 2})


def test_early_metal_is_firm_and_only_what_comes_too_fast_is_loose():
    run = Cell("CuSO4", supply_V=6.0).run(minutes=10, samples=61)
    sent = payload(run)
    assert sent.header["electrodes"][0]["spongy"]
    layer, loose = array(sent, "0:layer_g"), array(sent, "0:loose_g")
    assert (loose <= layer * (1 + 1e-6)).all()
    too_fast = run.cathode.limiting_share > SPONGY
    first = int(np.argmax(too_fast[1:])) + 1
    assert not loose[:first].any()
    assert loose[-1] > 0
    gentle = payload(Cell("CuSO4", supply_V=1.0).run(minutes=2, samples=5))
    assert not gentle.header["electrodes"][0]["spongy"]
    assert not array(gentle, "0:loose_g").any()


def test_the_thickness_of_a_layer_can_be_told():
    header = payload(Cell("CuSO4").run(minutes=1, samples=3)).header
    copper = header["electrodes"][0]
    assert copper["layerGCm3"] == pytest.approx(8.96)
    assert header["wettedCm2"] > 0
    lead = payload(Cell("Pb(NO3)2").run(minutes=1, samples=3)).header["electrodes"]
    assert [each["layerGCm3"] for each in lead] == pytest.approx([11.3, 9.4])
    assert copper["layers"] == [
        {"formula": "Cu", "tint": "--fp-copper", "gCm3": pytest.approx(8.96)}
    ]


def test_each_solid_that_settles_has_its_own_colour_whatever_settles_most():
    run = Cell("CuSO4").run(
        stages=[fp.Stage(2), fp.Stage(6, add={"AgNO3": (20.0, 0.5)})], samples=9
    )
    (cathode, _) = payload(run).header["electrodes"]
    tints = {each["formula"]: each["tint"] for each in cathode["layers"]}
    assert tints == {"Cu": "--fp-copper", "Ag": "--fp-silver"}


def test_molecules_are_dissolved_and_ions_are_not(sent):
    dissolved = {each["formula"]: each["dissolved"] for each in sent.header["species"]}
    assert dissolved["Na+"] is dissolved["Cl-"] is False
    assert dissolved["Cl2"] is True


@pytest.mark.parametrize(
    ("board", "salt", "expected"),
    [
        (Wording(), "Na2SO4", [(2, "H+", {}), (4, "OH-", {"H2O": 2})]),
        (WATER, "Na2SO4", [(2, "H2O", {"OH-": 2}), (2, "H2O", {"H+": 4})]),
        (WATER, "H2SO4", [(2, "H+", {}), (2, "H2O", {"H+": 4})]),
        (WATER, "NaOH", [(2, "H2O", {"OH-": 2}), (4, "OH-", {"H2O": 2})]),
    ],
)
def test_the_picture_gets_hydrogen_and_oxygen_from_what_the_board_says(board, salt, expected):
    header = payload(Cell(salt).run(minutes=1, samples=3), board).header
    products = [electrode["products"][0] for electrode in header["electrodes"]]
    assert [product["formula"] for product in products] == ["H2", "O2"]
    assert [
        (
            product["consumed"]["count"],
            product["consumed"]["formula"],
            {each["formula"]: each["count"] for each in product["released"]},
        )
        for product in products
    ] == expected


@pytest.mark.parametrize(
    "cell",
    [
        Cell("CuSO4", anode="copper"),
        Cell("FeSO4"),
        Cell("H2O"),
        Cell("KNO3", vessel="paper strip", supply_V=20.0, crystal="KMnO4"),
    ],
)
def test_a_cell_at_rest_holds_its_liquid_as_a_run_begins_and_nothing_of_a_run(cell, monkeypatch):
    first = cell.run(minutes=1, samples=3)
    monkeypatch.setattr(Cell, "run", None)
    resting = payload_at_rest(cell)
    arrays = np.frombuffer(resting.array_bytes, FLOAT32)

    def array(name):
        place = resting.header["index"][name]
        return arrays[place["offset"] : place["offset"] + place["length"]]

    shown = [each["formula"] for each in resting.header["species"]]
    assert shown == [each["formula"] for each in payload(first).header["species"]]
    places = [int(np.abs(first.position_m - at).argmin()) for at in array("position_m")]
    for formula in shown:
        began = first.concentration(formula)[0][places]
        assert array(f"c:{formula}") == pytest.approx(began, rel=1e-6, abs=1e-9)
    for side, record in enumerate((first.cathode, first.anode)):
        assert array(f"{side}:pH") == pytest.approx(record.pH[0], rel=1e-6)
    assert array("pH") == pytest.approx(first.pH[0][places], rel=1e-6)
    assert resting.header["idle"]
    assert [each["products"] for each in resting.header["electrodes"]] == [[], []]
    named = {name.rpartition(":")[0][:1] or name for name in resting.header["index"]}
    assert named <= {"position_m", "pH", "0", "1", "c", "h"}


def _array(sent, name):
    place = sent.header["index"].get(name)
    floats = np.frombuffer(sent.array_bytes, "<f4")
    return None if place is None else floats[place["offset"] : place["offset"] + place["length"]]


def test_a_run_whose_stages_pour_liquid_in_says_how_much_there_is():
    stages = [fp.Stage(1), fp.Stage(1, water_cm3=15.0), fp.Stage(1, add={"NaCl": (5.0, 0.5)})]
    sent = payload(fp.Cell("Na2SO4").run(stages=stages, samples=10))
    volume_cm3 = _array(sent, "volume_cm3")
    assert volume_cm3[0] == pytest.approx(60)
    assert volume_cm3[-1] == pytest.approx(80)
    assert set(volume_cm3.round().tolist()) == {60, 75, 80}
    assert (np.diff(volume_cm3) >= 0).all()
    assert _array(payload(fp.Cell("Na2SO4").run(minutes=1, samples=3)), "volume_cm3") is None


@pytest.mark.parametrize(
    ("material", "formula", "dark"),
    [
        ("copper", "NaOH", True),
        ("silver", "NaOH", True),
        ("nickel", "NaOH", False),
        ("graphite", "NaOH", False),
        ("copper", "Na2SO4", False),
    ],
)
def test_a_passive_anode_shows_its_dark_film(material, formula, dark):
    sent = payload(fp.Cell(formula, anode=material).run(minutes=1, samples=5))
    film = _array(sent, "1:film")
    assert _array(sent, "0:film") is None
    if dark:
        assert film.tolist() == [0, 1, 1, 1, 1]
    else:
        assert film is None


def test_the_film_goes_where_the_anode_is_a_cathode_again():
    stages = [fp.Stage(1), fp.Stage(1, off=True), fp.Stage(1, swapped=True)]
    run = fp.Cell("NaOH", anode="copper", cathode="copper").run(stages=stages, samples=10)
    sent = payload(run)
    assert _array(sent, "1:film")[[1, 5, -1]].tolist() == [1, 1, 0]
    assert _array(sent, "0:film")[[1, 5, -1]].tolist() == [0, 0, 1]
