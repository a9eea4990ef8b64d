"""The site: files that any web space can hold, small, the same from the same input, worked out once."""

from __future__ import annotations

import base64
import gzip
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import psutil
import pytest

from fizzplate.lesson import CellSetup, write_cell
from fizzplate.lesson.classroom import investigations
from fizzplate.questions.set_state import read_set
from fizzplate.share.site import SiteError, cells, command, explore, questions, runs, write_site
from fizzplate.share.site.cells import choices, every_solution
from fizzplate.share.site.folder import Folder
from fizzplate.share.takeaway import packing
from fizzplate.share.takeaway.variants import STRENGTHS_MOL_DM3
from fizzplate.words import DEFAULT_WORDING

LIST = "v=1&cells=NaCl,min=1;CuSO4,min=1,cathode=copper,anode=copper&ask=off"
LISTED = (
    CellSetup("NaCl", minutes=1.0),
    CellSetup("CuSO4", minutes=1.0, cathode="copper", anode="copper"),
)
RUN_BYTES, FIRST_VIEW_BYTES, FIRST_VIEW_REQUESTS = 40_000, 500_000, 10
FROM_HTML = {letter: other for other, letter in packing.FOR_HTML.items()}
TOPICS_HERE = ("products", "half-equations", "ions")
PAGES = ("demonstrate", "explore", "equations", "revise", "prepare")


@pytest.fixture(scope="module", autouse=True)
def one_of_each():
    """Write one set of three topics, not a term's of all, and two strengths of each cell, not three."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(questions, "SETS", 1)
        patch.setattr(questions, "TOPICS", TOPICS_HERE)
        patch.setattr(cells, "STRENGTHS_MOL_DM3", (0.1, 0.5))
        yield


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """A site of two cells, with the size of each file."""
    folder = tmp_path_factory.mktemp("site")
    return folder, write_site(folder, [LIST], workers=2)


def unpacked(text):
    whole = gzip.decompress(base64.b85decode(text.translate(FROM_HTML)))
    return json.loads(whole[4 : 4 + int.from_bytes(whole[:4], "little")])


def data_of(folder, page, name):
    """Read what a page loads."""
    config = re.search(r'id="fp-site">(.*?)</script>', (folder / f"{page}.html").read_text())[1]
    text = (folder / json.loads(config)["data"][name]).read_text()
    return unpacked(text)


def test_all_files_are_there_and_small(written):
    folder, sizes = written
    found = {
        str(each.relative_to(folder)): each.stat().st_size
        for each in folder.rglob("*")
        if each.is_file()
    }
    assert found == sizes
    run_sizes = [size for name, size in sizes.items() if name.startswith("runs/")]
    assert len(run_sizes) == len({each for key in LISTED for each in choices(key)})
    assert max(run_sizes) <= RUN_BYTES


@pytest.mark.parametrize("page", PAGES)
def test_a_first_view_is_small(written, page):
    """The page, what it names, and of a cell the run that it opens on."""
    folder, sizes = written
    text = (folder / f"{page}.html").read_text()
    named = {
        name
        for name in sizes
        if name in text and name != "index.html" and not name.endswith(".html")
    }
    first = [f"{page}.html", *named]
    if page in {"demonstrate", "explore"}:
        first.append(
            max((name for name in sizes if name.startswith("runs/")), key=sizes.__getitem__)
        )
    assert len(first) <= FIRST_VIEW_REQUESTS
    assert sum(sizes[name] for name in first) <= FIRST_VIEW_BYTES


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    """A site of every solution, of the right size: one run stands for all, and there are no sweeps."""
    ((_, text),) = runs._work_out(runs.Task((CellSetup("NaCl"),), DEFAULT_WORDING))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cells, "STRENGTHS_MOL_DM3", STRENGTHS_MOL_DM3)
        patch.setattr(runs, "_work_out", lambda task: [(each, text) for each in task.setups])
        patch.setattr(explore, "_drawn", lambda task: (task.file, explore.NO_SWEEP))
        folder = tmp_path_factory.mktemp("whole") / "Größe und Maß 電解"
        return folder, write_site(folder, every=True)


@pytest.mark.parametrize("page", PAGES)
def test_a_first_view_is_small_also_where_every_solution_is_offered(whole, page):
    test_a_first_view_is_small(whole, page)


def test_sheets_are_there_for_the_class_practical_and_for_every_investigation(whole):
    practicals = data_of(whole[0], "prepare", "sheets")["lists"]
    assert len(practicals) == 1 + len(investigations())
    assert len(
        {
            each["name"] if isinstance(each["name"], str) else each["name"]["$"][0]
            for each in practicals
        }
    ) == len(practicals)
    assert {len(each["sheets"]) for each in practicals} == {7}


def test_pages_ask_only_for_files_of_the_site_below_their_own_address(written):
    folder, sizes = written
    for page in ("index", *PAGES):
        text = (folder / f"{page}.html").read_text()
        links = re.findall(r'(?:href|src)="([^"#]+)"', text)
        assert links
        assert {
            each for each in links if each not in sizes and not each.startswith("data:")
        } == set()
    worker = (folder / "service-worker.js").read_text()
    kept = json.loads(re.search(r"const SITE = ({.*?});", worker, re.DOTALL)[1])["kept"]
    assert {"index.html", *(f"{page}.html" for page in PAGES)} < set(kept) <= set(sizes)


def test_the_catalogue_leads_from_every_choice_to_its_run(written):
    folder, sizes = written
    catalogue = data_of(folder, "demonstrate", "cells")
    assert [offer["key"] for offer in catalogue["offers"]] == [write_cell(each) for each in LISTED]
    for offer, listed in zip(catalogue["offers"], LISTED, strict=True):
        assert set(offer["keys"]) == {write_cell(each) for each in choices(listed)}
        assert len(offer["files"]) == len(offer["variants"]) == len(offer["keys"])
        assert set(offer["files"]) <= set(sizes)
        assert offer["keys"][offer["own"]] == offer["key"]
        run = unpacked((folder / offer["files"][offer["own"]]).read_text())["runs"][0]
        assert set(run) == {"rest", "on"}


def test_sets_ask_what_the_link_asks(written):
    folder, _ = written
    sets = data_of(folder, "revise", "sets")
    assert sets["topics"] == ["all topics", *TOPICS_HERE]
    name = next(each for each in sets["files"] if each.startswith("14/half-equations/"))
    packed = unpacked((folder / sets["files"][name]).read_text())
    lines = packed["lines"]
    first = packed["quiz"]["state"]["questions"][0]["text"]
    shown = first if isinstance(first, str) else lines[first["$"][0]]
    chosen, said = read_set("set=1&level=14&topics=half-equations")
    assert not said
    assert chosen.questions()[0].text.split("\n")[0] == shown


def test_the_same_input_gives_the_same_bytes_and_is_worked_out_once(written, tmp_path):
    folder, sizes = written
    before = {name: (folder / name).read_bytes() for name in sizes}
    seen = []
    again = write_site(folder, [LIST], progress=lambda *counts: seen.append(counts))
    assert again == sizes
    assert {name: (folder / name).read_bytes() for name in again} == before
    count = sum(name.startswith("runs/") for name in sizes)
    assert seen[0] == ("runs", count, count)


def test_an_interrupted_run_goes_on(written, tmp_path):
    folder, sizes = written
    lost = next(name for name in sizes if name.startswith("runs/"))
    text = (folder / lost).read_text()
    (folder / lost).unlink()
    (folder / f"{lost}.part").write_text(text[:100])
    seen = []
    write_site(folder, [LIST], progress=lambda *counts: seen.append(counts))
    assert seen[0][0] == "runs"
    assert 0 < seen[0][2] - seen[0][1] < seen[0][2] / 2
    assert (folder / lost).read_text() == text
    assert not (folder / f"{lost}.part").exists()


def test_what_is_worked_out_is_shown_to_its_end(written, tmp_path, capsys):
    """Sweeps and questions take as long as the runs."""
    folder, _ = written
    assert command.main([str(folder), "--list", LIST]) == 0
    bars = capsys.readouterr().err.split("\n")[:-1]
    lasts = [bar.rpartition("\r")[2] for bar in bars]
    counts = [re.fullmatch(r"\[#{30}\] (\d+) of (\d+) (.*)", each) for each in lasts]
    assert [each[3] for each in counts] == ["runs", "sweeps", "sets of questions"]
    assert all(each[1] == each[2] for each in counts)


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is another signal there")
def test_ctrl_c_ends_it_at_once_in_a_sentence_and_leaves_no_process(tmp_path):
    """A terminal sends it to every process."""
    ours = [Path(sys.executable).with_name("fizzplate"), "site", tmp_path]
    process = subprocess.Popen(
        [*ours, "--list", "v=1&cells=NaCl,min=2"],
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    while not any(tmp_path.glob("runs/*.txt")):
        assert process.poll() is None
        time.sleep(0.02)
    workers = psutil.Process(process.pid).children(recursive=True)
    os.killpg(process.pid, signal.SIGINT)
    said = process.communicate(timeout=60)[1]
    assert process.returncode == 130
    assert said.rpartition("\n")[0].endswith(
        "fizzplate site: interrupted. The same command goes on from here."
    )
    assert "Traceback" not in said
    assert psutil.wait_procs(workers, timeout=10)[1] == []
    assert not (tmp_path / "index.html").exists()


def test_an_unreadable_list_is_refused_with_what_is_wrong(tmp_path):
    with pytest.raises(SiteError, match="'Unobtainium' was left out: no such solution"):
        write_site(tmp_path, ["v=1&cells=Unobtainium"])


def test_the_command_refuses_a_place_that_it_cannot_write(tmp_path, capsys):
    file = tmp_path / "a file"
    file.write_text("")
    assert command.main([str(file / "folder"), "--list", LIST]) == 1
    said = capsys.readouterr().err
    assert "cannot be written" in said
    assert "Use a folder that you can write to." in said


def test_all_holds_every_solution_in_about_eight_hundred_runs(monkeypatch):
    monkeypatch.setattr(cells, "STRENGTHS_MOL_DM3", STRENGTHS_MOL_DM3)
    every = {each for listed in every_solution() for each in choices(listed)}
    assert 600 <= len(every) <= 900
    assert {each.vessel for each in every if not each.is_melt} == {"beaker", "U-tube"}
    assert {"NaCl", "AgNO3", "PbBr2(l)", "H2O"} <= {each.solution for each in every}


def test_a_folder_with_another_website_is_left_alone(tmp_path):
    (tmp_path / "index.html").write_text("<title>Our school</title>")
    with pytest.raises(SiteError, match="holds another website"):
        write_site(tmp_path, [LIST])
    assert (tmp_path / "index.html").read_text() == "<title>Our school</title>"


def test_files_of_an_earlier_site_are_named_and_deleted_where_wanted(written, capsys):
    folder, sizes = written
    old = folder / "runs" / "0123456789ab.txt"
    old.write_text("old")
    foreign = folder / "runs" / "notes.txt"
    foreign.write_text("mine")
    assert command.main([str(folder), "--list", LIST]) == 0
    assert (
        "1 files of an earlier site are still there; --tidy deletes them" in capsys.readouterr().out
    )
    assert old.exists()
    assert command.main([str(folder), "--list", LIST, "--tidy"]) == 0
    assert not old.exists()
    assert foreign.exists()
    assert all((folder / each).is_file() for each in sizes)
    foreign.unlink()


def test_a_set_of_every_topic_is_kept_for_times_without_a_network(written):
    folder, sizes = written
    worker = (folder / "service-worker.js").read_text()
    kept = json.loads(re.search(r"const SITE = ({.*?});", worker, re.DOTALL)[1])["kept"]
    assert {each for each in sizes if each.startswith("sets/")} <= set(kept)


def test_pages_promise_only_what_the_site_has(written):
    folder, _ = written
    home = (folder / "index.html").read_text()
    assert "any strength" not in home.lower()
    assert "Where the address begins with https" in home
    for other in PAGES:
        assert ">Half-equations</a>" in (folder / f"{other}.html").read_text()


def test_pages_name_only_policies_that_every_engine_knows(written):
    """WebKit reports any other as an error on every page."""
    folder, _ = written
    known = {
        "default-src",
        "style-src",
        "img-src",
        "object-src",
        "frame-src",
        "base-uri",
        "form-action",
    }
    for page in PAGES:
        policy = re.search(r'Policy" content="([^"]*)"', (folder / f"{page}.html").read_text())[1]
        assert {each.split()[0] for each in policy.split("; ")} == known


def test_a_file_is_written_whole_or_not_at_all(tmp_path, monkeypatch):
    folder = Folder(tmp_path)
    folder.write("a.txt", "old")

    def fail(self, _target):
        raise OSError("disk full")

    monkeypatch.setattr(type(tmp_path), "replace", fail)
    with pytest.raises(OSError, match="disk full"):
        folder.write("a.txt", "new")
    assert (tmp_path / "a.txt").read_text() == "old"
