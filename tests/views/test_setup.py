"""A wrong value is refused beside its control; the last good cell and all that was typed stay."""

import pytest

from fizzplate.lesson import CellSetup, Wording
from fizzplate.views.controls.setup_bar import SetupBar, read_field_number
from fizzplate.views.pages.explore import Explore
from fizzplate.words import NO_BREAK
from fizzplate.words.refusals import InputError


def control(setup, label):
    return next(c for c in widgets_of(setup.bar) if getattr(c, "description", "") == label)


def widgets_of(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from widgets_of(child)


def refusals(setup):
    return [
        w.value for w in widgets_of(setup.bar) if 'role="alert"' in str(getattr(w, "value", ""))
    ]


def offered(setup, label):
    """Whether the field of a control is shown."""
    field = next(
        w for w in widgets_of(setup.bar) if control(setup, label) in getattr(w, "children", ())
    )
    return field.layout.display != "none"


@pytest.fixture
def seen():
    return []


def _listening(seen):
    setup = SetupBar(lambda: seen.append((setup.cell, setup.setup.minutes)))
    return setup


@pytest.fixture
def setup(seen):
    return _listening(seen)


def test_the_bar_opens_on_the_class_practical(setup):
    cell = setup.cell
    assert cell.solution_formulae == ("Na2SO4",)
    assert (cell.concentration_mol_dm3, cell.volume_cm3, cell.supply_V) == (0.5, 60, 6.0)
    assert (cell.lamp.rated_V, cell.lamp.rated_A) == (6.0, 0.06)
    assert (cell.cathode, cell.anode) == ("graphite", "graphite")


def test_a_good_value_makes_a_new_cell(setup, seen):
    control(setup, "Concentration, mol/dm³").value = "0,25"
    assert seen[-1][0].concentration_mol_dm3 == 0.25
    assert refusals(setup) == []


@pytest.mark.parametrize(
    ("label", "text", "word"),
    [
        ("Concentration, mol/dm³", "0", "Concentration, mol/dm³: "),
        ("Concentration, mol/dm³", "-1", "Concentration, mol/dm³: "),
        ("Concentration, mol/dm³", "nan", "Concentration, mol/dm³: "),
        ("Concentration, mol/dm³", "strong", "a number in mol/dm³"),
        ("Concentration, mol/dm³", "50", "no stronger sodium sulfate solution"),
        ("Volume, cm³", "5", "Volume, cm³: 5 cannot"),
        ("Supply, V", "-6", "Supply, V: "),
        ("Supply, V", "31", "Supply, V: "),
        ("Supply, V", "", "Supply, V: "),
        ("Time, minutes", "0", "Time, minutes: "),
        ("Time, minutes", "1e9", "Time, minutes: "),
    ],
)
def test_a_wrong_value_is_refused_in_one_sentence_and_stays_to_be_mended(
    setup, seen, label, text, word
):
    good = setup.cell
    control(setup, label).value = text
    (said,) = refusals(setup)
    assert word in said
    assert control(setup, label).value == text
    assert setup.cell is good
    assert seen == []
    assert not setup.usable()


def test_the_refusal_stands_beside_its_control(setup):
    control(setup, "Supply, V").value = "31"
    box = next(
        w
        for w in widgets_of(setup.bar)
        if control(setup, "Supply, V") in getattr(w, "children", ())
    )
    assert any('role="alert"' in str(getattr(w, "value", "")) for w in box.children)


def test_mending_the_value_takes_the_refusal_away(setup, seen):
    control(setup, "Supply, V").value = "31"
    control(setup, "Supply, V").value = "3"
    assert refusals(setup) == []
    assert seen[-1][0].supply_V == 3.0


def test_one_wrong_value_does_not_lose_another_that_was_typed(setup):
    control(setup, "Supply, V").value = "volts"
    control(setup, "Volume, cm³").value = "75"
    control(setup, "Supply, V").value = "4"
    assert (setup.cell.volume_cm3, setup.cell.supply_V) == (75, 4.0)


@pytest.mark.parametrize(
    ("text", "value"), [(" 0,5 ", 0.5), ("6", 6.0), ("1e-2", 0.01), ("−3", -3.0)]
)
def test_numbers_are_read_as_people_type_them(text, value):
    assert read_field_number("supply_V", text, unit="V") == value


def test_words_are_not_numbers():
    with pytest.raises(InputError, match="a number in V"):
        read_field_number("supply_V", "six", unit="V")


def test_a_vessel_brings_a_volume_that_it_can_hold(setup, seen):
    control(setup, "Vessel").value = "dish"
    assert setup.cell.volume_cm3 == pytest.approx(2.0)
    control(setup, "Vessel").value = "beaker"
    assert setup.cell.volume_cm3 == pytest.approx(60.0)
    assert refusals(setup) == []


def test_a_volume_that_fits_is_kept(setup, seen):
    control(setup, "Volume, cm³").value = "75"
    control(setup, "Vessel").value = "U-tube"
    assert setup.cell.volume_cm3 == pytest.approx(75.0)


def test_only_the_strip_takes_a_crystal_and_no_volume(setup, seen):
    assert not offered(setup, "Crystal")
    control(setup, "Vessel").value = "paper strip"
    assert offered(setup, "Crystal")
    assert not offered(setup, "Volume, cm³")
    control(setup, "Crystal").value = "KMnO4"
    assert setup.cell.crystal == "KMnO4"
    control(setup, "Vessel").value = "beaker"
    assert setup.cell.crystal is None


def test_what_a_link_brings_is_shown_even_where_it_is_not_offered(setup):
    assert not offered(setup, "Room, °C")
    setup.show(CellSetup("NaCl", temperature_C=18))
    assert offered(setup, "Room, °C")
    setup.show(CellSetup("NaCl"))
    assert not offered(setup, "Room, °C")


def test_every_bar_offers_a_mixture_and_says_how_strong_both_are(setup, seen):
    assert offered(setup, "Also dissolved")
    control(setup, "Solution").value = "CuSO4"
    control(setup, "Also dissolved").value = "NaCl"
    control(setup, "Second concentration, mol/dm³").value = "0.4"
    assert dict(seen[-1][0].mixture_mol_dm3) == {"CuSO4": 0.5, "NaCl": 0.4}
    assert f"0.5 and 0.4{NO_BREAK}mol/dm³" in setup.line
    assert setup.summary.startswith("copper(II) sulfate and sodium chloride, 0.5 and 0.4")
    assert setup.setup.label == f"CuSO₄ 0.5 + NaCl 0.4{NO_BREAK}mol/dm³"
    control(setup, "Also dissolved").value = "AgNO3"
    assert "a mixture that stays clear" in refusals(setup)[0]
    assert setup.setup.also == "NaCl"  # the last good one stays


def test_the_electrodes_are_called_as_the_board_does(setup, seen):
    setup.show(CellSetup("CuSO4", anode="copper"))
    setup.describe()
    assert "copper anode" in setup.bar.children[0].description
    setup.word(Wording(electrode_names="negative"))
    assert "copper positive electrode" in setup.bar.children[0].description
    control(setup, "Positive electrode").value = "graphite"
    assert seen[-1][0].anode == "graphite"
    assert "graphite electrodes" in setup.summary
    setup.word(Wording(electrode_names="both"))
    assert control(setup, "Cathode (negative electrode)").value == "graphite"
    setup.word(Wording())
    assert control(setup, "Cathode").value == "graphite"


def test_a_refused_value_marks_its_control_and_a_mended_one_does_not(setup):
    supply, volume = control(setup, "Supply, V"), control(setup, "Volume, cm³")
    supply.value = "31"
    assert "fp-wrong" in supply._dom_classes
    assert "fp-wrong" not in volume._dom_classes
    supply.value = "3"
    assert "fp-wrong" not in supply._dom_classes


@pytest.mark.parametrize("full", [True, False])
def test_the_strength_of_a_second_substance_is_asked_for_where_there_is_one(full):
    setup = SetupBar(lambda: None, full=full)
    label = next(
        w.description for w in widgets_of(setup.bar) if w is setup._controls["also_mol_dm3"]
    )
    assert not offered(setup, label)
    setup._controls["also"].value = "KI"
    assert offered(setup, label)
    setup._controls["also"].value = ""
    assert not offered(setup, label)


def test_an_acid_beside_a_fluoride_is_refused_beside_the_control(setup, seen):
    control(setup, "Solution").value = "NaF"
    good = setup.cell
    control(setup, "Also dissolved").value = "HCl"
    (said,) = refusals(setup)
    assert "Solution: " in said
    assert "hydrogen fluoride, which is very toxic and attacks glass" in said
    assert "Use a chloride instead of the fluoride" in said
    assert setup.cell is good
    control(setup, "Also dissolved").value = "Na2SO4"
    assert refusals(setup) == []
    assert seen[-1][0].solution_formulae == ("NaF", "Na2SO4")


def test_a_crystal_in_iodide_is_refused_beside_the_crystal(setup):
    control(setup, "Solution").value = "KI"
    control(setup, "Vessel").value = "paper strip"
    control(setup, "Crystal").value = "KMnO4"
    (said,) = refusals(setup)
    assert "Crystal: " in said
    assert "permanganate oxidises iodide" in said
    assert "sodium sulfate or potassium nitrate" in said
    assert setup.cell.crystal is None


def test_a_held_current_that_needs_more_than_30_v_is_refused_beside_the_supply(setup):
    control(setup, "Concentration, mol/dm³").value = "0.01"
    control(setup, "Lamp").value = "none"
    control(setup, "Supply holds").value = "A"
    good = setup.cell
    control(setup, "Supply, A").value = "0.5"
    (said,) = refusals(setup)
    assert "Supply, A: 0.5 cannot be used" in said
    assert f"no supply here gives more than 30{NO_BREAK}V" in said
    assert setup.cell is good


def test_a_sweep_that_no_supply_drives_is_said_and_the_last_picture_stays():
    explore = Explore()
    explore.open_query("ask=off")  # nobody is asked first
    explore.sweep_panel.draw()
    drawn = explore.sweep_panel._chart
    assert "<svg" in explore.sweep_panel._place.value
    strong = CellSetup("NaCl", 5.0, vessel="U-tube", lamp="none", supply_V=None, current_A=0.9)
    explore.first.set_cell(strong)
    explore.sweep_panel.draw()
    assert drawn in explore.sweep_panel._place.value
    assert f"no supply here gives more than 30{NO_BREAK}V" in explore.sweep_panel._refusal.value
    explore.first.set_cell(CellSetup("NaCl"))
    explore.sweep_panel.draw()
    assert explore.sweep_panel._refusal.value == ""


def test_a_beaker_after_a_link_to_a_strip_of_paper_has_its_own_volume():
    bar = SetupBar(lambda: None, CellSetup("KNO3", vessel="paper strip"))
    bar._controls["vessel"].value = "beaker"
    assert bar.setup.cell().volume_cm3 == pytest.approx(60)
    assert [place.value for place in bar._refusals.values() if place.value] == []


def hidden_fields(setup):
    return {name for name, box in setup._boxes.items() if "fp-not-of-melt" in box._dom_classes}


def test_a_melt_asks_only_for_a_current_and_a_time(setup, seen):
    control(setup, "Solution").value = "PbBr2(l)"
    assert seen[-1][0].melt.formula == "PbBr2(l)"
    assert setup.setup.current_A == 1.0
    assert set(setup._boxes) - hidden_fields(setup) == {"solution", "supply", "minutes"}
    control(setup, "Supply, A").value = "0.4"
    control(setup, "Time, minutes").value = "12"
    assert setup.line.replace(NO_BREAK, " ") == "graphite, 0.4 A, 12 min"
    control(setup, "Supply, A").value = "2"
    assert "Supply, A: 2" in refusals(setup)[0]
    assert setup.setup.current_A == 0.4
    control(setup, "Supply, A").value = "0.4"
    control(setup, "Solution").value = "CuSO4"
    assert (hidden_fields(setup), setup.setup.supply_V) == (set(), 6.0)


def test_a_page_with_every_field_offers_no_melt():
    assert (
        "PbBr2(l)"
        not in dict(SetupBar(lambda: None, full=True)._controls["solution"].options).values()
    )


def test_a_cell_to_compare_with_is_chosen_and_one_that_cannot_be_is_refused_there(setup, seen):
    compare = control(setup, "Compare with")
    compare.value = "copper"
    assert seen[-1][0].anode == "graphite"  # of the first cell
    assert setup.setup.second == CellSetup(cathode="copper", anode="copper")
    compare.value = "Na2SO4"
    assert refusals(setup)
    assert setup.setup.beside == "copper"
    compare.value = ""
    assert setup.setup.second is None
    assert not offered(SetupBar(lambda: None, full=True), "Compare with")
