"""The life of a page: its program ends, its server starts anew, its connection is lost; one press goes on."""

from __future__ import annotations

import re
import sys
from contextlib import ExitStack
from urllib.parse import urlsplit

import nbformat
import pytest
from playwright.sync_api import expect
from tests.browser.conftest import served_for_one_test
from tests.browser.visit import LOADING_MS, PROJECTOR, Visit, unfold, violations
from tests.browser.wire import wired

from fizzplate.share.places import notebook

TOLD_MS = 10_000  # from the fault to the banner
#: what moves costs a whole processor, and is looked at where a fault must not stop it
STILL = {"viewport": PROJECTOR, "reduced_motion": "reduce"}
#: a page's program that takes ten megabytes fifty times a second, once it is told to
HOARD = """
import asyncio, ipywidgets
kept = []
async def hoard():
    while True:
        kept.append(b"x" * 10_000_000)
        await asyncio.sleep(0.02)
button = ipywidgets.Button(description="Hoard")
button.on_click(lambda _: kept.append(asyncio.get_running_loop().create_task(hoard())))
button
"""
SERVE = """
import sys
from pathlib import Path
from fizzplate.share.network import LOOPBACK, Place, free_port
from fizzplate.share.server import serve

place = Place(LOOPBACK, free_port(0))
pages = {"hoarding": Path(sys.argv[1])}
serve(pages, place, max_kernels=4, on_listening=lambda: print(place.address("hoarding"), flush=True))
"""
NOTE_BANNERS = """
  window.banners = 0;
  new MutationObserver(() => (banners += document.querySelectorAll('body > .fp-lost').length)).observe(
    document, { subtree: true, childList: true },
  );
"""
BE_HIDDEN = """(hidden) => {
  Object.defineProperty(document, 'hidden', { configurable: true, get: () => hidden });
  document.dispatchEvent(new Event('visibilitychange'));
}"""


class Anywhere(Visit):
    """A page that need not have a cell in view."""

    @property
    def ready(self):
        """Find the page, whose cells are not looked at."""
        return self.page.locator(".fp-page")

    @property
    def banner(self):
        return self.page.locator("body > .fp-lost")

    def field(self, name):
        return self.page.get_by_role("textbox", name=name, exact=True)

    def type(self, name, text):
        """Type into a field and leave it."""
        self.field(name).fill(text)
        self.field(name).press("Tab")

    def lose_the_program(self):
        """End the page's program; the page tells of it."""
        self.kill_kernel()
        expect(self.banner).to_be_visible(timeout=TOLD_MS)

    def go_on(self):
        """Press the one button; the page comes back."""
        self.button("Reload").click()
        expect(self.banner).to_have_count(0, timeout=LOADING_MS)
        self.page.locator(".fp-page").wait_for(timeout=LOADING_MS)


@pytest.fixture
def visit(windows):
    with ExitStack() as stack:

        def open_page(address):
            seen = Anywhere(windows, address, **STILL)
            stack.callback(seen.close)
            return seen

        yield open_page


def state_of(seen):
    """Say what a teacher would miss."""
    page = seen.page
    return {
        "address": urlsplit(page.url).query,
        "chosen": page.locator(".fp-chosen").all_inner_texts(),
        "strength": seen.field("Concentration, mol/dm³").input_value(),
        "on": seen.button("Switch off").count(),
        "moment": page.get_by_role("status", name="Clock").inner_text(),
        "written": page.get_by_label("What do you see at the cathode?").input_value(),
        "tab": page.get_by_role("tab", selected=True).inner_text(),
        "size": page.get_by_role("switch", name="Projector size").get_attribute("aria-checked"),
    }


@pytest.fixture(scope="module")
def laid_wire(demonstrate_address):
    with wired(demonstrate_address) as laid:
        yield laid


@pytest.fixture
def wire(laid_wire):
    """Give the wire to the server that tests share, and leave it whole."""
    yield laid_wire
    laid_wire.mend()


def prepare_a_lesson(seen):
    """Do what a teacher would miss, and give it."""
    page = seen.page
    seen.all_controls()
    page.get_by_role("switch", name="Projector size").click()
    page.get_by_role("button", name="NaCl").click()
    expect(seen.field("Concentration, mol/dm³")).to_have_value("0.5")
    seen.type("Concentration, mol/dm³", "0.2")
    page.wait_for_url("**c=0.2**")
    seen.switch_on()
    expect(seen.button("Play")).to_be_visible()
    page.get_by_role("slider", name="Time in the run").fill("120")
    page.get_by_label("What do you see at the cathode?").fill("small bubbles")
    page.get_by_role("tab", name="Explain").click()
    before = state_of(seen)
    assert before["moment"] == "2 min 0 s"
    return before


def the_picture_goes_on(seen):
    """Play the run, and go back to where it was."""
    seen.page.emulate_media(reduced_motion="no-preference")
    seen.button("Play").click()
    seen.picture_changes(seen.picture())
    seen.button("Pause").click()
    seen.page.emulate_media(reduced_motion="reduce")
    seen.page.get_by_role("slider", name="Time in the run").fill("120")


def one_press_takes_up_again(seen, before, mend=lambda: None):
    """Reload; when what was broken is mended, all is as it was."""
    seen.page.evaluate("window.isOld = true")
    seen.button("Reload").click()
    mend()
    # where the connection comes back, the old page is whole until the new one takes its place
    seen.page.wait_for_function("() => !window.isOld", timeout=LOADING_MS)
    expect(seen.banner).to_have_count(0, timeout=LOADING_MS)
    seen.button("Switch off").wait_for(timeout=LOADING_MS)
    expect(seen.page.get_by_role("status", name="Clock")).to_have_text("2 min 0 s")
    expect(seen.page.get_by_role("tab", name="Explain", selected=True)).to_be_visible()
    assert state_of(seen) == before


def no_code_is_promised(seen, address):
    """Ask for the code of the link where no program is left to make it."""
    seen.button("Show as QR code").click()
    dialog = seen.page.get_by_role("dialog")
    expect(dialog).to_contain_text("so there is no code")
    expect(dialog).to_contain_text(address)
    seen.page.keyboard.press("Escape")


def test_when_the_program_ends_the_picture_goes_on_and_one_press_takes_up_again(
    visit, demonstrate_address
):
    seen = visit(demonstrate_address)
    before = prepare_a_lesson(seen)
    seen.kill_kernel()
    expect(seen.banner).to_contain_text("program behind this page has ended", timeout=TOLD_MS)
    the_picture_goes_on(seen)
    assert violations(seen.page) == []
    one_press_takes_up_again(seen, before)


def test_when_the_server_starts_anew_the_picture_goes_on_and_one_press_takes_up_again(visit):
    with ExitStack() as stack:
        process, address = stack.enter_context(served_for_one_test())
        seen = visit(address)
        before = prepare_a_lesson(seen)
        seen.button("Lesson settings").click()
        seen.button("Show as QR code").wait_for()
        process.terminate()
        process.wait(timeout=30)
        expect(seen.banner).to_contain_text("lost the connection to its server", timeout=TOLD_MS)
        the_picture_goes_on(seen)
        no_code_is_promised(seen, address)
        again = ("--page=demonstrate", f"--port={urlsplit(address).port}")
        one_press_takes_up_again(
            seen, before, mend=lambda: stack.enter_context(served_for_one_test(*again))
        )


def test_a_connection_that_comes_back_needs_no_press_and_one_that_does_not_needs_one(visit, wire):
    seen = visit(wire.address)
    seen.page.evaluate("window.same = true")
    wire.cut()
    expect(seen.banner).to_be_visible(timeout=TOLD_MS)
    wire.mend()
    expect(seen.banner).to_have_count(0)
    before = prepare_a_lesson(seen)
    assert seen.page.evaluate("window.same")
    wire.cut()
    expect(seen.banner).to_contain_text("does not answer", timeout=TOLD_MS)
    the_picture_goes_on(seen)
    one_press_takes_up_again(seen, before, mend=wire.mend)


def test_what_is_typed_just_before_and_after_is_not_lost(visit, demonstrate_address):
    seen = visit(demonstrate_address)
    seen.all_controls()
    seen.kill_kernel()
    seen.field("Concentration, mol/dm³").fill("0.2")  # nobody knows yet
    expect(seen.banner).to_be_visible(timeout=TOLD_MS)
    expect(seen.banner).to_have_count(1)
    expect(seen.banner).to_be_in_viewport()
    assert violations(seen.page) == []
    expect(seen.button("Switch on")).to_be_disabled()
    expect(seen.page.get_by_role("combobox", name="Solution")).to_be_disabled()
    seen.field("Time, minutes").fill("7")
    seen.go_on()
    expect(seen.field("Concentration, mol/dm³")).to_have_value("0.2")
    seen.page.wait_for_url("**Na2SO4,c=0.2,min=7**")
    expect(seen.field("Time, minutes")).to_have_value("7")


def test_a_page_that_slept_or_was_hidden_tells_of_nothing(windows, wire):
    with ExitStack() as stack:
        page = windows.lend(apart=True, **STILL)
        stack.callback(windows.take_back, page)
        page.clock.install()
        page.add_init_script(NOTE_BANNERS)
        page.goto(wire.address, timeout=LOADING_MS)
        page.get_by_role("switch", name="All controls").click(timeout=LOADING_MS)

        for hidden in (True, False):
            wire.cut()
            page.clock.run_for(3000)  # time enough to ask for a sign of life, not to miss it
            page.evaluate(BE_HIDDEN, hidden)
            page.clock.fast_forward("01:00:00")
            page.evaluate(BE_HIDDEN, False)
            wire.mend()
            page.get_by_role("button", name="Next", exact=True).click()
            page.wait_for_function("() => location.search.includes('open=')")
        assert page.evaluate("banners") == 0


def test_explore_takes_up_both_cells_the_explanation_a_drawn_sweep_and_what_was_written(
    visit, address_of
):
    seen = visit(address_of("explore") + "?cells=NaCl;CuSO4&ask=off")
    page = seen.page
    expect(page.get_by_role("button", name="Switch on")).to_have_count(2)
    page.get_by_role("button", name="Switch on").nth(1).click()
    seen.button("Switch off").wait_for()
    second = page.locator(".fp-cell").nth(1)
    second.get_by_role("tab", name="Explain").click()
    for _ in range(2):
        second.get_by_role("button", name="Next", exact=True).click()
    step = second.locator(".fp-count")
    expect(step).to_contain_text("3 of")
    strength = seen.field("Concentration, mol/dm³").first
    strength.fill("0.25")
    strength.press("Tab")
    page.wait_for_url("**NaCl,c=0.25**")
    workshop = page.get_by_role("region", name="Half-equation workshop")
    cell = workshop.get_by_role("combobox").first
    cell.select_option(index=3)
    field = workshop.get_by_role("textbox").first
    field.fill("Cu2+ + 2e- ->")
    cell.select_option(index=1)
    page.get_by_label("My conclusion").fill("More salt, more current.")
    sweep = page.get_by_role("combobox", name="Sweep")
    sweep.select_option(label="gas against time")
    seen.button("Draw it").click()
    drawn = page.locator(".fp-sweeps svg")
    expect(drawn).to_be_visible()
    sweep.select_option(index=1)
    chosen = sweep.evaluate("node => node.selectedOptions[0].text")
    page.locator(".fp-folded-line").first.click()
    seen.field("Time, minutes").first.wait_for()
    seen.lose_the_program()
    seen.field("Time, minutes").first.fill("6")
    seen.go_on()
    expect(strength).to_have_value("0.25")
    expect(seen.field("Time, minutes").first).to_have_value("6")
    page.wait_for_url("**NaCl,c=0.25,min=6;CuSO4**")
    expect(sweep.locator("option:checked")).to_have_text(chosen)
    expect(drawn).to_be_visible()
    expect(seen.button("Switch off")).to_have_count(1)
    expect(step).to_contain_text("3 of")
    expect(page.get_by_label("My conclusion")).to_have_value("More salt, more current.")
    cell.select_option(index=3)
    expect(field).to_have_value("Cu2+ + 2e- ->")


def test_measure_takes_up_the_table_the_causes_and_the_readings(visit, address_of):
    seen = visit(address_of("measure"))
    page = seen.page
    seen.button("Try an invented class").click()
    expect(page.get_by_role("table", name="Causes")).to_be_visible()
    seen.type("Current, row 2", "0.41")
    size = seen.field("Grains shed, mg")
    size.fill("7")
    size.press("Tab")
    seen.type("Current, A", "0.5")
    unfold(page, "No readings of a current yet")
    readings = page.get_by_label("Readings: a time and a current on each line")
    readings.fill("0, 0.2\n10, 0.3")
    readings.press("Tab")
    summary = page.get_by_text("2 readings over 10 minutes")
    expect(summary).to_be_visible()
    shed = (
        page.get_by_role("table", name="Causes").get_by_role("row").filter(has_text="grains shed")
    )
    expect(shed).to_contain_text("7 mg")
    seen.lose_the_program()
    seen.field("Time, min").fill("33")
    seen.go_on()
    expect(seen.field("Current, row 2")).to_have_value("0.41")
    expect(size).to_have_value("7")
    expect(seen.field("Time, min")).to_have_value("33")
    expect(seen.field("Current, A")).to_have_value("0.5")
    expect(summary).to_be_visible()
    expect(page.get_by_text("33 min").first).to_be_visible()  # and worked out
    expect(shed).to_contain_text("7 mg")


def test_revise_takes_up_answers_and_papers_and_saves_an_opened_file(visit, address_of, tmp_path):
    seen = visit(address_of("revise") + "?v=1&set=5&count=3&level=14")
    page = seen.page
    page.get_by_role("heading", name="Question 1 of 3").wait_for()
    with page.expect_download() as download:
        seen.button("Save set as QTI 3.0").click()
    file = tmp_path / "set.zip"
    download.value.save_as(file)
    page.get_by_label("Open a set").set_input_files(file)
    expect(page.get_by_text("3 questions are opened.")).to_be_visible()
    page.wait_for_url("**set=opened**")
    card_text = page.locator(".fp-question-card").inner_text()
    seen.button("Make a paper and its mark scheme").click()
    papers = page.get_by_role("tab", name=re.compile("Paper|Mark scheme"))
    expect(papers).to_have_count(2)
    seen.lose_the_program()
    seen.field("Versions").fill("2")
    seen.go_on()
    expect(page.locator(".fp-question-card")).to_have_text(card_text, use_inner_text=True)
    expect(seen.field("Versions")).to_have_value("2")
    expect(papers).to_have_count(2)  # made anew of the file, as they were
    with page.expect_download() as again:
        seen.button("Save set as QTI 3.0").click()
    assert again.value.path().stat().st_size == pytest.approx(file.stat().st_size, rel=0.02)
    seen.button("Make a paper and its mark scheme").click()
    expect(papers).to_have_count(4)


def test_prepare_takes_up_the_numbers_and_the_cupboard(visit, address_of):
    seen = visit(address_of("prepare") + "?v=1&cells=Na2SO4,also=NaCl:0.1;NaCl")
    page = seen.page
    page.get_by_role("button", name="In the cupboard").click()
    substance = page.get_by_role("combobox", name="Substance")
    expect(substance).to_be_visible()
    purity = seen.field("Purity, %")
    seen.type("Purity, %", "98")
    expect(page.locator(".fp-prepared")).to_contain_text("72.5 g of Na₂SO₄")
    substance.select_option(label="NaCl")
    expect(purity).to_have_value("100")
    seen.type("Purity, %", "96")
    expect(page.locator(".fp-prepared")).to_contain_text("6.1 g of NaCl")
    seen.lose_the_program()
    seen.field("Groups").fill("12")
    seen.go_on()
    expect(seen.field("Groups")).to_have_value("12")
    expect(page.locator(".fp-prepared")).to_contain_text("72.5 g of Na₂SO₄")
    expect(page.locator(".fp-prepared")).to_contain_text("6.1 g of NaCl")
    substance.select_option(label="Na₂SO₄")
    expect(purity).to_have_value("98")


def test_a_program_that_takes_too_much_memory_ends_alone_and_its_page_says_so(windows, tmp_path):
    book = nbformat.read(notebook("demonstrate"), as_version=4)
    book.cells.append(nbformat.v4.new_code_cell(HOARD))
    nbformat.write(book, tmp_path / "hoarding.ipynb")
    command = [sys.executable, "-c", SERVE, str(tmp_path / "hoarding.ipynb")]
    with ExitStack() as stack:
        address = stack.enter_context(served_for_one_test(command=command))[1]
        greedy, other = (Anywhere(windows, address, **STILL) for _ in range(2))
        for each in (greedy, other):
            stack.callback(each.close)
        greedy.button("Hoard").click()
        expect(greedy.banner).to_contain_text(
            "needed more memory than a page may use", timeout=TOLD_MS
        )
        other.switch_on()
        expect(other.banner).to_have_count(0)
        greedy.go_on()
        greedy.switch_on()
