"""Lighthouse finds nothing wrong with a page, and nothing that jumps; its times are for a quiet computer."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from lighthouse_pages import AT_LEAST, AT_MOST, JAVASCRIPT, LIGHTHOUSE, judge
from servers import fizzplate


def test_a_page_is_accessible_and_well_made_and_does_not_jump():
    assert LIGHTHOUSE.is_file(), f"run npm ci in {JAVASCRIPT}"
    with fizzplate(page="measure") as (_, address):
        figures, wrong = judge(address)
    assert wrong == set()
    assert figures["accessibility"] >= AT_LEAST["accessibility"]
    assert figures["best-practices"] >= AT_LEAST["best-practices"]
    assert figures["shift"] <= AT_MOST["shift"]
    assert 0 < figures["performance"] <= 1
