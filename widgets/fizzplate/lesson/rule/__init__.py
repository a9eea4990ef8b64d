"""What a class learns to expect: the classroom rule, the explanation, tests, and where the bench differs."""

from fizzplate.lesson.rule.certainty import WIDE, certainty, charge_share_ranges
from fizzplate.lesson.rule.explanation import as_plain, explanation, melt_explanation
from fizzplate.lesson.rule.gas_tests import TESTS, gas_test
from fizzplate.lesson.rule.melt_run import COMPUTED, VAPOURS, MeltRun, form_of, seen_in_melt
from fizzplate.lesson.rule.narration import (
    BUBBLES_CM3,
    SWITCH_OPEN,
    SWITCH_OPEN_SEEN,
    liquid_seen,
    narration,
    observations,
    seen_at,
    sentence_at,
)
from fizzplate.lesson.rule.remains import Remains, remains_of
from fizzplate.lesson.rule.residue import acidity_statement, ions_with_water, residue
from fizzplate.lesson.rule.results_table import results_table
from fizzplate.lesson.rule.rule_vs_model import charge_share, differences, percent
from fizzplate.lesson.rule.sights import (
    deposit_dissolves,
    haze_words,
    main_sight,
    reacts_without_current,
)
from fizzplate.lesson.rule.stepwise_balancing import balancing_steps, signed_charge

__all__ = [
    "BUBBLES_CM3",
    "COMPUTED",
    "SWITCH_OPEN",
    "SWITCH_OPEN_SEEN",
    "TESTS",
    "VAPOURS",
    "WIDE",
    "MeltRun",
    "Remains",
    "acidity_statement",
    "as_plain",
    "balancing_steps",
    "certainty",
    "charge_share",
    "charge_share_ranges",
    "deposit_dissolves",
    "differences",
    "explanation",
    "form_of",
    "gas_test",
    "haze_words",
    "ions_with_water",
    "liquid_seen",
    "main_sight",
    "melt_explanation",
    "narration",
    "observations",
    "percent",
    "reacts_without_current",
    "remains_of",
    "residue",
    "results_table",
    "seen_at",
    "seen_in_melt",
    "sentence_at",
    "signed_charge",
]
