"""Ten questions built by hand, of every kind, for the tests of papers."""

from __future__ import annotations

import re

from tests.questions.plain_spaces import with_plain_spaces

from fizzplate.chemistry import half_equation
from fizzplate.lesson.equations.equation_tasks import half_task
from fizzplate.questions.content import Chart, ChartLine, Constant, NearMiss, Option, Part, Point
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    NumberQuestion,
    TextQuestion,
)


def as_printed(text):
    """Write a question's text as it is read: without the data that stand at the top, spaces plain."""
    return re.sub(r" Take .*", "", with_plain_spaces(text))


MINUTES = tuple(float(minute) for minute in range(0, 31, 2))


def choice():
    return ChoiceQuestion(
        "product at the anode",
        "products",
        14,
        "Sodium sulfate solution is electrolysed with carbon electrodes. What forms at the anode?",
        "Sulfate is not discharged: hydroxide ions of the water give oxygen.",
        options=(
            Option(
                "sulfur dioxide", right=False, reason="Sulfate is not discharged.", misconception=27
            ),
            Option("oxygen", right=True, reason="Hydroxide ions of the water give oxygen."),
            Option("hydrogen", right=False, reason="Hydrogen forms at the cathode."),
            Option(
                "nothing: the anode is <inert> & only conducts",
                right=False,
                reason="An inert electrode does not react itself, but ions react at it.",
                misconception=25,
            ),
        ),
    )


def statements():
    return ChoiceQuestion(
        "true statement",
        "ideas",
        14,
        "Which statement about the current in a solution is right?",
        "Both kinds of ion move.",
        options=(
            Option(
                "Electrons swim from the cathode through the solution to the anode, where they go back "
                "into the wire and on to the supply.",
                right=False,
                reason="Electrons move in the wires only.",
                misconception=2,
            ),
            Option(
                "Ions of both signs carry the current through the solution, each towards its own electrode.",
                right=True,
                reason="Both kinds of ion move.",
            ),
            Option(
                "Only the anions move.",
                right=False,
                reason="Cations move as well.",
                misconception=19,
            ),
        ),
    )


FARADAY = Constant("Faraday constant", "F = 96 500 C/mol")
HYDROGEN = (
    "A current of 0.50 A flows for 15 minutes through dilute sulfuric acid. Hydrogen is collected "
    "over water."
)
MASS = (
    "0.20 A flow for 20 minutes through a solution of a copper(II) salt. What mass of copper is "
    "deposited, in g?"
)


def mass():
    return NumberQuestion(
        "mass",
        "quantities",
        16,
        f"{MASS} Take F = 96 500 C/mol and M(Cu) = 63.5 g/mol.",
        "Q = 240 C.",
        stem=MASS,
        data=(FARADAY, "M(Cu) = 63.5 g/mol"),
        parts=(
            Part(
                0.0790,
                "g",
                (
                    "Time in seconds: 20 min × 60 = 1200 s.",
                    "Charge: Q = I × t = 0.20 A × 1200 s = 240 C.",
                    "Moles of copper: 240 C ÷ 96 500 C/mol ÷ 2 = 0.00124 mol.",
                    "Mass: m = n × M = 0.0790 g.",
                ),
                near_misses=(
                    NearMiss(0.00132, (0,), "The minutes were not converted into seconds."),
                    NearMiss(0.158, (2,), "Each copper ion takes 2 electrons."),
                    NearMiss(7.0, (0, 1, 2, 3), "That is not a mass that this charge can give."),
                ),
            ),
        ),
    )


def steps():
    return NumberQuestion(
        "two steps",
        "quantities",
        16,
        f"{HYDROGEN} Take F = 96 500 C/mol.",
        "",
        stem=HYDROGEN,
        data=(FARADAY,),
        strict=True,
        parts=(
            Part(
                450.0,
                "C",
                ("Time in seconds: 900 s.", "Q = I × t = 450 C."),
                prompt="Find the charge that passes.",
                near_misses=(NearMiss(7.5, (0,), "The minutes were not converted into seconds."),),
            ),
            Part(
                0.002332,
                "mol",
                (
                    "Moles of electrons: 450 C ÷ 96 500 C/mol = 0.00466 mol.",
                    "Half as much hydrogen: 0.00233 mol.",
                ),
                prompt="Find the amount of hydrogen.",
                factor=1 / 193_000,
                near_misses=(NearMiss(0.00466, (1,), "Each molecule needs 2 electrons."),),
            ),
        ),
    )


def half(product="O2", role="anode"):
    task = half_task(half_equation(product), product, role)
    return EquationQuestion(
        "half-equation",
        "half-equations",
        14,
        f"Potassium nitrate solution is electrolysed with carbon electrodes. {task.prompt}",
        "Atoms and charge balance.",
        task=task,
        answer=str(half_equation(product)),
    )


def mistake():
    task = half_task(half_equation("Cu"), "Cu", "cathode")
    return EquationQuestion(
        "correct a half-equation",
        "half-equations",
        14,
        "A student writes Cu²⁺ + e⁻ → Cu for the cathode in copper(II) chloride solution. One number is "
        "wrong. Write it correctly.",
        "Atoms and charge balance.",
        task=task,
        answer="Cu2+ + 2e- -> Cu",
    )


def observation():
    return TextQuestion(
        "observation",
        "observations",
        14,
        "Copper(II) sulfate solution is electrolysed with carbon electrodes. Describe what is seen at the "
        "cathode.",
        "It is copper.",
        points=(
            Point("a deposit", ("deposit", "layer", "coat"), ("precipitate",)),
            Point("its colour", ("orange", "brown", "pink"), (), ("red",)),
        ),
        answer="an orange-brown deposit",
    )


def alkaline():
    return TextQuestion(
        "why alkaline",
        "what is left",
        14,
        "Why does sodium chloride solution turn alkaline when it is electrolysed?",
        "Hydrogen ions are discharged at the cathode; hydroxide ions stay with Na⁺.",
        points=(
            Point("hydrogen ions are discharged", ("hydrogen ions are", "h+ ions are")),
            Point("hydroxide ions are left", ("hydroxide", "oh-")),
        ),
        answer="Hydrogen ions are discharged at the cathode; hydroxide ions stay with Na⁺.",
    )


def reading():
    return NumberQuestion(
        "read a chart",
        "quantities",
        14,
        "The chart shows the gas that a cell made at each of its electrodes. The current was the same for "
        "the whole time.",
        "",
        chart=Chart(
            "Gas made by sodium sulfate solution",
            "time, minutes",
            "volume, cm³",
            (
                ChartLine("cathode", MINUTES, tuple(0.6 * minute for minute in MINUTES)),
                ChartLine("anode", MINUTES, tuple(0.3 * minute for minute in MINUTES)),
            ),
        ),
        parts=(
            Part(
                12.0,
                "cm³",
                ("Read at 20 minutes: 12 cm³.",),
                prompt="Read off the volume of gas at the cathode after 20 minutes.",
                tolerance=0.04,
            ),
            Part(
                2.0,
                "",
                ("12 cm³ ÷ 6 cm³ = 2.",),
                prompt="How many times the volume at the anode is that?",
            ),
        ),
    )


def plan():
    statement = (
        "weighs the dry electrodes before",
        "names the circuit: d.c. supply, ammeter in series",
        "keeps the current steady, or reads it often",
        "notes the time in seconds",
        "rinses, dries and weighs the electrodes again",
        "repeats with other times or currents and draws mass against charge",
    )
    return ChecklistQuestion(
        "plan",
        "practical work",
        16,
        "Plan how to find out how the mass of metal at the cathode depends on the charge, with copper(II) "
        "sulfate solution. Write your plan.",
        "; ".join(statement),
        points=tuple(Point(each, ()) for each in statement),
    )


def ten():
    """Give a set with every kind of question."""
    return [
        choice(),
        observation(),
        half(),
        statements(),
        mass(),
        reading(),
        mistake(),
        steps(),
        alkaline(),
        plan(),
    ]
