"""Definitions that are asked for, with what earns each mark in a learner's own words."""

from __future__ import annotations

from fizzplate.lesson.makers.typed import said
from fizzplate.lesson.question import Point

#: how it is said that electrons are lost, and that they are gained
WHO = (
    "an atom",
    "an ion",
    "a substance",
    "a species",
    "something",
    "an element",
    "a particle",
    "it",
)
WHO_MANY = ("atoms", "ions", "substances", "species", "particles", "elements", "they")
LOSING = (
    "electrons are lost",
    *said(WHO, ("loses electrons", "loses an electron", "loses one or more electrons")),
    *said(WHO_MANY, ("lose electrons",)),
)
GAINING = (
    "electrons are gained",
    *said(WHO, ("gains electrons", "gains an electron", "gains one or more electrons")),
    *said(WHO_MANY, ("gain electrons",)),
)
WHEN_OXIDISED = (
    *said(("oxidation is", "oxidation happens", "oxidation occurs", "oxidised"), ("when",)),
    "oxidation means",
    "oxidation means that",
    "oxidised if",
)
WHEN_REDUCED = (
    *said(("reduction is", "reduction happens", "reduction occurs", "reduced"), ("when",)),
    "reduction means",
    "reduction means that",
    "reduced if",
)
LOSES = (
    "means loss",
    "means losing",
    "means to lose",
    "involves loss",
    "involves losing",
    "involves the loss",
    "means the loss",
    "is the losing",
    "is a loss",
    "is the process of losing",
    "is when you lose",
    "is where electrons are lost",
    "- loss",
    "(loss",
    "= loss",
    "= losing",
)
GAINS = (
    "means gain",
    "means to gain",
    "involves gain",
    "involves the gain",
    "means the gain",
    "is the gaining",
    "is a gain",
    "is the process of gaining",
    "is when you gain",
    "is where electrons are gained",
    "- gain",
    "(gain",
    "= gain",
)
SPLIT = ("split", "decompos", "break", "broken", "separat", "chang")
CURRENT = ("electric", "current", "d.c.", " dc ")
MEANINGS: dict[str, tuple[str, tuple[Point, ...]]] = {
    "electrolysis": (
        "The splitting of a compound into simpler substances by an electric current.",
        (
            Point("a compound is split", SPLIT, ("split water into ions", "makes the ions")),
            Point("by an electric current", CURRENT, ("by heat",)),
        ),
    ),
    "electrolyte": (
        "A compound that conducts electricity when molten or dissolved, because its ions can then move.",
        (
            Point("it conducts, or is split by the current", ("conduct", "current", *SPLIT)),
            Point(
                "when molten or dissolved, with ions that move",
                ("molten", "melt", "dissolv", "solution", "liquid", "ions", "ionic"),
                (
                    "conducts when solid",
                    "conducts electricity when solid",
                    "electrons move through",
                ),
            ),
        ),
    ),
    "oxidation and reduction, in terms of electrons": (
        "Oxidation is the loss of electrons, and reduction is the gain of electrons.",
        (
            Point(
                "oxidation is loss of electrons",
                (
                    *said(
                        ("oxidation", "oxidised"), ("is loss", "is the loss", "is losing", "loses")
                    ),
                    *said(("oxidation", "oxidised"), LOSES),
                    *said(WHEN_OXIDISED, LOSING),
                    "loss of electrons is oxidation",
                    "losing electrons is oxidation",
                    "losing of electrons is oxidation",
                    "lost in oxidation",
                    "lost during oxidation",
                    "lost by oxidation",
                    "oxidation: loss",
                    "oxidation: losing",
                    "loss is oxidation",
                    " oil ",
                    "oilrig",
                ),
                ("oxidation is gain of electrons", "oxidation is the gain of electrons"),
                ("oxygen", "oxidation"),
            ),
            Point(
                "reduction is gain of electrons",
                (
                    *said(
                        ("reduction", "reduced"), ("is gain", "is the gain", "is gaining", "gains")
                    ),
                    *said(("reduction", "reduced"), GAINS),
                    *said(WHEN_REDUCED, GAINING),
                    "gain of electrons is reduction",
                    "gaining electrons is reduction",
                    "gaining of electrons is reduction",
                    "gained in reduction",
                    "gained during reduction",
                    "reduction: gain",
                    "gain is reduction",
                    "and reduction gain",
                    " rig ",
                    "oilrig",
                ),
                ("reduction is loss of electrons", "reduction is the loss of electrons"),
                ("oxygen", "reduction"),
            ),
        ),
    ),
    "inert electrode": (
        "An electrode that carries the current but does not react itself, such as carbon or platinum.",
        (
            Point(
                "it does not react itself",
                (
                    "not react",
                    "n't react",
                    "without reacting",
                    "unreactive",
                    "non-reactive",
                    "no part in",
                    "takes no part",
                    "not take part",
                    "n't take part",
                    "n't take any part",
                    "not take any part",
                    "not participate",
                    "n't participate",
                    "not get involved",
                    "not involved",
                    "not dissolve",
                    "n't dissolve",
                    "unchanged",
                    "not change",
                    "n't change",
                    "not affect",
                    "n't affect",
                    "not oxidised",
                    "not used up",
                    "n't get used up",
                    "not get used up",
                ),
                ("no reaction happens at", "nothing happens at"),
                ("carbon", "graphite", "platinum"),
            ),
        ),
    ),
}
