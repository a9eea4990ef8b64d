"""The Measure page: typed, pasted and loaded tables, a logger's file, nothing written by the server."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from tests.browser.conftest import served
from tests.browser.visit import BEYOND, LOADING_MS, PHONE

PASTE = """([label, text]) => {
  const field = document.querySelector(`[aria-label="${label}"]`);
  const data = new DataTransfer();
  data.setData('text/plain', text);
  field.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
}"""
SHEET = "8.214\t8.292\t9.105\t9.018\t0,20\t20\n7.906\t8.063\t8.871\t8.702\t0,40\t20\n"


@pytest.fixture(scope="module")
def measure_server():
    """Serve the Measure page for the tests of this file."""
    with served("--page", "measure") as started:
        yield started


@pytest.fixture
def measure(open_at, measure_server):
    def open_page(**options):
        page = open_at(measure_server[1], **options)
        page.get_by_role("table", name="One row a group").wait_for(timeout=LOADING_MS)
        return page

    return open_page


def test_an_invented_class_finds_the_faraday_constant_and_its_reason(measure):
    page = measure()
    page.get_by_role("button", name="Try an invented class").press("Enter")
    expect(page.get_by_text("Invented for trying the page")).to_be_visible()
    expect(page.get_by_text("The class's Faraday constant").first).to_contain_text("± ")
    expect(page.get_by_text("Far off, but kept in the fit: group H.")).to_be_visible()
    causes = page.get_by_role("table", name="Causes")
    expect(causes.get_by_role("row").filter(has_text="grains shed")).to_contain_text("Possible")
    expect(page.get_by_role("img", name="Copper gained at the cathode")).to_be_visible()
    assert Axe().run(page).response["violations"] == []
    assert page.complaints == []


def test_a_sheet_is_pasted_and_a_wrong_cell_is_marked_until_it_is_mended(measure):
    page = measure()
    page.evaluate(PASTE, ["Cathode before, row 1", SHEET])
    rows = page.get_by_role("table", name="Group by group").first.get_by_role("row")
    expect(rows).to_have_count(3)
    field = page.get_by_role("textbox", name="Current, row 2")
    expect(field).to_have_value("0,40")
    field.fill("strong")
    expect(page.get_by_text("'strong' cannot be used")).to_be_visible()
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_value("strong")
    expect(rows).to_have_count(2)  # the other group stays
    field.fill("0.4")
    expect(rows).to_have_count(3)
    before = page.get_by_role("textbox", name="Cathode after, row 1")
    before.fill("8.1")
    expect(page.get_by_text("lighter than before: is it so?")).to_be_visible()
    page.reload()
    expect(before).to_have_value("8.1", timeout=LOADING_MS)


def test_files_are_loaded_by_the_real_control_and_large_ones_refused_unsent(measure, tmp_path):
    page = measure(accept_downloads=True)
    table = tmp_path / "class.csv"
    table.write_text(
        "\ufeffgroup;cathode before;cathode after;current/A;minutes\n=cmd;8,0;8,079;0,2;20\n",
        encoding="utf-8",
    )
    page.get_by_label("Load a table").set_input_files(table)
    expect(page.get_by_role("textbox", name="Group, row 1")).to_have_value("=cmd")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the table").click()
    assert "'=cmd," in download.value.path().read_text("utf-8")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save results as CSV").click()
    assert download.value.path().read_text("utf-8").startswith("group,charge / C")
    logger = tmp_path / "logger.csv"
    logger.write_text("time/s,current/A\n" + "".join(f"{k},0.25\n" for k in range(1201)))
    page.get_by_label("Load a logger's file").set_input_files(logger)
    expect(page.get_by_text("charge 300 C, mean current 0.25 A, steady")).to_be_visible()
    empty = tmp_path / "empty.csv"
    empty.write_text("\n\n")
    page.get_by_label("Load a table").set_input_files(empty)
    expect(page.get_by_text("empty.csv holds no rows. Nothing was changed.")).to_be_visible()
    expect(page.get_by_role("textbox", name="Group, row 1")).to_have_value("=cmd")
    large = tmp_path / "large.csv"
    large.write_text("1,2\n" * 1_400_000)
    page.get_by_label("Load a table").set_input_files(large)
    expect(page.get_by_text("Nothing was sent.")).to_be_visible()
    assert page.complaints == []


def test_arithmetic_is_shown_forwards_and_backwards(measure):
    page = measure()
    expect(page.get_by_text("Charge: Q = I × t = 0.2 A × 1200 s = 240 C")).to_be_visible()
    page.get_by_role("combobox", name="Find").select_option(label="how long it takes")
    expect(page.get_by_text("= 1200 s = 20.0 min")).to_be_visible()
    field = page.get_by_role("textbox", name="Mass, g")
    field.fill("plenty")
    field.press("Tab")
    expect(page.get_by_role("alert").filter(has_text="'plenty'")).to_be_visible()


def test_on_a_phone_nothing_scrolls_sideways(measure):
    page = measure(viewport=PHONE, color_scheme="dark")
    page.get_by_role("button", name="Try an invented class").click()
    page.get_by_role("table", name="Group by group").first.wait_for()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert page.evaluate(BEYOND) == []
    assert Axe().run(page).response["violations"] == []


def test_what_a_class_measured_is_written_nowhere(measure, measure_server):
    page = measure()
    field = page.get_by_role("textbox", name="Group, row 1")
    field.fill("secret-group-4711")
    page.get_by_role("textbox", name="Current, row 1").fill("0.2")
    page.get_by_role("textbox", name="Minutes, row 1").fill("20")
    page.get_by_role("textbox", name="Cathode before, row 1").fill("8.0")
    page.get_by_role("textbox", name="Cathode after, row 1").fill("8.1")
    expect(page.get_by_role("rowheader", name="secret-group-4711")).to_be_visible()
    folders = list(Path(tempfile.gettempdir()).glob("fizzplate-*"))
    files = [file for folder in folders for file in folder.rglob("*") if file.is_file()]
    assert files  # the connection files of the kernels at least
    found = [file for file in files if b"secret-group-4711" in file.read_bytes()]
    assert found == []
