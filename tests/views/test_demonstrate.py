"""The page: solutions to choose from, a switch, and a record of what has been run."""

import re

import pytest

from fizzplate.cell.solver.batch import ConvergenceError
from fizzplate.lesson import CORE, CellSetup
from fizzplate.lesson.state import Change, DemonstrateState
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.pages.demonstrate import Demonstrate


@pytest.fixture
def page():
    return Demonstrate()


def buttons(widget):
    if hasattr(widget, "click"):
        yield widget
    for child in getattr(widget, "children", ()):
        yield from buttons(child)


def press(page, name):
    next(b for b in buttons(page.widget) if b.description == name).click()


def test_before_the_switch_nothing_is_given_away(page):
    for side_card in page.bench.lesson["electrodes"]:
        assert side_card["product"] == "What forms here?"
    assert page.run is None
    assert len(page.bench.array_bytes) > 0


@pytest.mark.parametrize(
    ("name", "cathode", "anode"),
    [
        ("Na₂SO₄", "hydrogen", "oxygen"),
        ("NaCl", "hydrogen", "chlorine"),
        ("CuCl₂", "copper", "chlorine"),
        ("CuSO₄", "copper", "oxygen"),
    ],
)
def test_each_solution_of_the_class_gives_its_products(page, name, cathode, anode):
    press(page, name)
    press(page, "Switch on")
    assert [side_card["product"] for side_card in page.bench.lesson["electrodes"]] == [
        cathode,
        anode,
    ]
    assert any(b.description == f"✓ {name}" for b in buttons(page.widget))


def test_a_cell_is_named_once_it_is_shown(page):
    told = []
    page.bench.observe(lambda _: told.append("the cell"), names="show_count")
    page.run_controller.setup_bar.bar.children[0].observe(
        lambda change: told.append(change["new"]), names="description"
    )
    press(page, "CuSO₄")
    shown, name = told
    assert shown == "the cell"
    assert name.startswith("Set-up: copper(II) sulfate")


def test_the_switch_opens_again(page):
    press(page, "Switch on")
    press(page, "Switch off")
    assert page.run is None
    assert not page.bench.lesson["on"]


def test_the_same_run_twice_is_shown_twice(page):
    press(page, "Switch on")
    first = page.bench.show_count
    press(page, "Switch off")
    press(page, "Switch on")
    assert page.bench.show_count == first + 2


def test_another_solution_is_shown_at_rest(page):
    press(page, "Switch on")
    press(page, "CuCl₂")
    assert page.run is None
    assert page.bench.header["solution"] == "CuCl2"


def test_a_wrong_value_keeps_the_last_picture(page):
    shown = page.bench.show_count
    field = page.setup_bar._controls["concentration_mol_dm3"]  # as a person types
    field.value = "none"
    press(page, "Switch on")
    assert page.bench.show_count == shown
    field.value = "0.4"
    press(page, "Switch on")
    assert page.run.cell.concentration_mol_dm3 == 0.4


def test_cautions_stand_on_the_electrode_that_makes_the_gas(page):
    press(page, "NaCl")
    press(page, "Switch on")
    cathode, anode = page.bench.lesson["electrodes"]
    assert any("Hydrogen burns" in text for text in cathode["cautions"])
    assert any("Chlorine irritates" in text for text in anode["cautions"])


def test_the_order_changes_one_ion_at_a_time():
    assert CORE == ("Na2SO4", "NaCl", "CuCl2", "CuSO4")


def test_a_cell_that_the_model_cannot_follow_is_said_so_and_the_picture_stays(page, monkeypatch):
    def stuck(*_given, **_options):
        raise ConvergenceError("no step could be solved")

    shown = page.bench.show_count
    monkeypatch.setattr(Prefetch, "result", stuck)
    press(page, "Switch on")
    assert page.bench.show_count == shown
    assert page.run is None
    said = [getattr(part, "value", "") for part in page.widget.children]
    assert any("could not calculate this cell" in str(value) for value in said)


def test_a_run_comes_back_when_its_solution_does(page):
    press(page, "NaCl")
    press(page, "Switch on")
    run = page.run
    press(page, "CuCl₂")
    assert page.run is None
    press(page, "✓ NaCl")
    assert page.run is run
    assert page.bench.lesson["again"]


def test_the_list_can_be_added_to_moved_and_shortened(page):
    press(page, "Add a copy")
    page.setup_bar._controls["anode"].value = "copper"
    assert [setup.label for setup in page.list.cells[:2]] == ["Na₂SO₄", "Na₂SO₄, copper anode"]
    press(page, "Move later")
    assert page.list.cells[2].anode == "copper"
    assert page.list.at == 2
    press(page, "Remove")
    assert [setup.solution for setup in page.list.cells] == list(CORE)
    press(page, "Next")
    assert page.list.at == 3
    press(page, "Next")
    assert page.list.at == 0
    for _ in CORE:
        press(page, "Remove")
    assert len(page.list.cells) == 1  # the last one stays


def test_the_address_follows_the_page_and_opens_it_again(page):
    press(page, "CuSO₄")
    page.setup_bar._controls["anode"].value = "copper"
    other = Demonstrate()
    other.open_query("?" + page.address.query)
    assert other.list.cells == page.list.cells
    assert other.setup_bar.cell.anode == "copper"
    assert other.address.notices == []


def test_a_broken_address_is_said_and_the_rest_is_used(page):
    page.open_query("?v=1&cells=KBr;Gold,c=1&open=5")
    assert page.setup_bar.cell.solution_formulae == ("KBr",)
    assert len(page.address.notices) == 2


def test_a_file_that_is_no_list_changes_nothing(page):
    before = list(page.list.cells)
    page.open_file("milk\nbread")
    assert page.list.cells == before
    assert "fizzplate cells" in page.address.notices[0]
    page.open_file("fizzplate cells 1\nKI")
    assert page.setup_bar.cell.solution_formulae == ("KI",)


def test_chlorine_for_long_is_marked_as_calculated(page):
    press(page, "NaCl")
    page.setup_bar._controls["minutes"].value = "20"
    assert "Only calculated, not for the bench" in page.bench.lesson["cautions"][0]
    page.setup_bar._controls["minutes"].value = "5"
    assert "Calculated" not in page.bench.lesson["cautions"][0]


def test_the_set_up_bar_follows_the_board(page):
    page.open_query("?cells=CuSO4,anode=copper&board=electrode_names=negative")
    labels = [control.description for control in page.setup_bar._controls.values()]
    assert {"Negative electrode", "Positive electrode"} <= set(labels)
    assert not {"Cathode", "Anode"} & set(labels)
    assert "positive electrode" in page.setup_bar.bar.children[0].description
    assert page.bench.lesson["label"] == "CuSO₄, copper positive electrode"


def test_a_board_that_names_electrodes_by_sign_is_heard_everywhere(page):
    page.open_query("?cells=CuSO4&board=electrode_names=negative")
    press(page, "Switch on")
    lesson = page.bench.lesson
    said = str([lesson["narration"], lesson["electrodes"], lesson["notes"], lesson["table"]])
    assert "negative electrode" in said.lower()
    for word in ("cathode", "anode"):
        spoken = [step["sentence"] + step["title"] for step in lesson["classroom"]["steps"]]
        assert not [text for text in spoken if word in text.lower()]
        assert not [text for _, text in lesson["narration"] if word in text.lower()]
        assert all(f">{word}<" not in chart["svg"] for chart in page.bench.charts)


def test_a_step_of_the_lesson_closes_and_opens_the_switch_and_goes_on_to_the_next_solution(page):
    def ask(what):
        page.bench.request = {"what": what, "count": 1}
        assert page.bench.request == {}  # the page waits for that

    assert page.bench.in_steps
    ask("on")
    run = page.run
    assert run is not None
    ask("on")
    assert page.run is run
    ask("off")
    assert page.run is None
    assert page.bench.next_label == "NaCl"
    ask("next")
    assert page.setup_bar.setup.solution == "NaCl"
    assert page.bench.next_label == "CuCl₂"
    press(page, "CuSO₄")
    assert page.bench.next_label == ""


def test_a_step_that_needs_a_cell_that_cannot_be_used_is_answered_all_the_same(page):
    page.setup_bar._controls["concentration_mol_dm3"].value = "none"
    page.bench.request = {"what": "on", "count": 1}
    assert page.run is None
    assert page.bench.request == {}


def test_the_set_up_line_says_what_the_list_does_not(page):
    def line():
        return str(page.setup_bar._line.value)

    assert "0.5 mol/dm³, graphite, 6 V, 5 min" in line().replace("\xa0", " ")
    page.setup_bar._controls["anode"].value = "copper"
    assert "graphite cathode, copper anode" in line()
    press(page, "Change")
    assert page.setup_bar._summary.value
    press(page, "Done")
    assert not page.setup_bar._summary.value


def test_a_melt_of_the_list_is_explained_and_recorded_without_a_run(page):
    page.open_query("?cells=CuSO4;PbBr2(l),A=0.5,min=20&open=1")
    bench = page.bench
    assert bench.lesson["isMelt"]
    assert [card["product"] for card in bench.lesson["electrodes"]] == ["What forms here?"] * 2
    assert "lead" not in bench.lesson["generalCaution"]
    press(page, "Switch on")
    assert (page.run, page.run_controller.is_on) == (None, True)
    assert [card["product"] for card in bench.lesson["electrodes"]] == ["lead", "bromine"]
    assert any("no model of a melt" in note for note in bench.lesson["notes"])
    row = bench.lesson["classroom"]["row"]
    assert row["cathode"]["product"].replace("\xa0", " ") == "0.644 g of lead"
    assert row["pH"] == "no water, so no pH"
    assert (bench.charts, bench.certainty) == ([], [])
    assert any(b.description == "✓ molten PbBr₂" for b in buttons(page.widget))
    press(page, "CuSO₄")
    press(page, "Switch on")
    assert page.run is not None
    press(page, "✓ molten PbBr₂")  # it comes back as it was left
    assert page.run_controller.is_on
    assert page.bench.lesson["again"]


def test_a_new_class_finds_no_changes_in_any_cell_and_undo_brings_back_those_of_cells_that_are_left():
    page = Demonstrate()
    swapped, poured = (Change(60, "swap"),), (Change(60, "water", 20.0),)
    cells = (
        CellSetup("NaCl", changes=swapped),
        CellSetup("CuSO4", changes=poured),
        CellSetup("KI", minutes=1),
    )
    page.apply(DemonstrateState(cells, 1))
    page.bench.reset = {"isUndo": False, "timeMs": 1}
    assert [each.changes for each in page.list.cells] == [(), (), ()]
    assert page.setup_bar.setup == CellSetup("CuSO4")
    assert page.state.cells == tuple(each.unchanged for each in cells)
    page.list._remove()
    page.bench.reset = {"isUndo": True, "timeMs": 2}
    assert page.list.cells == [cells[0], cells[2]]
    assert page.setup_bar.setup == page.list.current


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        ((Change(60, "water", 20.0),), "0.5 mol/dm³, then diluted to 0.38, graphite"),
        ((Change(60, "add", 30.0, "CuSO4", 1.1),), "0.5 mol/dm³, then brought to 0.7, graphite"),
        ((Change(60, "swap"),), "0.5 mol/dm³, graphite"),
        ((Change(60, "add", 0.1, "NaCl", 0.1),), "0.5 mol/dm³, graphite"),
    ],
)
def test_the_line_of_the_set_up_says_how_strong_a_changed_solution_is_then(changes, line):
    page = Demonstrate()
    page.apply(DemonstrateState((CellSetup("CuSO4", changes=changes),)))
    said = re.sub("[\u00a0\u202f\u2009]", " ", page.setup_bar.line)
    assert said.startswith(line)
