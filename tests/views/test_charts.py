"""Charts keep text as text, tell their figures in words, and are the same at every drawing."""

import re
import xml.etree.ElementTree as ET

import pytest

from fizzplate.cell import Cell
from fizzplate.views.charts import charts, gas_chart
from fizzplate.views.theme import tokens

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def copper_sulfate():
    return Cell("CuSO4").run(minutes=10, samples=41)


@pytest.fixture(scope="module")
def sodium_sulfate():
    return Cell("Na2SO4").run(minutes=10, samples=41)


def tree(chart):
    return ET.fromstring(chart.svg)  # noqa: S314  # our own drawing


def texts(chart):
    return [text.text for text in tree(chart).iter(f"{SVG}text")]


def described(chart):
    return tree(chart).find(f"{SVG}desc").text


def test_copper_sulfate_has_gas_copper_and_acidity(copper_sulfate):
    assert [chart.name for chart in charts(copper_sulfate)] == ["gas", "metal", "acidity"]


def test_a_run_without_copper_has_no_copper_chart(sodium_sulfate):
    assert [chart.name for chart in charts(sodium_sulfate)] == ["gas", "acidity"]


def test_titles_units_and_names_are_text(copper_sulfate, sodium_sulfate):
    gas, _ = charts(sodium_sulfate)
    assert {"Gas made, cm³", "cathode", "hydrogen", "anode", "oxygen", "10 min"} <= set(texts(gas))
    _, copper, _ = charts(copper_sulfate)
    assert {"Copper on the cathode, mg", "this run", "charge allows"} <= set(texts(copper))


def test_the_words_carry_the_figures_of_the_run(sodium_sulfate, copper_sulfate):
    gas, _ = charts(sodium_sulfate)
    made = float(sodium_sulfate.cathode.gas_cm3("H2")[-1])
    assert f"{made:.2g} cm³ at the cathode (hydrogen)" in described(gas)
    assert "Cathode : anode = 2.0 : 1" in described(gas)
    _, copper, _ = charts(copper_sulfate)
    gained = 1e3 * float(copper_sulfate.cathode.mass_g("Cu")[-1])
    assert float(re.search(r"([\d.e+]+) mg; the charge", described(copper))[1]) == pytest.approx(
        gained, rel=0.05
    )  # two figures are written


def test_what_is_dotted_is_what_the_charge_allows(copper_sulfate):
    _, copper, _ = charts(copper_sulfate)
    groups = {g.get("id"): g for g in tree(copper).iter(f"{SVG}g") if g.get("id")}
    solid = groups["metal-curve-0"].find(f"{SVG}path").get("style")
    dotted = groups["metal-curve-1"].find(f"{SVG}path").get("style")
    assert "dasharray" not in solid
    assert "dasharray" in dotted


def test_the_same_run_is_drawn_the_same(sodium_sulfate):
    assert gas_chart(sodium_sulfate) == gas_chart(sodium_sulfate)


def test_ids_are_the_charts_own(copper_sulfate):
    ids = [
        found
        for chart in charts(copper_sulfate)
        for found in re.findall(r'\bid="([^"]+)"', chart.svg)
    ]
    assert len(ids) == len(set(ids))


def test_no_colour_is_left_that_the_dim_room_cannot_change(copper_sulfate):
    for chart in charts(copper_sulfate):
        assert not re.search(r"#[0-9a-f]{6}", chart.svg)
        assert "var(--fp-ink)" in chart.svg


def test_the_box_is_where_the_axes_lie(sodium_sulfate):
    gas, _ = charts(sodium_sulfate)
    curve = re.search(r'id="gas-curve-0">\s*<path d="M ([\d.]+) ([\d.]+)', gas.svg)
    assert float(curve[1]) == pytest.approx(gas.box["left"], abs=0.01)
    assert float(curve[2]) == pytest.approx(gas.box["bottom"], abs=0.01)
    assert tokens().light["ink"] not in gas.svg
