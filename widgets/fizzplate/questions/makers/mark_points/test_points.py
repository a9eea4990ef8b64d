"""Tests of gases, and of iodine, with what earns each mark in a learner's own words."""

from __future__ import annotations

from fizzplate.questions.content import Point
from fizzplate.questions.makers.mark_points.spellings import said

#: how it is said that paper is wet
DAMP = ("damp", "moist", "wet", "dipped in water", "in water", "with water")
TESTED: dict[str, tuple[Point, ...]] = {
    "H2": (
        Point(
            "a lighted splint",
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
            ),
            ("glowing",),
            ("splint",),
        ),
        Point("a squeaky pop", ("pop", "squeak"), ("no pop", "not pop"), ("burns", "explo")),
    ),
    "O2": (
        Point(
            "a glowing splint",
            ("glow", "smoulder", "blown out", "blow it out", "ember"),
            ("not glowing",),
            ("splint",),
        ),
        Point(
            "it relights",
            (
                "relight",
                "re-light",
                "relit",
                "reignite",
                "re-ignite",
                "ignites",
                "lights again",
                "lights up again",
                "lights back up",
                "flares up",
                "flame again",
                "catches alight",
                "sets alight",
                "bursts into a flame",
                "rekindle",
                "bursts into flame",
                "catches fire",
                "catches light",
            ),
            ("pop", "goes out", "not relight"),
            ("brighter",),
        ),
    ),
    "Cl2": (
        Point(
            "damp litmus or starch-iodide paper",
            (
                *said(("litmus &", "blue paper &", "red paper &", "starch paper &"), DAMP),
                "starch-iodide",
                "starch iodide",
                "starch/iodide",
                "starch potassium iodide",
                "iodide & starch",
            ),
            (),
            ("litmus", "paper"),
        ),
        Point(
            "it is bleached (starch-iodide turns blue-black)",
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
                "loses its colour",
                "loses colour",
                "decolouri",
                "colourless",
                "blue-black",
                "blue black",
                "starch & black",
                "starch & dark blue",
            ),
            ("splint",),
            ("red", "black", "changes colour"),
        ),
    ),
    "CO2": (
        Point("limewater", ("limewater", "lime water", "calcium hydroxide"), (), ("bubble it",)),
        Point(
            "it turns cloudy",
            (
                "cloud",
                "milky",
                "white precipitate",
                "white ppt",
                "white solid",
                "chalky",
                "turbid",
            ),
            ("stays clear", "remains clear", "goes clear", "not cloudy", "not turn cloudy"),
        ),
    ),
    "I2": (
        Point("starch", ("starch",), ("starch-iodide", "starch iodide"), ("indicator",)),
        Point(
            "it turns blue-black", ("black", "dark blue", "deep blue", "dark-blue"), (), ("blue",)
        ),
    ),
}
