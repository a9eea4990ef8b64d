"""The Demonstrate page as a teacher uses it: by label and role, with a real server and browser."""

from __future__ import annotations

import re
from io import BytesIO

import numpy as np
import pytest
from matplotlib import image
from playwright.sync_api import expect
from tests.browser.visit import (
    LOADING_MS,
    PHONE,
    PROJECTOR,
    Visit,
    expect_mended,
    expect_wrong,
    violations,
)

SMALL = {"width": 1000, "height": 700}
COPPER = np.array([0xB8, 0x61, 0x2A]) / 255  # of the theme in a light room
# from now on, meters is how far down the window the voltage across the cell is written, at its foot
WATCH_THE_METERS = """() => {
  const pens = CanvasRenderingContext2D.prototype;
  const { fillText } = pens;
  pens.fillText = function (text, x, y, ...rest) {
    if (text.endsWith('V across the cell')) {
      const { top, height } = this.canvas.getBoundingClientRect();
      const foot = y + this.measureText(text).actualBoundingBoxDescent;
      const { y: dots } = this.getTransform().transformPoint({ x, y: foot });
      window.meters = top + (dots / this.canvas.height) * height;
    }
    return fillText.call(this, text, x, y, ...rest);
  };
}"""
MOVING = "no-preference"  # a picture that moves costs more than all the rest of a page


@pytest.fixture
def visit(windows, demonstrate_address):
    visits = []

    def open_page(query="?ask=off", **context):  # told at once, unless a test is about being asked
        given = {"viewport": PROJECTOR, "reduced_motion": "reduce", **context}
        visits.append(Visit(windows, demonstrate_address + query, **given))
        return visits[-1]

    yield open_page
    for each in visits:
        each.close()


def test_copper_sulfate_gives_copper_and_oxygen_to_see_to_save_and_to_lift_out(visit):
    seen = visit()
    page = seen.page
    page.get_by_label("Solution").select_option(label="copper(II) sulfate CuSO₄")
    expect(seen.side_card("Cathode")).to_contain_text("Cu²⁺")
    seen.switch_on()
    expect(seen.side_card("Cathode")).to_contain_text("copper")
    expect(seen.side_card("Cathode")).to_contain_text("orange-brown deposit")
    expect(seen.side_card("Anode")).to_contain_text("oxygen")
    expect(seen.side_card("Anode")).to_contain_text("splint relights")
    expect(page.get_by_role("img", name="Copper on the cathode, mg")).to_be_visible()
    expect(page.get_by_role("region", name="What is happening")).to_contain_text(
        "copper ions take two electrons each"
    )
    profile = page.get_by_role("img", name="Along the cell, mol/dm³")
    expect(profile).to_be_hidden()
    page.get_by_role("switch", name="All charts").click()
    expect(profile).to_be_visible()
    scrubber = page.get_by_role("slider", name="Time in the run")
    line = profile.locator("[id$='profile-curve-0'] path")
    scrubber.press("Home")
    before = line.get_attribute("d")
    scrubber.press("End")
    assert line.get_attribute("d") != before
    with page.expect_download() as download:
        seen.button("Save CSV: Copper on the cathode, mg").click()
    figures = download.value.path().read_text("utf-8-sig").splitlines()
    assert figures[0].startswith('minutes,"this run')
    assert float(figures[-1].split(",")[1]) == pytest.approx(4.6, abs=0.2)
    with page.expect_download() as download:
        seen.button("Save SVG: Copper on the cathode, mg").click()
    assert "var(" not in download.value.path().read_text("utf-8")
    with page.expect_download() as download:
        seen.button("Save PNG: Copper on the cathode, mg").click()
    dots = download.value.path().read_bytes()
    assert dots.startswith(b"\x89PNG")
    assert len(dots) > 5000  # something is drawn
    _saves_its_picture(seen)
    assert violations(page) == []
    seen.button("Lift electrodes").click()
    lifted = page.get_by_role("region", name="Electrodes lifted out")
    layer = lifted.locator("svg rect").first
    widths = []
    for moment in (150, 300):
        scrubber.fill(str(moment))
        expect(page.get_by_role("status", name="Clock")).to_have_text(
            f"{moment // 60} min {moment % 60} s"
        )
        widths.append(float(layer.get_attribute("width")) - 36)  # the rod is 36 wide
    assert widths[1] == pytest.approx(2 * widths[0], rel=0.1)
    expect(lifted).to_contain_text("much thicker than they are")

    assert seen.errors == []
    assert seen.foreign == []
    page.goto("about:blank")
    assert seen.errors == []  # nor is it left with a complaint


def _saves_its_picture(seen):
    """As wide as a projector's, opaque, and with the colours of what is on the page."""
    page = seen.page
    with page.expect_download() as download:
        seen.button("Save picture").click()
    assert re.fullmatch(r"CuSO4-(\d+min)?\d+s\.png", download.value.suggested_filename)
    picture = image.imread(BytesIO(download.value.path().read_bytes()))
    height, width, _ = picture.shape
    assert width >= 1920
    wide, high = page.locator(".fp-scene canvas").evaluate("(c) => [c.clientWidth, c.clientHeight]")
    strip = round(0.03 * width)  # in which the solution and the time are written
    assert width / (height - strip) == pytest.approx(wide / high, rel=0.01)
    letters = np.abs(picture[-strip:, :, :3] - picture[-1, 0, :3]).max(axis=2) > 0.5
    assert 0.001 < letters.mean() < 0.2
    assert picture.shape[2] == 3 or picture[..., 3].min() == 1.0
    copper = np.abs(picture[..., :3] - COPPER).max(axis=2) < 0.02
    assert copper.mean() > 1e-4


def test_the_picture_moves_while_it_plays_stands_when_paused_and_starts_again(visit):
    seen = visit(reduced_motion=MOVING, viewport=SMALL)
    seen.button("CuCl₂").click()
    expect(seen.side_card("Cathode")).to_contain_text("Cu²⁺")
    seen.switch_on()
    before = seen.picture()
    seen.picture_changes(before)
    seen.button("Pause").click()
    clock = seen.page.get_by_role("status", name="Clock")
    made = seen.side_card("Cathode").locator(".fp-made")
    paused = clock.inner_text()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    scrubber.press("End")
    expect(clock).to_have_text("5 min 0 s")
    assert paused != "5 min 0 s"
    expect(made).to_have_text(re.compile(r"[1-9]\S* mg copper"))
    scrubber.press("Home")
    expect(made).to_have_text(re.compile(r"^0 mg copper"))
    scrubber.press("End")
    expect(clock).to_have_text("5 min 0 s")
    seen.button("Restart").click()
    expect(clock).not_to_have_text("5 min 0 s")
    expect(seen.button("Pause")).to_be_visible()


def test_a_run_plays_without_asking_python(visit):
    seen = visit("?cells=Na2SO4,min=0.35", reduced_motion=MOVING, viewport=SMALL)
    seen.switch_on()
    clock = seen.page.get_by_role("status", name="Clock")
    expect(clock).not_to_have_text("0 s")
    assert any("comm_msg" in message for message in seen.sent)  # the switch did ask
    seen.sent.clear()
    expect(clock).to_have_text("21 s", timeout=LOADING_MS)
    assert [message for message in seen.sent if "comm_msg" in message] == []


def test_a_link_shows_its_own_cell_at_once_and_stills_change_on_demand(visit):
    seen = visit("?cells=CuSO4", reduced_motion="reduce")
    assert "copper" in seen.side_card("Cathode").inner_text()  # without waiting for it
    seen.page.wait_for_url("**v=1**")
    assert not [message for message in seen.sent if '"link_query"' in message]
    seen.switch_on()
    expect(seen.button("Play")).to_be_visible()
    still = seen.picture()
    seen.page.evaluate(
        "() => new Promise(done => { let n = 20;"
        " const next = () => --n ? requestAnimationFrame(next) : done(); next(); })"
    )
    assert seen.picture() == still
    seen.page.get_by_role("slider", name="Time in the run").press("Home")
    seen.picture_changes(still)


def test_a_wrong_concentration_is_refused_beside_its_control_and_the_picture_stays(visit):
    seen = visit()
    seen.switch_on()
    expect(seen.side_card("Anode")).to_contain_text("oxygen")
    before = seen.picture()
    volume = seen.page.get_by_label("Volume, cm³")
    field = seen.page.get_by_role("textbox", name="Concentration, mol/dm³")
    field.fill("strong")
    field.press("Tab")
    alert = seen.page.get_by_role("alert")
    expect(alert).to_contain_text("Concentration, mol/dm³: 'strong' cannot be used. Use a number")
    control, words = field.bounding_box(), alert.bounding_box()
    assert abs(words["x"] - control["x"]) < control["width"]
    assert 0 < words["y"] - control["y"] < 120
    expect_wrong(field, "'strong' cannot be used")
    assert seen.page.locator("[aria-invalid=true]").count() == 1  # no other field is blamed
    expect(field).to_have_value("strong")
    expect(volume).to_have_value("60")
    expect(seen.side_card("Anode")).to_contain_text("oxygen")
    assert seen.picture() == before
    field.fill("0,25")
    field.press("Tab")
    expect(alert).to_have_count(0)
    expect_mended(field)
    expect(seen.button("Switch on")).to_be_visible()
    assert seen.errors == []


def test_everyone_can_use_the_page_projected_and_on_a_phone_in_a_light_and_a_dim_room(visit):
    seen = visit()
    page = seen.page
    wide = (
        "() => [...document.querySelectorAll('.fp-page, .fp-page *')].filter(node =>"
        " node.getBoundingClientRect().right > innerWidth + 1"
        " && !node.closest('.fp-solutions, .fp-data-table, svg')).length"
    )

    def in_both_rooms():
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
            assert violations(page) == [], scheme

    in_both_rooms()
    seen.switch_on()
    in_both_rooms()
    for part in (
        seen.side_card("Cathode"),
        seen.side_card("Anode"),
        page.locator(".fp-chart").first,
    ):
        box = part.bounding_box()
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= PROJECTOR["height"]
    page.set_viewport_size(PHONE)
    page.wait_for_function(f"() => ({wide})() === 0")
    in_both_rooms()
    seen.button("Switch off").click()
    switch = seen.button("Switch on").bounding_box()
    assert switch["y"] > PHONE["height"] / 2
    assert switch["y"] + switch["height"] <= PHONE["height"]
    assert switch["height"] >= 44
    assert page.evaluate(wide) == 0
    in_both_rooms()


def test_a_room_is_dimmed_letters_grow_and_the_scene_does_not_shrink(visit):
    seen = visit()
    page = seen.page
    pictures = [seen.picture()]
    for particles in ("more ions, smaller", "ions and water"):
        seen.choose("Particles", particles)
        pictures.append(seen.picture())
    assert len(set(pictures)) == 3
    ground = "() => getComputedStyle(document.querySelector('.fp-page')).backgroundColor"
    size = "() => getComputedStyle(document.querySelector('.fp-side-card')).fontSize"
    light = page.evaluate(ground)
    dim = page.get_by_role("switch", name="Dim room")
    dim.click()
    expect(dim).to_be_checked()
    assert page.evaluate(ground) != light
    seen.switch_on()
    scene = page.locator(".fp-scene")
    letters = "() => getComputedStyle(document.querySelector('.fp-chart text')).fontSize"
    before, small = scene.bounding_box(), page.evaluate(letters)
    picture = seen.picture()
    page.get_by_role("switch", name="Projector size").click()
    seen.picture_changes(picture)
    assert page.evaluate(size) == "20px"
    after, large = scene.bounding_box(), page.evaluate(letters)
    assert after["width"] >= before["width"]
    assert after["height"] >= before["height"]
    assert float(large[:-2]) >= 1.2 * float(small[:-2])
    page.get_by_role("switch", name="Projector size").click()
    page.get_by_role("switch", name="All charts").click()
    box = scene.bounding_box()
    assert before["height"] - 5 <= box["height"] <= 1.1 * before["height"]
    seen.button("Full screen").click()
    page.wait_for_function("() => document.fullscreenElement !== null")
    page.get_by_role("slider", name="Time in the run").press("Home")
    seen.button("Lift electrodes").click()
    expect(page.get_by_role("region", name="Electrodes lifted out")).to_be_visible()
    assert scene.bounding_box()["height"] > 0.75 * PROJECTOR["height"]


def test_a_vessel_brings_a_volume_that_it_can_hold_and_a_u_tube_is_violet_green_and_red(visit):
    seen = visit()
    volume = seen.page.get_by_role("textbox", name="Volume, cm³")
    seen.choose("Vessel", "dish")
    expect(volume).to_have_value("2")
    seen.switch_on()
    expect(seen.side_card("Cathode")).to_contain_text("hydrogen")
    seen.choose("Vessel", "U-tube")
    expect(volume).to_have_value("60")
    seen.choose("Indicator", "universal")
    seen.switch_on()
    expect(seen.side_card("Cathode")).to_contain_text("hydrogen")
    seen.page.get_by_role("slider", name="Time in the run").press("End")
    cathode = seen.colour(0.097, 0.37, 0.118, 0.5)
    bend = seen.colour(0.33, 0.62, 0.68, 0.92)  # so wide that the ions drawn in it do not decide
    anode = seen.colour(0.882, 0.37, 0.903, 0.5)
    assert cathode[2] > cathode[1] + 10
    assert bend[1] > max(bend[0], bend[2]) + 10
    assert anode[0] > max(anode[1], anode[2]) + 30
    assert seen.errors == []


def test_on_a_phone_a_copper_anode_tells_its_loss_once_and_a_crystal_colours_a_damp_strip(visit):
    seen = visit(viewport=PHONE)
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    seen.button("NaCl").click()
    seen.page.get_by_role("button", name="Set-up").click()
    seen.choose("Anode", "copper")
    seen.switch_on()
    scrubber.press("End")
    expect(seen.side_card("Anode")).to_contain_text("copper(I) ions")
    made = seen.side_card("Anode").locator(".fp-made")
    assert made.text_content().count("metal dissolved") == 1
    canvas = seen.page.locator(".fp-scene canvas")
    box = canvas.bounding_box()
    assert box["x"] + box["width"] <= PHONE["width"] + 1
    seen.choose("Anode", "graphite")
    seen.choose("Solution", "potassium nitrate KNO₃")
    seen.choose("Vessel", "paper strip")
    seen.choose("Crystal", "KMnO₄, purple")
    expect(seen.page.get_by_role("textbox", name="Volume, cm³")).to_be_hidden()
    seen.switch_on()
    scrubber.press("End")
    places = [(0.28, 0.5, 0.38, 0.85), (0.52, 0.5, 0.6, 0.85)]

    def is_purple_towards_the_anode():
        before, after = (seen.colour(*place) for place in places)
        towards_cathode, towards_anode = ((c[0] + c[2]) / 2 - c[1] for c in (before, after))
        return towards_anode > towards_cathode + 15

    assert is_purple_towards_the_anode()
    width = canvas.bounding_box()["width"]
    seen.page.set_viewport_size(PROJECTOR)
    seen.page.wait_for_function(
        "width => document.querySelector('.fp-scene canvas').width > width", arg=1.5 * width
    )
    assert is_purple_towards_the_anode()
    assert seen.errors == []


def test_the_close_up_counts_the_same_electrons_at_both_electrodes_until_the_run_plays_on(visit):
    seen = visit(reduced_motion=MOVING)
    seen.page.evaluate(WATCH_THE_METERS)
    expect(seen.button("Close-up")).to_be_disabled()
    seen.switch_on()
    seen.page.wait_for_function("() => window.meters")
    seen.button("Close-up").click()
    panel = seen.page.get_by_role("region", name="Close-up")
    expect(panel).to_contain_text("2 H⁺ arrive")
    expect(panel).to_contain_text("4 OH⁻ arrive")
    expect(seen.button("Play")).to_be_visible()  # the run stands while it is looked at
    assert panel.bounding_box()["y"] >= seen.page.evaluate("() => window.meters")
    seen.button("Next step").press("Enter")
    expect(panel).to_contain_text("2 electrons cross from the electrode to H⁺")
    expect(panel).to_contain_text("2 electrons cross from OH⁻ to the electrode")
    expect(panel).to_contain_text("in these events alone: 2 electrons at each electrode")
    seen.button("Next step").press("Enter")
    expect(panel).to_contain_text("One H₂ has formed")
    expect(panel).to_contain_text("The electrode waits: 2 electrons still to cross")
    assert panel.locator("svg").first.locator("circle").count() == 2  # H2: two discs joined
    for _ in range(3):
        seen.button("Next step").press("Enter")
    expect(panel).to_contain_text("One O₂ and 2 H₂O have formed")
    expect(panel).to_contain_text("Both electrodes have finished together")
    for viewport, room in ((PROJECTOR, "light"), (PHONE, "dark")):
        seen.page.set_viewport_size(viewport)
        seen.page.emulate_media(color_scheme=room, reduced_motion=MOVING)
        expect(panel).to_be_visible()
        assert seen.page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
        assert violations(seen.page) == []
    seen.button("Close-up").click()
    expect(panel).to_be_hidden()
    seen.button("Close-up").click()
    expect(panel).to_be_visible()
    seen.button("Play").click()
    expect(panel).to_be_hidden()
    assert seen.button("Close-up").get_attribute("aria-expanded") == "false"
    assert seen.errors == []


def test_switching_to_and_fro_leaves_nothing_behind(visit):
    """Every run mounts a scene anew: listeners, nodes and memory of the old one must go."""
    seen = visit(viewport=SMALL)
    minutes = seen.page.get_by_role("textbox", name="Time, minutes")
    minutes.fill("0.2")
    minutes.press("Enter")
    inspector = seen.page.context.new_cdp_session(seen.page)
    inspector.send("Performance.enable")

    def toggle(times):
        for _ in range(times):
            seen.switch_on()
            seen.button("Switch off").click()
            seen.button("Switch on").wait_for()
        inspector.send("HeapProfiler.collectGarbage")
        found = inspector.send("Performance.getMetrics")["metrics"]
        return {each["name"]: each["value"] for each in found}

    first, last = toggle(2), toggle(6)
    assert last["JSEventListeners"] <= first["JSEventListeners"] + 5
    assert last["Nodes"] <= first["Nodes"] + 100
    assert last["JSHeapUsedSize"] <= first["JSHeapUsedSize"] + 2e6


def test_each_run_keeps_its_playhead_and_a_list_goes_to_a_file_and_back(visit, tmp_path):
    seen = visit()
    seen.switch_on()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    clock = seen.page.get_by_role("status", name="Clock")
    scrubber.press("Home")
    for _ in range(3):
        seen.button("Step").click()
    left_at = clock.inner_text()
    seen.button("Next").click()
    expect(seen.button("Switch on")).to_be_visible()
    seen.switch_on()
    expect(clock).to_have_text("5 min 0 s")
    seen.button("✓ Na₂SO₄").click()
    expect(seen.side_card("Anode")).to_contain_text("oxygen")
    expect(clock).to_have_text(left_at)
    seen.button("Lesson settings").click()
    seen.button("Remove").click()
    expect(seen.button("✓ Na₂SO₄")).to_be_hidden()
    with seen.page.expect_download() as download:
        seen.button("Save list").click()
    saved = tmp_path / "cells.txt"
    download.value.save_as(saved)
    assert saved.read_text() == "fizzplate cells 1\nNaCl\nCuCl2\nCuSO4\n"
    saved.write_text("fizzplate cells 1\nAgNO3,c=0.1\n")
    seen.page.get_by_label("Open list").set_input_files(saved)
    expect(seen.button("AgNO₃ 0.1 mol/dm³")).to_be_visible()
    saved.write_text("no list at all\n")
    chooser = seen.page.get_by_label("Open list")
    for _ in range(2):  # the same refusal is said anew
        chooser.set_input_files(saved)
        expect(seen.page.locator(".fp-notice")).to_be_visible()
        expect_wrong(chooser, seen.page.locator(".fp-notice ul").text_content())
        seen.button("Understood").click()
        expect_mended(chooser)
    assert violations(seen.page) == []
    assert seen.errors == []


def test_a_link_opens_the_page_as_it_was_and_says_what_it_left_out(visit):
    seen = visit(query="?v=1&cells=KI;CuSO4,anode=copper,c=0.2;Gold&open=1&ask=off")
    expect(seen.page.get_by_role("combobox", name="Anode", exact=True)).to_have_value("copper")
    expect(seen.page.get_by_role("textbox", name="Concentration, mol/dm³")).to_have_value("0.2")
    notice = seen.page.get_by_role("alert").filter(has_text="'Gold'")
    expect(notice).to_be_visible()
    seen.button("Understood").click()
    expect(notice).to_be_hidden()
    seen.button("Next").click()
    # the last of the list is followed by the first, which an address need not say
    seen.page.wait_for_function(
        "() => location.search === '?v=1&cells=KI;CuSO4,c=0.2,anode=copper&ask=off'"
    )
    assert seen.errors == []
