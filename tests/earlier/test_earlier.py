"""Links, lists, tables and question files of an earlier version still open, and hold what they held.

The files in this folder were written by version 0.1.0 as it was in November 2026, before its modules were
renamed and moved; the dangerous and the broken ones, which no page writes, were typed by hand. They are never
written anew: teachers have passed them on. What each holds is written out beside it, in the .toml and .json
files. A set's link promises its settings; its questions may be those of a set of today. What the browser
kept, and how the page loads a class's table, is tried in ``tests/javascript/earlier.test.js``.
"""

from __future__ import annotations

import io
import json
import math
import tomllib
import zipfile
from dataclasses import asdict
from pathlib import Path

import pytest

# what the tests know of the package: these imports and the functions below them, up to the line
from fizzplate.lesson import from_file, from_query
from fizzplate.lesson.measure.class_entries import COLUMNS, read_groups
from fizzplate.lesson.measure.logger_file import read_logger
from fizzplate.lesson.state.page_states import DemonstrateState
from fizzplate.questions.exchange import from_qti, read_csv
from fizzplate.questions.set_state import read_set
from fizzplate.share.command import PAGES
from fizzplate.views.pages.demonstrate import Demonstrate
from fizzplate.views.pages.explore import Explore
from fizzplate.views.pages.measure import Measure
from fizzplate.views.pages.revise import Revise
from fizzplate.words.refusals import InputError

OPTIONS = DemonstrateState.link_options
MADE = {"demonstrate": Demonstrate, "explore": Explore, "measure": Measure, "revise": Revise}


def shown_by_demonstrate(page):
    return {
        "cells": list(map(plain, page.list.cells)),
        "open": page.list.at,
        "board": plain(page.board.wording),
        "asks": page.board.asking,
    }


def shown_by_explore(page):
    run_controllers = [page.first, page.second] if page.has_two else [page.first]
    return {
        "cells": [plain(each.setup_bar.setup) for each in run_controllers],
        "board": plain(page.board.wording),
        "asks": page.board.asking,
    }


def shown_by_measure(page):
    settings = {name: control.value for name, control in page._options.items()}
    return {"settings": settings, "board": plain(page.board.wording)}


def shown_by_revise(page):
    return of_a_set(page.question_set) | {"count": len(page.questions)}


SHOWN = {
    "demonstrate": shown_by_demonstrate,
    "explore": shown_by_explore,
    "measure": shown_by_measure,
    "revise": shown_by_revise,
}


def open_page(page, query):
    """Give what a page shows of a link, and the sentences about what it left out."""
    page.open_query(query)
    return SHOWN[type(page).__name__.lower()](page), list(page.address.notices)


def of_a_set(chosen):
    settings = asdict(chosen)
    board = settings.pop("wording")
    return {"set": settings | {"topics": list(chosen.topics)}, "board": board}


def of_a_list(state):
    return {
        "cells": list(map(plain, state.cells)),
        "open": state.open,
        "board": plain(state.wording),
        "asks": state.options.get("ask") != "off",
    }


def open_link(name, pages, query):
    """Give what a link opens, and the sentences about what is left out.

    Where a page reads all of its link by one function, that is enough: then it would work out what it shows.
    """
    if name == "revise":
        chosen, said = read_set(query)
        return of_a_set(chosen), said
    if name in {"demonstrate", "prepare"}:
        state, said = from_query(query, OPTIONS)
        return of_a_list(state), said
    return open_page(pages[name], query)


def open_list(page, text):
    page.open_file(text)
    return list(map(plain, page.list.cells)), list(page.address.notices)


def read_cells(texts):
    """Give cells as a link opens them and as a saved list does, each with its sentences."""
    state, said = from_query(f"v=1&cells={';'.join(texts)}")
    cells, said_of_file = from_file("\n".join(["fizzplate cells 1", *texts]))
    return (list(map(plain, state.cells)), said), (list(map(plain, cells)), said_of_file)


def plain(value):
    return {name: "none" if each is None else each for name, each in asdict(value).items()}


def columns_today():
    return {each.key: (set(each.headings), set(each.units)) for each in COLUMNS}


def class_results(rows, units):
    """Give what follows from a class's table, with the names of its groups and what is wrong with it."""
    groups = read_groups(rows, units)
    found = {
        "charge_C": groups.charge_C,
        "gained_g": groups.gained_g,
        "lost_g": groups.lost_g,
        "gas_cathode_cm3": groups.values["gas_cathode"],
        "gas_anode_cm3": groups.values["gas_anode"],
        "room_C": groups.values["temperature"],
        "pressure_kPa": groups.values["pressure"],
    }
    return found, groups.names, tuple(mark for mark in groups.marks if mark.kind != "read")


READERS = {".csv": read_csv, ".zip": from_qti}

# --------------------------------------------------------------------------------------------------------

HERE = Path(__file__).parent
#: what Voila tells a program of the address that its page was opened by
TOLD = {"SERVER_SOFTWARE": "voila/0.5", "QUERY_STRING": "key=abc&v=1&cells=KBr;NaCl,c=0.1&open=1"}


def table(name):
    return tomllib.loads((HERE / f"{name}.toml").read_text("utf-8"))


def text_of(path):
    return path.read_bytes().decode("utf-8")  # line ends as they are


def each(items, *names):
    return [pytest.param(item, id=" ".join(item[name] for name in names)) for item in items]


CELLS, LINKS = table("cells"), table("links")
LISTS, LOGGERS, QUESTIONS = table("lists")["list"], table("loggers")["logger"], table("questions")
REFUSED, BROKEN = table("refused_by_safety")["refused"], table("broken")
CLASS_TABLES = json.loads((HERE / "class_tables.json").read_text("utf-8"))
COLUMNS_THEN = json.loads((HERE / "class_table_columns.json").read_text("utf-8"))


#: what a cell has got since: none of then has another beside it or changes during its run
SINCE = {"beside": "", "changes": ()}


def whole_cells(cells):
    return [CELLS["usual"] | SINCE | cell for cell in cells]


@pytest.fixture(scope="module")
def pages():
    return {name: made() for name, made in MADE.items()}


@pytest.mark.parametrize("cell", each(CELLS["cell"], "name"))
def test_a_cell_is_as_it_was_in_a_link_and_in_a_list(cell):
    expected = whole_cells([cell["holds"]])
    for cells, said in read_cells([cell["text"]]):
        assert (cells, said) == (expected, [])


@pytest.mark.parametrize("link", each(LINKS["link"], "page", "name"))
def test_a_link_opens_its_page_as_it_was(link, pages):
    assert link["page"] in PAGES  # as the address names it
    shown, said = open_link(link["page"], pages, link["query"])
    assert said == []
    assert shown["board"] == LINKS["board"] | link["board"]
    for name in ("open", "asks", "settings"):
        if name in link:
            assert shown[name] == link[name]
    if "cells" in link:
        assert shown["cells"] == whole_cells(link["cells"])
    if "set" in link:
        assert shown["set"].items() >= link["set"].items()


@pytest.mark.parametrize("name", ["demonstrate", "revise"])
def test_a_page_shows_what_its_link_opens(name, pages):
    link = next(
        each
        for each in LINKS["link"]
        if (each["page"], each["name"]) == (name, "everything together")
    )
    opened, _ = open_link(name, pages, link["query"])
    shown, said = open_page(pages[name], link["query"])
    # a set that was named by its number alone is opened as it is today, which is said
    assert all("as it is today" in sentence for sentence in said)
    assert len(said) == (name == "revise")
    assert shown.items() >= opened.items()
    if name == "revise":
        assert shown["count"] == link["set"]["count"]


def test_a_page_opens_at_once_as_the_address_says_that_its_server_tells(monkeypatch):
    for name, value in TOLD.items():
        monkeypatch.setenv(name, value)
    shown = shown_by_demonstrate(Demonstrate())
    assert shown["cells"] == whole_cells(
        [{"solution": "KBr"}, {"solution": "NaCl", "concentration_mol_dm3": 0.1}]
    )
    assert shown["open"] == 1


@pytest.mark.parametrize("saved", each(LISTS, "file"))
def test_a_saved_list_opens_with_its_cells(saved, pages):
    cells, said = open_list(pages["demonstrate"], text_of(HERE / "lists" / saved["file"]))
    assert (cells, said) == (whole_cells(saved["cells"]), [])


@pytest.mark.parametrize("refused", each(REFUSED, "name"))
def test_what_safety_refuses_is_left_out_of_links_and_lists_with_the_reason(refused):
    harmless = [refused["opens"]] if "opens" in refused else []
    expected, _ = read_cells(["KNO3", *harmless])
    for cells, said in read_cells(["KNO3", refused["text"]]):
        assert cells == expected[0]
        assert says_all(said, refused["says"])


@pytest.mark.parametrize("refused", each([r for r in REFUSED if "opens" not in r], "name"))
def test_a_list_whose_only_cell_safety_refuses_gives_the_whole_reason(refused):
    with pytest.raises(InputError) as refusal:
        from_file(f"fizzplate cells 1\n{refused['text']}\n")
    assert says_all([str(refusal.value)], refused["says"])


@pytest.mark.parametrize("then", each(COLUMNS_THEN, "key"))
def test_a_column_of_a_class_table_is_known_by_its_names_and_units(then):
    headings, units = columns_today()[then["key"]]
    assert headings >= set(then["headings"])
    assert units >= set(then["units"])


@pytest.mark.parametrize("saved", each(CLASS_TABLES, "file"))
def test_a_class_table_gives_the_results_that_it_gave(saved):
    found, names, marks = class_results(saved["rows"], saved["units"])
    assert names == tuple(row["group"] for row in saved["rows"])
    assert marks == ()
    for name, values in found.items():
        expected = [math.nan if each is None else each for each in saved.get(name, [])]
        expected = expected or [math.nan] * len(names)  # nothing of it was measured
        assert list(values) == pytest.approx(expected, rel=1e-6, nan_ok=True), name


@pytest.mark.parametrize("saved", each(LOGGERS, "file"))
def test_a_loggers_file_gives_its_readings(saved):
    text = text_of(HERE / "loggers" / saved["file"])
    readings = read_logger(text, saved.get("time"), saved.get("current"))
    assert list(readings.time_s) == pytest.approx(saved["time_s"])
    assert list(readings.current_A) == pytest.approx(saved["current_A"])
    assert readings.charge_C == pytest.approx(saved["charge_C"])


@pytest.fixture(scope="module")
def opened_sets():
    """Open the set from both forms that Revise saves; the package is unpacked in the folder."""
    folder = HERE / "questions" / "package"
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as package:
        for path in sorted(folder.rglob("*.xml")):
            package.write(path, path.relative_to(folder).as_posix())
    of_package, said = from_qti(packed.getvalue())
    assert said == []
    return {
        "set.csv": read_csv((HERE / "questions" / "set.csv").read_bytes()),
        "package": of_package,
    }


@pytest.mark.parametrize("form", ["set.csv", "package"])
@pytest.mark.parametrize("number", range(len(QUESTIONS["question"])))
def test_a_question_of_a_saved_set_asks_and_marks_as_it_did(form, number, opened_sets):
    assert len(opened_sets[form]) == len(QUESTIONS["question"])
    asked, expected = opened_sets[form][number], QUESTIONS["question"][number]
    for name in ("kind", "topic", "level", "text", "marks", "watch"):
        assert getattr(asked, name) == expected[name], name
    if expected["kind"] == "list":  # whose answer was the numbers of its points, and is their words
        assert asked.mark(expected["answer"]).earned == expected["marks"]
    else:
        assert asked.answer == expected["answer"]
    for name in ("options", "parts", "points"):
        assert len(getattr(asked, name)) == expected[name], name
    assert asked.mark(expected["answer"]).earned == expected["earns"]
    assert asked.mark(expected["wrong_answer"]).earned == expected["wrong_earns"]


@pytest.mark.parametrize("broken", each(BROKEN["link"], "page", "query"))
def test_a_broken_link_opens_what_is_left_and_says_what_is_not(broken, pages):
    shown, said = open_link(broken["page"], pages, broken["query"])
    assert says_all(said, broken["says"])
    if "opens" in broken:
        assert shown["cells"] == whole_cells([{"solution": each} for each in broken["opens"]])


@pytest.mark.parametrize("broken", each(BROKEN["file"], "kind", "file"))
def test_a_broken_file_is_refused_and_changes_nothing(broken, pages):
    path = HERE / "broken" / broken["file"]
    if broken["kind"] == "list":
        before = shown_by_demonstrate(pages["demonstrate"])
        _, said = open_list(pages["demonstrate"], text_of(path))
        assert shown_by_demonstrate(pages["demonstrate"]) == before
        assert says_all(said, broken["says"])
        return
    with pytest.raises(InputError) as refusal:
        read_logger(text_of(path)) if broken["kind"] == "logger" else READERS[path.suffix](
            path.read_bytes()
        )
    assert says_all([str(refusal.value)], broken["says"])


def says_all(said, words):
    """Tell whether there is one sentence, for people, with all these words in it."""
    (sentence,) = said
    assert 20 < len(sentence) < 400, sentence
    assert "Error" not in sentence
    assert [word for word in words if word not in sentence] == [], sentence
    return True
