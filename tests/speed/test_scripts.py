"""Every script that compares, here and among the servers, runs in a small size and prints its ratios.

No time is judged here.
"""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

import pytest
from tests.printed import figures, printed_by

sys.path.insert(0, str(Path(__file__).parents[1] / "serving"))
sys.path.insert(0, str(Path(__file__).parent))

from processor_waits import Times
from servers import fizzplate

from fizzplate.share.forking.warming import ONLY

SERVING = Path(__file__).parents[1] / "serving"
# by script: the arguments of its small size, and what stands before and after each ratio
SMALL = {
    "compare_bands.py": (
        ["NaCl", "--minutes", "0.1", "--repeats", "1"],
        [("NaCl: .*ratio ", ";"), ("all: ratio ", ";"), ("median ratio ", ",")],
    ),
    "compare_class_data.py": (
        ["--rows", "2000", "--groups", "20", "--repeats", "1"],
        [(r"\(", " times numpy's reading"), (r"\(", " times a plain integration")],
    ),
    "compare_first_frame.py": (["1"], [(", ", " times the bare slider's")]),
    "compare_frames.py": (["0.2"], [("ratios of the means: ", ""), ("ratios of .*, ", "")]),
    "compare_labels.py": (
        ["2", "--vessels", "beaker", "--widths", "1920"],
        [("cap height ", " px"), ("arc, ratio ", ";")],
    ),
    "compare_marking.py": (["2"], [("ratio ", "")]),
    "compare_presses.py": (["NaCl"], [("presses, ratio ", " "), ("explanation, ratio ", " ")]),
    "compare_questions.py": (
        ["--sets", "1", "--markings", "1", "--repeats", "1"],
        [("first set .*ratio ", ""), ("median .*ms, ratio ", ";")],
    ),
    "compare_rounds.py": (
        ["--minutes", "0.1", "--cells", "brine"],
        [("over transport, ratio ", ";"), ("linear solve, ratio ", "")],
    ),
    "compare_solvers.py": (
        ["sodium sulfate", "--minutes", "0.01", "--ladder", "1e-3", "--repeats", "1"],
        [("analytic Jacobian: .*, ", " within 1e-3")],
    ),
    "compare_sweep.py": (
        ["--cells", "2", "--minutes", "0.01", "--repeats", "1"],
        [("cells .*ratio ", ";"), ("nodes: .*ratio ", ""), ("ions: .*ratio ", "")],
    ),
}

AMONG_SERVERS = {
    "compare_joins.py": ["1", "1", "--alone", "1", "--quiet-s", "0.2", "--only-label"],
    "compare_slow_lines.py": ["measure", "--kbit-per-s", "20000", "--round-trip-s", "0.01"],
    "compare_starts.py": ["1"],
    "compare_weight.py": ["measure", "--quiet-ms", "300"],
}
IN_A_PAGE = {
    "compare_first_frame.py",
    "compare_frames.py",
    "compare_labels.py",
    "compare_marking.py",
    "compare_presses.py",
}


@pytest.fixture(scope="module", autouse=True)
def little_is_worked_out_ahead():
    """Of all servers, which the scripts start too."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(ONLY, "demonstrate")
        yield


@pytest.fixture(scope="module")
def server():
    """Serve the pages once for all scripts that look at one."""
    with fizzplate() as (_, address):
        yield address


@pytest.mark.parametrize("script", SMALL)
def test_a_comparison_prints_its_ratios(script, request):
    arguments, ratios = SMALL[script]
    if script in IN_A_PAGE:
        arguments = [*arguments, "--server", request.getfixturevalue("server")]
    printed = printed_by(f"speed/{script}", *arguments)
    for before, after in ratios:
        figures(printed, before, after)


def test_joining_is_compared_with_stock_voila():
    printed = printed_by("serving/compare_joins.py", *AMONG_SERVERS["compare_joins.py"])
    assert "failed" not in printed
    assert len(figures(printed, r"beside stock Voila[^:]*: ")) == 4


def test_weight_is_compared_with_stock_voila(server):
    arguments = [*AMONG_SERVERS["compare_weight.py"], "--server", server]
    printed = printed_by("serving/compare_weight.py", *arguments)
    first, *_ = figures(printed, r"\nratio +")
    assert first < 1
    assert len(re.search(r"\nratio(.*)\n", printed)[1].split()) == 6


def test_a_slow_line_is_compared_with_stock_voila(server):
    arguments = [*AMONG_SERVERS["compare_slow_lines.py"], "--server", server]
    printed = printed_by("serving/compare_slow_lines.py", *arguments)
    assert len(figures(printed, r"s, ratio ")) == 1


def test_what_a_start_takes_is_told():
    printed = printed_by("serving/compare_starts.py", *AMONG_SERVERS["compare_starts.py"])
    address_s, page_s, server_s, other_s = map(float, printed.splitlines()[-1].split())
    assert page_s > address_s
    assert min(server_s, other_s) > 0


def test_no_comparison_is_left_out():
    assert set(SMALL) == {path.name for path in Path(__file__).parent.glob("compare_*.py")}
    elsewhere = {"compare_answers.py"}  # in tests/serving/test_answers.py
    assert set(AMONG_SERVERS) | elsewhere == {path.name for path in SERVING.glob("compare_*.py")}


@pytest.mark.parametrize("printed", ["ratio 0.0", "ratio nan", "ratio inf", "ratio -2", "nothing"])
def test_a_ratio_that_is_none_is_noticed(printed):
    with pytest.raises(AssertionError):
        figures(printed, "ratio ")


def test_a_thread_that_works_is_seen_to_work():
    before = Times.of([os.getpid()])
    sum(k * k for k in range(1_000_000))
    done = Times.of([os.getpid()]).since(before)
    assert done.worked_ms > 0
    assert done.waited_ms >= 0
