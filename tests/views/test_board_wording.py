"""A board's wording holds on every page: each setting is swapped, and no trace of the usual one is found."""

import re

import pytest
from tests.pages import for_every_page
from tests.views.parts import parts_of

from fizzplate.lesson.measure.class_entries import invented_rows
from fizzplate.questions.sets import questions
from fizzplate.views.controls import run_controller as run_controllers
from fizzplate.views.controls.background_work import BackgroundWork
from fizzplate.views.controls.prefetch import Prefetch
from fizzplate.views.inquiry import Inquiry
from fizzplate.views.pages.demonstrate import Demonstrate
from fizzplate.views.pages.explore import Explore
from fizzplate.views.pages.measure import Measure
from fizzplate.views.pages.prepare import Prepare
from fizzplate.views.pages.revise import Revise
from fizzplate.views.workshop import Workshop
from fizzplate.words.wording import Wording

#: the board's settings, each with what no text of another setting may hold
SETTINGS = {
    "electrode_names=negative": re.compile(r"\b(cathode|anode)s?\b", re.IGNORECASE),
    "electrons=minus": re.compile(r"→ [^→<.;:]*\+ \d?e⁻"),
    "oxygen_from=H2O": re.compile(r"4OH⁻|oxygen[^.;|<]*from hydroxide ions", re.IGNORECASE),
    "hydrogen_from=H2O": re.compile(r"\b2H⁺ \+ 2e⁻ →"),
}
WORDING = Wording("H2O", "H2O", "minus", states=True, electrode_names="negative")
#: of these an alkali or an acid gives its own ions with every board
OF_ALKALIS = ("oxygen_from=H2O", "hydrogen_from=H2O")
BOARD = f"board={','.join(SETTINGS)},states=True"
#: of a board that wants both names, and counts a weak chloride as dilute
OTHER_SETTINGS = {
    "electrode_names=both": re.compile(
        r"(?<!cathode \()negative electrode|(?<!anode \()positive electrode", re.IGNORECASE
    ),
    "dilute_below_mol_dm3=0.1": re.compile(
        r"a halide is present|rule[^.;|]{0,40}\bchlorine\b", re.IGNORECASE
    ),
}
OTHER_BOARD = f"board={','.join(OTHER_SETTINGS)}"
DILUTE = "NaCl,c=0.02,min=0.5"
CELLS = ("Na2SO4,min=0.5", "CuSO4,anode=copper,cathode=copper,min=0.5", DILUTE)
#: what a widget holds for its own use: names of traits, and of what stands in plain data
TRAITS = (
    "_",
    "layout",
    "style",
    "comm",
    "keys",
    "tabbable",
    "children",
    "query",
    "page_state",
    "file",
)
CODES = {"role", "goes", "key", "keys", "species", "accepted", "watch", "maker", "headings"}
#: by which words an answer is found right: students may use any board's
WORDS_OF_ANSWERS = {"words", "contradictions", "too_little", "within", "besides"}
NOT_READ = re.compile(
    r'<style>.*?</style>|\b(id|class|href|url)="[^"]*"|<li>Or: .*?</li>', re.DOTALL
)


def texts_in(value, name=""):
    """Give every text of plain data that a person reads, with where it stands."""
    if isinstance(value, str):
        yield name, NOT_READ.sub("", value)
    elif isinstance(value, dict):
        for key, part in value.items():
            if key not in CODES | WORDS_OF_ANSWERS:
                yield from texts_in(part, f"{name}.{key}")
    elif isinstance(value, (list, tuple)):
        for part in value:
            yield from texts_in(part, name)


def tasks_of_salts(workshop):
    """Give the workshop's tasks but for acids and alkalis, which give up their own ions with every board."""
    cells = [each for each in workshop["cells"] if not re.search("acid|hydroxide", each["label"])]
    parts = ("cathode", "anode", "overall")
    return {
        "titles": workshop["titles"],
        "labels": [each["label"] for each in cells],
        "tasks": [
            workshop["tasks"][each[part]] for each in cells for part in parts if part in each
        ],
    }


def texts_on(page):
    """Give every text that a page sends to its browser, with where it stands."""
    assert not [each for each in page.address.notices if each.startswith("board")]
    board = set(map(id, parts_of(page.board.bar)))
    for widget in parts_of(page.widget):
        if id(widget) in board:  # it offers the other wordings
            continue
        if isinstance(widget, Workshop):
            yield from texts_in(tasks_of_salts(widget.data), "Workshop")
            continue
        for name in widget.keys:
            if not name.startswith(TRAITS) or name == "_options_labels":
                yield from texts_in(getattr(widget, name), f"{type(widget).__name__}.{name}")


@pytest.fixture(scope="module")
def at_once():
    """Have slow work done at once, and nothing ahead."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run_controllers, "SAMPLES", 5)
        patch.setattr(Prefetch, "begin", lambda *_: None)
        patch.setattr(
            BackgroundWork,
            "begin",
            lambda _self, work, *, done, **_options: done(lambda: work(lambda: True)),
        )
        yield


def demonstrate():
    page = Demonstrate()
    for cell in CELLS:
        page.open_query(f"?cells={cell}&{BOARD}")
        yield page
        page.run_controller.switch()
        yield page


def explore():
    page = Explore()
    page.open_query(f"?cells={CELLS[0]};{CELLS[1]}&{BOARD}")
    for each in page.shown:
        each.switch()
        each.bench.reveals_products = True
    inquiry = next(each for each in parts_of(page.widget) if isinstance(each, Inquiry))
    for each in inquiry.items:
        inquiry.answer_request = {"name": each["name"], "at": 1}
    page.sweep_panel.draw()
    yield page


def measure():
    page = Measure()
    page.grid.rows = invented_rows()
    page.open_query(f"?{BOARD}")
    page.work_out()
    yield page


def prepare():
    page = Prepare()
    page.open_query(f"?cells={';'.join(CELLS)}&{BOARD}")
    yield page


def revise():
    page = Revise()
    for seed in (1, 2):
        page.open_query(f"?set={seed}&count=30&{BOARD}")
        page.papers_panel.make()
        yield page


VISITS = for_every_page(
    {
        "demonstrate": demonstrate,
        "explore": explore,
        "measure": measure,
        "prepare": prepare,
        "revise": revise,
    }
)


@pytest.fixture(scope="module")
def texts(at_once):
    """Give the texts of all pages, by page."""
    return {
        name: {text for page in visit() for text in texts_on(page)}
        for name, visit in VISITS.items()
    }


def from_another_board():
    """Give pages that have changed from one board to another, with a dilute chloride on them."""
    page = Demonstrate()
    page.open_query(f"?cells={DILUTE}&{BOARD}")
    page.open_query(f"?cells={DILUTE}&{OTHER_BOARD}")
    yield page
    page.run_controller.switch()
    yield page
    page = Prepare()
    page.open_query(f"?cells={DILUTE}&{OTHER_BOARD}")
    yield page
    page = Measure()
    page.grid.rows = invented_rows()
    page.open_query(f"?{OTHER_BOARD}")
    page.work_out()
    yield page
    page = Revise()
    page.open_query(f"?set=1&count=15&{OTHER_BOARD}")
    page.papers_panel.make()
    yield page


@pytest.fixture(scope="module")
def other_texts(at_once):
    """Give the texts of these pages."""
    return {text for page in from_another_board() for text in texts_on(page)}


@pytest.mark.parametrize("setting", OTHER_SETTINGS)
def test_no_text_keeps_the_wording_of_the_board_before(other_texts, setting):
    every = " ".join(text for _, text in other_texts)
    assert "Cathode (negative electrode)" in every
    assert "The chloride is dilute, so oxygen forms" in every
    kept = [
        (where, text[:200])
        for where, text in other_texts
        if OTHER_SETTINGS[setting].search(text)
        and "is the negative electrode in every kind of cell"
        not in text  # an idea about both names
    ]
    assert kept == []


@pytest.mark.parametrize("setting", SETTINGS)
@pytest.mark.parametrize("page", VISITS)
def test_no_text_keeps_another_boards_wording(texts, page, setting):
    assert len(texts[page]) > 50
    kept = [
        (where, text[:200])
        for where, text in texts[page]
        if SETTINGS[setting].search(text)
        and not (page == "revise" and setting in OF_ALKALIS)  # below
    ]
    assert kept == []


@pytest.mark.parametrize("setting", OF_ALKALIS)
def test_only_questions_about_alkalis_and_acids_ask_of_their_own_ions(setting):
    for each in questions(seed=1, count=60, wording=WORDING):
        if SETTINGS[setting].search(str(each)):
            held = [each.text, *(option.text for option in each.options)]
            assert re.search("hydroxide|acid", " ".join(held), re.IGNORECASE), held
