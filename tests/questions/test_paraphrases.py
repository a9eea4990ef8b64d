"""Each point earns its mark in every class of wording, and in none of those that say something else.

A row of ``paraphrases.csv`` writes many answers at once: "{bubbles|fizzing} at the anode" is two. What earns
and what does not was decided by an examiner before marking was asked.
"""

from __future__ import annotations

import csv
import itertools
import re
from pathlib import Path

import pytest

from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS

FILE = Path(__file__).parent / "paraphrases.csv"
MOST = 60  # of a row: beyond, each choice at least twice


def written(row):
    """Write the answers of a row."""
    parts = re.split(r"\{([^}]*)\}", row["written"])
    choices = [part.split("|") if k % 2 else [part] for k, part in enumerate(parts)]
    every = ["".join(each) for each in itertools.islice(itertools.product(*choices), MOST + 1)]
    if len(every) <= MOST:
        return every
    longest = max(map(len, choices))
    return [
        "".join(each[(k + (k // longest) * j) % len(each)] for j, each in enumerate(choices))
        for k in range(2 * longest)
    ]


def rows():
    with FILE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['maker']} {row['point']}")
def test_a_point_is_marked_by_what_is_said_however_it_is_put(row):
    question = MAKERS[row["maker"]](RandomSource(int(row["seed"]), edition=3))
    wanted = row["earns"] == "yes"
    point = int(row["point"])
    wrong = [
        (answer, line.reason)
        for answer in written(row)
        if (line := question.mark(answer).lines[point]).earned != wanted
    ]
    assert not wrong


def test_the_file_tries_more_than_two_thousand_answers_and_many_that_tempt():
    counts = {
        earns: sum(len(written(row)) for row in rows() if row["earns"] == earns)
        for earns in ("yes", "no")
    }
    assert counts["yes"] > 1500
    assert counts["no"] > 400
