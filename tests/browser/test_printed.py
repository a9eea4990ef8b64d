"""Every page as it is printed, by its own button or by the browser: whole, plain, and nobody else's."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import expect
from tests.browser.printed import faults_of, heights_of, plain, sheets_of, size_of, texts_of
from tests.browser.test_measure import PASTE
from tests.browser.visit import LOADING_MS, PHONE
from tests.pages import for_every_page

from fizzplate.lesson.state import PAGES
from fizzplate.views.web.stylesheets import style_text

#: what is there when a page has opened, by its address
OPENED = {
    "": ("link", "Demonstrate"),
    "demonstrate?cells=CuSO4&ask=off": ("article", "Anode"),
    "explore?cells=CuSO4;NaCl&ask=off": ("article", "Anode, second cell"),
    "measure": ("table", "One row for each group"),
    "revise?set=1": ("button", "Mark it"),
    "prepare": ("tab", "Bottle labels"),
}
ADDRESSES = for_every_page({path.partition("?")[0]: path for path in OPENED})
TITLES = {"": "Demonstrate", **{name: page.title for name, page in PAGES.items()}}


@pytest.fixture(scope="module")
def host(address_of):
    return address_of("/")


@pytest.fixture
def opened(open_at, host):
    def open_page(path):
        page = open_at(host + path)
        role, name = OPENED[path]
        page.get_by_role(role, name=name).first.wait_for(timeout=LOADING_MS)
        page.evaluate("window.print = () => {}")
        return page

    return open_page


@pytest.mark.parametrize("name", ADDRESSES)
def test_any_page_is_printed_as_it_is_whole_and_without_controls(opened, name):
    page = opened(ADDRESSES[name])
    sheets = sheets_of(page)
    texts = texts_of(sheets)
    assert {size_of(sheet) for sheet in sheets} <= {"Letter", "A4"}
    assert TITLES[name] in texts[0]
    assert faults_of(page, sheets) == []
    page.add_style_tag(content="canvas { visibility: hidden }")  # a small picture has fewer words
    wide = texts_of(sheets_of(page))
    page.set_viewport_size(PHONE)
    assert texts_of(sheets_of(page)) == wide  # paper is no phone


def test_a_run_is_printed_with_its_equations(opened):
    page = opened("demonstrate?cells=CuSO4&ask=off")
    page.get_by_role("button", name="Switch on").click()
    page.get_by_role("button", name="Switch off").wait_for()
    page.locator(".fp-chart").first.wait_for()
    expect(page.get_by_role("button", name="Play")).to_be_visible()
    sheets = sheets_of(page)
    assert "Cu2+ + 2e− → Cu" in texts_of(sheets)[0]
    charge, left_over = heights_of(sheets[0], "2+"), heights_of(sheets[0], "Cu")
    assert any(2 < high - low < 8 for high in charge for low in left_over)  # raised
    assert "Gas made" in " ".join(texts_of(sheets))
    assert faults_of(page, sheets) == []


def test_a_class_report_holds_its_own_data_only(opened):
    page = opened("measure")
    name = "the three at the window who came late"
    rows = [f"{name}\t8.214\t8.292\t9.105\t9.018\t0.20\t20"]
    rows += [f"G{k}\t8.214\t8.292\t9.105\t9.018\t0.20\t20" for k in range(2, 30)]
    page.evaluate(PASTE, ["Group, row 1", "\n".join(rows)])
    page.get_by_role("rowheader", name="G29").first.wait_for()
    page.get_by_role("button", name="Print the report").click()
    sheets = sheets_of(page, format="A4")
    texts = texts_of(sheets)
    assert {size_of(sheet) for sheet in sheets} == {"A4"}
    assert "Measure" in texts[0]
    assert name in texts[0]  # where a field would cut it
    assert sum("G29" in text for text in texts) >= 1
    assert not any("nvented" in text or "102" in text for text in texts)  # of another class
    for text in texts:  # the head of a table is repeated where it goes on
        if "8.214" in text:
            assert "Anode before" in text
        if "99 %" in text:
            assert "charge, C" in text
    chart = next(text for text in texts if "Copper gained at the cathode" in text)
    assert "line through the origin" in chart  # the heading stays with its chart
    assert faults_of(page, sheets) == []


def kept_rows(count):
    """Give what an earlier lesson left in the browser: rows of the results table."""

    def at(product, equation, seen, test):
        return {"product": product, "equation": equation, "seen": seen, "test": test}

    row = {
        "ions": "K⁺, I⁻, H⁺, OH⁻",
        "cathode": at(
            "hydrogen",
            "2H⁺ + 2e⁻ → H₂",
            "bubbles of a colourless gas",
            "hold a lighted splint at the mouth of the tube: the gas burns with a squeaky pop",
        ),
        "anode": at(
            "iodine",
            "2I⁻ → I₂ + 2e⁻",
            "the solution round the electrode turns brown",
            "add a drop of starch solution: it turns blue-black",
        ),
        "left": "after mixing (for an exam): alkaline; before mixing: alkaline at both electrodes",
        "pH": "cathode 7.0 to 12.5; anode 7.0 to 11.4",
    }
    return {f"cell-{k}": {"label": f"KI number {k}", "row": row} for k in range(count)}


def test_the_results_table_is_printed_across_in_whole_words(opened):
    page = opened("demonstrate?cells=CuSO4&ask=off")
    kept = json.dumps(kept_rows(14))
    page.evaluate("(kept) => localStorage.setItem('fizzplate.class.1', kept)", kept)
    page.get_by_role("tab", name="Results table").click()
    words = "we saw bubbles at both sides and smelled nothing, " * 6
    page.get_by_role("textbox", name="Observed, cathode, KI number 0").fill(words)

    def printed(kind, paper="A4"):
        page.get_by_role("combobox", name="Print the table").select_option(label=kind)
        page.get_by_role("button", name="Print table").click()
        sheets = sheets_of(page, format=paper)
        texts = texts_of(sheets)
        assert {size_of(sheet) for sheet in sheets} == {f"{paper} across"}
        assert "Electrolysis: results Class: Date:" in texts[0]
        for k, text in enumerate(texts, start=1):
            for head in ("Electrode", "Predicted", "Observed", "Half-equation", "Solution becomes"):
                assert head in text.replace("- ", "-")
            assert f"Page {k} of {len(texts)}" in text
        assert "Reveal" not in texts[0]
        # once it has been printed, the page is whole again, with headings that are not on this paper
        page.evaluate("document.documentElement.dataset.fpPrint = 'table'")
        assert faults_of(page, sheets) == []
        page.evaluate("dispatchEvent(new Event('afterprint'))")
        return " ".join(texts).replace("- ", "-")  # a line may end at a hyphen

    row = kept_rows(1)["cell-0"]["row"]
    given = [plain(each) for each in (row["ions"], row["left"], row["pH"])]
    given += [plain(each) for role in ("cathode", "anode") for each in row[role].values()]
    whole, half, empty = (printed(kind) for kind in ("complete", "half-filled", "empty"))
    assert {each: whole.count(each) for each in given if whole.count(each) < 14} == {}
    assert half.count("hydrogen") == 14
    assert "squeaky" not in half
    assert not any(each in empty for each in given)
    assert "KI number 13" in empty
    assert plain(words) not in whole + half + empty
    assert plain(words) in printed("as shown")  # all of it, where a field would cut it
    assert printed("complete", "Letter").count("squeaky") == 14


def test_a_table_that_fills_the_screen_leaves_it_to_be_printed_whole(opened):
    page = opened("demonstrate?cells=CuSO4&ask=off")
    page.evaluate(
        "(kept) => localStorage.setItem('fizzplate.class.1', kept)", json.dumps(kept_rows(14))
    )
    page.get_by_role("tab", name="Results table").click()
    page.get_by_role("button", name="Table on full screen").click()
    page.wait_for_function("() => document.fullscreenElement !== null")
    page.evaluate(
        "() => { window.print = () => { window.filled = document.fullscreenElement !== null; }; }"
    )
    page.get_by_role("combobox", name="Print the table").select_option(label="complete")
    page.get_by_role("button", name="Print table").click()
    page.wait_for_function("() => 'filled' in window")
    assert page.evaluate("filled") is False  # a browser prints one sheet of what fills the screen
    texts = texts_of(sheets_of(page))
    assert len(texts) > 1
    assert " ".join(texts).count("squeaky") == 14


def test_a_revealed_cell_shows_no_empty_field_and_half_equations_break_once_at_most(opened):
    page = opened("demonstrate?cells=CuSO4&ask=off")
    page.evaluate(
        "(kept) => localStorage.setItem('fizzplate.class.1', kept)", json.dumps(kept_rows(2))
    )
    page.get_by_role("tab", name="Results table").click()
    seen = page.get_by_role("textbox", name="Observed, cathode, KI number 0")
    made = page.get_by_role("textbox", name="Product, cathode, KI number 0")
    made.fill("hydrogen")
    page.get_by_role("button", name="Reveal all").click()
    expect(made).to_be_visible()
    expect(seen).to_be_hidden()
    hide = page.get_by_role("button", name="Hide: Observed, cathode, KI number 0")
    assert hide.evaluate("(node) => getComputedStyle(node).opacity") == "0"
    hide.focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")  # the keyboard finds it
    assert hide.evaluate("(node) => getComputedStyle(node).opacity") == "1"
    hide.press("Enter")
    expect(seen).to_be_visible()
    page.get_by_role("button", name="Print table").click()
    page.emulate_media(media="print")
    lines = page.locator('td[data-title^="Half"] .fp-expected').evaluate_all(
        "all => all.map((node) => node.offsetHeight / parseFloat(getComputedStyle(node).lineHeight))"
    )
    page.emulate_media(media="null")
    assert len(lines) == 4
    assert 0.5 < min(lines) <= max(lines) < 2.5


def test_paper_never_takes_the_layout_of_a_narrow_window():
    """Whatever asks how wide a window is asks it of screens."""
    questions, stack = [], []
    for piece in style_text().replace("}", "}\n").replace("{", "{\n").split("\n"):
        if piece.endswith("{"):
            stack.append(piece)
            if "-width:" in piece and piece.lstrip().startswith("@"):
                questions.append(any("@media screen" in each for each in stack))
        elif piece.endswith("}"):
            stack.pop()
    assert len(questions) > 10
    assert all(questions)
