"""What earns the marks of a definition, in a learner's own words."""

from __future__ import annotations

from fizzplate.questions.makers.mark_points.patterns import Patterns
from fizzplate.questions.makers.mark_points.spellings import combine

#: names of oxidation and reduction, and ways to say that electrons are lost or gained
OXIDATION, REDUCTION = ("oxid", "oil"), ("redu", "rig", "oilrig")
LOST = ("loss", "lose", "losing", "lost", "losses")
GAINED = ("gain", "accept & electron", "pick up electron", "picks up electron", "take in electron")
ELECTRONS = ("electron", "e-", "e^-")
NOT = ("not", "doesn't", "don't", "won't", "isn't", "aren't", "can't", "never")
SPLIT = ("split", "decompos", "break", "broken", "separat", "chang")
CURRENT = ("electric", "current", "d.c.", " dc ")
#: by the point of a mark
OF_DEFINITIONS = {
    "splitting": Patterns(SPLIT, ("split water into ions", "makes the ions")),
    "by a current": Patterns(CURRENT, ("by heat",)),
    "conducting": Patterns(
        (
            "conduct",
            "current",
            *SPLIT,
            *combine(NOT, ("conduct when solid", "conduct as a solid")),
        )
    ),
    "molten or dissolved": Patterns(
        ("molten", "melt", "dissolv", "solution", "liquid", "ions", "ionic"),
        (
            "conducts when solid",
            "conducts electricity when solid",
            "electrons move through",
        ),
    ),
    "oxidation": Patterns(
        (*LOST, "give away electron", "gives away electron", "giving away electron", "oil"),
        (
            *combine(("gain &", "gains &", "gaining &", "gained &"), ELECTRONS),
            *combine(LOST, ("oxygen", "of oxygen")),
        ),
        ("oxygen", "oxid"),
        OXIDATION,
        REDUCTION,
    ),
    "reduction": Patterns(
        (*GAINED, "rig", "oilrig"),
        (
            *combine(tuple(f"{each} &" for each in LOST), ELECTRONS),
            *combine(("gain", "gains", "gaining"), ("oxygen", "of oxygen")),
        ),
        ("oxygen", "redu"),
        REDUCTION,
        OXIDATION,
    ),
    "no reaction": Patterns(
        (
            *combine(
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
}
