"""The Demonstrate page as a teacher uses it: by label and role, with a real server and browser."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from tests.browser.visit import LOADING_MS, PHONE, PROJECTOR, Visit, expect_mended, expect_wrong

MOVING = "no-preference"  # a picture that moves costs more than all the rest of a page


@pytest.fixture
def visit(window, demonstrate_address):
    visits = []

    def open_page(query="?ask=off", **context):  # told at once, unless a test is about being asked
        given = {"viewport": PROJECTOR, "reduced_motion": "reduce", **context}
        visits.append(Visit(window, demonstrate_address + query, **given))
        return visits[-1]

    yield open_page
    for each in visits:
        each.close()


def test_copper_sulfate_gives_copper_and_oxygen(visit):
    seen = visit()
    seen.page.get_by_label("Solution").select_option(label="copper(II) sulfate CuSO₄")
    expect(seen.side_card("Cathode")).to_contain_text("Cu²⁺")
    seen.switch_on()
    expect(seen.side_card("Cathode")).to_contain_text("copper")
    expect(seen.side_card("Cathode")).to_contain_text("orange-brown deposit")
    expect(seen.side_card("Anode")).to_contain_text("oxygen")
    expect(seen.side_card("Anode")).to_contain_text("splint relights")
    expect(seen.page.get_by_role("img", name="Copper on the cathode, mg")).to_be_visible()
    expect(seen.page.get_by_role("region", name="What is happening")).to_contain_text(
        "copper ions take two electrons each"
    )
    assert seen.errors == []
    assert seen.foreign == []


def test_the_picture_moves_while_it_plays_and_stands_when_paused(visit):
    seen = visit(reduced_motion=MOVING)
    seen.button("CuCl₂").click()
    expect(seen.side_card("Cathode")).to_contain_text("Cu²⁺")
    seen.switch_on()
    before = seen.picture()
    seen.picture_changes(before)
    seen.button("Pause").click()
    clock = seen.page.get_by_role("status", name="Clock")
    paused = clock.inner_text()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    scrubber.press("End")
    expect(clock).to_have_text("5 min 0 s")
    assert paused != "5 min 0 s"
    expect(seen.side_card("Cathode")).to_contain_text("mg copper")


def test_a_run_plays_without_asking_python(visit):
    seen = visit("?cells=Na2SO4,min=2", reduced_motion=MOVING)
    seen.switch_on()
    clock = seen.page.get_by_role("status", name="Clock")
    expect(clock).not_to_have_text("0 s")
    assert any("comm_msg" in message for message in seen.sent)  # the switch did ask
    seen.sent.clear()
    expect(clock).to_have_text("2 min 0 s", timeout=LOADING_MS)
    assert [message for message in seen.sent if "comm_msg" in message] == []


def test_a_link_shows_its_own_cell_from_the_first_moment(visit):
    seen = visit("?cells=CuSO4")
    assert "copper" in seen.side_card("Cathode").inner_text()  # without waiting for it
    seen.page.wait_for_url("**v=1**")
    assert not [message for message in seen.sent if '"link_query"' in message]


def test_the_side_card_follows_the_ruler(visit):
    seen = visit(reduced_motion=MOVING)
    seen.switch_on()
    seen.button("Pause").click()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    made = seen.side_card("Cathode").locator(".fp-made")
    scrubber.press("Home")
    expect(made).to_contain_text("0 cm³ hydrogen")
    scrubber.press("End")
    expect(made).not_to_contain_text("0 cm³ hydrogen")
    expect(made).to_contain_text("cm³ hydrogen")


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


def test_reduced_motion_gives_stills_that_change_on_demand(visit):
    seen = visit(reduced_motion="reduce")
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


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=["projector", "phone"])
@pytest.mark.parametrize("room", ["light", "dark"])
def test_nothing_hinders_access(visit, viewport, room):
    seen = visit(viewport=viewport, color_scheme=room)
    for _ in range(2):
        results = Axe().run(seen.page)
        assert results.violations_count == 0, results.generate_report()
        if seen.button("Switch on").is_visible():
            seen.switch_on()


def test_the_projected_page_fits_one_screen(visit):
    seen = visit()
    seen.switch_on()
    for part in (
        seen.side_card("Cathode"),
        seen.side_card("Anode"),
        seen.page.locator(".fp-chart").first,
    ):
        box = part.bounding_box()
        assert box["y"] >= 0
        assert box["y"] + box["height"] <= PROJECTOR["height"]


def test_on_a_phone_nothing_scrolls_sideways_and_the_switch_is_in_reach(visit):
    seen = visit(viewport=PHONE)
    wide = (
        "() => [...document.querySelectorAll('.fp-page, .fp-page *')].filter(node =>"
        " node.getBoundingClientRect().right > innerWidth + 1"
        " && !node.closest('.fp-solutions, .fp-data-table, svg')).length"
    )
    assert seen.page.evaluate(wide) == 0
    switch = seen.button("Switch on").bounding_box()
    assert switch["y"] > PHONE["height"] / 2
    assert switch["y"] + switch["height"] <= PHONE["height"]
    assert switch["height"] >= 44
    seen.switch_on()
    assert seen.page.evaluate(wide) == 0


def test_the_rooms_switches_change_ground_and_letters(visit):
    seen = visit()
    ground = "() => getComputedStyle(document.querySelector('.fp-page')).backgroundColor"
    size = "() => getComputedStyle(document.querySelector('.fp-side-card')).fontSize"
    light = seen.page.evaluate(ground)
    dim = seen.page.get_by_role("switch", name="Dim room")
    dim.click()
    expect(dim).to_be_checked()
    assert seen.page.evaluate(ground) != light
    seen.page.get_by_role("switch", name="Projector size").click()
    assert seen.page.evaluate(size) == "20px"


def test_a_u_tube_with_indicator_is_violet_green_and_red(visit):
    seen = visit()
    seen.choose("Vessel", "U-tube")
    seen.choose("Indicator", "universal")
    seen.switch_on()
    seen.page.get_by_role("slider", name="Time in the run").press("End")
    cathode = seen.colour(0.3, 0.45, 0.39, 0.6)
    bend = seen.colour(0.46, 0.85, 0.54, 0.97)
    anode = seen.colour(0.61, 0.45, 0.7, 0.6)
    assert cathode[2] > cathode[1] + 10
    assert bend[1] > max(bend[0], bend[2]) + 10
    assert anode[0] > max(anode[1], anode[2]) + 30
    assert seen.errors == []


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE])
def test_a_crystal_on_a_damp_strip_colours_what_lies_towards_the_anode(visit, viewport):
    seen = visit(viewport=viewport)
    if viewport is PHONE:
        seen.page.get_by_role("button", name="Set-up").click()
    seen.choose("Solution", "potassium nitrate KNO₃")
    seen.choose("Vessel", "paper strip")
    seen.choose("Crystal", "KMnO₄, purple")
    expect(seen.page.get_by_role("textbox", name="Volume, cm³")).to_be_hidden()
    seen.switch_on()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    places = [(0.28, 0.5, 0.38, 0.85), (0.52, 0.5, 0.6, 0.85)]

    def purple():
        before, after = (seen.colour(*place) for place in places)
        return [(c[0] + c[2]) / 2 - c[1] for c in (before, after)]

    scrubber.press("End")
    towards_cathode, towards_anode = purple()
    assert towards_anode > towards_cathode + 15
    assert seen.errors == []


@pytest.mark.parametrize(("vessel", "volume"), [("dish", "2"), ("U-tube", "60")])
def test_a_vessel_brings_a_volume_that_it_can_hold(visit, vessel, volume):
    seen = visit()
    seen.choose("Vessel", vessel)
    expect(seen.page.get_by_role("textbox", name="Volume, cm³")).to_have_value(volume)
    seen.switch_on()
    expect(seen.side_card("Cathode")).to_contain_text("hydrogen")
    assert seen.errors == []


@pytest.mark.parametrize(("viewport", "room"), [(PROJECTOR, "light"), (PHONE, "dark")])
def test_the_close_up_counts_the_same_electrons_at_both_electrodes(visit, viewport, room):
    seen = visit(viewport=viewport, color_scheme=room, reduced_motion=MOVING)
    expect(seen.button("Close-up")).to_be_disabled()
    seen.switch_on()
    seen.button("Close-up").click()
    panel = seen.page.get_by_role("region", name="Close-up")
    expect(panel).to_contain_text("2 H⁺ arrive")
    expect(panel).to_contain_text("4 OH⁻ arrive")
    expect(seen.button("Play")).to_be_visible()  # the run stands while it is looked at
    seen.button("Next step").press("Enter")
    expect(panel).to_contain_text("2 electrons cross from the electrode to H⁺")
    expect(panel).to_contain_text("2 electrons cross from OH⁻ to the electrode")
    expect(panel).to_contain_text("Passed at each electrode: 2 electrons")
    seen.button("Next step").press("Enter")
    expect(panel).to_contain_text("One H₂ has formed")
    expect(panel).to_contain_text("The electrode waits: 2 electrons still to cross")
    for _ in range(3):
        seen.button("Next step").press("Enter")
    expect(panel).to_contain_text("One O₂ and 2 H₂O have formed")
    expect(panel).to_contain_text("Both electrodes have finished together")
    assert seen.page.evaluate("document.documentElement.scrollWidth") <= viewport["width"]
    assert Axe().run(seen.page).response["violations"] == []
    assert seen.errors == []
    seen.button("Close-up").click()
    expect(panel).to_be_hidden()


def test_all_charts_are_shown_on_request_and_their_figures_can_be_saved(visit):
    seen = visit()
    seen.button("CuSO₄").click()
    seen.switch_on()
    profile = seen.page.get_by_role("img", name="Along the cell, mol/dm³")
    expect(profile).to_be_hidden()
    seen.page.get_by_role("switch", name="All charts").click()
    expect(profile).to_be_visible()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    line = profile.locator("[id$='profile-curve-0'] path")
    scrubber.press("Home")
    before = line.get_attribute("d")
    scrubber.press("End")
    assert line.get_attribute("d") != before
    with seen.page.expect_download() as download:
        seen.button("Save CSV: Copper on the cathode, mg").click()
    figures = download.value.path().read_text("utf-8").splitlines()
    assert figures[0].startswith('minutes,"this run')
    assert float(figures[-1].split(",")[1]) == pytest.approx(4.6, abs=0.2)
    with seen.page.expect_download() as download:
        seen.button("Save SVG: Copper on the cathode, mg").click()
    assert "var(" not in download.value.path().read_text("utf-8")
    with seen.page.expect_download() as download:
        seen.button("Save PNG: Copper on the cathode, mg").click()
    dots = download.value.path().read_bytes()
    assert dots.startswith(b"\x89PNG")
    assert len(dots) > 5000  # something is drawn
    assert Axe().run(seen.page).response["violations"] == []
    assert seen.errors == []


def test_switching_to_and_fro_leaves_nothing_behind(visit):
    """Every run mounts a scene anew: listeners, nodes and memory of the old one must go."""
    seen = visit(reduced_motion=MOVING)
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

    first, last = toggle(3), toggle(6)
    assert last["JSEventListeners"] <= first["JSEventListeners"] + 5
    assert last["Nodes"] <= first["Nodes"] + 100
    assert last["JSHeapUsedSize"] <= first["JSHeapUsedSize"] + 2e6


def test_a_copper_anode_in_brine_fits_the_phone_and_tells_its_loss_once(visit):
    seen = visit(viewport=PHONE)
    seen.button("NaCl").click()
    seen.page.get_by_role("button", name="Set-up").click()
    seen.choose("Anode", "copper")
    seen.switch_on()
    seen.page.get_by_role("slider", name="Time in the run").press("End")
    expect(seen.side_card("Anode")).to_contain_text("copper(I) ions")
    made = seen.side_card("Anode").locator(".fp-made")
    assert made.text_content().count("metal dissolved") == 1
    box = seen.page.locator(".fp-scene canvas").bounding_box()
    assert box["x"] + box["width"] <= PHONE["width"] + 1


def test_each_run_keeps_its_own_playhead(visit):
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


def test_a_list_is_saved_as_a_file_and_opened_again(visit, tmp_path):
    seen = visit()
    seen.button("Lesson settings").click()
    seen.button("Remove").click()
    expect(seen.button("Na₂SO₄")).to_be_hidden()
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
    assert Axe().run(seen.page).response["violations"] == []
    assert seen.errors == []


def test_ions_may_be_more_or_swim_in_water(visit):
    seen = visit()
    before = seen.picture()
    seen.choose("Particles", "more ions, smaller")
    more = seen.picture()
    seen.choose("Particles", "ions and water")
    water = seen.picture()
    assert len({before, more, water}) == 3


def test_a_run_is_restarted(visit):
    seen = visit(reduced_motion=MOVING)
    seen.switch_on()
    seen.page.get_by_role("slider", name="Time in the run").press("End")
    clock = seen.page.get_by_role("status", name="Clock")
    expect(clock).to_have_text("5 min 0 s")
    seen.button("Restart").click()
    expect(clock).not_to_have_text("5 min 0 s")
    expect(seen.button("Pause")).to_be_visible()


def test_the_lens_closes_when_the_run_plays_on(visit):
    seen = visit(reduced_motion=MOVING)
    seen.switch_on()
    seen.button("Close-up").click()
    panel = seen.page.get_by_role("region", name="Close-up")
    expect(panel).to_be_visible()
    picture = seen.page.locator(".fp-scene").bounding_box()
    assert panel.bounding_box()["y"] - picture["y"] >= 125  # below what the meters read
    for _ in range(2):
        seen.button("Next step").click()
    assert panel.locator("svg").first.locator("circle").count() == 2  # H2: two discs joined
    seen.button("Play").click()
    expect(panel).to_be_hidden()
    assert seen.button("Close-up").get_attribute("aria-expanded") == "false"
    assert seen.errors == []


def test_projector_letters_grow_and_the_scene_does_not_shrink(visit):
    seen = visit()
    seen.switch_on()
    scene = seen.page.locator(".fp-scene")
    letters = "() => getComputedStyle(document.querySelector('.fp-chart text')).fontSize"
    before, small = scene.bounding_box(), seen.page.evaluate(letters)
    picture = seen.picture()
    seen.page.get_by_role("switch", name="Projector size").click()
    seen.picture_changes(picture)
    after, large = scene.bounding_box(), seen.page.evaluate(letters)
    assert after["width"] >= before["width"]
    assert after["height"] >= before["height"]
    assert float(large[:-2]) >= 1.2 * float(small[:-2])
    seen.page.get_by_role("switch", name="Projector size").click()
    seen.page.get_by_role("switch", name="All charts").click()
    box = scene.bounding_box()
    assert before["height"] - 5 <= box["height"] <= 1.1 * before["height"]


def test_the_whole_screen_has_the_ruler_too(visit):
    seen = visit()
    seen.switch_on()
    seen.button("Full screen").click()
    seen.page.wait_for_function("() => document.fullscreenElement !== null")
    seen.page.get_by_role("slider", name="Time in the run").press("Home")
    seen.button("Lift electrodes").click()
    expect(seen.page.get_by_role("region", name="Electrodes lifted out")).to_be_visible()
    assert seen.page.locator(".fp-scene").bounding_box()["height"] > 0.75 * PROJECTOR["height"]


def test_the_lifted_layer_is_as_thick_as_its_mass(visit):
    seen = visit()
    seen.button("CuSO₄").click()
    seen.switch_on()
    seen.button("Lift electrodes").click()
    scrubber = seen.page.get_by_role("slider", name="Time in the run")
    lifted = seen.page.get_by_role("region", name="Electrodes lifted out")
    layer = lifted.locator("svg rect").first
    widths = []
    for moment in (150, 300):
        scrubber.fill(str(moment))
        expect(seen.page.get_by_role("status", name="Clock")).to_have_text(
            f"{moment // 60} min {moment % 60} s"
        )
        widths.append(float(layer.get_attribute("width")) - 36)  # the rod is 36 wide
    assert widths[1] == pytest.approx(2 * widths[0], rel=0.1)
    expect(lifted).to_contain_text("much thicker than they are")
