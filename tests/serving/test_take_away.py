"""The page to take away: its size, what it asks of others, and the numbers that it holds."""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
import re
from datetime import date
from html import unescape
from pathlib import Path

import numpy as np
import pytest

import fizzplate as fp
from fizzplate.lesson import CellSetup, from_query
from fizzplate.questions.set_state import read_set
from fizzplate.share.takeaway import TakeAwayError, command, page, take_away_page
from fizzplate.share.takeaway.packing import FOR_HTML
from fizzplate.share.takeaway.question_set import quiz_state
from fizzplate.share.takeaway.variants import PLANS, variants

DAY = date(2026, 3, 14)
FROM_HTML = {after: before for before, after in FOR_HTML.items()}
CORE_BYTES = 1_000_000
FULL_BYTES = 3_000_000
FULL = 24  # cells: the longest list that a link holds
EVERY = 8  # of them are made here
LAMP = fp.Lamp(6.0, 0.06)


@pytest.fixture(scope="module")
def core():
    """The class practical."""
    return take_away_page(made_on=DAY, workers=2)


def cells_in(text):
    """Read what a file offers of each cell, with the bytes of its block: its plain data and its numbers."""
    plain = json.loads(re.search(r'id="fp-plain">(.*?)</script>', text)[1])
    blocks = re.findall(r'class="fp-block">([^<]*)</script>', text)[1:]
    whole = [gzip.decompress(base64.b85decode(block.translate(FROM_HTML))) for block in blocks]
    sizes = [int.from_bytes(each[:4], "little") for each in whole]
    return [
        (offer, json.loads(each[4 : 4 + size]), np.frombuffer(each[4 + size :], np.uint8))
        for offer, each, size in zip(plain["cells"], whole, sizes, strict=True)
    ]


def arrays_in(block, planes, variant, state):
    """Read the arrays of a run by their names, as packing.py says that they are written."""
    low, high = planes.reshape(2, -1).astype(np.int64)
    folded = low + 256 * high
    place = 0
    for k, states in enumerate(block["runs"]):
        for name in ("rest", "on"):
            found = {}
            for array, scale in states[name]["scales"].items():
                if isinstance(scale, str):
                    found[array] = found[scale]
                    continue
                found[array] = read(folded[place : place + scale[0]], *scale[1:])
                place += scale[0]
            place += sum(scale[0] for chart in states[name]["charts"] for scale in chart["columns"])
            place += sum(scale[0] for side in states[name]["certainty"] for scale in side["ranges"])
            if (k, name) == (variant, state):
                return found
    raise AssertionError(f"no run {variant}")


def read(folded, width, a, b):
    change = np.where(folded % 2, -(folded + 1) // 2, folded // 2).reshape(-1, width)
    change[0] = np.cumsum(change[0])
    codes = np.cumsum(change, axis=0) % 65536
    return a + b * codes


def as_near(found, expected, share=1e-4):
    """Say whether arrays agree within a share of the largest value: sixteen bits and float32 lose no more."""
    expected = np.asarray(expected)
    return bool(np.abs(found.ravel() - expected.ravel()).max() <= share * np.abs(expected).max())


def test_the_class_practical_fits_in_a_megabyte(core):
    assert len(core.encode()) <= CORE_BYTES


def test_a_full_list_fits_in_three(monkeypatch):
    """By every eighth cell of it, with as many runs of each as a full list has."""
    monkeypatch.setattr(page, "FEW_CELLS", 1)
    listed = [f"{formula},min=1" for formula in list(fp.solutions())[:FULL:EVERY]]
    part = take_away_page(f"v=1&cells={';'.join(listed)}", made_on=DAY)
    blocks = re.findall(r'class="fp-block">([^<]*)</script>', part)[1:]
    assert len(blocks) == FULL / EVERY
    assert len(part.encode()) + (EVERY - 1) * sum(map(len, blocks)) <= FULL_BYTES
    assert all(len(offer["variants"]) > 3 for offer, _, _ in cells_in(part))


@pytest.mark.parametrize("at", range(4))
def test_the_numbers_are_those_of_the_run(core, at):
    offer, block, planes = cells_in(core)[at]
    formula = offer["key"]
    for place, strength in enumerate(offer["menus"][0][1]):
        variant = offer["variants"].index([place, *offer["variants"][offer["own"]][1:]])
        found = arrays_in(block, planes, variant, "on")
        run = fp.Cell(formula, concentration_mol_dm3=float(strength), lamp=LAMP).run(
            minutes=5, samples=61
        )
        product = run.cathode.products[0]
        assert as_near(found["time_s"], run.time_s)
        assert as_near(found["charge_C"], run.charge_C)
        assert as_near(found["current_A"], run.current_A)
        assert as_near(found[f"0:amount_mol:{product}"], run.cathode.amount_mol(product))
        assert as_near(found["1:pH"], run.anode.pH)
        assert as_near(found["pH"][:, [0, -1]], run.pH[:, [0, -1]], share=1e-3)
        ion = run.ions[0]
        ends = run.concentration(ion)[:, [0, -1]]
        assert as_near(found[f"c:{ion}"][:, [0, -1]], ends, share=1e-3)


def test_another_strength_would_be_noticed(core):
    offer, block, planes = cells_in(core)[1]
    found = arrays_in(block, planes, offer["own"], "on")
    other = fp.Cell("NaCl", concentration_mol_dm3=1.0, lamp=LAMP).run(minutes=5, samples=61)
    assert not as_near(found["current_A"], other.current_A)


def test_nothing_is_asked_of_anyone(core):
    addresses = re.findall(r'(?:src|href|action)="([^"]*)"', core)
    assert addresses
    assert all(each.startswith(("#", "data:")) for each in addresses if "$" not in each)
    assert not re.findall(r"url\(\s*['\"]?(?!#)", core)
    assert not re.findall(r"\b(?:fetch|XMLHttpRequest|WebSocket|EventSource|sendBeacon)\s*\(", core)


def test_the_policy_lets_only_what_stands_in_the_file_run(core):
    policy = unescape(re.search(r'Security-Policy" content="([^"]*)"', core)[1])
    parts = dict(part.split(" ", 1) for part in policy.split("; "))
    script = re.search(r'<script type="module">(.*?)</script>', core, re.DOTALL)[1]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert parts["default-src"] == "'none'"
    assert parts["script-src"] == f"'sha256-{digest}'"
    assert not re.search(r"unsafe|\*|https?:", parts["script-src"] + parts["style-src-elem"])


def test_it_says_where_it_comes_from_and_names_no_machine(core):
    about = unescape(core)
    assert "?v=1&cells=Na2SO4;NaCl;CuCl2;CuSO4" in about
    assert "14 March 2026" in about
    assert f"Fizz & Plate {fp.__version__}" in about
    assert "This page sends nothing" in about
    assert "Your school's own risk assessment, local rules and a qualified person decide" in about
    assert "Redistribution and use in source and binary forms" in about
    for place in (Path.cwd(), Path.home(), Path(fp.__file__).parent):
        assert f"{place}/" not in core


def test_the_same_links_make_the_same_file():
    query = "v=1&cells=H2O;H2O,V=4&open=1&board=electrode_names=negative&ask=off"
    made = [take_away_page(query, set_query="set=5&count=2", made_on=DAY) for _ in range(2)]
    assert made[0] == made[1]
    named = re.search(r"<code>\?(v=1&amp;cells[^<]*)</code>", made[0])[1]
    assert from_query(unescape(named), ("ask",)) == from_query(query, ("ask",))


@pytest.mark.parametrize(
    ("query", "sentence"),
    [
        ("v=1&cells=Unobtainium", "'Unobtainium' was left out: no such solution is offered here"),
        ("v=1&cells=NaCl,c=90", "concentration_mol_dm3"),
        ("v=1&cells=NaCl&colour=red", "colour: not a part of this page"),
    ],
)
def test_a_link_that_cannot_be_read_is_refused_in_a_sentence(query, sentence):
    with pytest.raises(TakeAwayError, match=re.escape(sentence)) as refused:
        take_away_page(query)
    assert isinstance(refused.value, ValueError)


def test_a_long_list_has_less_of_each_cell(monkeypatch):
    full = take_away_page("v=1&cells=H2O,min=1", set_query="count=1", made_on=DAY)
    monkeypatch.setattr(page, "MAX_BYTES", len(full.encode()) - 1)
    less = take_away_page("v=1&cells=H2O,min=1", set_query="count=1", made_on=DAY)
    (offer, _, _), (fewer, _, _) = *cells_in(full), *cells_in(less)
    assert len(fewer["variants"]) < len(offer["variants"])
    monkeypatch.setattr(page, "MAX_BYTES", 1000)
    monkeypatch.setattr(page, "PLANS", PLANS[-1:])  # what holds least is the last that is tried
    with pytest.raises(TakeAwayError, match="take cells off the list"):
        take_away_page("v=1&cells=H2O,min=1", set_query="count=1")


@pytest.mark.parametrize(
    ("listed", "strengths", "rods"),
    [
        (
            CellSetup("NaF", 0.3),
            {0.1, 0.3, 0.5},
            {"graphite", "copper"},
        ),  # dissolves to 0.95 mol/dm3
        (CellSetup("AgNO3", 0.1), {0.1, 0.5, 1.0}, {"graphite", "silver"}),
        (CellSetup("H2O"), {0.5}, {"graphite", "copper"}),
    ],
)
def test_only_what_can_be_made_is_offered(listed, strengths, rods):
    made = variants(listed, "with lamps")
    assert made[0] == listed
    assert {each.concentration_mol_dm3 for each in made} == strengths
    assert {each.anode for each in made} == rods


def test_no_question_of_the_page_is_met_twice():
    question_set, _ = read_set("set=1&count=4")
    made = quiz_state(question_set, set())
    met = [made["state"]["questions"], *made["alike"].values()]
    texts = [each["text"] for some in met for each in some]
    assert len(texts) > 8
    assert len(set(texts)) == len(texts)


def test_each_plan_has_less_of_a_cell_and_the_last_only_the_cell_itself():
    counts = [len(variants(CellSetup("CuSO4"), plan)) for plan in PLANS]
    assert counts == sorted(set(counts), reverse=True)
    assert counts[-1] == 1


def test_the_command_writes_the_file(tmp_path, capsys):
    link = "http://127.0.0.1:8866/demonstrate?v=1&cells=H2O,min=1"
    file = tmp_path / "lesson.html"
    assert command.main([str(file), "--list", link, "--questions", "set=3&count=1"]) == 0
    assert file.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert "lesson.html: 0." in capsys.readouterr().out
    assert command.main([str(tmp_path / "none" / "lesson.html"), "--list", link]) == 1
    refusal = capsys.readouterr().err
    assert "cannot be written: no such file or directory. Use a folder that" in refusal
    assert command.main([str(file), "--list", "v=1&cells=Salt"]) == 1
    assert "'Salt' was left out" in capsys.readouterr().err


def test_a_melt_is_in_the_file_with_its_amounts():
    text = take_away_page("v=1&cells=PbBr2(l),A=0.5,min=20", made_on=DAY)
    ((offer, block, planes),) = cells_in(text)
    assert offer["label"] == "molten PbBr₂"
    assert offer["menus"] == [
        ["Concentration, mol/dm³", ["molten"]],
        ["Electrodes", ["both graphite"]],
        ["Lamp", ["none"]],
    ]
    arrays = arrays_in(block, planes, 0, "on")
    assert as_near(arrays["0:mass_g:Pb"][-1:], [600 / 96485.33 * 207.2 / 2])
    assert "0:mass_g:Pb" not in arrays_in(block, planes, 0, "rest")


def test_two_cells_beside_each_other_stand_in_the_file_one_after_the_other(monkeypatch):
    monkeypatch.setattr(page, "PLANS", ("as listed",))
    monkeypatch.setattr(page, "FEW_CELLS", 99)
    text = take_away_page("v=1&cells=NaCl,min=1,beside=KI", made_on=DAY)
    assert [offer["label"] for offer, _, _ in cells_in(text)] == ["NaCl", "KI"]
