"""What earns the marks of a test of a gas, or of iodine, in a learner's own words."""

from __future__ import annotations

from fizzplate.questions.makers.mark_points.patterns import Patterns
from fizzplate.questions.makers.mark_points.spellings import combine

#: ways to say that paper is wet
DAMP = ("damp", "in water", "with water")
PAPER = ("litmus", "blue paper", "red paper", "starch paper", "indicator paper")
#: splints of another test: what is seen with them earns nothing
LIGHTED = combine(("lit", "lighted", "burning", "flaming"), ("splint", "wooden splint"))
#: what iodine dissolves in with another colour: a test as good as starch
SOLVENTS = ("cyclohexane", "hexane", "organic solvent")
#: by the point of a mark
OF_TESTS = {
    "lighted splint": Patterns(
        (
            "lighted",
            " lit ",
            "burning",
            "flame",
            "a lighter",
            "light a splint",
            "lighting a splint",
            "ignite",
            "set fire",
            "set it alight",
            *("match", "light to", "set light", "flaming", "alight", "on fire"),
            *combine(("light", "burn"), ("gas", "hydrogen", "it")),
            *combine(("fire", "flames"), ("to", "near", "into")),
        ),
        ("glowing",),
        ("splint",),
    ),
    "squeaky pop": Patterns(
        ("pop", "squeak"), ("no pop", "not pop", "glowing"), ("burns", "explo")
    ),
    "glowing splint": Patterns(
        (
            "glow",
            "smoulder",
            *("blown out", "blown-out", "still-red", "still red", "red-hot", "red hot"),
            "blow it out",
            "blow out a splint",
            "blow out the splint",
            "ember",
        ),
        ("not glowing",),
        ("splint",),
    ),
    "relighting": Patterns(
        ("relight", "ignites", "back on fire", "into flame", "lights up", "back to life"),
        ("pop", "goes out", "not relight", *LIGHTED),
        ("brighter",),
    ),
    "litmus or starch-iodide": Patterns(
        (
            *combine((f"{paper} &" for paper in PAPER), DAMP),
            "starch-iodide",
            "starch iodide",
            "starch/iodide",
            "starch potassium iodide",
            "iodide & starch",
        ),
        (),
        ("litmus", "paper"),
    ),
    "bleaching": Patterns(
        (
            "bleach",
            "turns & white",
            "turn & white",
            "turning & white",
            "goes & white",
            "go & white",
            "going & white",
            "becomes & white",
            "becoming & white",
            "white paper",
            *("whiten", "fades to white", "to white", "then white", "takes colour", "loses all"),
            *combine(("all the colour", "colour"), ("goes", "gone")),
            "loses its colour",
            "loses colour",
            "decolouri",
            *combine(("colour ..",), ("disappear", "discharge", "fade", "lost")),
            *combine(
                ("removes its", "removes the", "takes away the", "takes out the"), ("colour",)
            ),
            *combine(("turned &", "went &"), ("white",)),
            *combine(("litmus", "paper", "it", "litmus paper"), ("white", "becomes white")),
            "colourless",
            "blue-black",
            "blue black",
            "starch & black",
            "starch & dark blue",
        ),
        ("splint", *combine(("starch",), ("goes", "turns", "becomes", "solution"))),
        ("red", "black", "changes colour"),
    ),
    "limewater": Patterns(("limewater", "calcium hydroxide"), (), ("bubble it",)),
    "cloudiness": Patterns(
        (
            "cloud",
            "milky",
            "white precipitate",
            "white ppt",
            "white solid",
            *("chalky", "turbid", "milk", "misty", "opaque", "foggy", "murky", "precipitat"),
            *("not clear", "no longer clear", "white", "solid forms", "forms as a solid"),
        ),
        ("stays clear", "remains clear", "goes clear", "not cloudy", "not turn cloudy"),
    ),
    "starch": Patterns(("starch", *SOLVENTS), ("starch-iodide", "starch iodide"), ("indicator",)),
    "blue-black": Patterns(
        (
            *("black", "dark blue", "deep blue", "dark-blue"),
            *combine((f"{each} &" for each in ("layer", *SOLVENTS)), ("purple", "violet", "pink")),
        ),
        (),
        ("blue",),
    ),
}
