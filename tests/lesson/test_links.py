"""A link brings a page back, whatever was in it; what cannot be read is left out and said."""

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.chemistry import electrodes, solutions
from fizzplate.lesson import (
    LAMPS,
    CellSetup,
    LinkState,
    Wording,
    from_file,
    from_query,
    read_cell,
    to_file,
    to_query,
    write_cell,
)
from fizzplate.lesson.state import DemonstrateState, ExploreState, PrepareState, from_link
from fizzplate.lesson.state.links import MAX_CELLS, MAX_QUERY_LENGTH
from fizzplate.words.refusals import InputError

setups = st.builds(
    CellSetup,
    st.sampled_from(["NaCl", "CuSO4", "Cu(NO3)2", "KI", "H2SO4"]),
    st.sampled_from([0.5, 0.1, 0.05]),
    volume_cm3=st.sampled_from([None, 50.0, 72.5]),
    cathode=st.sampled_from(sorted(electrodes())),
    anode=st.sampled_from(sorted(electrodes())),
    lamp=st.sampled_from(sorted(LAMPS)),
    temperature_C=st.sampled_from([25.0, 18.0]),
    minutes=st.sampled_from([5.0, 12.5]),
)
wordings = st.builds(
    Wording,
    st.sampled_from(["OH-", "H2O"]),
    st.sampled_from(["H+", "H2O"]),
    st.sampled_from(["right", "minus"]),
    st.booleans(),
    st.sampled_from(["cathode", "negative", "both"]),
    st.sampled_from([0.0, 0.1]),
)


@given(st.lists(setups, min_size=1, max_size=5), wordings)
@settings(max_examples=60, deadline=None)
def test_a_link_brings_back_what_it_was_made_of(cells, wording):
    state = LinkState(tuple(cells), open=len(cells) - 1, wording=wording)
    assert from_query(to_query(state)) == (state, [])


@given(st.lists(setups, min_size=1, max_size=5))
@settings(max_examples=30, deadline=None)
def test_a_file_brings_back_its_list(cells):
    assert from_file(to_file(LinkState(tuple(cells)))) == (tuple(cells), [])


@given(st.text(alphabet=string.printable, max_size=200))
@settings(max_examples=200, deadline=None)
def test_whatever_an_address_holds_gives_a_page(query):
    state, said = from_query(query)
    assert 1 <= len(state.cells) <= MAX_CELLS
    assert 0 <= state.open < len(state.cells)
    assert all(isinstance(sentence, str) and len(sentence) < 400 for sentence in said)


@pytest.mark.parametrize(
    ("text", "setup"),
    [
        ("NaCl", CellSetup("NaCl")),
        ("KI,in=U-tube,C=18", CellSetup("KI", vessel="U-tube", temperature_C=18)),
        ("CuSO4,A=0.2,lamp=none", CellSetup("CuSO4", supply_V=None, current_A=0.2, lamp="none")),
        ("NaCl,also=KI:0.05", CellSetup("NaCl", also="KI", also_mol_dm3=0.05)),
        (
            "KNO3,in=paper strip,crystal=KMnO4",
            CellSetup("KNO3", vessel="paper strip", crystal="KMnO4"),
        ),
    ],
)
def test_a_cell_is_written_as_it_is_read(text, setup):
    assert read_cell(text) == (setup, [])
    assert read_cell(write_cell(setup)) == (setup, [])


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("NaCl,c=strong", "'strong'"),
        ("NaCl,anode=chocolate", "anode"),
        ("NaCl,lamp=sun", "lamp"),
        ("NaCl,in=bucket", "vessel"),
        ("NaCl,min=1e9", "minutes"),
        ("NaCl,also=NaCl:1", "also"),
        ("NaCl,colour=red", "colour"),
        ("NaCl,c=nan", "concentration"),
    ],
)
def test_a_broken_part_is_left_out_and_named(text, word):
    setup, said = read_cell(text)
    assert setup == CellSetup("NaCl")
    assert len(said) == 1
    assert word in said[0]


def test_what_no_cell_can_be_made_of_leaves_the_others():
    state, said = from_query("cells=NaCl;<b>Unobtainium</b>;KBr")
    assert [setup.solution for setup in state.cells] == ["NaCl", "KBr"]
    assert len(said) == 1


def test_a_newer_link_is_read_as_far_as_it_can_be():
    state, said = from_query("v=9&cells=KBr&weather=fine")
    assert state.cells == (CellSetup("KBr"),)
    assert "'9'" in said[0]
    assert "weather" in said[1]


def test_very_long_links_are_cut_and_said():
    state, said = from_query("cells=" + ";".join(["NaCl"] * 3000))
    assert len(state.cells) == MAX_CELLS
    assert str(MAX_QUERY_LENGTH) in said[0]
    assert any(str(MAX_CELLS) in sentence for sentence in said)


@pytest.mark.parametrize("text", ["", "shopping\nmilk", "fizzplate cells 1\n", "\x00\x01"])
def test_a_file_that_is_no_list_is_refused(text):
    with pytest.raises(InputError, match="file"):
        from_file(text)


def test_a_list_may_come_with_a_byte_order_mark_and_empty_lines():
    cells, said = from_file("\ufefffizzplate cells 1\r\n\r\nNaCl\r\nKBr,c=0.2\r\n")
    assert [setup.solution for setup in cells] == ["NaCl", "KBr"]
    assert said == []


def test_every_solution_offered_can_be_linked_to():
    for formula in solutions():
        setup, said = read_cell(f"{formula},c=0.05")
        assert (setup.solution, said) == (formula, [])


def test_chlorine_for_long_is_for_the_page_only():
    assert CellSetup("NaCl", minutes=10).only_calculated
    assert not CellSetup("NaCl", minutes=5).only_calculated
    assert not CellSetup("Na2SO4", minutes=10).only_calculated
    assert not CellSetup("NaCl", anode="copper", minutes=10).only_calculated


@pytest.mark.parametrize(
    ("text", "kept", "reason"),
    [
        ("NaF,also=HCl:0.1", CellSetup("NaF"), "hydrogen fluoride, which is very toxic"),
        (
            "KI,crystal=KMnO4,in=paper strip",
            CellSetup("KI", vessel="paper strip"),
            "permanganate oxidises iodide",
        ),
        ("NaCl,V=60", CellSetup("NaCl"), "at most 30 V (more is not safe to touch)"),
        ("NaCl,A=0.5", CellSetup("NaCl"), "no supply here gives more than 30 V"),
        ("NaCl,anode=stainless steel", CellSetup("NaCl"), "chromium(VI)"),
    ],
)
def test_a_dangerous_part_is_left_out_with_the_reason(text, kept, reason):
    for (setup,), said in (from_file(f"fizzplate cells 1\n{text}\n"), _cells_of(text)):
        assert setup == kept
        (sentence,) = said
        assert reason in sentence
        assert "Use " in sentence


def _cells_of(text):
    state, said = from_query(f"v=1&cells={text}")
    return state.cells, said


def test_a_solution_that_is_never_offered_is_left_out_with_the_reason():
    cells, said = _cells_of("NaCl;NH4Cl")
    assert cells == (CellSetup("NaCl"),)
    assert "explode" in said[0]
    assert "sodium or potassium salt" in said[0]


@pytest.mark.parametrize(
    "text", ["CuSO4,A=0.2,lamp=none", "NaCl,cm3=1,in=dish", "KNO3,crystal=KMnO4,in=paper strip"]
)
def test_a_part_may_come_before_what_it_depends_on(text):
    assert read_cell(text)[1] == []


def test_a_cell_beside_another_differs_in_one_thing_and_is_linked_to():
    setup, said = read_cell("CuSO4,c=0.2,min=10,beside=copper")
    assert (write_cell(setup), said) == ("CuSO4,c=0.2,min=10,beside=copper", [])
    alone, second = setup.apart
    assert alone == read_cell("CuSO4,c=0.2,min=10")[0]
    assert second == read_cell("CuSO4,c=0.2,min=10,cathode=copper,anode=copper")[0]
    salt = read_cell("CuSO4,also=NaCl:0.4,beside=NaCl")[0].second
    assert salt == CellSetup("NaCl")


@pytest.mark.parametrize(
    "part", ["beside=NaCl", "beside=graphite", "beside=bread", "beside=KMnO4", "beside=PbBr2(l)"]
)
def test_a_second_cell_that_cannot_be_is_left_out_with_a_sentence(part):
    setup, said = read_cell(f"NaCl,{part}")
    assert setup == CellSetup("NaCl")
    (sentence,) = said
    assert "beside" in sentence


def test_a_second_cell_is_refused_for_its_own_reason():
    setup, said = read_cell("NaCl,c=3,beside=Na2SO4")
    assert setup.second is None
    assert "Na2SO4" in said[0]
    assert setup.concentration_mol_dm3 == 3


def test_pages_that_show_one_cell_at_a_time_list_both_one_after_the_other():
    link = "?cells=KI;CuSO4,beside=copper;NaCl&open=2"
    state, said = from_link(link, PrepareState())
    assert [each.label for each in state.cells] == ["KI", "CuSO₄", "CuSO₄, copper rods", "NaCl"]
    assert (state.open, said) == (3, [])
    assert from_link("?cells=CuSO4,beside=copper", ExploreState())[0].cells == (
        CellSetup("CuSO4"),
        CellSetup("CuSO4", cathode="copper", anode="copper"),
    )
    assert len(from_link(link, DemonstrateState())[0].cells) == 3
