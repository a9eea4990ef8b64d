"""Our QTI packages in a player that is not ours: what every maker asks is shown, answered and marked there.

The player is ``@citolab/qti-components``, an open implementation of QTI 3.0 in web components. It comes with
the test dependencies of ``tests/javascript``.
"""

from __future__ import annotations

import functools
import io
import os
import re
import shutil
import threading
import zipfile
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest

from fizzplate.questions.exchange import to_qti
from fizzplate.questions.exchange.qti.item_types.equation_items import choice_name, formulae
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS

JAVASCRIPT = Path(os.environ.get("FIZZPLATE_JAVASCRIPT", Path(__file__).parents[1] / "javascript"))
PLAYER = JAVASCRIPT / "node_modules" / "@citolab" / "qti-components" / "cdn" / "index.js"
OPEN = "dialog[open]"
SEED = 1


class Quiet(SimpleHTTPRequestHandler):
    """Files of a folder, without a line on the screen for each."""

    def log_message(self, *_):
        pass


@pytest.fixture(scope="module")
def asked():
    """One question of each maker, by the name of its item."""
    made = enumerate((make(RandomSource(SEED)) for make in MAKERS.values()), start=1)
    return {f"q{k:03}": question for k, question in made}


@pytest.fixture(scope="module")
def address(asked, tmp_path_factory):
    """Serve an unpacked package with the player beside it."""
    if not PLAYER.is_file():
        pytest.fail(
            "The player of QTI items is missing. Install it with: npm ci (in tests/javascript)"
        )
    folder = tmp_path_factory.mktemp("package")
    with zipfile.ZipFile(io.BytesIO(to_qti([*asked.values()], "Every maker"))) as package:
        package.extractall(folder)
    (folder / "player").mkdir()
    shutil.copy(PLAYER, folder / "player" / "index.js")
    shutil.copy(Path(__file__).with_name("player.html"), folder / "items" / "player.html")
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=folder))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/items/player.html"
    server.shutdown()
    server.server_close()


@pytest.fixture
def player(address, open_at):
    """Open the player; it may ask no other computer for anything (``open_at``)."""
    page = open_at(address)
    page.wait_for_function("window.ready")
    yield page
    assert page.complaints == []


def plain(text):
    """Write every space and line break as one space."""
    return re.sub(r"\s+", " ", text)


def show(player, name):
    player.evaluate("name => showItem(`${name}.xml`)", name)


def of_kind(asked, kind):
    found = {name: question for name, question in asked.items() if question.kind == kind}
    assert found
    return found.items()


def score(player):
    """End the attempt; return the marks out of how many."""
    outcomes = player.evaluate("outcomes()")
    return float(outcomes["SCORE"]), float(outcomes["MAXSCORE"])


def test_every_item_is_shown_as_it_is_asked_without_its_mark_scheme(player, asked):
    for name, question in asked.items():
        show(player, name)
        body = player.locator("qti-item-body")
        shown = plain(body.inner_text())
        assert plain(question.text) in shown
        assert player.locator("qti-rubric-block").is_hidden()
        assert all(plain(option.text) in shown for option in question.options)
        if question.kind == "plot":
            assert player.locator("td").count() == sum(len(each) for _, each in question.table)
        if question.shown_chart is not None:
            size = player.locator("img").evaluate(
                "async (img) => (await img.decode(), img.naturalWidth)"
            )
            assert size > 300


def test_a_choice_is_marked_and_its_reason_is_shown(player, asked):
    for name, question in of_kind(asked, "choice"):
        # the right option and the first wrong one
        for right in (True, False):
            k = next(k for k, option in enumerate(question.options) if option.right is right)
            show(player, name)
            player.locator("qti-simple-choice").nth(k).click()
            assert score(player) == (question.marks if right else 0, question.marks)
            said = player.locator("qti-modal-feedback", has=player.locator(OPEN)).inner_text()
            assert question.options[k].reason in said


def test_a_number_is_marked_within_its_range_and_a_slip_earns_its_share(player, asked):
    def answer(name, values):
        show(player, name)
        for k, value in enumerate(values):
            entry = player.locator("qti-text-entry-interaction input").nth(k)
            entry.fill(value)
            entry.blur()  # the player takes it over when a learner goes on
        return score(player)

    for name, question in of_kind(asked, "number"):
        rounded = [f"{part.value:.{part.figures}g}" for part in question.parts]
        right = [f"{float(value):.10g}" for value in rounded]
        assert answer(name, right) == (question.marks, question.marks), question.maker
        wrong = [f"{7 * float(value):.10g}" for value in right]
        assert answer(name, wrong) == (question.mark("; ".join(wrong)).earned, question.marks)
        assert question.mark("; ".join(wrong)).earned < question.marks
        misses = [(k, miss) for k, part in enumerate(question.parts) for miss in part.near_misses]
        for k, miss in misses[:1]:
            slipped = [*right[:k], f"{miss.value:.10g}", *right[k + 1 :]]
            earned, most = answer(name, slipped)
            assert 0 <= earned < most
            assert (
                player.locator("qti-modal-feedback", has_text=miss.reason)
                .first.locator(OPEN)
                .count()
                == 1
            )


def test_an_equation_is_built_and_marked_for_its_sides_and_its_balance(player, asked):
    def answer(name, question, form):
        show(player, name)
        for k, species in enumerate(formulae(question.task)):
            if form.get(species):
                choice = player.locator("qti-inline-choice-interaction").nth(k)
                choice.locator("button").first.click()
                choice.locator(
                    f"qti-inline-choice[identifier={choice_name(form[species])}]"
                ).click()
        return score(player)

    for name, question in of_kind(asked, "equation"):
        for form in question.task.accepted:
            assert answer(name, question, form) == (question.marks, question.marks)
        first, count = next(iter(form.items()))
        unbalanced = {**form, first: count + (1 if count > 0 else -1)}
        assert answer(name, question, unbalanced) == (1, question.marks)
        turned = {species: -count for species, count in form.items()}
        assert answer(name, question, turned) == (0, question.marks)


BY_PERSON = {"text", "list", "plot", "levels", "structured"}


def test_what_is_written_in_words_is_left_to_a_person(player, asked):
    written = {name: question for name, question in asked.items() if question.kind in BY_PERSON}
    assert {question.kind for question in written.values()} == BY_PERSON
    for name, question in written.items():
        show(player, name)
        entries = player.locator("qti-extended-text-interaction textarea")
        assert entries.count() == (len(question.sections) or 1)
        for entry in entries.all():
            entry.fill(question.answer)
        assert score(player) == (0, question.marks)
        scored = player.evaluate(
            "item.variables.find((each) => each.identifier === 'SCORE').externalScored"
        )
        assert scored == "human"


def test_every_kind_is_tried(asked):
    marked = {"choice", "number", "equation"}
    assert {question.kind for question in asked.values()} == marked | BY_PERSON
