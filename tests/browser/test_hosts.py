"""The Demonstrate notebook in JupyterLab and in Notebook 7: it works there, and so do they."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from playwright.sync_api import expect
from tests.browser.visit import LOADING_MS, PICTURE
from tests.serving.shared_host import answers_at, free_port, wait_for

NOTEBOOK = Path(__file__).parents[2] / "notebooks" / "demonstrate.ipynb"
LAPTOP = {"width": 1400, "height": 900}
SHOWN = 'import fizzplate as fp\nfp.show(fp.Cell("CuSO4").run(minutes=2))'
HOSTS = {"lab": "lab/tree/lab.ipynb", "notebook": "notebooks/notebook.ipynb"}
# what asks other computers for something: Jupyter's news, and its list of extensions
NO_REQUESTS = {
    "disabledExtensions": {
        "@jupyterlab/apputils-extension:announcements": True,
        "@jupyterlab/extensionmanager-extension:plugin": True,
    }
}
READY = ".jp-Notebook-ExecutionIndicator[data-status=idle]"
BOXES = """() => [...document.querySelectorAll(
    '.fp-title, .fp-solutions, .fp-head button, .fp-screen-switches button')]
  .filter((node) => node.checkVisibility() && !node.closest('.fp-solutions *')).map((node) => {
    const { left, right, top, bottom } = node.getBoundingClientRect();
    return [node.textContent, left, right, top, bottom];
  })"""


@pytest.fixture(scope="module")
def host(tmp_path_factory):
    """Start the server of JupyterLab and of Notebook 7, with a copy of the notebook for each."""
    folder = tmp_path_factory.mktemp("host")
    work, log = folder / "work", folder / "log"
    work.mkdir()
    for name in HOSTS:
        shutil.copy(NOTEBOOK, work / f"{name}.ipynb")
    book = nbformat.read(NOTEBOOK, as_version=4)
    book.cells = [nbformat.v4.new_code_cell(SHOWN)]
    nbformat.write(book, work / "shown.ipynb")
    settings = folder / "config" / "labconfig"
    settings.mkdir(parents=True)
    (settings / "page_config.json").write_text(json.dumps(NO_REQUESTS))
    private = {
        "JUPYTER_CONFIG_DIR": "config",
        "JUPYTER_DATA_DIR": "data",
        "JUPYTER_RUNTIME_DIR": "runtime",
        "IPYTHONDIR": "ipython",
        "JUPYTERLAB_SETTINGS_DIR": "settings",
        "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
    }
    port = free_port()
    command = [sys.executable, "-m", "jupyter", "lab", f"--port={port}", "--no-browser"]
    command += ["--ServerApp.ip=127.0.0.1", "--allow-root", "--IdentityProvider.token="]
    command += [f"--ServerApp.root_dir={work}", "--LabApp.extension_manager=readonly"]
    with log.open("wb") as said:
        process = subprocess.Popen(
            command,
            stdout=said,
            stderr=subprocess.STDOUT,
            env={**os.environ, **{name: str(folder / place) for name, place in private.items()}},
        )
        try:
            wait_for(answers_at(port, "/api"), process, log)
            yield f"http://127.0.0.1:{port}/"
        finally:
            process.terminate()
            process.wait(timeout=60)


def says_who_it_is(frame):
    """Tell whether a program's message is its first, in which it names itself."""
    return b"kernel_info_reply" in (frame if isinstance(frame, bytes) else frame.encode())


@pytest.fixture(scope="module", params=HOSTS)
def shown(request, browser, host):
    """Open the notebook in JupyterLab or in Notebook and run all cells, as its reader does."""
    address = host + HOSTS[request.param]
    page = browser.new_context(viewport=LAPTOP).new_page()
    page.requested_urls = []
    page.on("request", lambda requested_urls: page.requested_urls.append(requested_urls.url))
    run_all_cells(page, address)
    page.get_by_role("button", name="Switch on").click(timeout=LOADING_MS)
    page.get_by_role("button", name="Switch off").wait_for(timeout=LOADING_MS)
    page.own = re.compile(
        rf"(http|ws){re.escape(address[4 : address.index('/', 8)])}/|(blob|data):"
    )
    yield page
    page.context.close()


def run_all_cells(page, address):
    """Open a notebook and run all its cells; from then on note what the console complains of."""
    # what is run before the notebook has heard from its program is lost
    with page.expect_websocket(lambda socket: "/channels" in socket.url) as program:
        page.goto(address)
    program.value.wait_for_event("framereceived", says_who_it_is, timeout=LOADING_MS)
    page.locator(".jp-Notebook .jp-CodeCell").first.wait_for(timeout=LOADING_MS)
    page.locator(READY).wait_for(timeout=LOADING_MS)
    page.complaints = []  # from here on, so that they are not the host's own
    page.on("console", lambda m: page.complaints.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).click()


def test_the_cell_runs_and_its_picture_moves(shown):
    before = shown.evaluate(PICTURE)
    shown.wait_for_function(f"before => ({PICTURE})() !== before", arg=before)
    expect(shown.get_by_role("status", name="Clock")).not_to_have_text("0 s")
    expect(shown.get_by_text("cathode: bench")).to_be_attached()
    shown.get_by_role("button", name="Pause").first.click()  # what moves costs a whole processor
    assert shown.complaints == []


def test_no_other_computer_is_asked(shown):
    assert shown.requested_urls
    assert [address for address in shown.requested_urls if not shown.own.match(address)] == []


def test_the_page_fits_beside_what_the_host_shows(shown):
    boxes = shown.evaluate(BOXES)
    assert len(boxes) > 3
    for k, (name, left, right, top, bottom) in enumerate(boxes):
        for other, *sides in boxes[k + 1 :]:
            apart = right <= sides[0] + 1 or sides[1] <= left + 1
            assert apart or bottom <= sides[2] + 1 or sides[3] <= top + 1, f"{name} over {other}"
    assert shown.locator(".fp-solutions").first.bounding_box()["width"] > 200
    page = shown.locator(".fp-page").first
    assert page.evaluate("node => node.scrollWidth <= node.clientWidth")


def cells(page):
    """Return how many cells the notebook has."""
    return page.locator(".jp-Notebook .jp-CodeCell").count()


def test_keys_pressed_in_the_page_are_the_pages_and_not_the_notebooks(shown):
    pause = shown.get_by_role("button", name=re.compile("^(Pause|Play)$")).first
    pause.focus()
    before = cells(shown)
    curtain = shown.locator(".fp-blank-screen")
    shown.keyboard.press("b")  # blanks the screen here; in the notebook it would add a cell
    expect(curtain).to_be_visible()
    shown.keyboard.press("Escape")
    expect(curtain).to_be_hidden()
    ruler = shown.get_by_role("slider", name="Time in the run")
    ruler.focus()
    ruler.press("Home")
    ruler.press("ArrowUp")
    expect(ruler).to_be_focused()
    assert float(ruler.input_value()) > 0
    assert cells(shown) == before


def test_keys_pressed_in_the_notebook_are_the_notebooks(shown):
    before = cells(shown)
    shown.locator(".jp-Notebook .jp-CodeCell .jp-InputPrompt").last.click()
    shown.keyboard.press("b")
    expect(shown.locator(".jp-Notebook .jp-CodeCell")).to_have_count(before + 1)
    expect(shown.locator(".fp-blank-screen")).to_be_hidden()
    shown.keyboard.press("z")
    expect(shown.locator(".jp-Notebook .jp-CodeCell")).to_have_count(before)


def test_the_notebook_scrolls_over_the_page(shown):
    scene = shown.locator(".fp-scene").first
    scene.scroll_into_view_if_needed()
    scene.hover()
    before = scene.bounding_box()["y"]
    shown.mouse.wheel(0, 200)
    shown.wait_for_function(
        "before => document.querySelector('.fp-scene').getBoundingClientRect().y !== before",
        arg=before,
    )


def test_a_run_is_shown_below_the_cell_that_asks_for_it(browser, host):
    page = browser.new_context(viewport=LAPTOP, reduced_motion="reduce").new_page()
    # a workspace of its own: in the other one the notebook before is opened again, and its program too
    run_all_cells(page, f"{host}lab/workspaces/shown/tree/shown.ipynb")
    bench = page.locator(".jp-OutputArea-output .fp-alone")
    drawing = bench.get_by_role("img", name=re.compile(r"^Drawing of the cell: copper\(II\)"))
    expect(drawing).to_be_visible(timeout=LOADING_MS)
    expect(bench.get_by_text("and a copper layer grows")).to_be_visible()
    expect(bench.get_by_role("img", name="Copper on the cathode, mg")).to_be_visible()
    bench.get_by_role("slider", name="Time in the run").press("End")
    expect(bench.get_by_role("status", name="Clock")).to_have_text(re.compile("^2 min 0 s"))
    assert bench.evaluate("node => node.scrollWidth <= node.clientWidth")
    assert page.complaints == []
    page.context.close()
