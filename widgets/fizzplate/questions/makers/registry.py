"""Every maker of questions, with its topic and the level from which it is asked."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from fizzplate.questions.calculations import makers as numbers
from fizzplate.questions.makers import (
    applications,
    circuit,
    copper_rods,
    equations,
    ions,
    potentials,
    practical,
    reasons,
)
from fizzplate.questions.makers import comparisons as rivals
from fizzplate.questions.makers import discharge as products
from fizzplate.questions.makers import observations as seen
from fizzplate.questions.makers import planted_mistakes as mistakes
from fizzplate.questions.makers import residue as left
from fizzplate.questions.makers import rule_or_model as bench
from fizzplate.questions.makers import terms as words
from fizzplate.questions.makers.charts import lines
from fizzplate.questions.makers.charts import reading as charts

if TYPE_CHECKING:
    from fizzplate.questions.dice import Dice
    from fizzplate.questions.question import Question

Maker = Callable[["Dice"], "Question"]

#: the makers by name
MAKERS: dict[str, tuple[Maker, str, int]] = {
    "definition": (words.definition, "words", 14),
    "define": (words.define, "words", 14),
    "ions present": (ions.ions_present, "ions", 14),
    "ions that compete": (ions.compete, "ions", 14),
    "neutral everywhere": (ions.stays_neutral, "ions", 16),
    "which way": (ions.which_way, "drift", 14),
    "what carries the current": (circuit.carriers, "current", 14),
    "which rod": (circuit.poles, "current", 14),
    "why it is negative": (circuit.why_negative, "current", 14),
    "where electrons go": (circuit.electrons_go, "current", 14),
    "lamp and ammeters": (circuit.lamp_and_meters, "current", 14),
    "wires swapped": (circuit.swapped_wires, "current", 14),
    "product at the cathode": (products.cathode_product, "products", 14),
    "product at the anode": (products.anode_product, "products", 14),
    "active anode": (products.active_anode, "products", 14),
    "which cell": (rivals.which_cell, "products", 14),
    "mixture": (rivals.mixture, "products", 16),
    "carbon or copper": (copper_rods.carbon_or_copper, "products", 14),
    "melt": (products.melt_products, "melts", 14),
    "molten or dissolved": (products.melt_or_solution, "melts", 14),
    "solid": (reasons.solid_conducts, "melts", 14),
    "why a solid does not conduct": (reasons.why_solid, "melts", 14),
    "observation": (seen.observation, "observations", 14),
    "identify the solution": (seen.identify, "observations", 14),
    "gas test": (seen.gas_test, "tests", 14),
    "test result": (seen.test_result, "tests", 14),
    "half-equation": (equations.write_half, "half-equations", 14),
    "complete a half-equation": (equations.complete_half, "half-equations", 14),
    "correct a half-equation": (equations.correct_half, "half-equations", 14),
    "oxidised or reduced": (words.oxidised, "half-equations", 14),
    "one ion": (equations.at_one_ion, "half-equations", 14),
    "overall equation": (equations.write_overall, "half-equations", 16),
    "why alkaline": (left.why_alkaline, "what is left", 14),
    "why acid": (left.why_acid, "what is left", 14),
    "acid or alkaline at an electrode": (left.at_the_face, "what is left", 14),
    "indicator": (left.indicator, "what is left", 14),
    "what is left": (left.what_is_left, "what is left", 14),
    "blue": (left.why_blue_stays, "what is left", 14),
    "charge": (numbers.charge, "quantities", 14),
    "mass": (numbers.mass, "quantities", 16),
    "gas volume": (numbers.volume, "quantities", 16),
    "time": (numbers.time_needed, "quantities", 16),
    "current": (numbers.current_needed, "quantities", 16),
    "ratio": (numbers.ratio, "quantities", 14),
    "yield": (numbers.percentage_yield, "quantities", 16),
    "two steps": (numbers.two_steps, "quantities", 16),
    "Faraday constant": (numbers.faraday_found, "quantities", 16),
    "gas at room temperature": (numbers.gas_at_room, "quantities", 16),
    "in parts": (numbers.in_parts, "quantities", 16),
    "mass from a melt": (numbers.melt_mass, "quantities", 16),
    "mole ratio": (numbers.mole_ratio, "quantities", 16),
    "charge number": (numbers.charge_number, "quantities", 16),
    "current efficiency": (numbers.efficiency, "quantities", 16),
    "plating time": (numbers.plating_time, "quantities", 16),
    "the same electrons": (circuit.same_electrons, "quantities", 14),
    "double the mass": (practical.double_mass, "quantities", 14),
    "read a chart": (charts.read_off, "charts", 14),
    "which line": (lines.which_line, "charts", 14),
    "ratio from a chart": (charts.ratio, "charts", 14),
    "current from a chart": (charts.current, "charts", 16),
    "hydrogen begins": (charts.begins, "charts", 16),
    "explain a chart": (lines.explain, "charts", 16),
    "unfamiliar data": (potentials.unfamiliar, "rule and bench", 16),
    "least voltage": (potentials.least_voltage, "rule and bench", 16),
    "dilute": (bench.dilute, "rule and bench", 16),
    "rule and bench": (bench.differs, "rule and bench", 16),
    "find the mistake": (mistakes.find_mistake, "ideas", 14),
    "true statement": (reasons.true_statement, "ideas", 14),
    "wrong statement": (reasons.false_statement, "ideas", 14),
    "plating": (applications.plating, "applications", 14),
    "pure copper": (applications.purifying, "applications", 14),
    "aluminium": (applications.aluminium, "applications", 14),
    "plan": (practical.plan, "practical work", 14),
    "evaluate": (practical.evaluate, "practical work", 16),
    "possible cause": (practical.possible_cause, "practical work", 16),
}
TOPICS = tuple(dict.fromkeys(topic for _, topic, _ in MAKERS.values()))
