"""Makers of questions about measurements: variables, outliers, means, tables and plotted lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry import pretty
from fizzplate.lesson.measure import Step, as_given, significant
from fizzplate.questions.calculations import (
    COPPER,
    HYDROGEN,
    ROOM,
    SILVER,
    Link,
    Slip,
    amperes,
    measured,
    number_question,
    part,
)
from fizzplate.questions.content import Afterwards, Chart, ChartLine, NearMiss, Part
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.charts import chart_choice_question
from fizzplate.questions.makers.parts import choice, choice_question, solution_name
from fizzplate.questions.misconceptions import Idea
from fizzplate.questions.tables import edition_rows
from fizzplate.words import NO_BREAK, say, with_unit

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: names of lines, which are not letters of options
LINES = "PQRS"
ROLES = {
    "independent": "the independent variable: it is what the class changes on purpose",
    "dependent": "the dependent variable: it is what the class measures as the result",
    "control": "a control variable: it has to stay the same, or the comparison is not fair",
}


@maker("which variable", topic="practical work", level=14, version=3)
def which_variable(rng: RandomSource) -> Question:
    """Ask for the independent, the dependent or a control variable of an investigation."""
    rows = edition_rows("investigation_variables", rng.edition)
    name = rng.one_of(list(dict.fromkeys(row["investigation"] for row in rows)))
    own = [row for row in rows if row["investigation"] == name]
    wanted = rng.one_of(list(ROLES))
    right = rng.one_of([row for row in own if row["role"] == wanted])
    told = {row.number: say(row.text("text"), rng.wording) for row in own}
    others = [row for row in own if row["role"] != wanted]
    wrong: list[Wrong] = [
        (told[row.number], f"That is {ROLES[row.one_of('role', {k: k for k in ROLES})]}.", 0)
        for row in others
    ]
    if wanted == "control":
        wrong.append(
            (
                "how many groups take part",
                "More groups give more results, but that changes no single result.",
                0,
            )
        )
    asked = "a control variable" if wanted == "control" else f"the {wanted} variable"
    text = rng.one_of(
        (
            f"A class investigates {name}. Which of these is {asked}?",
            f"An investigation is to show {name}. What is {asked}?",
        )
    )
    options = choice(rng, told[right.number], wrong, f"It is {ROLES[wanted]}.", keep=2)
    return choice_question(text, options)


@maker("outlier and mean", topic="practical work", level=14, version=3)
def outlier_and_mean(rng: RandomSource) -> Question:
    """Ask which reading is an outlier, for the mean of the others, and for its uncertainty."""
    what, unit, middle, step = rng.one_of(
        (
            ("volume of hydrogen", "cm³", rng.one_of((18, 21, 24, 27, 32)), 0.2),
            ("volume of oxygen", "cm³", rng.one_of((12, 14, 16, 19)), 0.2),
            ("gain in mass of {the_cathode}", "mg", rng.one_of((120, 145, 160, 185)), 2.0),
            ("loss in mass of {the_anode}", "mg", rng.one_of((130, 155, 170, 190)), 2.0),
        )
    )
    decimals = 1 if step < 1 else 0
    near = [round(middle + step * k, decimals) for k in rng.sample((-2, -1, 0, 1, 2, 3), 4)]
    away = rng.one_of((0.72, 0.78, 1.24, 1.32))
    outlier = round(middle * away, decimals)
    readings = rng.shuffled((*near, outlier))
    mean, half = sum(near) / 4, _half_range(near)
    text = say(
        rng.one_of(
            (
                (
                    f"Five groups repeat one experiment and measure the {what}, in {unit}: "
                    f"{_listed(readings, decimals)}."
                ),
                (
                    f"A class measures the {what} five times under the same conditions, in {unit}: "
                    f"{_listed(readings, decimals)}."
                ),
            )
        ),
        rng.wording,
    )
    shown = " + ".join(f"{each:.{decimals}f}" for each in near)
    together = with_unit(f"{sum(near):.{decimals}f}", unit)
    average = Step(f"Mean: {together} ÷ 4", mean, unit)
    with_outlier = sum(readings) / 5 / mean
    parts = [
        Part(
            outlier,
            unit,
            (f"{with_unit(f'{outlier:.{decimals}f}', unit)} is far from the other four.",),
            prompt=f"Which reading is an outlier, in {unit}?",
            tolerance=0.001,
            figures=len(f"{outlier:.{decimals}f}".replace(".", "")),
        ),
        Part(
            mean,
            unit,
            (f"Sum of the other four: {shown} = {together}.", average.sentence(4) + "."),
            prompt=f"Calculate the mean of the other four, in {unit}.",
            near_misses=(
                NearMiss(mean * with_outlier, (0,), "The outlier is left out of the mean."),
            ),
            tolerance=0.004,
            step_values=(sum(near), mean),
            step_units=(unit, unit),
            afterwards=tuple(
                Afterwards(0, chosen, (sum(readings) - chosen) / 4) for chosen in near
            ),
        ),
        Part(
            half,
            unit,
            (
                (
                    f"Half the range: ({max(near):.{decimals}f} − {min(near):.{decimals}f}) ÷ 2 = "
                    f"{as_given(half)}{NO_BREAK}{unit}."
                ),
            ),
            prompt=f"Estimate its uncertainty as half the range of these four, in {unit}.",
            near_misses=(NearMiss(2 * half, (0,), "That is the whole range: halve it."),),
            tolerance=0.02,
            afterwards=tuple(
                Afterwards(0, chosen, _half_range(each for each in readings if each != chosen))
                for chosen in near
            ),
            figures=max(1, len(as_given(half).replace(".", "").lstrip("0"))),
        ),
    ]
    return number_question(text, parts)


def _half_range(values: Iterable[float]) -> float:
    least, *_, most = sorted(values)
    return (most - least) / 2


def _listed(values: Sequence[float], decimals: int) -> str:
    shown = [f"{each:.{decimals}f}" for each in values]
    return f"{', '.join(shown[:-1])} and {shown[-1]}"


@maker("complete a table", topic="practical work", level=14, version=3)
def complete_table(rng: RandomSource) -> Question:
    """Ask for the missing values of a table: a charge, and what is made in proportion to it."""
    product, unit = rng.one_of(((COPPER, "mg"), (SILVER, "mg"), (HYDROGEN, "cm³")))
    current = rng.one_of((0.2, 0.25, 0.4, 0.5))
    first, last = rng.one_of(((4, 12), (5, 15), (5, 20), (6, 18), (8, 24)))
    size = ROOM["cm³"] if product.is_gas else 1000 * product.molar_g_mol
    charge = round(60 * first * current, 6)
    shown_amount = significant(charge * product.per_charge_mol * size, 3)
    amount = float(shown_amount)
    ratio = last / first
    what = f"volume of {product.name}" if product.is_gas else f"mass of {product.name}"
    shown = with_unit(shown_amount, unit)
    begins, ends = (with_unit(measured(each), "minutes") for each in (first, last))
    text = rng.one_of(
        (
            (
                f"A table of results has a row for each time, at a steady current of "
                f"{amperes(current)}. After {begins} the {what} is {shown}. Fill in what is "
                "missing."
            ),
            (
                f"At {amperes(current)} a class notes in a table: time {begins}, {what} "
                f"{shown}. The charge and the next row are still empty. Fill them in."
            ),
        )
    )
    seconds = Step(f"Time in seconds: {first}{NO_BREAK}min × 60", 60.0 * first, "s", exact=True)
    coulombs = Step(
        f"Charge: {as_given(current)}{NO_BREAK}A × {60 * first}{NO_BREAK}s", charge, "C", exact=True
    )
    proportion = Step(
        f"{as_given(ratio)} times the charge: {shown} × {as_given(ratio)}", amount * ratio, unit
    )
    minutes = "The minutes were not converted into seconds."
    parts = [
        part(
            [Link("s", seconds, (Slip(1 / 60, minutes),)), Link("charge", coulombs)],
            prompt=f"Charge after {begins}, in C",
        ),
        part(
            [
                Link(
                    "end",
                    proportion,
                    (
                        Slip(ratio**-2, "More charge makes more, not less: multiply by the ratio."),
                        Slip((first + last) / last, "The charges are not added: use their ratio."),
                    ),
                )
            ],
            prompt=f"{what[0].upper()}{what[1:]} expected after {ends}, in {unit}",
        ),
    ]
    return number_question(text, parts)


@maker("choose the plotted line", topic="charts", level=14, version=3)
def plotted_line(rng: RandomSource) -> Question:
    """Ask which of four lines plots a table of masses against charges."""
    product = rng.one_of((COPPER, SILVER))
    per_C = 1000 * product.molar_g_mol * product.per_charge_mol
    charges = rng.one_of(((0, 100, 200, 300, 400), (0, 150, 300, 450, 600), (0, 60, 120, 180, 240)))
    right = [per_C * each for each in charges]
    most = right[-1]
    shapes = {
        "right": right,
        "offset": [most * 0.25 + 0.75 * each for each in right],
        "levels off": [min(each * 1.9, most * 0.72) for each in right],
        "half": [0.5 * each for each in right],
    }
    names = dict(zip(rng.shuffled(shapes), LINES, strict=True))
    lines = tuple(
        ChartLine(letter, tuple(map(float, charges)), tuple(shapes[shape]))
        for shape, letter in sorted(names.items(), key=lambda each: each[1])
    )
    chart = Chart(f"Mass of {product.name}", "Charge, C", "Mass, mg", lines)
    table = "; ".join(
        f"{charge}{NO_BREAK}C, {value:.0f}{NO_BREAK}mg"
        for charge, value in zip(charges[1:4:2], right[1:4:2], strict=True)
    )
    text = rng.one_of(
        (
            (
                f"A class deposits {product.name} and notes: {table}. Without any charge nothing is "
                "deposited. Which line is the right plot of mass against charge?"
            ),
            (
                f"Two rows of a table of masses of {product.name}: {table}. Which line goes through these "
                "points and through the origin?"
            ),
        )
    )
    whys = {
        "offset": "It begins above zero: without charge nothing is deposited.",
        "levels off": "It bends: equal charges deposit equal masses all along.",
        "half": "It rises half as steeply as the values of the table.",
    }
    wrong: list[Wrong] = [(f"line {names[shape]}", why, 0) for shape, why in whys.items()]
    reason = "Mass is proportional to charge: a straight line through the origin and the points."
    return chart_choice_question(
        text, rng, f"line {names['right']}", wrong, reason, chart, watch=_watch(product.formula)
    )


def _watch(formula: str) -> str:
    return {"Cu": "CuSO4,anode=copper,cathode=copper", "Ag": "AgNO3"}[formula]


#: what the electrolysis with inert electrodes takes out of a solution, and what it leaves in its place
TAKEN_AND_LEFT = {
    "CuSO4": ("Cu2+", "H+"),
    "AgNO3": ("Ag+", "H+"),
    "NaCl": ("Cl-", "OH-"),
    "CuCl2": ("Cu2+ Cl-", ""),
    "HCl": ("H+ Cl-", ""),
}
STAYS = "CuSO4 between copper electrodes"


def conductivity(ions: str) -> float:
    """Return the conductivity that one mole of charge of each ion brings, S cm² for each mole.

    Source: the limiting conductivities of ``data/mobility.csv``.

    Examples
    --------
    >>> conductivity("Cu2+") < conductivity("H+")
    True
    """
    return sum(
        data.find("mobility", species=ion, quantity="limiting conductivity").value
        for ion in ions.split()
    )


@maker("conductivity during electrolysis", topic="charts", level=16, version=3)
def conductivity_curve(rng: RandomSource) -> Question:
    """Ask how the conductivity of a stirred solution changes, by the ions that go and come."""
    case = rng.one_of((*TAKEN_AND_LEFT, STAYS))
    rising = (1.0, 1.5, 2.0, 2.5)
    shapes = {"rises": rising, "falls": (1.0, 0.7, 0.4, 0.1), "stays": (1.0, 1.0, 1.0, 1.0)}
    if case == STAYS:
        which, watch = "stays", "CuSO4,anode=copper,cathode=copper"
        liquid, rods = solution_name("CuSO4", rng.wording), "copper"
        reason = "As many copper ions go in at one electrode as come out at the other."
    else:
        taken, left = TAKEN_AND_LEFT[case]
        which = "rises" if left and conductivity(left) > conductivity(taken) else "falls"
        watch, rods = case, "inert"
        liquid = solution_name(case, rng.wording)
        gone = " and ".join(pretty(ion) for ion in taken.split())
        reason = (
            f"{gone} is replaced by {pretty(left)}, which moves faster, so the solution conducts better."
            if left
            else f"{gone} are both taken out and nothing comes in their place: fewer ions are left."
        )
    letters = dict(zip(rng.shuffled(shapes), LINES[:3], strict=True))
    chart = Chart(
        "Conductivity (sketch)",
        "Time",
        "Conductivity, first value = 1",
        tuple(
            ChartLine(letter, (0.0, 1.0, 2.0, 3.0), shapes[shape])
            for shape, letter in sorted(letters.items(), key=lambda each: each[1])
        ),
    )
    text = rng.one_of(
        (
            (
                f"{liquid[0].upper()}{liquid[1:]} is electrolysed with {rods} electrodes and stirred. Any "
                "gas escapes. Which sketch shows how its conductivity changes?"
            ),
            (
                f"The conductivity of {liquid} is measured while a current flows between {rods} electrodes "
                "in the stirred solution, and any gas leaves. Which line is it?"
            ),
        )
    )
    because = {
        "rises": "the ions that are left conduct better than those that went",
        "falls": "fewer ions are left to carry the current",
        "stays": "the ions in the solution stay the same",
    }
    would_mean = {
        "rises": "It would rise if better conductors than before were left.",
        "falls": "It would fall if ions went and no others, or slower ones, came.",
        "stays": "It would stay if as many of the same ions came as went.",
    }
    wrong: list[Wrong] = [
        (f"line {letters[shape]}: {because[shape]}", f"{would_mean[shape]} {reason}", 0)
        for shape in shapes
        if shape != which
    ]
    if which == "rises":
        tempting = f"line {letters['falls']}: the current uses up all the ions"
        why = f"As much charge comes into the solution as goes. {reason}"
    else:
        tempting = f"line {letters['rises']}: the current makes more and more ions"
        why = f"The current makes no ions: they are there before it flows. {reason}"
    wrong.append((tempting, why, 0 if which == "rises" else Idea.CURRENT_MAKES_IONS))
    right = f"line {letters[which]}: {because[which]}"
    return chart_choice_question(text, rng, right, wrong, reason, chart, watch=watch)
