"""A maker of questions in words: what copper electrodes change, and the words that earn its marks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.questions.content import Point
from fizzplate.questions.maker import maker
from fizzplate.questions.makers.mark_points import combine
from fizzplate.questions.makers.parts import solution_name, text_question
from fizzplate.words import say

if TYPE_CHECKING:
    from fizzplate.questions.question_types import Question
    from fizzplate.questions.random_source import RandomSource

#: ways to say that an anode dissolves, and that a colour stays; other verbs are lines of ``words.json``
GOES = ("dissolve", "used up", "loses mass", "thinner", "smaller", "eaten")
#: what may fade
COLOURS = ("colour", "blue", "solution", "electrolyte", "it", "liquid")
FADES = (
    *("fade", "fades", "fading", "faded", "pale", "decolouri", "not as blue", "not so blue"),
    *combine(
        (f"{each} .." for each in COLOURS),
        (
            *("lighter", "discharge", "disappear", "weaker", "weaken", "faint", "drain", "wash"),
            *("decrease", "diminish", "drop", "bleach", "dull"),
        ),
    ),
    *combine(
        ("blue to ..", "blue becomes ..", "becomes almost", "becomes nearly"),
        ("clear", "colourless"),
    ),
    *combine(("blueness", "intensity", "strength of"), (".. decrease", ".. drop", ".. fall")),
    *combine(("blue", "colour", "solution", "it"), ("goes",)),
    *("lighter blue", "lighter in colour", "less blue", "less intense", "less coloured"),
    *combine(
        ("loses", "loses its", "loses its blue", "loses the", "loss of", "loss of its"),
        ("colour", "blue"),
    ),
    *combine(
        ("becomes", "turns", "turn", "goes", "go", "went", "turns to", "becoming", "ends up"),
        ("colourless", "clear"),
    ),
    *combine(("blue", "colour", "colour of the solution"), ("is lost",)),
    *combine(
        ("goes", "disappears", "is lost"), ("with carbon", "with graphite", "with the carbon")
    ),
    *combine(("blue", "colour"), ("gets less", "is less", "lessens")),
    *combine(("turns from blue", "goes from blue", "blue"), ("to colourless", "to clear")),
)
#: what names either electrode: not copper alone, which is in the solution too; carbon is asked about first
OF_CARBON = (
    *("carbon", "graphite", "inert", "platinum"),
    *combine(
        ("first",), ("one", "case", "cell", "experiment", "time", ",", "anode", "electrolysis")
    ),
    *("in first", "with first", "for first"),
)
OF_COPPER = (
    *combine(
        ("copper",),
        (
            "electrode",
            "{anode}",
            "positive electrode",
            "rod",
            "one",
            "plate",
            "strip",
            *("is used", "are used", "makes it", "makes the solution", "keeps"),
            *("cell", "case", "experiment", "version", "set", "pair"),
            *(each for each in GOES if each != "used up"),  # so are the ions in the solution
            *combine(("make",), ("oxygen", "gas", "bubbles", "no gas", "no bubbles")),
            *("fizz", "bubbles", "not fizz"),
        ),
    ),
    *combine(("with", "using", "for", "at", "if", "you use", "we use"), ("copper",)),
    *combine(
        ("when", "if", "where"), ("it is copper", "its copper", "they are copper", "both copper")
    ),
    *combine(("one of", "made of", "made out of", "anode of", "electrode of"), ("copper",)),
    "copper:",
    "copper - ",
    "copper =",
    "active",
    "second",
)
ANODES = ("{anode}", "electrode", "copper", "rod")
BLUES = ("blue", "colour", "solution", "electrolyte")
STAYS = (
    "stay",
    "not change",
    "unchanged",
    "same",
    "constant",
    *combine(
        ("not",),
        ("fade", "pale", "disappear", "affected", "lose", "lighter", "weaken", "alter", "vary"),
    ),
    *combine(("not",), ("drain", "wash", "go", "decrease", "discharge", "faint", "dull")),
    *("unaffected", "always blue", "hold", "as before", "as it was", "maintained", "blue all"),
)


@maker("carbon or copper", topic="products", level=14, version=1)
def carbon_or_copper(rng: RandomSource) -> Question:
    """Ask what copper electrodes change."""
    points = (_gas_with_carbon(), _dissolving_copper(), _fading_blue(), _lasting_blue())
    answer = say(
        "With carbon electrodes bubbles of oxygen form at {the_anode} and the blue fades; "
        "with copper electrodes {the_anode} dissolves and the blue stays.",
        rng.wording,
    )
    formula = rng.one_of(("CuSO4", "CuSO4", "Cu(NO3)2"))
    name = solution_name(formula, rng.wording)
    text = rng.one_of(
        (
            (
                say(
                    "{Name} is electrolysed once with carbon and once with copper electrodes. Compare "
                    "what happens at {the_anode} and to the colour of the solution.",
                    rng.wording,
                    name=name,
                )
            ),
            (
                say(
                    "A student electrolyses {name} with carbon electrodes, and then again with copper "
                    "electrodes. Describe how {the_anode} and the solution behave in each case.",
                    rng.wording,
                    name=name,
                )
            ),
            (
                say(
                    "What difference does it make to {the_anode}, and to the colour of {name}, whether "
                    "carbon or copper electrodes are used?",
                    rng.wording,
                    name=name,
                )
            ),
        )
    )
    watch = f"{formula};{formula},anode=copper,cathode=copper"
    return text_question(text, answer, points, watch=watch, wording=rng.wording)


def _gas_with_carbon() -> Point:
    """Return what earns the mark for the gas at an anode of carbon."""
    bubbles = next(
        row.text.split("|") for row in data.rows("observation_points") if row["id"] == "bubbles"
    )
    return Point(
        "with carbon oxygen, or bubbles, at {the_anode}",
        ("oxygen", "gas", *bubbles),
        (
            "no bubbles",
            "no gas at the carbon",
            *("nitrogen", "sulfur dioxide", "chlorine", "brown gas"),
            *combine(("carbon {anode}", "carbon electrode"), GOES),
        ),
        (),
        OF_CARBON,
        OF_COPPER,
    )


def _dissolving_copper() -> Point:
    """Return what earns the mark for an anode of copper."""
    return Point(
        "with copper {the_anode} dissolves",
        (
            *GOES,
            "gets thin",
            "mass decreases",
            "decreases in mass",
            *combine(("decreases in", "reduces in", "loses"), ("size", "weight", "thickness")),
            *combine(
                ("{anode} ..", "one ..", "rod ..", "electrode .."),
                ("disappear", "decrease", "oxidised", "loses copper", "loses atoms", "corrode"),
            ),
            *combine(ANODES, ("gets lighter", "becomes lighter", "is lighter", "loses weight")),
            *("becomes copper ions", "makes copper ions"),
            *combine(
                ("{anode} ..", "copper .."), ("split into ions", "makes ions", "becomes ions")
            ),
            *combine(("copper ions",), ("from the {anode}", "come from the {anode}")),
            *combine(("go", "goes", "going"), ("into solution", "into the solution")),
            "oxidised to cu",
            "oxidised to copper ions",
        ),
        (
            "does not dissolve with copper",
            "{cathode} dissolves",
            *combine(
                ("copper {anode}", "copper positive electrode"),
                ("stays", "does not change"),
            ),
            "oxygen bubbl",
            "bubbles of oxygen",
            "oxygen is given off",
            "oxygen is formed",
            "oxygen is made",
            "oxygen is produced",
        ),
        ("react",),
        OF_COPPER,
        OF_CARBON,
    )


def _fading_blue() -> Point:
    """Return what earns the mark for the colour with carbon."""
    return Point(
        "with carbon the blue fades",
        FADES,
        (
            *combine(BLUES, STAYS),
            *("stays blue", "still blue", "bluer", "more blue"),
            *combine(
                ("it", "colour", "solution", "blue"), ("goes green", "goes red", "goes darker")
            ),
        ),
        ("changes colour", "clear"),
        OF_CARBON,
        OF_COPPER,
    )


def _lasting_blue() -> Point:
    """Return what earns the mark for the colour with copper."""
    return Point(
        "with copper the blue stays",
        (
            *combine((f"{each} .." for each in BLUES), STAYS),
            *combine(
                ("stay", "still", "same"), ("blue", "same colour", "same", "same blue", "colour")
            ),
            *combine(("stay its", "stays its own", "stay .."), ("colour", "blue")),
            *combine(
                ("no change in", "no change to", "no change of", "no loss of", "no fading of"),
                ("the colour", "the blue", "colour", "the solution"),
            ),
            "same colour",
            "no colour change",
            "stays with copper",
            *("with copper it stays", "with copper stays", "copper it does not"),
            *(
                "no fading",
                "no blue is lost",
                "no colour is lost",
                "no blue lost",
                "none of the blue",
            ),
            *combine(
                ("not",),
                ("fade", "pale", "disappear", "lose its colour", "lose its blue", "lose colour"),
            ),
            *(
                "unaffected",
                "blue to blue",
                "blue becomes blue",
                "as blue as before",
                "just as blue",
            ),
            *(
                "always blue",
                "blue all the time",
                "as it was",
                "colour is unchanged",
                *(
                    "no paling",
                    "strong as before",
                    "same as before",
                    "blue as before",
                    "blue as ever",
                ),
                "intensity .. not change",
            ),
            *("it is constant", "colour not affected", "not get lighter", "blue throughout"),
        ),
        FADES,
        (),
        OF_COPPER,
        OF_CARBON,
    )
