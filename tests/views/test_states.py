"""A reload, a lost program, a link, a file: each brings a page back with what it held, as a whole."""

import json
from dataclasses import replace
from functools import cache

import ipywidgets
import pytest
from tests.pages import PAGE_CLASSES, for_every_page
from tests.views.parts import control, page_text, parts_of

from fizzplate.lesson.measure.class_entries import invented_rows
from fizzplate.lesson.state.page_states import from_text, to_text
from fizzplate.views.bench import widget as benches
from fizzplate.views.controls import run_controller as run_controllers
from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.controls.fields import controls_by_key, give_key
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.pages.demonstrate import Demonstrate
from fizzplate.views.pages.explore import Explore
from fizzplate.views.pages.measure import Measure
from fizzplate.views.pages.prepare import Prepare
from fizzplate.views.pages.revise import Revise

GRAINS = "cause-grains-shed"
BOARD = "&board=electrode_names=negative,states=True"


@pytest.fixture(autouse=True, scope="module")
def _quick():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run_controllers, "SAMPLES", 3)
        patch.setattr(benches, "charts", lambda *_: ())  # they take longest
        patch.setattr(Prefetch, "begin", lambda *_: None)
        patch.setattr(BackgroundWork, "begin", lambda *_given, **_options: None)
        yield


@cache
def changed(kind):
    """Give a page whose every part was changed; no test changes it further."""
    return CHANGED[kind]()


@cache
def new(kind):
    return kind()


@cache
def brought_back(kind):
    """Give the same page in a program that knows nothing but what the browser kept."""
    fresh = kind()
    fresh.restore(changed(kind).address.page_state, {})
    if kind is Measure:  # the browser brings the table back by itself
        fresh.grid.rows = invented_rows()
    return fresh


def press(page, label):
    next(
        each
        for each in parts_of(page.widget)
        if isinstance(each, ipywidgets.Button) and each.description == label
    ).click()


def type_by_key(page, **texts):
    controls = controls_by_key(page.widget)
    for key, value in texts.items():
        controls[key.replace("__", "-")].value = value


def change_demonstrate():
    page = Demonstrate()
    page.open_query(f"?cells=NaCl,min=0.2;CuSO4,anode=copper,min=0.2;KI&open=1&ask=off{BOARD}")
    press(page, "Switch on")
    type_by_key(page, lesson__settings=True, cell__fold=True)
    return page


def change_explore():
    page = Explore()
    page.open_query(f"?cells=NaCl,min=0.2;CuSO4,min=0.2&ask=off{BOARD}")
    page.second.switch()
    type_by_key(page, sweep="gas against time")
    page.sweep_panel.draw()
    type_by_key(page, sweep="metal against charge", second__fold=True, settings=True)
    return page


def change_measure():
    page = Measure()
    page.grid.rows = invented_rows()
    page.open_query(f"?metal=Ag&balance=0.01&tube=0.2{BOARD}")
    type_by_key(
        page,
        **{GRAINS: "7"},
        settings=True,
        logger__units=("s", "mA"),
        logger__readings="0, 200\n600, 300",
        logger__group=2,
        calculator__product="H2",
        calculator__find="time",
        calculator__current="0.5",
    )
    return page


def change_prepare():
    page = Prepare()
    page.open_query(f"?cells=CuSO4,also=NaCl:0.1;KI{BOARD}")
    type_by_key(page, groups="12", room_m3="150", period_min="45", substance="NaCl")
    type_by_key(page, purity="96", stock="2", lesson__settings=True)
    return page


def change_revise():
    page = Revise()
    page.open_query(f"?set=5&count=3&level=14&topics=tests&style=clock&min=20&units=count{BOARD}")
    type_by_key(page, versions="2", topics=True)
    page.papers_panel.make()
    page.watch("NaCl,min=0.2")
    return page


CHANGES = for_every_page(
    {
        "demonstrate": change_demonstrate,
        "explore": change_explore,
        "measure": change_measure,
        "prepare": change_prepare,
        "revise": change_revise,
    }
)
CHANGED = {kind: CHANGES[name] for name, kind in PAGE_CLASSES.items()}


def values_of(page):
    """Give what every control with a key holds, and all that the page says."""
    values = {key: each.value for key, each in controls_by_key(page.widget).items()}
    return values, page_text(page.widget)


@pytest.mark.parametrize("kind", CHANGED)
def test_a_page_that_was_changed_all_over_comes_back_in_a_fresh_program(kind):
    page, fresh = changed(kind), brought_back(kind)
    assert values_of(new(kind)) != values_of(page)
    assert fresh.state == page.state
    shown, shown_before = values_of(fresh), values_of(page)
    assert shown[0] == shown_before[0]
    assert without_ids(shown[1]) == without_ids(shown_before[1])
    assert json.loads(fresh.address.page_state) == json.loads(page.address.page_state)
    assert fresh.address.query == page.address.query
    assert fresh.address.notices == []


def without_ids(html):
    return [line for line in html.splitlines() if "fp-message-" not in line]


@pytest.mark.parametrize("kind", CHANGED)
def test_every_part_of_its_state_differs_from_that_of_a_new_page(kind):
    changed_state, new_state = (json.loads(to_text(each(kind).state)) for each in (changed, new))
    same = {name for name in changed_state if changed_state[name] == new_state[name]}
    assert same <= {"page", "version", "columns", "opened"}  # a logger's and an opened file's


def test_switches_and_papers_and_sweeps_come_back_as_they_were():
    assert brought_back(Demonstrate).run_controller.is_on
    explore = brought_back(Explore)
    assert [each.is_on for each in explore.shown] == [False, True]
    assert "<svg" in page_text(explore.sweep_panel.widget)
    revise = brought_back(Revise)
    assert len(revise.printing.sheets) == 4  # two papers with their mark schemes
    assert revise.printing.sheets == changed(Revise).printing.sheets
    assert len(revise.question_runs.benches) == 1


def test_the_browser_knows_of_papers_and_sweep_before_it_shows_them():
    """A program that is lost as soon as they are in sight still leaves them in what the browser kept."""
    revise, explore = Revise(), Explore()
    known = []

    def papers_known(_):
        known.append(json.loads(revise.address.page_state)["papers"])

    def sweep_known(change):
        if "<svg" in change["new"]:
            known.append(json.loads(explore.address.page_state)["drawn_sweep"])

    explore.apply(replace(explore.state, options={**explore.state.options, "ask": "off"}))
    revise.printing.observe(papers_known, names="sheets")
    for each in parts_of(explore.sweep_panel.widget):
        if isinstance(each, ipywidgets.HTML):
            each.observe(sweep_known, names="value")
    revise.papers_panel.make()
    press(explore, "Draw it")
    assert known == [1, explore.sweep_panel.kind]


def test_what_was_typed_and_not_sent_is_typed_again_and_read():
    page = Demonstrate()
    page.restore(page.address.page_state, {"cell-minutes": "7", "cell-supply": "many", "none": "1"})
    assert page.setup_bar.setup.minutes == 7
    assert control(page.widget, "Supply, V").value == "many"
    assert "a number in V" in page_text(page.widget)


def test_a_number_that_was_written_another_way_leaves_the_switch_closed():
    page = Demonstrate()
    page.open_query("?cells=NaCl,min=0.2&ask=off")
    control(page.widget, "Time, minutes").value = "0,20"
    press(page, "Switch on")
    fresh = Demonstrate()
    fresh.restore(page.address.page_state, {"cell-minutes": "0,20"})
    assert control(fresh.widget, "Time, minutes").value == "0,20"
    assert fresh.run_controller.is_on


def test_a_text_that_is_far_too_long_is_cut():
    page = Measure()
    page.restore(page.address.page_state, {"logger-readings": "0, 1\n" * 10_000})
    assert len(page.logger_panel.readings_text) == 20_000
    assert len(page.address.page_state) < 50_000


@pytest.mark.parametrize(
    "text",
    [
        "",
        "no",
        "[]",
        "{",
        "[" * 100_000,
        '{"page": "measure", "version": 1}',
        '{"page": "demonstrate"}',
    ],
)
def test_what_is_no_state_of_this_page_is_refused_with_a_sentence_and_changes_nothing(text):
    page = Demonstrate()
    before = page.state
    page.restore(text, {})
    assert page.state == before
    (notice,) = page.address.notices
    assert "cannot be read" in notice


@pytest.mark.parametrize("kind", CHANGED)
def test_a_state_with_parts_of_the_wrong_kind_is_used_without_them(kind):
    given = json.loads(changed(kind).address.page_state)
    for name in set(given) - {"page", "version", "link"}:
        state, left_out = from_text(kind.state_type, json.dumps({**given, name: 1.5}))
        assert [each.partition(":")[0] for each in left_out] == [name]
        assert json.loads(to_text(state))["link"] == given["link"]


@pytest.mark.parametrize("kind", CHANGED)
def test_no_two_controls_share_a_key_and_all_have_one(kind):
    page = changed(kind)
    typed = (ipywidgets.Text, ipywidgets.Textarea, ipywidgets.Dropdown, ipywidgets.Checkbox)
    held = [
        each
        for each in parts_of(page.widget)
        if isinstance(each, (*typed, ipywidgets.ToggleButton))
    ]
    assert held
    assert len(controls_by_key(page.widget)) == len(held)


def test_the_browser_is_answered_even_where_nothing_can_be_read(monkeypatch):
    page = Demonstrate()
    sent = []
    monkeypatch.setattr(page.address, "send", sent.append)
    page.address._on_message(None, {"page_state": "no", "field_texts": {"cell-minutes": "7"}}, [])
    assert sent == [{"ready": True}]
    assert page.setup_bar.setup.minutes == 7


def test_a_drawn_sweep_of_a_class_that_is_asked_waits_until_the_class_has_been_told():
    page = Explore()
    page.open_query("?cells=NaCl,min=0.2")
    page.first.switch()
    page.first.bench.reveals_products = True
    page.sweep_panel.draw()
    fresh = Explore()
    fresh.restore(page.address.page_state, {})
    assert fresh.first.is_on
    assert "<svg" not in page_text(fresh.sweep_panel.widget)
    assert fresh.state == page.state  # a second reload would bring it back too
    fresh.first.bench.reveals_products = True  # as its browser says
    assert "<svg" in page_text(fresh.sweep_panel.widget)


def test_a_key_that_a_class_cannot_hold_is_refused():
    with pytest.raises(ValueError, match="'what is left' cannot be a key"):
        give_key(ipywidgets.Label("left"), "what is left")
