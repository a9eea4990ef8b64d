"""Answers as learners write them, with the marks that an examiner gave: how often marking agrees.

``marking_cases.csv`` holds them round by round. Each round was written and marked by an examiner before it
was marked here, for questions drawn anew. ``marking_rounds.csv`` says how each was written, and by kind:

- ``first``: how many were marked alike on the first run, when the rules had never seen these answers. This
  is how well marking does with what nobody has seen.
- ``now``: how many at least are marked alike today. What was missed has been mended since, by whole classes
  of wording, so this says only that nothing is lost again.

A round that is ``held out`` was written last: its misses are not mended, so that what it says today is still
how well marking does with answers that it was not made for. Who mends them makes the round an ordinary one,
and writes another to hold out.

Where an examiner's mark went against the printed scheme, the guide (DEVELOPERS.md) or another examiner, it
was changed, and the column "remark" says so; ``first`` counts the marks as they were.

Run this file to see both shares of each round and kind, and every answer that is marked otherwise.
"""

from __future__ import annotations

import csv
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from fizzplate.questions.calculations.derivations import ProductAmount
from fizzplate.questions.calculations.ions import charge_number
from fizzplate.questions.calculations.multi_part import in_parts
from fizzplate.questions.calculations.products import (
    CHLORINE,
    CHROMIUM,
    COPPER,
    HYDROGEN,
    NICKEL,
    OXYGEN,
    SILVER,
)
from fizzplate.questions.calculations.quantities import Coulombs, Flow
from fizzplate.questions.calculations.single_answer import (
    charge,
    made_by_charge,
    percentage_yield,
    two_steps,
)
from fizzplate.questions.random_source import RandomSource
from fizzplate.questions.sets import MAKERS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fizzplate.questions.question_types import Question

HERE = Path(__file__).parent
KINDS = ("text", "equation", "number")

#: what draws the questions of the sample today, by how each begins
DRAWN = {
    "State what is meant by an electrolyte": ("define", 3),
    "Explain what is meant by electrolysis": ("define", 9),
    "State what is meant by oxidation": ("define", 14),
    "Explain what is meant by an inert": ("define", 16),
    "Which two kinds of ion compete": ("ions that compete", 394),
    "Explain why molten calcium chloride": ("why a solid does not conduct", 2),
    "Potassium iodide solution is electrolysed": ("observation", 1903),
    "Silver nitrate solution is electrolysed with graphite electrodes. What": ("observation", 3186),
    "A student electrolyses copper(II) chloride": ("observation", 309),
    "Silver nitrate solution is electrolysed with graphite electrodes. Des": ("observation", 103),
    "A student electrolyses calcium chloride": ("observation", 3671),
    "Give the chemical test for oxygen": ("gas test", 19),
    "Give the chemical test for chlorine": ("gas test", 10),
    "Give the chemical test for hydrogen": ("gas test", 6),
    "Explain why potassium bromide solution turns": ("why alkaline", 2),
    "Explain why silver nitrate solution turns acid": ("why acid", 5),
    "Copper(II) sulfate solution is electrolysed once": ("carbon or copper", 0),
    "Copper(II) chloride solution is electrolysed with graphite": ("half-equation", 206),
    "A direct current is passed through potassium hydroxide": ("half-equation", 1040),
    "A student electrolyses sodium chloride solution with carbon": ("half-equation", 85),
    "A student electrolyses hydrochloric acid": ("overall equation", 68),
    "A direct current is passed through sodium chloride": ("overall equation", 16),
    "A student electrolyses sodium hydroxide solution": ("overall equation", 36),
    "A small electrolyser on a boat splits potassium hydroxide solution, and a current of 80": (
        "gas volume",
        4404,
    ),
    "A class electrolyses potassium sulfate": ("ratio", 1062),
    "Standard electrode potentials: Zn": ("least voltage", 9),
    "To find the charge of a mole": ("Faraday constant", 5402),
    "The chart shows a modelled run. Read off how much silver": ("read a chart", 944),
    "After sodium chloride solution": ("why alkaline", 20),
    "An indicator shows that sodium nitrate": ("acid or alkaline at an electrode", 2),
    "State what is meant by electrolysis": ("define", 38),
    "Name the two kinds of ion that come": ("ions that compete", 7),
    "Explain why potassium iodide solution cond": ("why a solid does not conduct", 1),
    "The pH of copper(II) nitrate": ("why acid", 8),
    "Write the half-equation at the cathode (copper": ("half-equation", 206),
    "Combine both half-equations (sodium chloride": ("overall equation", 16),
}


@dataclass(frozen=True, slots=True)
class Case:
    """An answer, what an examiner gave it, and the question that asks the same today."""

    kind: str
    marks: int
    earned: int
    answer: str
    question: Question

    @property
    def given(self) -> Fraction:
        """Share of the marks that the examiner gave."""
        return Fraction(self.earned, self.marks)

    @property
    def marked(self) -> Fraction:
        """Share of the marks that marking gives."""
        return Fraction(self.question.mark(self.answer).earned, self.question.marks)

    @property
    def agrees(self) -> bool:
        """Whether both give as much: to half a mark of the shorter, where it has other steps today."""
        apart = abs(self.given - self.marked)
        half = Fraction(1, 2 * min(self.marks, self.question.marks))
        return apart == 0 or (self.marks != self.question.marks and apart < half)


@dataclass(frozen=True, slots=True)
class Round:
    """What is known of the answers that were written together."""

    number: int
    edition: int
    held_out: bool
    first: dict[str, int]
    now: dict[str, int]


def rounds() -> list[Round]:
    """Give every round, in the order in which they were written."""
    return [
        Round(
            int(row["round"]),
            int(row["edition"]),
            row["held out"] == "yes",
            *(
                {kind: int(row[f"{kind} {when}"]) for kind in KINDS if row[f"{kind} {when}"]}
                for when in ("first", "now")
            ),
        )
        for row in _rows("marking_rounds.csv")
    ]


def cases(written: Round) -> Iterator[Case]:
    """Give the answers of a round."""
    for row in _rows("marking_cases.csv"):
        if int(row["round"]) == written.number:
            drawn = (row["maker"], int(row["seed"])) if row["seed"] else None
            question = _question_of(row["question"], drawn, written.edition)
            yield Case(row["kind"], int(row["marks"]), int(row["earned"]), row["answer"], question)


@cache
def _rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def agreement(written: Round) -> dict[str, tuple[int, int]]:
    """Count the answers of a round that are marked as the examiner did, and all of them, by kind."""
    every = list(cases(written))
    agreed = Counter(case.kind for case in every if case.agrees)
    whole = Counter(case.kind for case in every)
    return {kind: (agreed[kind], whole[kind]) for kind in KINDS if whole[kind]}


@cache
def _drawn(maker: str, seed: int, edition: int) -> Question:
    return MAKERS[maker](RandomSource(seed, edition=edition))


@cache
def _question_of(text: str, drawn: tuple[str, int] | None, edition: int) -> Question:
    """Return today's question for one that asked this, which may be drawn by another number now."""
    if drawn is not None and _drawn(*drawn, edition).text == text:
        return _drawn(*drawn, edition)
    plain = " ".join(text.split())  # with spaces that may break
    # charge numbers are drawn otherwise since they are asked for with two numbers before them
    of_old = BUILT if drawn is None or drawn[0] == "charge number" else {}
    for begins, built in (REBUILT | of_old).items():
        if plain.startswith(begins):
            return built
    return _drawn(
        *(drawn or next(each for begins, each in DRAWN.items() if text.startswith(begins))), edition
    )


ON_PAPER = "A crystal on damp filter paper is watched while a current of"
ON_BOARD = "The holes of a circuit board are lined with copper from copper(II) sulfate solution; a current of"
ON_TAP = (
    "A tap gets a bright layer of chromium from a solution of chromium(III) ions while a current of"
)
IN_CUPBOARD = "A demonstration in the fume cupboard electrolyses hydrochloric acid: a current of"
IN_DISH = "Potassium nitrate solution is split in a dish between platinum wires, and a current of"
DILUTE_ACID = "Dilute sulfuric acid is electrolysed with platinum electrodes; a"
OF_BRINE = "A test cell for brine at a chemical factory runs steadily; a current of"
ON_BELL = "A bicycle bell is being plated with nickel in nickel(II) sulfate solution: a current of"
ON_FORK = "A fork hangs as the cathode in a silver-plating bath, and a current of"
#: questions with currents and yields that are not drawn any more
REBUILT = {
    f"{ON_PAPER} 35 mA flows for 30": charge(Flow(0.035, 30, milli=True)),
    f"{ON_PAPER} 75.0 mA passes for 8.00": charge(Flow(0.075, 8, milli=True)),
    f"{ON_BOARD} 1.2 A passes for 50": percentage_yield(
        Flow(1.2, 50), ProductAmount(COPPER, 0.918, "g")
    ),
    f"{ON_BOARD} 8.00 A flows for 2.00": percentage_yield(
        Flow(8, 2, "h"), ProductAmount(COPPER, 17.4, "g")
    ),
    f"{ON_TAP} 1.80 A passes for 50.0": percentage_yield(
        Flow(1.8, 50), ProductAmount(CHROMIUM, 902, "mg")
    ),
    f"{ON_TAP} 1.50 A flows for 90.0": percentage_yield(
        Flow(1.5, 90), ProductAmount(CHROMIUM, 1.26, "g")
    ),
    f"{IN_CUPBOARD} 0.15 A flows for 15 minutes. 10.1": percentage_yield(
        Flow(0.15, 15), ProductAmount(CHLORINE, 10.1, "cm³")
    ),
    "A group electrolyses copper(II) chloride solution between carbon rods: a current of 0.50 A flows for 25 "
    "minutes. 213": percentage_yield(Flow(0.5, 25), ProductAmount(COPPER, 213, "mg")),
    f"{ON_TAP.replace('current', 'charge')} 35 000 C": percentage_yield(
        Coulombs(35_000), ProductAmount(CHROMIUM, 5.44, "g")
    ),
    f"{IN_DISH} 0.0400 A flows for 35.0 minutes. Only 6.84": percentage_yield(
        Flow(0.04, 35), ProductAmount(HYDROGEN, 6.84, "cm³")
    ),
    f"{DILUTE_ACID} current of 0.400 A flows for 1500": percentage_yield(
        Flow(0.4, 25), ProductAmount(HYDROGEN, 55.2, "cm³")
    ),
    f"{DILUTE_ACID} charge of 2000 C passes. 99.5": percentage_yield(
        Coulombs(2000), ProductAmount(OXYGEN, 99.5, "cm³")
    ),
    f"{OF_BRINE} 20.0 A passes for 8.00 hours. Only 54.1": percentage_yield(
        Flow(20, 8, "h"), ProductAmount(CHLORINE, 54.1, "dm³")
    ),
    f"{ON_BELL} 5.00 A passes for 15.0 minutes. 1.05": percentage_yield(
        Flow(5, 15), ProductAmount(NICKEL, 1.05, "g")
    ),
    f"{ON_FORK} 1.20 A passes for 25.0 minutes through the bath. The cathode gains 1.59": percentage_yield(
        Flow(1.2, 25), ProductAmount(SILVER, 1.59, "g")
    ),
}
#: questions for numbers that are drawn too seldom to search for
BUILT = {
    "Spoons hang": charge(Flow(1.2, 20)),
    "A bicycle bell": made_by_charge(Flow(1.2, 2, "h"), NICKEL, "g"),
    "A small electrolyser on a boat splits potassium hydroxide solution, and a current of 24": in_parts(
        Flow(24, 3, "h"), OXYGEN, "dm³", part_names=("electrons", "end")
    ),
    "The holes of a circuit board": percentage_yield(
        Coulombs(5400), ProductAmount(COPPER, 1.50, "g", figures=3)
    ),
    "Copper(II) chloride solution is electrolysed between": two_steps(
        ProductAmount(COPPER, 400, "mg"), CHLORINE, "cm³"
    ),
    "To find the formula of a salt": charge_number(
        Flow(1.5, 20), ProductAmount(NICKEL, 0.551, "g", figures=3)
    ),
    "Magnesium sulfate solution: 170 C": made_by_charge(Coulombs(170), OXYGEN, "cm³"),
}


def report() -> None:
    """Print each answer that is marked otherwise, and the agreement of each round."""
    for written in rounds():
        for case in cases(written):
            if not case.agrees:
                marked = case.question.mark(case.answer)
                print(f"{case.kind}: {case.earned}/{case.marks} by the examiner, ", end="")
                print(f"{marked.earned}/{case.question.marks} here: {case.answer}")
        for kind, (agreed, whole) in agreement(written).items():
            first = _share(written.first[kind], whole) if kind in written.first else "not kept"
            seen = "never mended" if written.held_out else "now"
            print(f"round {written.number}, {whole} {kind}s: first {first}, {seen} ", end="")
            print(_share(agreed, whole))


def _share(agreed: int, whole: int) -> str:
    return f"{100 * agreed / whole:.0f} %"


if __name__ == "__main__":
    report()
