"""The Measure page: typed, pasted and loaded tables, a logger's file, nothing written by the server."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tests.browser.visit import (
    BEYOND,
    LOADING_MS,
    PHONE,
    SIDEWAYS,
    expect_mended,
    expect_wrong,
    unfold,
    violations,
)

PASTE = """([label, text]) => {
  const field = document.querySelector(`[aria-label="${label}"]`);
  const data = new DataTransfer();
  data.setData('text/plain', text);
  field.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
}"""
SHEET = "8.214\t8.292\t9.105\t9.018\t0,20\t20\n7.906\t8.063\t8.871\t8.702\t0,40\t20\n"

# sizes of the letters of a drawing, as they are seen
LETTERS_PX = """(svg) => [...svg.querySelectorAll('text')].map((text) => {
  const { a, b } = text.getScreenCTM(); // a name of an axis may be turned
  return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(a, b);
})"""


# words of a drawing that reach beyond its frame, and are cut there
CUT_OFF = """(svg) => {
  const frame = svg.getBoundingClientRect();
  return [...svg.querySelectorAll('text')].filter((text) => {
    const { top, bottom, left, right } = text.getBoundingClientRect();
    return top < frame.top || bottom > frame.bottom || left < frame.left || right > frame.right;
  }).map((text) => text.textContent);
}"""


@pytest.fixture
def measure(open_at, address_of):
    def open_page(**options):
        page = open_at(address_of("measure"), **options)
        page.get_by_role("table", name="One row for each group").wait_for(timeout=LOADING_MS)
        return page

    return open_page


def test_an_invented_class_finds_the_faraday_constant_and_its_reason_and_fits_a_phone(measure):
    page = measure()
    page.get_by_role("button", name="Try an invented class").press("Enter")
    expect(page.get_by_text("Invented for trying the page").first).to_be_visible()
    expect(page.get_by_text("The class's Faraday constant").first).to_contain_text("± ")
    expect(page.get_by_text("Far from the line, but kept in the fit: group H.")).to_be_visible()
    causes = page.get_by_role("table", name="Causes")
    expect(causes.get_by_role("row").filter(has_text="grains shed")).to_contain_text("Possible")
    expect(page.get_by_role("img", name="Copper gained at the cathode")).to_be_visible()
    assert violations(page) == []
    page.set_viewport_size(PHONE)
    page.emulate_media(color_scheme="dark")
    page.wait_for_function(f"() => !({SIDEWAYS})()")
    assert page.evaluate(BEYOND) == []
    assert violations(page) == []
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
    expect_wrong(field, "'strong' cannot be used")
    expect(field).to_have_value("strong")
    expect(rows).to_have_count(2)  # the other group stays
    field.fill("0.4")
    expect(rows).to_have_count(3)
    expect_mended(field)
    before = page.get_by_role("textbox", name="Cathode after, row 1")
    before.fill("8.1")
    expect(page.get_by_text("lighter than before: is this right?")).to_be_visible()
    page.reload()
    expect(before).to_have_value("8.1", timeout=LOADING_MS)


def test_files_are_loaded_by_the_real_control_and_large_ones_refused_unsent(measure, tmp_path):
    page = measure()
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
    assert download.value.path().read_text("utf-8-sig").startswith("group,charge / C")
    logger = tmp_path / "logger.csv"
    logger.write_text("time/s,current/A\n" + "".join(f"{k},0.25\n" for k in range(1201)))
    page.get_by_label("Load a logger's file").set_input_files(logger)
    expect(page.get_by_text("charge 300 C, mean current 0.25 A, steady")).to_be_visible()
    empty = tmp_path / "empty.csv"
    empty.write_text("\n\n")
    page.get_by_label("Load a table").set_input_files(empty)
    expect(page.get_by_text("empty.csv holds no rows. Nothing was changed.")).to_be_visible()
    expect_wrong(page.get_by_label("Load a table"), "holds no rows")
    expect_mended(page.get_by_label("Load a logger's file"))
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
    expect_wrong(field, "'plenty' cannot be used")
    page.get_by_role("combobox", name="Find").select_option(index=0)
    page.get_by_role("combobox", name="Product").select_option(label="chlorine")
    page.get_by_role("combobox", name="Find").select_option(label="which current")
    expect(page.get_by_text("Moles of chlorine: 30 cm³ ÷ 24 465 cm³/mol")).to_be_visible()
    seconds = page.get_by_role("textbox", name="and s")
    seconds.fill("30")
    seconds.press("Tab")
    expect(page.get_by_text("20 min × 60 + 30 s").or_(page.get_by_text("÷ 1230 s"))).to_be_visible()
    minutes = page.get_by_role("textbox", name="Time, min")
    minutes.fill("-20")
    minutes.press("Tab")
    expect(
        page.get_by_role("alert").filter(has_text="Time, min: −20 cannot be used")
    ).to_be_visible()


def test_what_a_class_measured_is_written_nowhere(measure):
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


def load(page, tmp_path, name, content, control="Load a table"):
    """Give a file to the page by its own control."""
    file = tmp_path / name
    file.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    page.get_by_label(control).set_input_files(file)


def test_units_of_headings_are_kept_and_saved_and_wrong_tables_named(measure, tmp_path):
    page = measure(apart=True)
    page.on("dialog", lambda dialog: dialog.accept())
    head = "Cathode before (mg),Cathode after (mg),Current (A),Minutes,Colour"
    load(page, tmp_path, "mg.csv", f"{head}\n814,892,0.2,20,red\n907,1064,0.4,20,red\n")
    expect(
        page.get_by_text("2 rows loaded. Left out: Colour: this page has no such column.")
    ).to_be_visible()
    unit = page.get_by_role("combobox", name="Unit of Cathode before")
    expect(unit).to_have_value("mg")
    found = page.get_by_role("table", name="Group by group").get_by_role("row")
    expect(found.nth(1)).to_contain_text("99 %")  # 78 mg beside 79 mg
    page.get_by_role("combobox", name="Unit of Current").select_option("mA")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the table").click()
    saved = download.value.path().read_text("utf-8-sig")
    assert "cathode before (mg)" in saved.splitlines()[0]
    assert "current (mA)" in saved.splitlines()[0]
    page.get_by_role("button", name="Empty the table").click()
    expect(unit).to_have_value("g")
    load(page, tmp_path, "again.csv", saved)
    expect(unit).to_have_value("mg")
    expect(page.get_by_role("combobox", name="Unit of Current")).to_have_value("mA")
    expect(page.get_by_role("textbox", name="Cathode after, row 2")).to_have_value("1064")
    for name, content, sentence in (
        ("odd.csv", "Farbe,Form\n1,2\n", "this page does not know its headings: Farbe, Form"),
        ("picture.csv", b"\x89PNG\0\0\1\2\n\0", "is not a table written as text"),
        ("words.csv", "8.1 8.2 0.2\n", "no tab, semicolon, bar or comma"),
    ):
        load(page, tmp_path, name, content)
        expect(page.get_by_text(sentence)).to_be_visible()
        expect(page.get_by_role("textbox", name="Cathode after, row 2")).to_have_value("1064")
    load(page, tmp_path, "oz.csv", "Cathode before (oz),Current\n1,2\n")
    expect(page.get_by_text("the unit must be g or mg")).to_be_visible()
    load(page, tmp_path, "bars.csv", "Cathode before|Current (A)|Time (s)\n8.1|0.2|30\n")
    expect(page.get_by_role("textbox", name="Seconds, row 1")).to_have_value("30")
    page.get_by_role("combobox", name="Unit of Cathode before").select_option("mg")
    page.get_by_role("button", name="Try an invented class").click()
    expect(unit).to_have_value("g")
    page.get_by_text("The class's Faraday constant").first.wait_for()
    assert page.complaints == []


def test_pastes_with_quotes_or_headings_land_where_they_belong(measure):
    page = measure()
    page.evaluate(
        PASTE, ["Group, row 1", 'A,"8,214","8,292",,,"0,20",20\nB,"7,9","8,0",,,"0,4",20']
    )
    expect(page.get_by_role("textbox", name="Cathode before, row 1")).to_have_value("8,214")
    expect(page.get_by_role("textbox", name="Current, row 1")).to_have_value("0,20")
    expect(page.get_by_role("textbox", name="Minutes, row 2")).to_have_value("20")
    page.evaluate(PASTE, ["Group, row 3", "Current (A)\tGroup\n0.3\tC\n"])
    expect(page.get_by_role("textbox", name="Group, row 3")).to_have_value("C")
    expect(page.get_by_role("textbox", name="Current, row 3")).to_have_value("0.3")
    page.evaluate(PASTE, ["Group, row 4", "Group\tCurrent (mA)\nD\t300\n"])
    expect(page.get_by_text("gives Current in mA, but the table has it in A")).to_be_visible()
    expect(page.get_by_role("textbox", name="Group, row 4")).to_have_value("")
    assert page.complaints == []


def test_a_logger_is_refused_chosen_typed_and_put_into_a_group(measure, tmp_path):
    page = measure()
    logger = "Load a logger's file"
    typed = page.get_by_role("textbox", name="Readings: a time and a current on each line")
    expect(typed).to_be_hidden()
    unfold(page, "No readings of a current yet")
    expect(typed).to_be_visible()
    unfold(page, "No readings of a current yet")
    expect(typed).to_be_hidden()
    load(page, tmp_path, "hours.csv", "Time (h),Current (A)\n0,0.2\n0.5,0.2\n", logger)
    expect(page.get_by_text("hours.csv: 2 readings over 30 minutes, charge 360 C")).to_be_visible()
    expect(page.get_by_role("button", name="2 readings, for 1 (row 1): change")).to_be_visible()
    expect(page.get_by_role("combobox", name="Time column")).to_be_visible()  # unfolds by itself
    for name, content, sentence in (
        ("empty.csv", "", "empty.csv was not used"),
        ("still.csv", "time,current\n0,0\n9,0\n", "0 in every row"),
        ("same.csv", "time,current\n3,1\n3,1\n", "the same time in every row"),
    ):
        load(page, tmp_path, name, content, logger)
        expect(page.get_by_role("alert").filter(has_text=sentence)).to_be_visible()
        expect_wrong(page.get_by_label(logger), sentence)
        expect(page.get_by_text("charge 360 C")).to_have_count(0)
        expect(page.get_by_text("loaded")).to_have_count(0)
        expect(page.get_by_role("button", name="Put it into this group")).to_be_hidden()
    load(page, tmp_path, "own.csv", "clock/min,meter/mA\n0,100\n10,100\n", logger)
    expect(page.get_by_role("alert").filter(has_text="column of time")).to_be_visible()
    page.get_by_role("combobox", name="Time column").select_option(label="clock/min")
    page.get_by_role("combobox", name="Current column").select_option(label="meter/mA")
    expect(page.get_by_text("charge 60 C, mean current 0.1 A, steady")).to_be_visible()
    expect_mended(page.get_by_label(logger))
    typed.fill("a, b")
    typed.press("Tab")
    expect_wrong(typed, "Typed readings was not used")
    typed.fill("0, 0.20\n5, 0.30\n10.5, 0.20")
    typed.press("Tab")
    expect(
        page.get_by_text("Typed readings: 3 readings over 10.5 minutes, charge 157.5 C")
    ).to_be_visible()
    expect_mended(typed)
    page.get_by_role("combobox", name="Group", exact=True).select_option(label="2 (row 2)")
    page.get_by_role("button", name="Put it into this group").click()
    expect(page.get_by_role("textbox", name="Current, row 2")).to_have_value("0.25")
    expect(page.get_by_role("textbox", name="Minutes, row 2")).to_have_value("10")
    expect(page.get_by_role("textbox", name="Seconds, row 2")).to_have_value("30")
    assert page.complaints == []


def test_a_break_in_a_logger_s_file_is_said_and_marked_in_its_chart(measure, tmp_path):
    page = measure()
    rows = [(t, 0.25) for t in (*range(100), *range(400, 500))]
    rows += [(t, 0) for t in range(500, 560)] + [(t, 0.25) for t in range(560, 700)]
    text = "time/s,current/A\n" + "".join(f"{t},{amps}\n" for t, amps in rows)
    load(page, tmp_path, "broken.csv", text, "Load a logger's file")
    said = page.get_by_role("status").filter(has_text="broken.csv")
    expect(said).to_contain_text("No readings from 1.65 to 6.67 minutes.")
    expect(said).to_contain_text("No current from 8.33 to 9.32 minutes.")
    chart = page.get_by_role("img", name="Current of the readings against time")
    expect(chart).to_be_visible()
    expect(chart).to_contain_text("no readings: 1.65 to 6.67; no current: 8.33 to 9.32")
    assert chart.locator("pattern").count() == 2  # two kinds of hatching
    assert violations(page) == []
    load(page, tmp_path, "whole.csv", "time/s,current/A\n0,0.2\n60,0.2\n", "Load a logger's file")
    whole = page.get_by_role("status").filter(has_text="whole.csv")
    expect(whole).to_contain_text("steady")
    expect(whole).not_to_contain_text("No ")
    assert page.complaints == []


def test_gas_board_and_resolution_stand_in_the_link_and_causes_have_a_size(measure, address_of):
    page = measure()
    page.get_by_role("button", name="Try an invented class").click()
    page.get_by_text("The class's Faraday constant").first.wait_for()
    causes = page.get_by_role("table", name="Causes")
    grains = causes.get_by_role("row").filter(has_text="grains shed")
    size = page.get_by_role("textbox", name="Grains shed, mg")
    size.fill("1")
    size.press("Tab")
    expect(grains).to_contain_text("Not alone: a cause of this size")
    expect(causes.get_by_role("row").filter(has_text="resolution")).to_contain_text(
        "can explain only"
    )
    unfold(page, "Oxygen at the anode, collected over water; balance reads to 0.001 g")
    balance = page.get_by_role("textbox", name="Balance reads to, g")
    for wrong in ("-1", "abc"):
        balance.fill(wrong)
        balance.press("Tab")
        refused = page.get_by_role("alert").filter(has_text="Balance reads to")
        expect(refused).to_be_visible()
        expect_wrong(balance, "Balance reads to")
        expect(page.get_by_role("table", name="Group by group")).to_have_count(0)
    balance.fill("0.01")
    balance.press("Tab")
    page.get_by_role("table", name="Group by group").first.wait_for()
    expect_mended(balance)
    size.fill("-1")
    size.press("Tab")
    expect_wrong(size, "cannot be used")
    size.fill("1")
    size.press("Tab")
    expect_mended(size)
    page.get_by_role("combobox", name="Gas at the anode").select_option(label="chlorine")
    page.get_by_role("button", name="Settings").click()
    page.get_by_role("combobox", name="Electrodes are called").select_option("negative, positive")
    expect(
        page.get_by_role("heading", name="Copper gained at the negative electrode")
    ).to_be_visible()
    expect(page.get_by_role("columnheader", name="Negative electrode before")).to_be_visible()
    assert "athode" not in page.locator(".fp-comparison").first.inner_text()
    page.get_by_role("textbox", name="Gas, positive electrode, row 1").fill("30")
    page.get_by_role("textbox", name="Gas, positive electrode, row 2").fill("60")
    expect(page.get_by_role("heading", name="Chlorine at the positive electrode")).to_be_visible()
    page.wait_for_url("**gas=Cl2**")
    assert "balance=0.01" in page.url
    assert "board=electrode_names=negative" in page.url
    page.reload()
    page.get_by_text("Invented for trying the page").first.wait_for(timeout=LOADING_MS)
    expect(balance).to_have_value("0.01")
    expect(page.get_by_role("heading", name="Chlorine at the positive electrode")).to_be_visible()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save results as CSV").click()
    saved = download.value.path().read_text("utf-8-sig").splitlines()
    assert all("Invented for trying the page" in line for line in saved[1:])
    page.goto(f"{address_of('measure')}?v=1&metal=Au&balance=0&tube=0.2")
    expect(page.get_by_text("metal: 'Au' cannot be used")).to_be_visible(timeout=LOADING_MS)
    expect(page.get_by_role("button", name="gas tube reads to 0.2 cm³")).to_be_visible()
    assert page.complaints == []


def test_a_point_or_a_row_leaves_a_group_out_and_takes_it_back_over_a_reload(measure):
    page = measure()
    page.get_by_role("button", name="Try an invented class").click()
    gained = page.get_by_role("img", name="Copper gained at the cathode")
    expect(gained).to_contain_text("H 113 at 540")
    single = page.get_by_role("listitem").filter(has_text="Group H")
    expect(single).to_contain_text("flakes lost")
    letter = page.locator('[id="measured-0-letter-point-7"]')
    letter.click()
    expect(gained).to_contain_text("left out: (H) 113 at 540")
    letter.click()
    expect(gained).to_contain_text("H 113 at 540")
    expect(page.get_by_text("Without group H")).to_have_count(0)
    point = page.locator('[id="measured-0-point-7"]')
    point.click()
    expect(page.get_by_text("Without group H: slope").first).to_be_visible()
    expect(page.get_by_text("With group H: slope").first).to_be_visible()
    expect(gained).to_contain_text("left out: (H) 113 at 540")
    expect(page.get_by_text("Likely for the whole class: grains shed.")).to_be_visible()
    assert gained.evaluate(CUT_OFF) == []
    row = page.get_by_role("row").filter(has=page.get_by_role("textbox", name="Group, row 8"))
    expect(row).to_have_class("fp-left-out")
    expect(page.get_by_role("textbox", name="Current, row 8")).to_have_value("0.45")
    assert violations(page) == []
    page.reload()
    expect(page.get_by_text("Without group H: slope").first).to_be_visible(timeout=LOADING_MS)
    back = page.get_by_role("button", name="Take back in, row 8")
    back.focus()
    back.press("Enter")
    expect(page.get_by_text("Without group H")).to_have_count(0)
    expect(page.get_by_role("button", name="Leave out, row 8")).to_be_focused()
    expect(page.get_by_text("Far from the line, but kept in the fit: group H.")).to_be_visible()
    assert page.complaints == []


def test_cells_are_filled_in_as_people_do_and_a_time_without_a_unit_is_asked_about(
    measure, tmp_path
):
    page = measure(apart=True)
    page.get_by_role("textbox", name="Current, row 1").fill("250 mA")
    page.get_by_role("textbox", name="Minutes, row 1").fill("20:30")
    expect(page.get_by_text("read as 0.25 A")).to_be_visible()
    expect(page.get_by_text("read as 20 min 30 s")).to_be_visible()
    page.on("dialog", lambda dialog: dialog.accept())
    load(page, tmp_path, "time.csv", "group;current (A);time\nA;0,25;20\nB;0,5;10\n")
    question = page.get_by_role("group", name="The column “time” does not say its unit")
    expect(question.get_by_role("button", name="minutes")).to_be_focused()
    expect(page.get_by_role("textbox", name="Current, row 1")).to_have_value("250 mA")
    assert violations(page) == []
    page.keyboard.press("Enter")
    expect(page.get_by_role("textbox", name="Minutes, row 2")).to_have_value("10")
    said = "Commas are read as decimal points: 0,25 as 0.25."
    expect(page.get_by_text(said)).to_be_visible()
    page.get_by_role("button", name="Leave out, row 2").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the table").click()
    saved = download.value.path().read_text("utf-8-sig")
    assert saved.splitlines()[0].endswith(",left out")
    page.get_by_role("button", name="Empty the table").click()
    expect(page.get_by_role("button", name="Take back in, row 2")).to_have_count(0)
    load(page, tmp_path, "again.csv", saved)
    expect(page.get_by_role("button", name="Take back in, row 2")).to_be_visible()
    assert page.complaints == []


def test_on_a_phone_charts_and_causes_are_read_without_scrolling_sideways(measure):
    page = measure(viewport=PHONE)
    page.get_by_role("button", name="Try an invented class").click()
    gained = page.get_by_role("img", name="Copper gained at the cathode")
    expect(gained).to_contain_text("H 113 at 540")
    assert min(gained.evaluate(LETTERS_PX)) >= 12
    verdict = page.locator(".fp-causes tbody td:nth-child(2)").first
    box = verdict.bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= PHONE["width"]
    assert violations(page) == []
    assert page.complaints == []


def test_on_a_phone_each_group_is_one_line_until_it_is_opened(measure):
    page = measure(viewport=PHONE)
    fields = page.locator(".fp-measurements input:visible")
    expect(fields).to_have_count(12)  # of the first group
    page.get_by_role("textbox", name="Current, row 1").fill("0.2")
    first = page.get_by_role("button", name="Row 1: 0.2 A")
    expect(first).to_have_attribute("aria-expanded", "true")
    first.press("Enter")
    expect(fields).to_have_count(0)
    page.get_by_role("button", name="Row 2: empty").press("Enter")
    expect(page.get_by_role("textbox", name="Current, row 2")).to_be_visible()
    page.get_by_role("button", name="Units: g, A, kPa").press("Enter")
    page.get_by_role("combobox", name="Unit of Current").select_option("mA")
    current = page.locator('td[data-key="current"]').nth(1)
    assert current.evaluate("cell => getComputedStyle(cell, '::before').content") == '"Current, mA"'
    page.wait_for_function(f"() => !({SIDEWAYS})()")
    assert page.evaluate(BEYOND) == []
    assert violations(page) == []
    assert page.complaints == []
