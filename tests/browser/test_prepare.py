"""The Prepare page by keyboard, and its sheets on paper: A4 and Letter, text that can be selected."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader
from tests.browser.printed import faults_of, pieces_of, sheets_of, size_of, texts_of
from tests.browser.visit import (
    BEYOND,
    LOADING_MS,
    PHONE,
    PROJECTOR,
    SIDEWAYS,
    expect_mended,
    expect_wrong,
    unfold,
    violations,
)

MARGIN_PT = 40  # of a sheet: 14 mm


@pytest.fixture(scope="module")
def prepare_address(address_of):
    return address_of("prepare")


@pytest.fixture
def prepare(open_at, prepare_address):
    def open_page(query="", **options):
        page = open_at(prepare_address + query, **options)
        page.get_by_role("tab", name="Technician's order").wait_for(timeout=LOADING_MS)
        return page

    return open_page


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=str)
def test_the_first_screen_leads_to_the_sheets_by_one_press(prepare, viewport):
    page = prepare("?cells=CuSO4", viewport=viewport)
    action = page.get_by_role("button", name="Print the sheets")
    expect(action).to_be_in_viewport()
    action.press("Enter")
    expect(page.get_by_role("button", name="Print this sheet")).to_be_focused()
    expect(page.get_by_role("tab", name="Technician's order")).to_be_in_viewport()
    assert violations(page) == []


def change(page, label, value):
    """Type into a field and leave it."""
    field = page.get_by_role("textbox", name=label, exact=True)
    field.fill(value)
    field.press("Tab")


def test_amounts_follow_groups_cupboard_and_stock_and_a_refused_field_leaves_no_sheet(prepare):
    page = prepare("?cells=CuSO4;Na2SO4")
    prepared = page.locator(".fp-prepared")
    expect(prepared).to_contain_text("124.8 g of CuSO₄·5H₂O")
    unfold(page, "In the cupboard: CuSO₄·5H₂O, 100 % pure, no stock solution")
    page.get_by_role("combobox", name="In the cupboard").select_option(label="CuSO₄")
    expect(prepared).to_contain_text("79.8 g of CuSO₄")
    expect(page.locator(".fp-printing")).to_contain_text("79.8 g of CuSO₄")  # and on the order
    change(page, "Groups", "30")
    expect(prepared).to_contain_text("2000 cm³")
    change(page, "Or dilute a stock solution of, mol/dm³", "1,0")
    expect(prepared).to_contain_text("1000 cm³ of the stock")
    change(page, "Groups", "many")
    alert = page.get_by_role("alert").filter(has_text="'many'")
    expect(alert).to_be_visible()
    groups = page.get_by_role("textbox", name="Groups")
    expect_wrong(groups, "'many'")
    change(page, "Groups", "15")
    expect(alert).to_be_hidden()
    expect_mended(groups)
    change(page, "Purity, %", "120")
    purity = page.get_by_role("textbox", name="Purity, %")
    expect_wrong(purity, "120 cannot be used")
    assert page.locator("[aria-invalid=true]").count() == 1
    change(page, "Purity, %", "100")
    expect_mended(purity)
    assert violations(page) == []
    button = page.get_by_role("button", name="Print this sheet")
    for wrong in ("abc", "0", "−3", "15.6"):
        change(page, "Groups", wrong)
        expect(page.get_by_role("alert").filter(has_text="a whole number from 1")).to_be_visible()
        expect(button).to_be_hidden()
    change(page, "Groups", "12")
    expect(button).to_be_visible()
    change(page, "Period, minutes", "20")
    expect(page.get_by_role("alert").filter(has_text="Period, minutes: 20")).to_be_visible()
    assert page.complaints == []


def test_what_will_show_the_air_and_a_plan_are_told(prepare):
    page = prepare()
    expect(page.get_by_role("table").filter(has_text="You will see: cathode")).to_contain_text(
        "an orange-brown deposit on the electrode after 18"
    )
    expect(page.get_by_text("from memory: check your own rules").first).to_be_visible()
    expect(page.get_by_role("table", name="Period 1")).to_contain_text("set up, run 5 minutes")
    change(page, "Period, minutes", "100")
    expect(page.get_by_role("table", name="Period 2")).to_have_count(0)
    page.set_viewport_size(PHONE)
    page.emulate_media(color_scheme="dark")
    page.wait_for_function(f"() => !({SIDEWAYS})()")
    assert page.evaluate(BEYOND) == []
    assert violations(page) == []


def test_hydrogen_and_what_comes_late_are_told_in_the_boards_words(prepare):
    page = prepare("?cells=NaCl,c=0.05,min=4&board=electrode_names=negative")
    prepared = page.locator(".fp-prepared")
    expect(prepared).to_contain_text("only after 4.9 min, but the run lasts 4 min")
    expect(page.get_by_role("group", name="Hydrogen")).to_contain_text("12.1 cm³")
    expect(prepared).to_contain_text("The hazard is a tube of collected gas")
    expect(prepared).to_contain_text("Bubbles at the positive electrode")
    expect(prepared).not_to_contain_text("node")
    expect(prepared).not_to_contain_text("athode")
    unfold(page, "graphite electrodes, lamp 6 V, 0.06 A, beaker")
    page.get_by_role("combobox", name="Vessel", exact=True).select_option(label="U-tube")
    page.wait_for_url("**NaCl,c=0.05,min=4,in=U-tube**")
    assert page.complaints == []


def test_sheets_are_printed_one_by_one_with_text_that_can_be_selected(prepare, tmp_path):
    page = prepare()
    page.evaluate("window.print = () => {}")
    for paper, width_pt in (("A4", 595), ("Letter", 612)):
        page.get_by_role("combobox", name="Paper").select_option(label=paper)
        tab = page.get_by_role("tab", name="Technician's order")
        tab.click()
        for name, words in (
            ("order", "85.2 g of CuCl"),
            ("labels", "irritates skin, damages eyes"),
            ("equipment", "2 × graphite rod"),
            ("disposal", "in the bottle for copper waste; put none of it down the sink"),
            ("risk", "Draft only"),
            ("worksheet", "sodium sulfate"),
            ("answers", "pale green gas"),
        ):
            page.get_by_role("button", name="Print this sheet").press("Enter")
            page.evaluate("document.documentElement.dataset.fpPrint = 'sheet'")
            file = tmp_path / f"{name}.pdf"
            page.pdf(path=file, prefer_css_page_size=True)
            sheets = PdfReader(file).pages
            text = " ".join(sheet.extract_text() for sheet in sheets)
            assert float(sheets[0].mediabox.width) == pytest.approx(width_pt, abs=2), (paper, name)
            assert " ".join(words.split()) in " ".join(text.split()), (paper, name)
            assert "Will it show" not in text
            assert {size_of(sheet) for sheet in sheets} == {paper}
            assert faults_of(page, sheets, margin_pt=MARGIN_PT) == [], (paper, name)
            tab.press("ArrowRight")
            tab = page.get_by_role("tab", selected=True)
            page.evaluate("delete document.documentElement.dataset.fpPrint")


def test_there_is_room_to_write_and_each_block_stays_on_its_sheet(prepare):
    page = prepare()
    page.evaluate("window.print = () => {}")
    page.get_by_role("tab", name="Student worksheet").click()
    page.get_by_role("button", name="Print this sheet").press("Enter")
    page.evaluate("document.documentElement.dataset.fpPrint = 'sheet'")
    page.emulate_media(media="print")
    heights = page.locator(".fp-writing-line").evaluate_all(
        "lines => lines.map((line) => line.getBoundingClientRect().height)"
    )
    page.emulate_media(media="null")
    assert len(heights) == 4 * (2 * 6 + 2)
    assert min(heights) >= 8 * 96 / 25.4  # 8 mm
    sheets = texts_of(sheets_of(page))
    assert len(sheets) == 2  # two solutions on each
    for k, name in enumerate(("1. sodium sulfate", "3. copper(II) chloride")):
        assert name in sheets[k]
        assert sheets[k].count("Conclusion") == sheets[k].count("Prediction") == 2


#: of a table's fields on paper: what is wider than its field, and how wide an empty field to write in is
FIELDS = """(table) => {
  const fields = [...table.querySelectorAll('th, td')];
  return {
    cut: fields.filter((each) => each.scrollWidth > each.clientWidth + 1).map((each) => each.textContent),
    toWrite: fields.filter((each) => each.matches('td') && !each.textContent).map((each) => each.clientWidth),
  };
}"""
MM = 96 / 25.4  # px
EIGHT = "?cells=Na2SO4;NaCl;CuCl2;CuSO4;KI;H2SO4,c=1;AgNO3,c=0.1;CuSO4,anode=copper,cathode=copper"


def test_a_risk_assessment_leaves_no_sheet_half_empty(prepare):
    page = prepare(EIGHT)
    page.evaluate("window.print = () => {}")
    page.get_by_role("tab", name="Risk assessment").click()
    page.get_by_role("button", name="Print this sheet").press("Enter")
    page.evaluate("document.documentElement.dataset.fpPrint = 'sheet'")
    sheets = sheets_of(page)
    lowest = [min(height for height, _ in pieces_of(sheet)) for sheet in sheets[:-1]]
    assert max(lowest) < 842 / 4  # points above the foot of an A4 sheet
    assert faults_of(page, sheets, margin_pt=MARGIN_PT) == []


@pytest.mark.parametrize("across", [False, True], ids=["upright", "across"])
def test_no_sheet_cuts_a_word_and_a_risk_assessment_has_room_to_write(prepare, across):
    page = prepare(EIGHT)
    page.evaluate("window.print = () => {}")
    wide = (297 if across else 210) - 28
    page.set_viewport_size({"width": round(wide * MM), "height": 900})
    for name in ("Technician's order", "Risk assessment"):
        page.get_by_role("tab", name=name).click()
        page.get_by_role("button", name="Print this sheet").press("Enter")
        page.evaluate("document.documentElement.dataset.fpPrint = 'sheet'")
        page.emulate_media(media="print")
        tables = page.locator(".fp-sheet:not([hidden]) table").all()
        assert len(tables) == (8 if name == "Risk assessment" else 1)
        for table in tables:
            fields = table.evaluate(FIELDS)
            assert fields["cut"] == []
            if name == "Risk assessment":  # what the school does, who checked
                does, checked = fields["toWrite"][:2]
                assert does >= 34 * MM
                assert checked >= 22 * MM
        page.emulate_media(media="null")
        page.evaluate("delete document.documentElement.dataset.fpPrint")
