"""Papers and mark schemes as they come out of the printer: A4 and Letter, whole, black on white."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import asdict

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream
from tests.browser.printed import pieces_of
from tests.browser.visit import BEYOND, PHONE, violations
from tests.views.sample_questions import as_printed, ten

from fizzplate.questions.sets import questions as sets_of_questions
from fizzplate.views.paper.papers import papers
from fizzplate.views.web.module_joining import join_modules
from fizzplate.views.web.stylesheets import style_text

WIDTH_PT = {"A4": 595, "Letter": 612}
MARGIN_PT = 47  # of a page at its sides: 17 mm, less a point
UPPER_PT, LOWER_PT = 15 / 25.4 * 72, 18 / 25.4 * 72
BETWEEN_MARGINS_PX = {"A4": 665, "Letter": 687}
SHELL = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Revise</title></head>
<body><main><div class="fp-page fp-column-page"><h1>Revise</h1>
<div id="here"></div></div></main></body></html>"""
MOUNT = """async ([text, sheets]) => {
  const module = await import(URL.createObjectURL(new Blob([text], { type: 'text/javascript' })));
  const model = { get: (name) => ({ sheets })[name], on() {}, off() {} };
  module.default.render({ model, el: document.getElementById('here') });
  window.print = () => {};
}"""
# what is drawn beyond the edges of the paper, all that has a box
OUTSIDE = """() => [...document.querySelectorAll('.fp-sheet:not([hidden]) .fp-paper *')].filter((node) => {
  const { left, right, width } = node.getBoundingClientRect();
  return width && (left < -1 || right > innerWidth + 1);
}).map((node) => node.outerHTML.slice(0, 80))"""


WIDEN = """(width) => {
  document.querySelector('.fp-paper:not([hidden] *) p').style.width = width;
}"""


@pytest.fixture
def printing(windows):
    """Show sheets in an otherwise empty page, by the widget that prints them."""
    pages = []

    def show(sheets, **options):
        page = windows.lend(**options)
        pages.append(page)
        page.set_content(SHELL)
        page.add_style_tag(content=style_text())
        module = join_modules("paper/printing/printing.js", render="renderPrinting")
        page.evaluate(MOUNT, [module, [asdict(sheet) for sheet in sheets]])
        return page

    yield show
    for page in pages:
        windows.take_back(page)


def plain(text):
    """Write text without what differs between a page and its print: ligatures, spaces, raised figures.

    A line may end after the hyphen of a word, such as half-equation.
    """
    spaced = " ".join(unicodedata.normalize("NFKC", text).split())
    return re.sub(r"(?<=[a-z]-) (?=[a-z])", "", spaced)


def pages_of(page, title, paper, folder):
    """Print a sheet and give its pages."""
    page.get_by_role("combobox", name="Paper").select_option(label=paper)
    page.get_by_role("tab", name=title, exact=True).click()
    page.get_by_role("button", name="Print this sheet").click()
    file = folder / "sheet.pdf"
    page.pdf(path=file, prefer_css_page_size=True)
    page.evaluate("delete document.documentElement.dataset.fpPrint")
    return PdfReader(file).pages


def left_edges(sheet):
    """Give where each text of a printed page begins, in points from the left."""
    edges = []

    def visit(text, matrix, text_matrix, _font, _size):
        if text.strip():
            x, y = text_matrix[4:]
            edges.append(x * matrix[0] + y * matrix[2] + matrix[4])

    sheet.extract_text(visitor_text=visit)
    return edges


def lines_to_write_on(sheet):
    """Count the lines of a printed page that an answer is written on: thin, wide, set in from the edge."""
    drawn = ContentStream(sheet.get_contents(), sheet.pdf).operations
    boxes = [tuple(map(float, given)) for given, operator in drawn if operator == b"re"]
    return sum(left > 0 and width > 500 and height <= 2 for left, _, width, height in boxes)


def words_of(question):
    """Give what a question says on paper, without the constants that stand at the top."""
    said = [
        question.text,
        *(part.prompt for part in question.parts),
        *(o.text for o in question.options),
    ]
    return [plain(as_printed(text)) for text in said if text]


def test_a_paper_and_its_scheme_come_out_whole(printing, tmp_path):
    page = printing(papers([(31, ten()), (32, ten()[:4])], minutes=40))
    for paper in WIDTH_PT:
        for title, most in (("Paper 31", 4), ("Mark scheme 31", 3), ("Paper 32", 1)):
            pages = pages_of(page, title, paper, tmp_path)
            assert 1 <= len(pages) <= most
            whole = plain(" ".join(sheet.extract_text() for sheet in pages))
            assert f"Version {title[-2:]}" in whole
            for k, sheet in enumerate(pages, start=1):
                assert float(sheet.mediabox.width) == pytest.approx(WIDTH_PT[paper], abs=2)
                assert f"Page {k} of {len(pages)}" in plain(sheet.extract_text())
                edges = left_edges(sheet)
                assert min(edges) >= MARGIN_PT
                assert max(edges) <= WIDTH_PT[paper] - MARGIN_PT
            if title == "Paper 31":
                assert all(words in whole for question in ten() for words in words_of(question))
                assert "time, minutes" in whole  # a chart's text stays text
                assert whole.count("End of paper") == 1
            if title == "Mark scheme 31":
                for question in ten():
                    points = [point.statement[1:] for point in question.points]
                    steps = [step for part in question.parts for step in part.steps]
                    assert all(plain(words) in whole for words in points + steps)
                assert "Total 26" in whole


def test_the_foot_of_a_page_names_the_sheet(printing, tmp_path):
    page = printing(papers([(31, ten())]))
    page.evaluate("document.documentElement.style.setProperty('--fp-sheet-title', '\"Paper 31\"')")
    pages = pages_of(page, "Paper 31", "A4", tmp_path)
    assert all("Paper 31" in sheet.extract_text() for sheet in pages)


def test_no_question_is_torn_from_its_options_its_lines_or_its_answer(printing, tmp_path):
    sets = [(k, ten()[k:] + ten()[:k]) for k in range(10)]  # so that each meets the foot of a page
    page = printing(papers(sets))
    for paper in WIDTH_PT:
        for k, questions in sets:
            pages = pages_of(page, f"Paper {k}", paper, tmp_path)
            texts = [plain(each.extract_text()) for each in pages]
            lines = [lines_to_write_on(each) for each in pages]
            assert lines[-1] or len(texts[-1]) > 80  # the end does not stand alone
            for each in questions:
                stem, *others = words_of(each)
                at = next(n for n, text in enumerate(texts) if stem in text)
                if each.kind == "choice":
                    assert all(option in texts[at] for option in others)
                elif each.kind == "equation":
                    lines[at] -= 1
                elif each.kind == "text":
                    lines[at] -= 4
                for part in each.parts:
                    ask = plain(as_printed(part.prompt or each.text))
                    assert "Answer" in next(text for text in texts if ask in text).split(ask)[1]
            assert all(
                count >= 0 and count % 4 == 0 for count in lines
            )  # what is left are the plan's
            assert sum(lines) == 12
            assert "End of paper" in texts[-1]


def filled(sheet):
    """Give how much of a printed page is filled, from its upper margin to its lowest line but the foot."""
    height = float(sheet.mediabox.height) - UPPER_PT - LOWER_PT
    lowest = min(at for at, _ in pieces_of(sheet) if at > LOWER_PT)
    return 1 - (lowest - LOWER_PT) / height


def test_the_last_page_of_a_paper_and_of_its_scheme_is_worth_its_paper(printing, tmp_path):
    """Of these sets, printed with one room for all, several last pages are less than 40 % full."""
    sets = [
        (k, sets_of_questions(seed=k, count=6 + k % 11, level=14 + k % 2 * 2)) for k in range(1, 9)
    ]
    page = printing(papers(sets))
    usual = printing(papers(sets))
    usual.evaluate(
        """() => {
          const style = document.createElement('style');
          style.textContent = '.fp-paper { --fp-room: 1 !important; }';
          document.head.append(style);
        }"""
    )
    shares, before = [], []
    for k, _ in sets:
        for title in (f"Paper {k}", f"Mark scheme {k}"):
            pages = pages_of(page, title, ("A4", "Letter")[k % 2], tmp_path)
            as_before = pages_of(usual, title, ("A4", "Letter")[k % 2], tmp_path)
            assert len(pages) <= len(as_before)
            if len(pages) > 1:
                shares.append(filled(pages[-1]))
            if len(as_before) > 1:
                before.append(filled(as_before[-1]))
    assert min(shares) > 0.4, shares
    assert sum(share < 0.4 for share in before) > 2  # the test can fail


def test_nothing_is_cut_at_the_edges(printing):
    page = printing(papers([(31, ten())]))
    for width in BETWEEN_MARGINS_PX.values():
        page.set_viewport_size({"width": width, "height": 900})
        for title in ("Paper 31", "Mark scheme 31"):
            page.get_by_role("tab", name=title, exact=True).click()
            page.get_by_role("button", name="Print this sheet").click()
            page.emulate_media(media="print")
            assert page.locator(".fp-paper:visible").count() == 1
            assert page.evaluate(OUTSIDE) == []
            page.evaluate(WIDEN, "900px")
            assert page.evaluate(OUTSIDE) != []  # the test can fail
            page.evaluate(WIDEN, "")
            page.emulate_media(media="screen")


def test_print_is_black_on_white_in_a_dim_room_too(printing):
    page = printing(papers([(31, ten())]))
    page.get_by_role("switch", name="Dim room").click()
    page.emulate_media(media="print")
    colours = page.evaluate(
        """() => [
            '.fp-paper', '.fp-paper-figure text',
            '.fp-paper-figure path[style*="currentColor"]:not([class*="fp-colour"] *)',
          ].map((name) => getComputedStyle(document.querySelector(name)))
          .flatMap(({ color, stroke, fill }) => [color, stroke, fill])"""
    )
    assert set(colours) <= {"rgb(0, 0, 0)", "none"}
    assert page.evaluate(
        "getComputedStyle(document.querySelector('.fp-sheet')).backgroundColor"
    ) == ("rgba(0, 0, 0, 0)")


def test_on_screen_papers_are_read_by_everyone_and_fit_a_phone(printing):
    page = printing(papers([(31, ten())], minutes=40))
    for room in ("light", "dim"):
        if room == "dim":
            page.get_by_role("switch", name="Dim room").click()
        for title in ("Paper 31", "Mark scheme 31"):
            page.get_by_role("tab", name=title, exact=True).click()
            assert page.get_by_role("heading", name="Electrolysis").is_visible()
            assert page.get_by_role("heading", name=title).count() == 0
            assert violations(page) == []
    page.set_viewport_size(PHONE)
    for title in ("Paper 31", "Mark scheme 31"):
        page.get_by_role("tab", name=title, exact=True).click()
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
        assert page.evaluate(BEYOND) == []
        assert page.locator(".fp-sheet:visible").evaluate("(e) => e.scrollWidth <= e.clientWidth")
