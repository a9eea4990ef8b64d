"""Pages as they come out of the printer: their text, where it stands, and what should not be on them."""

from __future__ import annotations

import unicodedata
from io import BytesIO

from pypdf import PdfReader

PX_A_POINT = 96 / 72
SIZES_PT = {"A4": (595, 842), "Letter": (612, 792)}
MIN_LETTERS = 40  # of a sheet that was worth its paper
#: what is pressed, moved or chosen and is drawn on paper; a chosen unit stands there as a word
CONTROLS = """() => [...document.querySelectorAll(
  'button, [role=button], [role=tab], [role=switch], summary, select, input[type=range], input[type=file]'
)].filter((node) => node.checkVisibility() && !node.matches('.fp-summary, .fp-measurements select')
).map((node) => node.outerHTML.slice(0, 80))"""
#: what is drawn beyond the right edge of the paper, or cut by its own frame
CUT = """() => [...document.querySelectorAll(
  'body :is(h1, h2, h3, p, li, td, th, caption, dd, svg, canvas, table, div)'
)]
  .filter((node) => node.checkVisibility() && !node.closest('.fp-data-table, .fp-spoken, svg *'))
  .filter((node) => {
    const { right, width } = node.getBoundingClientRect();
    const framed = getComputedStyle(node).overflowX !== 'visible' && node.scrollWidth > node.clientWidth + 1;
    return width && (right > innerWidth + 1 || framed);
  }).map((node) => node.outerHTML.slice(0, 80))"""
HEADINGS = """() => [...document.querySelectorAll('h1, h2, h3, caption, thead')]
  .filter((node) => node.checkVisibility()).map((node) => node.textContent)"""


def plain(text):
    """Write text without what differs between a page and its print: ligatures, spaces, raised figures."""
    return " ".join(unicodedata.normalize("NFKC", text).split())


def sheets_of(page, **options):
    """Print what stands in the browser, on the paper that its style asks for."""
    return PdfReader(BytesIO(page.pdf(prefer_css_page_size=True, **options))).pages


def texts_of(sheets):
    """Give the text of each sheet."""
    return [plain(sheet.extract_text()) for sheet in sheets]


def size_of(sheet):
    """Give the name of a sheet's size, and whether it lies across."""
    width, height = float(sheet.mediabox.width), float(sheet.mediabox.height)
    for name, sides in SIZES_PT.items():
        if max(abs(min(width, height) - sides[0]), abs(max(width, height) - sides[1])) < 2:
            return f"{name} across" if width > height else name
    return f"{width} by {height} points"


def pieces_of(sheet):
    """Give the texts of a sheet as they are drawn, each with how high above its foot it stands, in points."""
    found = []

    def visit(text, matrix, text_matrix, _font, _size):
        if text.strip():
            x, y = text_matrix[4:]
            found.append((x * matrix[1] + y * matrix[3] + matrix[5], plain(text)))

    sheet.extract_text(visitor_text=visit)
    return found


def heights_of(sheet, word):
    """Give how high each piece of text stands that is exactly this word."""
    return [height for height, text in pieces_of(sheet) if text == word]


def last_line(sheet, margin_pt):
    """Give the lowest line of a sheet, but for what stands in its margin."""
    pieces = [(height, text) for height, text in pieces_of(sheet) if height > margin_pt]
    lowest = min((height for height, _ in pieces), default=0.0)
    return "".join(text for height, text in pieces if height < lowest + 2)


def faults_of(page, sheets, margin_pt=34):
    """Name what is wrong with a printed page: controls, what is cut, a lonely heading, an empty sheet."""
    before = page.viewport_size
    width_px = (float(sheets[0].mediabox.width) - 2 * margin_pt) * PX_A_POINT
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round(width_px), "height": 900})
    faults = [*page.evaluate(CONTROLS), *page.evaluate(CUT)]
    headings = [plain(each) for each in page.evaluate(HEADINGS)]
    page.emulate_media(media="null")  # whatever is asked for next
    page.set_viewport_size(before)
    for sheet, text in zip(sheets, texts_of(sheets), strict=True):
        line = last_line(sheet, margin_pt).replace(" ", "")
        faults += [f"ends with {each}" for each in headings if line in each.replace(" ", "")]
        if len(text) < MIN_LETTERS:
            faults.append(f"a sheet with nothing but {text!r}")
    return faults
