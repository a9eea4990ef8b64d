"""Collect the makers that these modules declare."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.questions.calculations import industry as industry_amounts
from fizzplate.questions.calculations import makers as calculations
from fizzplate.questions.calculations import multi_part_makers
from fizzplate.questions.maker import Maker
from fizzplate.questions.makers import (
    circuit,
    comparisons,
    copper_rods,
    discharge,
    equations,
    ions,
    observations,
    residue,
    terms,
)
from fizzplate.questions.makers.charts import lines, reading
from fizzplate.questions.makers.ideas import common_ideas, planted_mistakes, reasons
from fizzplate.questions.makers.long_answers import extended, structured
from fizzplate.questions.makers.practical_work import graphs_to_plot, plans, results
from fizzplate.questions.makers.rule_and_bench import potentials, rule_or_model
from fizzplate.questions.makers.works import applications, industry, plating_faults

if TYPE_CHECKING:
    from types import ModuleType

#: in the order in which topics are offered
MODULES = (
    terms,
    ions,
    circuit,
    discharge,
    comparisons,
    copper_rods,
    reasons,
    observations,
    equations,
    residue,
    calculations,
    multi_part_makers,
    plans,
    reading,
    lines,
    potentials,
    rule_or_model,
    planted_mistakes,
    applications,
    industry,
    plating_faults,
    industry_amounts,
    structured,
    extended,
    common_ideas,
    results,
    graphs_to_plot,
)


def declared_in(module: ModuleType) -> list[Maker]:
    """Return the makers that a module declares itself."""
    return [
        each
        for each in vars(module).values()
        if isinstance(each, Maker) and each.make.__module__ == module.__name__
    ]


def _collected() -> dict[str, Maker]:
    makers = [each for module in MODULES for each in declared_in(module)]
    by_name = {each.name: each for each in makers}
    if len(by_name) < len(makers):
        raise ValueError("two makers have one name")
    return by_name


#: the makers by name
MAKERS = _collected()
