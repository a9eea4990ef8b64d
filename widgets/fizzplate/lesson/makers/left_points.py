"""What earns a mark for saying why a solution turns acid or alkaline, in the words of any board."""

from __future__ import annotations

from fizzplate.lesson.makers.parts import said, subjects
from fizzplate.lesson.question import Point

DISCHARGED = (
    "are discharged",
    "is discharged",
    "get discharged",
    "being discharged",
    "are reduced",
    "is reduced",
    "are oxidised",
    "is oxidised",
    "are oxidized",
    "are used up",
    "are removed",
    "are lost",
    "gain",
    "lose",
    "take electrons",
    "give electrons",
    "react",
    "turn into",
    "form",
    "become",
    "leave",
)
MADE = ("forms", "is made", "is formed", "is produced", "is given off", "gas", "bubbles")
LEFT = (
    "are left",
    "is left",
    "stay",
    "remain",
    "are formed",
    "are produced",
    "are made",
    "build up",
    "gather",
    "in excess",
    "accumulate",
)

HYDROGEN_GOES = Point(
    "hydrogen ions (or water) are discharged at the cathode",
    (
        *said(subjects("H+"), DISCHARGED),
        *said(("hydrogen",), MADE),
        "discharge of hydrogen",
        "loss of hydrogen",
        "loss of h",
        "water is reduced",
        "water gains",
        "reduction of water",
    ),
    ("hydrogen ions are left",),
    ("hydrogen", "h+", "h^+"),
)
HYDROXIDE_LEFT = Point(
    "hydroxide ions are left",
    (
        *said((*subjects("OH-"), "hydroxide"), LEFT),
        "leaves hydroxide",
        "leaving hydroxide",
        "leaves oh",
        "leaving oh",
        "excess hydroxide",
        "excess oh",
        "more hydroxide",
        "more oh",
        "sodium hydroxide",
        "potassium hydroxide",
        "naoh",
        "koh",
    ),
    ("hydroxide ions are discharged", "oh- is discharged", "oh- are discharged"),
    ("hydroxide", "oh-", "oh^-", "alkali"),
)
HYDROXIDE_GOES = Point(
    "hydroxide ions (or water) are discharged at the anode",
    (
        *said(subjects("OH-"), DISCHARGED),
        *said(("oxygen",), MADE),
        "discharge of hydroxide",
        "loss of hydroxide",
        "loss of oh",
        "water is oxidised",
        "water is oxidized",
        "water loses",
        "oxidation of water",
    ),
    ("hydroxide ions are left",),
    ("hydroxide", "oxygen", "oh-", "oh^-"),
)
HYDROGEN_LEFT = Point(
    "hydrogen ions are left",
    (
        *said(subjects("H+"), LEFT),
        "leaves hydrogen ion",
        "leaving hydrogen ion",
        "leaves h+",
        "leaving h+",
        "leaves h^+",
        "leaving h^+",
        "excess hydrogen ion",
        "excess h",
        "more hydrogen ions",
        "more h+",
        "more h^+",
        "sulfuric acid",
        "nitric acid",
    ),
    ("hydrogen ions are discharged", "h+ is discharged", "h+ are discharged"),
    ("hydrogen", "h+", "h^+", "acid"),
)
