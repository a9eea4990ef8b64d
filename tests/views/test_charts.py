"""Charts keep text as text, tell their figures in words, and are the same at every drawing."""

import re
import xml.etree.ElementTree as ET
from importlib import resources
from itertools import pairwise

import numpy as np
import pytest

from fizzplate.cell import Cell, Lamp
from fizzplate.views.figures.charts import FILM_SHARE, charts, gas_chart, profile_chart
from fizzplate.views.figures.graphs import Line, Mark, Stretches, graph
from fizzplate.views.web.theme import tokens
from fizzplate.words.wording import Wording

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def copper_sulfate():
    return Cell("CuSO4", concentration_mol_dm3=0.1).run(minutes=10, samples=41)


@pytest.fixture(scope="module")
def sodium_sulfate():
    return Cell("Na2SO4").run(minutes=10, samples=41)


def tree(chart):
    return ET.fromstring(chart.svg)  # noqa: S314  # our own drawing


def texts(chart):
    return [text.text for text in tree(chart).iter(f"{SVG}text")]


def curve_of(chart, place):
    """Give the drawing of one of a chart's lines."""
    return re.search(rf'id="{chart.name}-curve-{place}"[^>]*>(.*?)</g>', chart.svg, re.DOTALL)[1]


def described(chart):
    return tree(chart).find(f"{SVG}desc").text


def named(run):
    return {chart.name: chart for chart in charts(run)}


def table(chart):
    head, *lines = chart.csv.strip().split("\n")
    return head, np.array([[float(value) for value in line.split(",")] for line in lines])


def test_copper_sulfate_has_gas_copper_and_acidity(copper_sulfate):
    first = [chart.name for chart in charts(copper_sulfate) if not chart.further]
    assert first == ["gas", "metal", "acidity"]
    further = [chart.name for chart in charts(copper_sulfate) if chart.further]
    assert further == ["current", "profile"]


def test_a_run_without_copper_has_no_copper_chart(sodium_sulfate):
    assert "metal" not in named(sodium_sulfate)


def test_titles_units_and_names_are_text(copper_sulfate, sodium_sulfate):
    gas = named(sodium_sulfate)["gas"]
    assert {"Gas made, cm³", "cathode", "hydrogen", "anode", "oxygen", "10 min"} <= set(texts(gas))
    copper = named(copper_sulfate)["metal"]
    assert {"Copper on the cathode, mg", "this run", "charge allows"} <= set(texts(copper))


def test_the_words_carry_the_figures_of_the_run(sodium_sulfate, copper_sulfate):
    gas = named(sodium_sulfate)["gas"]
    made = float(sodium_sulfate.cathode.gas_cm3("H2")[-1])
    assert f"{made:.2g} cm³ at the cathode (hydrogen)" in described(gas)
    assert "Cathode : anode = 2.0 : 1" in described(gas)
    copper = named(copper_sulfate)["metal"]
    gained = 1e3 * float(copper_sulfate.cathode.mass_g("Cu")[-1])
    assert float(re.search(r"([\d.e+]+) mg; the charge", described(copper))[1]) == pytest.approx(
        gained, rel=0.05
    )  # two figures are written


def test_what_is_dotted_is_what_the_charge_allows(copper_sulfate):
    copper = named(copper_sulfate)["metal"]
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
    gas = named(sodium_sulfate)["gas"]
    curve = re.search(r'<path[^>]* d="M ([\d.]+) ([\d.]+)', curve_of(gas, 0))
    assert float(curve[1]) == pytest.approx(gas.box["left"], abs=0.01)
    assert float(curve[2]) == pytest.approx(gas.box["bottom"], abs=0.01)
    ends = [float(x) for x, _ in re.findall(r"L ([\d.]+) ([\d.]+)", curve_of(gas, 0))]
    assert max(ends) == pytest.approx(gas.box["right"], abs=0.01)
    figure = [float(edge) for edge in re.search(r'viewBox="([^"]+)"', gas.svg)[1].split()]
    assert figure[1] < gas.box["top"] < gas.box["bottom"] < figure[3]
    assert tokens().light["ink"] not in gas.svg


def test_a_line_along_an_edge_of_the_axes_is_drawn_as_thick_as_anywhere(copper_sulfate):
    assert "clip-path" not in curve_of(
        named(copper_sulfate)["gas"], 0
    )  # the cathode gives little gas


def test_the_figures_of_a_chart_are_those_of_the_run(copper_sulfate):
    head, figures = table(named(copper_sulfate)["metal"])
    assert head.startswith('minutes,"this run: Copper on the cathode, mg"')
    assert figures[:, 0] == pytest.approx(copper_sulfate.time_s / 60, rel=1e-5)
    assert figures[:, 1] == pytest.approx(1e3 * copper_sulfate.cathode.mass_g("Cu"), rel=1e-5)
    _, current = table(named(copper_sulfate)["current"])
    assert current[:, 1] == pytest.approx(1e3 * copper_sulfate.current_A, rel=1e-5)


def test_the_profile_names_the_ions_of_the_solution_and_holds_their_ends(copper_sulfate):
    profile = named(copper_sulfate)["profile"]
    assert {"Cu2+", "SO4^2-"} <= set(profile.profile["species"])
    head, figures = table(profile)
    column = 1 + profile.profile["species"].index("Cu2+")
    assert "c(Cu2+) in mol/dm3" in head
    last = copper_sulfate.concentration("Cu2+")[-1]
    assert figures[:, column] == pytest.approx(last / 1000, rel=1e-5)
    assert profile.profile["highest"] >= figures[:, 1:].max()


def test_the_films_are_as_wide_in_the_profile_as_in_the_scene():
    folder = resources.files("fizzplate.views").joinpath("scene", "vessels")
    scene = folder.joinpath("vessel.js").read_text("utf-8")
    assert f"const FILM_SHARE = {FILM_SHARE};" in scene


def names_at_the_edge(chart):
    """Give each line of text that stands beside the axes, and how far down it is."""
    place = re.compile(r"(?:translate|rotate)\((?:-0 )?([\d.]+) ([\d.]+)")
    found = ((t.text, place.match(t.get("transform"))) for t in tree(chart).iter(f"{SVG}text"))
    return [(name, float(at[2])) for name, at in found if float(at[1]) > chart.box["right"] + 1]


def test_a_line_is_named_at_its_end_and_no_name_lies_on_another(sodium_sulfate, copper_sulfate):
    drawn = named(sodium_sulfate)
    letters = 10.5  # their size
    names = dict(names_at_the_edge(drawn["profile"]))
    for place, name in enumerate(("Na⁺", "SO₄²⁻")):
        end = float(re.findall(r"L [\d.]+ ([\d.]+)", curve_of(drawn["profile"], place))[-1])
        assert names[name] == pytest.approx(end + letters / 3, abs=letters / 3)
    for chart in (*drawn.values(), *charts(copper_sulfate)):
        heights = sorted(height for _, height in names_at_the_edge(chart))
        assert all(low - high > letters for high, low in pairwise(heights))
        assert chart.box["top"] - letters < heights[0]
        assert heights[-1] < chart.box["bottom"] + letters


def test_gas_that_dissolved_is_told_apart_from_what_is_collected(sodium_sulfate):
    gas = named(sodium_sulfate)["gas"]
    assert "collected" in texts(gas)
    head, figures = table(gas)
    made = sodium_sulfate.cathode.gas_cm3("H2")
    caught = sodium_sulfate.cathode.gas_cm3("H2", collected=True)
    assert (made[-1] - caught[-1]) > 0.02 * made[-1]
    assert '"collected: Gas made, cm³"' in head
    assert figures[:, 3] == pytest.approx(caught, rel=1e-5, abs=1e-9)
    groups = {g.get("id"): g for g in tree(gas).iter(f"{SVG}g") if g.get("id")}
    assert "dasharray" in groups["gas-curve-2"].find(f"{SVG}path").get("style")


@pytest.fixture(scope="module")
def copper_anode():
    return Cell("CuSO4", anode="copper", concentration_mol_dm3=0.2).run(minutes=2, samples=9)


def test_a_ratio_is_told_of_gas_at_both_electrodes_only_and_the_smaller_is_1(
    copper_anode, copper_sulfate
):
    cells = (Cell("CuSO4"), Cell("KI", supply_V=5.0))
    little = [cell.run(minutes=1, samples=3) for cell in cells]
    for run in (copper_anode, *little):  # with a trace of hydrogen, and of oxygen
        assert "No ratio: gas at one electrode only" in described(gas_chart(run))
    made = copper_sulfate.cathode.gas_cm3("H2")[-1], copper_sulfate.anode.gas_cm3("O2")[-1]
    told = re.search(r"Cathode : anode = 1 : ([\d.]+)\.", described(gas_chart(copper_sulfate)))
    assert float(told[1]) == pytest.approx(made[1] / made[0], rel=0.05)


def test_what_the_anode_loses_is_drawn_where_it_loses_something(copper_anode, copper_sulfate):
    head, figures = table(named(copper_anode)["metal"])
    assert "lost by the anode" in head
    assert figures[-1, 3] == pytest.approx(-1e3 * copper_anode.anode.mass_g("Cu")[-1], rel=1e-5)
    assert "lost" not in named(copper_sulfate)["metal"].csv
    assert "lost" not in described(named(copper_sulfate)["metal"])


def test_a_run_without_gas_has_no_gas_chart():
    run = Cell("CuSO4", anode="copper", lamp=Lamp(6.0, 0.06)).run(minutes=5, samples=11)
    assert "gas" not in named(run)
    assert "metal" in named(run)


def test_only_a_vessel_with_films_names_them_in_the_profile():
    for vessel, films in (("beaker", 2), ("paper strip", 0)):
        run = Cell("CuSO4", vessel=vessel).run(minutes=1, samples=3)
        assert profile_chart(run).svg.count(f"{run.cell.vessel.film_mm:g} mm") >= films
        assert ("0 mm" in profile_chart(run).svg) is False


BY_SIGN = Wording(electrode_names="negative")


def test_a_board_that_names_electrodes_by_sign_finds_no_other_name_on_a_chart(
    copper_anode, sodium_sulfate
):
    signs = [chart for run in (copper_anode, sodium_sulfate) for chart in charts(run, BY_SIGN)]
    assert not any(
        re.search("cathode|anode", chart.svg + chart.csv, re.IGNORECASE) for chart in signs
    )
    gas = gas_chart(sodium_sulfate, BY_SIGN)
    assert {"negative", "positive", "negative : positive = 2.0 : 1"} <= set(texts(gas))
    assert "cm³ at the negative electrode (hydrogen)" in described(gas)


def colours(svg):
    """Give the class of the group that each painted part of a drawing stands in, by what the part is."""
    found = {}
    for group in ET.fromstring(svg).iter(f"{SVG}g"):  # noqa: S314  # our own drawing
        painted = group.get("class", "").removeprefix("fp-colour-")
        for part in group.iter():
            what = part.text if part.tag == f"{SVG}text" else group.get("id")
            if painted and what:
                found[what] = painted
    return found


def test_parts_of_a_drawing_have_the_colours_of_the_page(copper_sulfate):
    metal = colours(named(copper_sulfate)["metal"].svg)
    assert metal["metal-curve-0"] == "copper"
    ratio = colours(gas_chart(copper_sulfate).svg)
    assert next(c for text, c in ratio.items() if "cathode : anode" in text) == "quiet"
    grey = Stretches("gap", ((0.2, 0.4),), "//")
    x = np.linspace(0, 1, 5)
    near = Mark("onset 0.6 V", 0.6)
    graphed = graph(
        "g", "A", ("level", "upright"), [Line("a", x, x)], stretches=[grey], mark=near, here=0.5
    )
    expected = {"your cell": "accent", "onset 0.6 V": "ink", "level": "quiet"}
    assert colours(graphed) | expected == colours(graphed)
    assert "marked: onset 0.6 V" in graphed
    hatch = ET.fromstring(graphed).find(f".//{SVG}pattern")  # noqa: S314  # our own drawing
    assert hatch.get("class") == "fp-colour-quiet"


def test_the_style_of_a_drawing_reaches_nothing_else_on_the_page(copper_sulfate):
    for chart in charts(copper_sulfate):
        for rule in re.findall(r"([^{}]+)\{", tree(chart).find(f"{SVG}style").text):
            assert rule.strip().startswith(".fp-drawing")
