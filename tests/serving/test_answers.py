"""A class that answers at once, scaled down: every answer arrives, whoever troubles the server."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from apart import run_apart
from compare_answers import MOST_PHONES, TROUBLES, measure
from servers import fizzplate

from fizzplate.share.room.room import MAX_PHONES_OF_ONE_ADDRESS

PHONES, ROUNDS = 8, 2
WORKED_OUT_AHEAD = "revise"


def test_the_script_stays_below_what_one_address_may_have():
    assert MOST_PHONES + TROUBLES <= MAX_PHONES_OF_ONE_ADDRESS


@pytest.mark.parametrize("troubled", [False, True])
def test_every_answer_reaches_the_teachers_page(troubled):
    with fizzplate(page="revise", FIZZPLATE_WARM_ONLY="revise") as (server, address):
        site = address.partition("revise")[0]
        found = run_apart(measure(site, server, PHONES, ROUNDS, spread_s=0.5, troubled=troubled))
    assert found["answers"] == PHONES * ROUNDS
    assert found["phone_mb"] < 1  # the aim is 0.3, measured on sixty
