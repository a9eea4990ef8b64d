"""A class's own numbers: wrong settings are refused by name, and what does not act is not asked for."""

import re

import pytest
from tests.views.parts import control, is_marked_wrong, is_offered, page_text, parts_of

from fizzplate.lesson.measure.class_entries import invented_rows
from fizzplate.views.pages.measure import Measure

BALANCE, LIQUID = "Balance reads to, g", "Liquid trapped, mg"
HYDROGEN, GAS = "Hydrogen with the metal, % of the charge", "Gas dissolved, % of the gas"


@pytest.fixture(scope="module")
def page():
    """Give a page with the invented class, which weighed copper; each test leaves it as it was."""
    made = Measure()
    made.grid.rows = invented_rows()
    return made


@pytest.mark.parametrize(
    ("label", "wrong", "words"),
    [
        (BALANCE, "0", "above 0"),
        (BALANCE, "101", "at most 100 g"),
        (LIQUID, "-1", "from 0"),
        (LIQUID, "10001", "to 10 000 mg"),
        (HYDROGEN, "101", "to 100 %"),
    ],
)
def test_a_setting_that_cannot_be_used_takes_the_results_away_until_it_is_mended(
    page, label, wrong, words
):
    usual = control(page.widget, label).value
    found = page_text(page.widget)
    assert "The class&#39;s Faraday constant" in found
    control(page.widget, label).value = wrong
    assert words in page_text(page.widget)
    assert is_marked_wrong(page.widget, label)
    assert "The class&#39;s Faraday constant" not in page_text(page.widget)
    assert page.results_export.csv.splitlines()[:2] == ["group,charge / C", "A,240"]  # as typed
    control(page.widget, label).value = usual
    assert not is_marked_wrong(page.widget, label)
    assert page_text(page.widget) == found


def test_only_causes_that_move_what_was_measured_are_asked_for(page):
    assert is_offered(page.widget, LIQUID)
    assert not is_offered(page.widget, GAS)


def test_a_value_is_written_to_the_place_of_its_uncertainty(page):
    found = page_text(page.widget)
    pairs = re.findall(r"([−\d.]+) ± ([\d.]+)(?= (?:mg|\())", found)
    assert len(pairs) >= 10
    places = [tuple(len(each.partition(".")[2]) for each in pair) for pair in pairs]
    assert all(value == error for value, error in places), pairs
    assert not re.search(r"-[\d.]+ ±", found)  # a true minus
    held = [str(getattr(each, "value", "")) for each in parts_of(page.widget)]
    assert any("0\N{NO-BREAK SPACE}%<" in each for each in held)  # a share stays in one line


def test_a_link_sets_what_it_may_and_the_address_holds_what_is_not_usual(page):
    page.open_query("?metal=Au&tube=0&balance=0.01&gas=Cl2")
    assert [notice.split(":")[0] for notice in page.address.notices] == ["metal", "tube"]
    assert control(page.widget, "Metal").value == "Cu"
    assert control(page.widget, BALANCE).value == "0.01"
    assert page.address.query == "v=1&gas=Cl2&balance=0.01"
    page.open_query("?metal=Cu")
    assert page.address.query == "v=1"
    assert control(page.widget, BALANCE).value == "0.001"
