"""Every script that weighs the servers runs, in a small size, and prints its ratios; no time is judged."""

from __future__ import annotations

import re
from pathlib import Path

from tests.printed import figures, printed_by

WORKED_OUT_AHEAD = "demonstrate,measure"
SMALL = {
    "compare_joins.py": ["1", "1", "--alone", "1", "--quiet-s", "0.2", "--only-label"],
    "compare_weight.py": ["measure", "--quiet-ms", "300"],
}


def test_joining_is_compared_with_stock_voila():
    printed = printed_by("serving/compare_joins.py", *SMALL["compare_joins.py"])
    assert "failed" not in printed
    assert len(figures(printed, r"beside stock Voila[^:]*: ")) == 4


def test_weight_is_compared_with_stock_voila():
    printed = printed_by("serving/compare_weight.py", *SMALL["compare_weight.py"])
    first, *_ = figures(printed, r"\nratio +")
    assert first < 1
    assert len(re.search(r"\nratio(.*)\n", printed)[1].split()) == 6


def test_no_comparison_is_left_out():
    assert set(SMALL) == {path.name for path in Path(__file__).parent.glob("compare_*.py")}


def test_faults_are_listed_by_their_names():
    names = re.findall(r"^(\w+): ", printed_by("serving/faults.py", "--list"), re.MULTILINE)
    assert {"kernel_killed", "endurance"} <= set(names)
