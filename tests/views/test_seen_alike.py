"""What Prepare says that a class will see is what Demonstrate shows of the same cell."""

import re

import pytest

from fizzplate import data
from fizzplate.lesson import CellSetup, Wording
from fizzplate.lesson.prepare import ClassNeeds, sheets, visibility
from fizzplate.views.bench.side_cards import lesson_of

SOLUTIONS = [row["formula"] for row in data.rows("solutions")]
WHEN = re.compile(r" after [\d.]+\s\S+?(?=;|$)")


def longest_shown(seen, end_s):
    """Give the sentence that Demonstrate shows for most of a run."""
    ends = [*(start for start, _ in seen[1:]), end_s]
    lengths = {}
    for (start, sentence), end in zip(seen, ends, strict=True):
        lengths[sentence] = lengths.get(sentence, 0) + end - start
    return max(lengths, key=lengths.get)


@pytest.mark.parametrize("formula", SOLUTIONS)
def test_prepare_says_what_demonstrate_shows(formula):
    setup = CellSetup(formula)
    run = setup.cell().run(minutes=setup.minutes)
    shown = longest_shown(lesson_of(run)["seen"], run.time_s[-1])
    prepared = visibility(setup)
    for role in ("cathode", "anode"):
        words = WHEN.sub("", prepared.seen_text(role))
        assert f"At the {role}: {words}." in shown


@pytest.mark.parametrize("formula", SOLUTIONS)
def test_bubbles_and_deposits_have_a_time_and_nothing_else_has(formula):
    prepared = visibility(CellSetup(formula))
    for at, role in enumerate(("cathode", "anode")):
        for part in prepared.seen_text(role).split("; also, "):
            is_timed = part.startswith("bubbles") or (at == 0 and prepared.plates)
            assert bool(WHEN.search(part)) == is_timed, part


def test_the_answers_say_what_is_seen_and_where_the_cell_differs_from_the_rule():
    made = sheets((CellSetup("ZnSO4"),), ClassNeeds(15, 60, 10, 0.1), Wording())
    answers = next(sheet.html for sheet in made if sheet.name == "answers")
    assert "hydrogen (by the rule)" in answers
    assert "A grey deposit on the electrode after" in answers
    assert "At the cathode this cell makes mainly zinc, not the hydrogen of the rule." in answers
    assert "a grey layer covers it" in answers


def test_the_worksheet_asks_everything_of_each_solution_and_tells_nothing():
    setups = (CellSetup("NaCl"), CellSetup("CuSO4", anode="copper", cathode="copper"))
    made = sheets(setups, ClassNeeds(15, 60, 10, 0.1), Wording())
    paper = next(sheet.html for sheet in made if sheet.name == "worksheet")
    for heading in ("Prediction", "Observation", "Test, result", "Half-equation", "Conclusion"):
        assert paper.count(heading) == len(setups)
    assert paper.count("fp-writing-line") == len(setups) * (2 * 6 + 2)
    assert "copper electrodes" in paper
    for told in ("bubbles", "deposit", "chlorine", "hydrogen", "splint", "→", "litmus"):
        assert told not in paper
