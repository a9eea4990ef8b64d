"""A site of files in Firefox, unplugged: a lesson, a set by its link, sheets on paper."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

import pytest
from tests.engines.engine import FIND, LAPTOP, PHONE
from tests.engines.firefox import firefox
from tests.engines.test_pages import expect_to_fit, mark, pick, play

from fizzplate.share.site import cells, explore, questions, write_site

LIST = "v=1&cells=NaCl,min=1"
BELOW = "school/chemistry"
SET = "?v=1&level=16&topics=half-equations&set=1"
STEPS = ("Watch", "Test", "Explain", "Record")
KEPT = """() => navigator.serviceWorker.ready.then(() => caches.keys()).then((names) => names.length)"""


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_args):
        """Say nothing of what was asked for."""


class Host:
    """A web space that can be unplugged.

    Attributes
    ----------
    address
        Of the site, below a path of its own.
    """

    def __init__(self, root):
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=root))
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        self.address = f"http://127.0.0.1:{self._server.server_port}/{BELOW}/"

    def unplug(self):
        """Answer nobody any longer."""
        self._server.shutdown()
        self._server.server_close()


@pytest.fixture(scope="session")
def site_root(tmp_path_factory):
    """Write a small site."""
    root = tmp_path_factory.mktemp("web")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(questions, "SETS", 1)
        patch.setattr(questions, "TOPICS", ("half-equations",))
        patch.setattr(cells, "STRENGTHS_MOL_DM3", (0.5,))
        patch.setattr(cells, "VESSELS", ("beaker",))
        patch.setattr(explore, "SWEEPS", {})
        write_site(root / BELOW, [LIST])
    return root


@contextmanager
def hosted(root):
    host = Host(root)
    try:
        yield host
    finally:
        host.unplug()


def give_the_lesson(engine):
    """Go through all five steps."""
    for step in STEPS:
        engine.click("button", f"Next: {step}")
        engine.until(
            f"() => document.querySelector('[aria-current=step]').textContent.includes('{step}')"
        )
        while step == "Explain" and not engine.evaluate(
            f"() => Boolean(({FIND})('button', 'Next: Record'))"
        ):
            engine.click("button", "Next")


@pytest.mark.parametrize("engine", [firefox], indirect=True, ids=["firefox"])
def test_a_lesson_a_set_and_sheets_work_also_when_the_host_is_gone(engine, site_root):
    engine.begin()
    with hosted(site_root) as host:
        engine.goto(host.address + "index.html", LAPTOP)
        engine.wait_for("ul.pages a")
        engine.until(KEPT)
        engine.goto(host.address + "demonstrate.html", LAPTOP)
        engine.wait_for("button", "Next: Watch")
        assert engine.foreign(host.address) == []
        assert engine.errors == []
    engine.goto(host.address + "demonstrate.html", LAPTOP)  # from now on nobody answers
    give_the_lesson(engine)
    expect_to_fit(engine)
    engine.goto(host.address + "explore.html", PHONE)
    engine.wait_for(".fp-scene")
    play(engine)
    expect_to_fit(engine)
    engine.goto(host.address + "equations.html", PHONE)
    engine.wait_for(".fp-equation-task")
    expect_to_fit(engine)
    engine.goto(host.address + f"revise.html{SET}", PHONE)
    engine.wait_for(".fp-question-card")
    expect_to_fit(engine)
    engine.goto(host.address + "revise.html?v=1&level=16&topics=all+topics&set=1", PHONE)
    pick(engine)
    mark(engine)
    expect_to_fit(engine)
    engine.goto(host.address + "prepare.html", LAPTOP)
    engine.wait_for(".fp-sheet")
    text = engine.printed_text()
    assert "Technician's order" in text
    assert "29.2 g of NaCl" in text
    assert "Print this sheet" not in text
