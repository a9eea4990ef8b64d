"""Makers of questions about plating: how it is done, and which mistake explains what was seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.content import Point
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import combine
from fizzplate.questions.makers.parts import choice, choice_question, solution_name, text_question
from fizzplate.questions.tables import edition_rows
from fizzplate.words import begin, say

if TYPE_CHECKING:
    from collections.abc import Iterable

    from fizzplate.data import Line
    from fizzplate.questions.makers.parts import Wrong
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource
    from fizzplate.words import Wording

#: metals that the classroom's rule plates too
PLATED = (("copper", "CuSO4"), ("silver", "AgNO3"))
#: a solution that stains and burns, which a class does not handle for this
BY_A_TECHNICIAN = ("silver",)


@dataclass(frozen=True, slots=True)
class Plated:
    """A thing to be plated, with its metal and the solution of its salt.

    Parameters
    ----------
    thing, metal
        What is plated, as "a brass cup", and with what.
    formula, solution
        The salt, and its solution in words.
    """

    thing: str
    metal: str
    formula: str
    solution: str

    @property
    def slots(self) -> dict[str, str]:
        """Words for sentences about it."""
        noun = self.thing.split(" ", 1)[1]
        return {
            "thing": self.thing,
            "the_thing": f"the {noun}",
            "The_thing": f"The {noun}",
            "metal": self.metal,
            "solution": self.solution,
        }

    @property
    def watch(self) -> str:
        """A cell that shows it."""
        return f"{self.formula},anode={self.metal}"


def _drawn(rng: RandomSource) -> Plated:
    metal, formula = rng.one_of(PLATED)
    things = edition_rows("plated_things", rng.edition)
    thing = rng.one_of([row["thing"] for row in things if metal in row.text("metals").split()])
    return Plated(thing, metal, formula, solution_name(formula, rng.wording))


@maker("plating gone wrong", topic="applications", level=14, version=3)
def gone_wrong(rng: RandomSource) -> Question:
    """Ask which mistake was made, what it leads to, or how it is put right."""
    plated = _drawn(rng)
    who = "technician" if plated.metal in BY_A_TECHNICIAN else "student"
    rows = rng.sample(edition_rows("plating_faults", rng.edition), 4)

    def told(row: Line, column: str) -> str:
        return say(row.text(column), rng.wording, **plated.slots)

    right, *others = rows
    fault, seen, why = (told(right, column) for column in ("fault", "seen", "why"))
    tries = f"A {who} wants to plate {plated.thing} with {plated.metal}."
    form = rng.number(3)
    wrong: list[Wrong]
    if form == 0:
        text = f"{tries} {begin(seen)}. Which mistake explains this?"
        wrong = [
            (told(r, "fault"), f"Where that mistake was made, {told(r, 'seen')}.", 0)
            for r in others
        ]
        answer = fault
    elif form == 1:
        text = f"{tries} By mistake {fault}. What was seen?"
        wrong = [(told(r, "seen"), f"That is seen where {told(r, 'fault')}.", 0) for r in others]
        answer = seen
    else:
        text = f"{tries} {begin(seen)}. What should the {who} do better next time?"
        wrong = [
            (told(r, "better"), f"That helps where {told(r, 'fault')}: {told(r, 'seen')}.", 0)
            for r in others
        ]
        answer = told(right, "better")
    return choice_question(text, choice(rng, answer, wrong, why), watch=plated.watch)


@maker("plating in words", topic="applications", level=14, version=3)
def plating_in_words(rng: RandomSource) -> Question:
    """Ask how a thing is plated: what each electrode is, and what the solution holds."""
    plated = _drawn(rng)
    text = rng.one_of(
        (
            (
                f"Describe how {plated.thing} is plated with {plated.metal} by electrolysis. Say what each "
                "electrode is and which solution is used."
            ),
            (
                f"A factory plates {plated.thing} with {plated.metal}. Say which electrode "
                f"{plated.slots['the_thing']} is, what the other electrode is, and what the solution must "
                "contain."
            ),
        )
    )
    answer = say(
        "{The_thing} is {the_cathode}. A bar of {metal} is {the_anode}. The solution is {solution}.",
        rng.wording,
        **plated.slots,
    )
    points = (
        _thing_point(plated, rng.wording),
        _bar_point(plated.metal, _names_of(plated), rng.wording),
        _solution_point(plated),
    )
    return text_question(text, answer, points, watch=plated.watch, wording=rng.wording)


def _names_of(plated: Plated) -> tuple[str, ...]:
    """Return what a learner calls the thing."""
    return (plated.thing.split()[-1], "object", "item", "thing")


def _thing_point(plated: Plated, wording: Wording) -> Point:
    """Return what earns the mark for the thing."""
    names = _names_of(plated)
    noun = names[0]
    minus = ("{cathode}", "negative")
    return Point(
        say("the {noun} is {the_cathode}", wording, noun=noun),
        (
            *combine((f"{name} .." for name in names), minus),
            *combine(("{cathode}", "negative"), (f".. {name}" for name in names)),
            *(f"^ {sign}{end}" for sign in (*minus, "negative electrode") for end in ".,;"),
            *combine(
                ("{cathode} ..",), ("you want", "to be plated", "to be coated", "gets plated")
            ),
            *combine(("^ it", "^ it ..", "^ on", "^ at"), minus),
        ),
        _at_anode(names),
        (noun,),
    )


def _at_anode(names: Iterable[str]) -> tuple[str, ...]:
    """Return what says that the thing is the anode."""
    return (
        *combine(
            names, ("{anode}", "as {anode}", "to positive", "positive", "= {anode}", "to {anode}")
        ),
        *combine(("{anode}", "positive electrode", "positive"), (f"= {name}" for name in names)),
    )


def _bar_point(metal: str, names: Iterable[str], wording: Wording) -> Point:
    """Return what earns the mark for the other electrode."""
    return Point(
        say("{the_anode} is {metal}", wording, metal=metal),
        (
            *combine((f"{metal} ..",), ("{anode}", "positive")),
            *combine(("{anode}", "positive"), (f".. {metal}",)),
            *combine(("^ {cathode},", "^ {cathode};", "^ {cathode}.", "^ negative,"), (metal,)),
            *(f"{metal} .. other", f"other .. {metal}", f"opposite .. {metal}"),
        ),
        (
            *combine(
                (metal, f"{metal} bar", f"{metal} rod"),
                (
                    "{cathode}",
                    "as {cathode}",
                    "to negative",
                    "negative",
                    "= {cathode}",
                    "= negative",
                ),
            ),
            *combine(
                ("{cathode} =", "{cathode}", "negative =", "negative"), (metal, f"{metal} rod")
            ),
            *combine(
                (
                    *("{anode} ..", "positive electrode ..", "positive terminal ..", "positive .."),
                    "other electrode ..",
                ),
                ("graphite", "carbon", "platinum", "inert", "brass"),
            ),
            *combine(("graphite", "carbon", "platinum", "inert"), ("{anode}", "to the positive")),
            *combine((f"{metal} .. {name}" for name in names), ("{anode}", "positive")),
        ),
        (metal,),
    )


def _solution_point(plated: Plated) -> Point:
    """Return what earns the mark for the solution."""
    metal = plated.metal
    salt = plated.solution.removesuffix(" solution").lower()
    bare = salt.replace("(ii)", "").replace("(i)", "")
    of_two = () if metal == "silver" else (f"{metal}(ii)",)  # silver ions have one charge
    return Point(
        f"the solution contains {metal} ions ({plated.solution})",
        (
            *dict.fromkeys((salt, bare)),
            *combine((f"{metal}",), ("salt", "ion", "sulfate", "nitrate", "compound")),
            *(
                () if metal == "silver" else (f"{metal} chloride",)
            ),  # that of silver hardly dissolves
            *combine(of_two, ("ion", "salt", "sulfate")),
            *(
                f"solution .. {metal}",
                f"ions of {metal}",
                f"dissolved {metal}",
                f"{metal} solution",
            ),
        ),
        (
            *combine(
                (each for each in ("nickel", "zinc", "iron", "silver", "copper") if each != metal),
                ("sulfate", "chloride", "nitrate", "salt", "ion .. solution"),
            ),
            *combine((metal, *of_two), ("oxide",)),
            *(("silver chloride",) if metal == "silver" else ()),
        ),
        ("solution", "electrolyte"),
    )
