"""Links on every page: copied, or shown as a code that a phone reads; and the page to take away."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import segno
from matplotlib.image import imread
from playwright.sync_api import expect
from tests.browser.visit import LOADING_MS, PHONE, PROJECTOR, SIDEWAYS, violations
from tests.serving.shared_host import answers_at, free_port, wait_for

from fizzplate.lesson import CellSetup, LinkState, to_query

QUIET_MODULES = 4
ONLY_HERE = "works on this computer only"
TEMPLATES = Path(__file__).parents[2] / "widgets/fizzplate/share/jupyter"
EXTENSIONS = [  # what else is installed stays out of the page
    f"--VoilaConfiguration.extension_allowlist={name}"
    for name in (
        "anywidget",
        "@voila-dashboards/widgets-manager8",
        "@jupyter-widgets/jupyterlab-manager",
    )
]
CELL = {"cell_type": "code", "execution_count": None, "id": "page", "metadata": {}, "outputs": []}
STAND_IN = """\
from fizzplate.views.pages.measure import page

def take_away(query):
    if "metal=Ag" in query:
        raise ValueError("Silver is too dear.")
    return f"<!DOCTYPE html><title>Taken away: {query}</title>"

page(take_away=take_away)
"""


def demonstrate(page):
    page.get_by_role("article", name="Cathode").wait_for(timeout=LOADING_MS)
    page.get_by_role("switch", name="All controls").click()
    page.get_by_role("button", name="Lesson settings").click()
    page.get_by_role("button", name="Copy link").wait_for()
    return page


def code_in(page):
    """Read the modules of the code off the screen: dark is 1, with the quiet zone."""
    code = page.get_by_role("img", name="Code of the link")
    code.wait_for()
    modules = int(code.get_attribute("viewBox").split()[2])
    picture = imread(BytesIO(code.screenshot()))[..., :3].mean(axis=2)
    middles = (np.arange(modules) + 0.5) / modules
    rows, columns = (np.intp(middles * length) for length in picture.shape)
    return (picture[np.ix_(rows, columns)] < 0.5).astype(int)


def code_for(link):
    """Make the modules that a phone has to see."""
    made = np.array([list(row) for row in segno.make(link, micro=False, error="l").matrix])
    return np.pad(made, QUIET_MODULES)


def test_the_code_on_the_screen_is_that_of_the_link_in_any_room_and_fits_a_phone(
    open_at, demonstrate_address
):
    page = demonstrate(open_at(demonstrate_address))
    page.get_by_role("button", name="NaCl").click()
    page.wait_for_url("**open=1**")
    opener = page.get_by_role("button", name="Show as QR code")
    opener.press("Enter")
    dialog = page.get_by_role("dialog", name="Open this page on another device")
    for room in ("dark", "light"):
        page.emulate_media(color_scheme=room, reduced_motion="reduce")
        assert (code_in(page) == code_for(page.url)).all()
    box = page.get_by_role("img", name="Code of the link").bounding_box()
    assert box["height"] > PROJECTOR["height"] / 2
    expect(dialog).to_contain_text(page.url.partition("?")[0])
    letters = dialog.locator("strong").evaluate(
        "node => parseFloat(getComputedStyle(node).fontSize)"
    )
    assert letters >= 40
    expect(dialog).to_contain_text("It opens Demonstrate with this list of solutions")
    expect(dialog.get_by_text(ONLY_HERE)).to_be_visible()
    expect(dialog).to_contain_text("fizzplate --class 30 --link")
    for room in ("dark", "light"):
        page.emulate_media(color_scheme=room, reduced_motion="reduce")
        assert violations(page) == []
    page.set_viewport_size(PHONE)
    assert (code_in(page) == code_for(page.url)).all()
    assert not page.evaluate(SIDEWAYS)
    assert dialog.evaluate("node => node.scrollWidth - node.clientWidth") == 0
    page.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(opener).to_be_focused()
    assert page.complaints == []


def test_a_link_keeps_its_key_and_never_a_token(open_at, demonstrate_address):
    page = open_at(
        f"{demonstrate_address}?token=secret&v=1&cells=KBr;NaCl&key=a-b_c",
        permissions=["clipboard-read", "clipboard-write"],
    )
    demonstrate(page)
    page.get_by_role("button", name="NaCl").click()
    page.wait_for_url("**open=1**")
    assert page.url == f"{demonstrate_address}?key=a-b_c&v=1&cells=KBr;NaCl&open=1"
    assert page.get_by_role("alert").filter(has_text="not a part").count() == 0
    page.get_by_role("button", name="Copy link").click()
    expect(page.get_by_role("status").filter(has_text="The link is copied")).to_contain_text(
        ONLY_HERE[:5]
    )
    assert page.evaluate("navigator.clipboard.readText()") == page.url


def test_a_link_that_no_code_holds_is_refused_and_can_be_copied(open_at, demonstrate_address):
    cell = CellSetup(
        "Na2SO4", 0.123456, also="K2SO4", also_mol_dm3=0.0123456, volume_cm3=61.2345, temperature_C=24.5678,
        supply_V=5.98765, minutes=4.98765, cathode="platinum", anode="platinum", lamp="none",
    )  # fmt: skip
    query = to_query(LinkState((cell,) * 24))
    page = demonstrate(open_at(f"{demonstrate_address}?{query}"))
    page.get_by_role("button", name="Show as QR code").click()
    dialog = page.get_by_role("dialog")
    expect(dialog).to_contain_text(
        f"This link has {len(page.url)} characters; a code holds 2953 at most. Copy the link instead."
    )
    expect(dialog.get_by_role("button", name="Copy link")).to_be_visible()
    expect(page.get_by_role("img", name="Code of the link")).to_have_count(0)


@pytest.fixture
def stand_in_server(tmp_path):
    """Serve a page that can be taken away, to a class, from a notebook of its own."""
    notebook = {
        "cells": [{**CELL, "source": STAND_IN}],
        "metadata": {
            "kernelspec": {"name": "python3", "display_name": "Python", "language": "python"}
        },
        "nbformat": 4,
        "nbformat_minor": 5,
    }
    (tmp_path / "page.ipynb").write_text(json.dumps(notebook), encoding="utf-8")
    port, log = free_port(), tmp_path / "log"
    options = ["--no-browser", f"--port={port}", "--template=fizzplate", *EXTENSIONS]
    with log.open("wb") as said:
        process = subprocess.Popen(
            [sys.executable, "-m", "voila", "page.ipynb", *options],
            cwd=tmp_path,
            env={
                **os.environ,
                "FIZZPLATE_CLASS_LINK": "http://192.168.1.20:8866/?key=abc",
                "JUPYTER_PATH": str(TEMPLATES),
            },
            stderr=said,
        )
        try:
            wait_for(answers_at(port, "/voila/static/voila.js"), process, log)
            yield f"http://127.0.0.1:{port}/"
        finally:
            process.terminate()
            process.wait(timeout=30)


def test_the_class_link_is_passed_on_and_the_page_taken_away(open_at, stand_in_server):
    page = open_at(stand_in_server)
    page.get_by_role("button", name="Settings").click(timeout=LOADING_MS)
    page.get_by_role("button", name="Show as QR code").click()
    link = "http://192.168.1.20:8866/?key=abc&v=1"
    assert (code_in(page) == code_for(link)).all()
    dialog = page.get_by_role("dialog")
    expect(dialog.get_by_text(ONLY_HERE)).to_be_hidden()
    expect(dialog).to_contain_text("It opens Measure with these settings")
    dialog.get_by_role("button", name="Close").click()
    with page.expect_download() as download:
        page.get_by_role("button", name="Take away").click()
    assert download.value.suggested_filename == "fizzplate.html"
    assert "Taken away: v=1<" in download.value.path().read_text("utf-8")
    expect(page.get_by_role("status").filter(has_text="saved as fizzplate.html")).to_be_visible()
    page.get_by_role("combobox", name="Metal").select_option(label="silver")
    page.wait_for_url("**metal=Ag**")
    page.get_by_role("button", name="Take away").click()
    expect(page.get_by_role("status").filter(has_text="Silver is too dear.")).to_be_visible()
    expect(page.get_by_role("button", name="Take away")).to_be_enabled()
