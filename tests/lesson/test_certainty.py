"""What a class reads of how sure the model is, and whether the rule lies within that."""

import re

import pytest

import fizzplate as fp
from fizzplate.lesson import certainty
from fizzplate.lesson.rule import charge_share_ranges
from fizzplate.lesson.rule.certainty import WIDE
from fizzplate.words.wording import Wording


def said(**cell):
    """Return the run of a cell, and what is said at each electrode."""
    run = fp.Cell(**cell).run(minutes=5, samples=5)
    return run, *certainty(run)


def test_thin_brine_is_told_with_the_ranges_of_both_gases():
    run, cathode, (how_sure, on_the_rule) = said(
        solution="NaCl", concentration_mol_dm3=0.01, current_A=0.03
    )
    chlorine, oxygen, *_ = charge_share_ranges(run.anode)
    named = [float(figure) for figure in re.findall(r"\d+", how_sure)]
    assert named == [
        round(100 * end) for each in (chlorine, oxygen) for end in (each.low, each.high)
    ]
    assert chlorine.low < chlorine.share < chlorine.high
    assert on_the_rule == "Chlorine alone, as the rule says, is outside this range."
    assert cathode == ()


def test_a_rule_within_the_range_is_told_so():
    run, _, (_, on_the_rule) = said(solution="NaCl", concentration_mol_dm3=0.05)
    assert charge_share_ranges(run.anode)[0].high > 0.98
    assert "within this range" in on_the_rule
    assert "less than the model is sure of" in on_the_rule


def test_a_rule_that_the_model_keeps_is_not_compared():
    run, _, anode = said(solution="CuSO4")
    oxygen = charge_share_ranges(run.anode)[0]
    assert oxygen.share > 0.98
    assert len(anode) == (1 if oxygen.high - oxygen.low > WIDE else 0)


@pytest.mark.parametrize("solution", ["KI", "AgNO3", "Cu(NO3)2"])
def test_where_the_shares_are_sure_nothing_is_said(solution):
    run, cathode, anode = said(solution=solution, current_A=0.02)
    for record, sentences in ((run.cathode, cathode), (run.anode, anode)):
        wide = [each for each in charge_share_ranges(record) if each.is_wide]
        assert bool(sentences) == bool(wide)
    assert cathode == ()


def test_a_run_without_current_says_nothing():
    assert said(solution="NaCl", supply_V=0.5)[1:] == ((), ())


def test_the_sentences_keep_to_the_boards_wording():
    run = fp.Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03).run(minutes=5, samples=5)
    assert certainty(run, Wording(electrode_names="negative")) == certainty(run)
