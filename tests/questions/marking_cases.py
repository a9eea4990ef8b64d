"""Answers as learners write them, with the marks that an examiner gave: how often marking agrees.

``marking_cases.csv`` is a sample that marking was improved with. ``marking_cases_fresh.csv`` was written
before that, from the questions alone, but its misses were seen while the rules were written.
``marking_cases_unseen.csv`` was written when they stood: 96 % of its texts, 94 % of its equations and all of
its numbers were marked as the examiner did; what was missed has been mended since.

``marking_cases_blind.csv`` was written later by somebody who saw only the questions, and marked by an
examiner who did not see how they are marked here: on the first run 77 % of its 57 texts (44), 86 % of its
37 equations (32) and 29 of its 35 numbers were marked alike. Eight answers to questions that now ask for
several numbers are left out, and current, time and the like have a figure more in its questions today. What
was missed has been mended since, but for two texts that the examiner called close, an equation of which one
of two mistakes was mended, and a number whose working shows two slips where one gives the same.

``marking_cases_typed.csv`` holds 69 equations, 73 numbers and 48 texts that one examiner wrote and marked for
forty newly drawn questions, before they were marked here: on the first run 62 equations, 66 numbers and 42
texts were marked alike. What was missed has been mended since, but for one of each.
``marking_cases_again.csv`` was made in the same way after that, for forty other questions: on the first run
all 53 equations, 58 of its 62 numbers (94 %) and 51 of its 57 texts (89 %) were marked alike.

Four more files are of texts and numbers alone, each written for new questions by one examiner who had not
seen how they are marked. The one of ``later`` did not know the rules either: on the first run 80 of its 93
texts (86 %) and 24 of its 28 numbers (86 %) were marked alike. Those of the others knew the rules by then:
of ``last`` 71 of 80 texts (89 %) and 23 of 24 numbers (96 %) were, of ``newest`` 66 of 74 texts (89 %) and
20 of 23 numbers (87 %), of ``final``, written when all of these were mended, 54 of 58 texts (93 %) and all
12 numbers. What was missed has been mended since, but for two numbers and two texts; six marks that went
against the scheme, or against the guide, were changed.

Two files of texts alone came last, by one examiner who knew the rules and wrote each before it was marked: of
``further`` 87 of 94 (93 %; two of the misses were of kinds known before) were marked alike on the first run,
and of ``closing``, written when those were mended, 68 of 75 (91 %). What was missed has been mended since,
but for two texts; six marks that went against the guide, or against an earlier examiner, were changed.

``marking_cases_trained.csv`` was written from the questions alone, in as many unusual ways as its author
could think of: on the first run only 178 of its 252 texts (71 %) were marked alike. Its misses were mended by
whole classes of wording, which ``paraphrases.csv`` tries one by one; twelve marks were changed to agree with
the printed scheme, or with an earlier examiner.

``marking_cases_ordinary.csv`` came last, by somebody who saw nothing but the questions and wrote as ordinary
learners do in an exam: on the first run 132 of its 142 texts (93 %), 16 of its 18 equations and 9 of its 14
numbers were marked alike. Four of those numbers were one working for all parts of a question, which is shared
out among them now; two equations and a text were marked against the guide, and are changed with a remark.
Of a fifteenth number the question does not say in its text what is asked; it is left out.

Where two examiners gave the same slip different marks, the guide (DEVELOPERS.md) says what marking does; the
column "remark" names each mark that was changed to agree with that.

Run this file to see the share of each kind that is marked as the examiner did, and every other answer.
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
from fizzplate.questions.calculations.quantities import Coulombs, Flow, Product
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
SAMPLE, FRESH, UNSEEN = "marking_cases", "marking_cases_fresh", "marking_cases_unseen"
BLIND, TYPED, AGAIN, LATER, LAST, NEWEST, FINAL, FURTHER, CLOSING, TRAINED, ORDINARY = (
    f"marking_cases_{each}"
    for each in (
        *("blind", "typed", "again", "later", "last"),
        *("newest", "final", "further", "closing", "trained", "ordinary"),
    )
)
FILES = (
    *(SAMPLE, FRESH, UNSEEN, BLIND, TYPED, AGAIN, LATER, LAST, NEWEST, FINAL),
    *(FURTHER, CLOSING, TRAINED, ORDINARY),
)
#: edition that draws a file's questions, where it is not the first
EDITIONS = {
    BLIND: 3,
    TYPED: 3,
    AGAIN: 3,
    LATER: 3,
    LAST: 3,
    NEWEST: 3,
    FINAL: 3,
    FURTHER: 3,
    CLOSING: 3,
    TRAINED: 3,
    ORDINARY: 3,
}
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


def cases(name: str) -> Iterator[Case]:
    """Give the answers of a file."""
    with (HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            drawn = None if name == SAMPLE else (row["maker"], int(row["seed"]))
            question = _question_of(row["question"], drawn, EDITIONS.get(name, 1))
            yield Case(row["kind"], int(row["marks"]), int(row["earned"]), row["answer"], question)


def agreement(name: str) -> dict[str, tuple[int, int]]:
    """Count the answers of a file that are marked as the examiner did, and all of them, by kind."""
    every = list(cases(name))
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


COPPER, CHLORINE = Product("Cu", "Cu2+", "copper"), Product("Cl2", "Cl-", "chlorine")
OXYGEN, NICKEL = Product("O2", "OH-", "oxygen"), Product("Ni", "Ni2+", "nickel")
CHROMIUM = Product("Cr", "Cr3+", "chromium")
ON_PAPER = "A crystal on damp filter paper is watched while a current of"
ON_BOARD = "The holes of a circuit board are lined with copper from copper(II) sulfate solution; a current of"
ON_TAP = (
    "A tap gets a bright layer of chromium from a solution of chromium(III) ions while a current of"
)
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
    """Print the agreement of each file, and each answer that is marked otherwise."""
    for name in FILES:
        for case in cases(name):
            if not case.agrees:
                marked = case.question.mark(case.answer)
                print(f"{case.kind}: {case.earned}/{case.marks} by the examiner, ", end="")
                print(f"{marked.earned}/{case.question.marks} here: {case.answer}")
        for kind, (agreed, whole) in agreement(name).items():
            print(f"{name}, {kind}: {agreed} of {whole}, {100 * agreed / whole:.0f} %")


if __name__ == "__main__":
    report()
