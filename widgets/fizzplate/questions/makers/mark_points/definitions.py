"""Definitions that are asked for, with what earns each mark in a learner's own words."""

from __future__ import annotations

from fizzplate.questions.content import Point
from fizzplate.questions.makers.mark_points.spellings import said

#: what names either, and how it is said that electrons are lost or gained
OXIDATION, REDUCTION = ("oxid", "oil"), ("redu", "rig", "oilrig")
LOST = ("loss", "lose", "losing", "lost", "losses")
GAINED = ("gain", "accept & electron", "pick up electron", "picks up electron", "take in electron")
ELECTRONS = ("electron", "e-", "e^-")
NOT = ("not", "doesn't", "don't", "won't", "isn't", "aren't", "can't", "never")
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
            Point(
                "it conducts, or is split by the current",
                (
                    "conduct",
                    "current",
                    *SPLIT,
                    *said(NOT, ("conduct when solid", "conduct as a solid")),
                ),
            ),
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
                (*LOST, "give away electron", "gives away electron", "giving away electron", "oil"),
                (
                    *said(("gain &", "gains &", "gaining &", "gained &"), ELECTRONS),
                    *said(LOST, ("oxygen", "of oxygen")),
                ),
                ("oxygen", "oxid"),
                OXIDATION,
                REDUCTION,
            ),
            Point(
                "reduction is gain of electrons",
                (*GAINED, "rig", "oilrig"),
                (
                    *said(tuple(f"{each} &" for each in LOST), ELECTRONS),
                    *said(("gain", "gains", "gaining"), ("oxygen", "of oxygen")),
                ),
                ("oxygen", "redu"),
                REDUCTION,
                OXIDATION,
            ),
        ),
    ),
    "inert electrode": (
        "An electrode that carries the current but does not react itself, such as carbon or platinum.",
        (
            Point(
                "it does not react itself",
                (
                    *said(
                        NOT,
                        (
                            "react",
                            "take part",
                            "take any part",
                            "participate",
                            "get involved",
                            "involved",
                            "dissolve",
                            "change",
                            "affect",
                            "oxidised",
                            "used up",
                            "get used up",
                        ),
                    ),
                    "without reacting",
                    "unreactive",
                    "non-reactive",
                    "no part in",
                    "takes no part",
                    "unchanged",
                ),
                ("no reaction happens at", "nothing happens at"),
                ("carbon", "graphite", "platinum"),
            ),
        ),
    ),
}
