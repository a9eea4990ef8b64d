"""What earns the marks of a definition, in a learner's own words."""

from __future__ import annotations

from fizzplate.questions.makers.mark_points.patterns import Patterns
from fizzplate.questions.makers.mark_points.spellings import combine

#: names of oxidation and reduction
OXIDATION, REDUCTION = ("oxid", "oil"), ("redu", "rig", "oilrig")
HYDROGEN = ("hydrogen", "of hydrogen")  # no electrons
CURRENT = ("electric", "current", "d.c.", " dc ")
NOT = ("not", "never")
#: an electrolyte taken for what dips into it
IS_A_ROD = combine(
    ("it", "its", "electrolyte"),
    (
        *combine(("metal", "carbon"), ("rod", "plate", "strip", "wire", "electrode")),
        *("rod", "plate", "wire", "electrode", "terminal", "battery"),
    ),
)
#: the same said of more than one, or by where it is put
A_ROD_IN_IT = (
    *combine(("^ metal", "^ a metal", "^ carbon"), ("rod", "plate", "strip", "electrode")),
    *combine(
        ("rod", "rods", "plate", "plates", "electrode", "terminal"),
        ("you put", "put in", "dipped", "you dip"),
    ),
)
RODS = (
    "positive and negative rod",
    "positive and negative electrode",
    "positive and negative terminal",
)
#: a cell that gives a current, which is not what was asked for
CELL = combine(("make electricity", "make current"), ("from", "out of", "by", "using", "with"))
#: by the point of a mark
OF_DEFINITIONS = {
    "splitting": Patterns(
        (
            "split",
            "into .. element",
            "into simpler",
            "elements out of",
            "become .. element",
            "to elements",
        ),
        ("split water into ions", "makes the ions", "split the ions ", "mixture"),
    ),
    "by a current": Patterns(
        (*CURRENT, "battery", "voltage", "power supply", "power pack", "electrons through"),
        ("by heat", "mixture", "metals conduct", "metal conducts", *CELL),
    ),
    "conducting": Patterns(
        (
            "conduct",
            "current",
            "split",
            "electrolysed",
            *combine(("undergo", "undergoes", "during"), ("electrolysis",)),
            *combine(("transmits", "transfers", "passes"), ("electric", "charge")),
            *combine(("electric .. ",), ("pass", "move", "go", "through")),
            *combine(("carry", "carries"), ("charge", "current", "electric")),
            *combine(("charge", "current", "electricity"), (".. carried",)),
            *combine(NOT, ("conduct when solid", "conduct as a solid")),
        ),
        (
            *IS_A_ROD,
            *A_ROD_IN_IT,
            *RODS,
            "process of",
            *("solid that conducts", "in the solid state"),
        ),
    ),
    "molten or dissolved": Patterns(
        (
            *("molten", "melt", "dissolv", "solution", "aqueous", "in water", "ion"),
            *combine(("liquid &",), ("conduct", "current", "electric", "split")),
        ),
        (
            *("conducts when solid", "as a solid", "in the solid state"),
            "conducts electricity when solid",
            *combine(
                ("not conduct", "not conduct electricity", "not conduct a current"),
                ("when molten", "when melted", "when dissolved", "when in solution", "in solution"),
            ),
            *combine(("electrons ..",), ("move", "carry", "through")),
            "free electrons",
            *(*IS_A_ROD, *A_ROD_IN_IT, *RODS, "process of"),
        ),
        ("liquid",),
    ),
    "oxidation": Patterns(
        (
            *("lose", "oil", "removal of electrons", "removes electrons"),
            *combine(
                ("electrons ..",),
                (
                    *(
                        "removed",
                        "leave",
                        "released",
                        "come off",
                        "comes off",
                        "comes out",
                        "come out",
                    ),
                    *(
                        "stripped",
                        "pulled",
                        "taken",
                        "go out",
                        "escape",
                        "move away",
                        "kicked out",
                        "go",
                    ),
                ),
            ),
            *combine(
                ("discharge", "minus", "fewer", "less", "strips", "stripping", "release of", "-"),
                ("electrons",),
            ),
        ),
        (
            *combine(
                ("electrons ..",),
                ("added", "put on", "go to it", "go into", "go in ", "join", "come in"),
            ),
            *combine(("gain &",), ("electron",)),
            *combine(("lose",), ("oxygen", "of oxygen", *HYDROGEN)),
            *combine(("hydrogen", "h"), ("lost",)),
        ),
        ("oxygen", "oxid"),
        OXIDATION,
        REDUCTION,
    ),
    "reduction": Patterns(
        (
            *("gain", "rig", "oilrig", "take electron"),
            *("adding electrons", "addition of electrons", "adds electrons"),
            *combine(
                ("electrons ..",),
                (
                    *("added", "put on", "join", "go to", "go in", "come in", "come to", "come on"),
                    *("enter", "put in", "given to", "attach", "come"),
                ),
            ),
            *combine(("plus", "more", "extra", "+", "adding on", "add"), ("electrons",)),
        ),
        (
            *combine(
                ("electrons ..",),
                ("taken", "removed", "come off", "comes off", "come out", "go away"),
            ),
            *combine(("lose &",), ("electron",)),
            *combine(("gain",), ("oxygen", "of oxygen", *HYDROGEN)),
            *combine(("hydrogen", "h"), ("gained",)),
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
                    "involved",
                    "dissolve",
                    "change",
                    "affect",
                    *("oxidis", "reduc"),
                    "used up",
                    *(
                        "do any",
                        "join in",
                        "alter",
                        "undergo",
                        "corrode",
                        "interfere",
                        "break",
                    ),
                ),
            ),
            "without reacting",
            "unreactive",
            "non-reactive",
            *(
                "does nothing",
                "do nothing",
                "no reaction",
                "no chemical",
                "stays the same",
                "stays intact",
            ),
            *combine(("resists", "refuses", "resistant"), ("react", "to react", "to")),
            *combine(("only",), ("conduct", "carries", "carry", "passes", "there to")),
            *combine(
                NOT,
                (
                    "consumed",
                    "attacked",
                    "go into",
                    "get involved",
                    "used in the",
                    "used by",
                    "wear",
                    "eaten",
                ),
            ),
            *(
                "inactive",
                *("no effect", "unreacted", "not part of", "not a part", "no role"),
                "out of the reaction",
                "unaffected",
                "nothing else",
                "unchanging",
                "stays as",
                "stays whole",
            ),
            "no part in",
            "takes no part",
            "unchanged",
        ),
        ("no reaction happens at", "nothing happens at"),
        ("carbon", "graphite", "platinum"),
    ),
}
