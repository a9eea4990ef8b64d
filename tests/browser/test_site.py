"""The site, from a plain file server below a path of its own: used, passed on as a link, unplugged."""

from __future__ import annotations

import re
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import quote

import pytest
from playwright.sync_api import expect
from tests.browser.printed import sheets_of, texts_of
from tests.browser.visit import NEXT, PHONE, PROJECTOR, is_foreign, violations

from fizzplate.share.site import cells, questions, write_site

LIST = "v=1&cells=NaCl,min=1;CuSO4,min=1"
BELOW = "our school/data"  # as a department may name its folder
PAGES = ("index", "demonstrate", "explore", "equations", "revise", "prepare")
FIRST_CHOICE = {
    "demonstrate": "article",
    "explore": "article",
    "equations": ".fp-equation-task",
    "revise": ".fp-site-choice",
    "prepare": ".fp-sheet",
    "index": ".pages",
}


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_args):
        """Say nothing of what was asked for."""


@pytest.fixture(scope="module")
def site_folder(tmp_path_factory):
    """Write a site of two cells below a path with a space, and a folder that is named like one of its own."""
    root = tmp_path_factory.mktemp("web")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(questions, "SETS", 1)
        patch.setattr(cells, "STRENGTHS_MOL_DM3", (0.1, 0.5))
        patch.setattr(cells, "VESSELS", ("beaker",))
        write_site(root / BELOW, [LIST], workers=2)
    return root / BELOW


@pytest.fixture(scope="module")
def site(site_folder):
    """Serve the site; give its address."""
    root = site_folder.parent.parent
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=root))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/{quote(BELOW)}/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def opened(browser, site):
    """Open a page of the site in a browser that knows nothing of it; nothing may go wrong."""
    contexts, wrong = [], []

    def visit(path, viewport=PROJECTOR, context=None):
        if context is None:
            context = browser.new_context(viewport=viewport, reduced_motion="reduce")
            contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda told: wrong.append(told.text) if told.type == "error" else None)
        host = site.split("/")[2]
        page.on(
            "request",
            lambda asked: wrong.append(asked.url) if is_foreign(asked.url, host) else None,
        )
        page.goto(site + path)
        page.locator(FIRST_CHOICE[path.split(".")[0] or "index"]).first.wait_for()
        return page

    yield visit
    for context in contexts:
        context.close()
    assert wrong == []


@pytest.mark.parametrize("viewport", [PROJECTOR, PHONE], ids=["projector", "phone"])
@pytest.mark.parametrize("name", PAGES)
def test_every_page_opens_and_can_be_used_by_all(opened, name, viewport):
    page = opened(f"{name}.html", viewport)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(page) == []


def test_a_lesson_is_given_from_a_site(opened):
    page = opened("demonstrate.html")
    expect(page.locator(".fp-setup-line")).to_contain_text("0.5 mol/dm³, both graphite")
    button = page.get_by_role("button", name=NEXT)
    for _ in range(2):
        button.click()
    expect(page.locator(".fp-product")).to_have_count(0)  # nothing is told before Explain
    button.click()
    expect(page.locator(".fp-step-head")).to_contain_text("1 of")
    page.get_by_role("button", name="CuSO₄", exact=True).click()
    expect(page).to_have_url(re.compile("open=1"))
    again = opened("demonstrate.html" + page.url.split("demonstrate.html")[1])
    expect(again.locator(".fp-choice.fp-chosen")).to_contain_text("CuSO₄")


def test_what_was_not_worked_out_leads_to_the_nearest(opened):
    page = opened("demonstrate.html?v=1&cells=NaCl,min=1,c=0.2;AgNO3")
    said = page.get_by_role("alert")
    expect(said).to_contain_text(
        "NaCl,min=1,c=0.2 was not worked out for this site; the nearest that was is NaCl, 0.1 mol/dm³"
    )
    expect(said).to_contain_text("AgNO3 is not on this site.")
    expect(page.locator(".fp-setup-line")).to_contain_text("0.1 mol/dm³")


def test_another_list_is_put_together_and_passed_on(opened):
    page = opened("demonstrate.html")
    page.get_by_text("Another list").click()
    page.get_by_label("NaCl").uncheck()
    page.get_by_role("button", name="Use this list of 1").click()
    expect(page.locator(".fp-choice")).to_have_text(["CuSO₄"])


def test_explore_shows_two_cells_and_draws_a_sweep_once_the_answer_is_known(opened):
    page = opened("explore.html?v=1&cells=CuSO4,min=1")
    draw = page.get_by_role("button", name="Draw it")
    draw.click()
    expect(page.get_by_text("Then you can draw this sweep.")).to_be_visible()
    page.get_by_role("button", name="Switch on").click()
    for electrode in ("Cathode", "Anode"):
        card = page.get_by_role("article", name=electrode)
        card.get_by_role("button", name="Show", exact=True).click()
    page.get_by_label("Sweep").select_option("metal against charge")
    draw.click()
    expect(page.locator(".fp-sweeps svg")).to_be_visible()
    page.get_by_role("button", name="Add a second cell").click()
    expect(page.locator(".fp-cell")).to_have_count(2)
    expect(page.locator(".fp-cell .fp-scene canvas").nth(1)).to_be_visible()
    assert violations(page) == []


def test_a_link_opens_the_same_set_for_everyone(opened):
    first = opened("revise.html")
    first.get_by_label("Topic").select_option("half-equations")
    first.get_by_role("button", name="Begin").click()
    asked = first.locator(".fp-question").first
    asked.wait_for()
    second = opened("revise.html" + first.url.split("revise.html")[1])
    expect(second.locator(".fp-question").first).to_have_text(asked.text_content())


def test_it_works_without_a_network_after_the_first_visit(opened):
    page = opened("demonstrate.html")
    page.evaluate("navigator.serviceWorker.ready.then(() => caches.keys())")
    context = page.context
    context.set_offline(True)
    opened("", context=context)  # the address that is passed on names no page
    revise = opened("revise.html", context=context)
    revise.get_by_role("button", name="Begin").click()
    expect(revise.locator(".fp-question").first).to_be_visible()
    for name in PAGES:
        opened(f"{name}.html", context=context)
    again = opened("demonstrate.html", context=context)
    again.get_by_role("button", name=NEXT).click()
    expect(again.locator(".fp-step-head")).to_be_visible()


def test_explore_begins_without_a_warning_and_names_a_cell_that_is_missing(opened):
    page = opened("explore.html")
    expect(page.locator(".fp-choice.fp-chosen")).to_have_text("NaCl")
    expect(page.get_by_role("alert")).to_be_hidden()
    page = opened("explore.html?v=1&cells=AgNO3")
    expect(page.get_by_role("alert")).to_have_text("AgNO3 is not on this site.")


def test_a_link_to_a_set_that_is_not_there_says_so(opened):
    page = opened("revise.html?v=1&set=99&level=14&topics=ions")
    expect(page.get_by_role("alert")).to_contain_text("is not on this site")
    page.get_by_role("button", name="Begin").click()
    expect(page.locator(".fp-question").first).to_be_visible()
    expect(page.get_by_role("alert")).to_be_hidden()


def test_the_browsers_own_command_prints_the_sheet_that_is_shown(opened):
    page = opened("prepare.html")
    text = " ".join(texts_of(sheets_of(page)))
    assert "Technician's order" in text
    assert "29.2 g of NaCl" in text
    assert "Print this sheet" not in text


def test_another_list_can_be_chosen_on_a_phone(opened):
    page = opened("demonstrate.html", PHONE)
    page.get_by_text("Another list").click()
    expect(page.get_by_role("button", name="Use this list of 2")).to_be_visible()
    page.get_by_role("button", name="Use this list of 2").click(trial=True)


def test_nothing_lies_over_the_choice_of_sheets(opened):
    page = opened("prepare.html")
    page.get_by_label("List").click(trial=True)
    choice = page.locator(".fp-site-choice").bounding_box()
    heading = page.get_by_role("heading", name="Sheets to print").bounding_box()
    assert choice["y"] + choice["height"] <= heading["y"]


def test_what_is_kept_belongs_to_this_site_and_outlives_another_ones_update(opened):
    page = opened("index.html")
    page.evaluate("caches.open('fizzplate http://127.0.0.1/another/ 1')")
    page.evaluate("navigator.serviceWorker.ready.then((it) => it.unregister())")
    again = opened("index.html", context=page.context)
    names = again.evaluate("navigator.serviceWorker.ready.then(() => caches.keys())")
    assert "fizzplate http://127.0.0.1/another/ 1" in names
    assert any(name.startswith(f"fizzplate {again.url.rsplit('/', 1)[0]}/ ") for name in names)


def test_a_page_that_is_opened_as_a_file_says_what_it_needs(browser, site_folder):
    page = browser.new_page()
    page.goto((site_folder / "revise.html").as_uri())
    said = page.get_by_text("From a folder on a computer these pages do not open")
    expect(said).to_be_visible()
    page.close()


def test_an_update_shows_at_the_first_visit_after_it(opened, site_folder):
    page = opened("index.html")
    page.evaluate("navigator.serviceWorker.ready.then(() => caches.keys())")
    home = site_folder / "index.html"
    before = home.read_text()
    home.write_text(before.replace("In class now", "In class today"))
    try:
        again = opened("index.html", context=page.context)
        expect(again.get_by_text("In class today")).to_be_visible()
    finally:
        home.write_text(before)
