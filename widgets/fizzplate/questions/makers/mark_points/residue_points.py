"""What earns a mark for saying why a solution turns acid or alkaline, in the words of any board.

Other forms of a word, as "used up" for "discharged", are lines of ``questions/marking/words.json``.
"""

from __future__ import annotations

from fizzplate.questions.makers.mark_points.patterns import Patterns
from fizzplate.questions.makers.mark_points.spellings import combine

#: what happens to an ion that is discharged
GONE = (
    *("discharged", "turn into", "reduced", "oxidised", "lost", "gain", "take electrons", "react"),
    *("taken", "leave", "decrease", "fewer", "escape", "disappear", "bubble"),
)
#: what happens to a gas that forms from it
FORMS = ("forms", "gas", "bubble", "leaves", "escapes", "discharged", "come off", "comes off")
#: what is said of an ion that is not discharged
LEFT = (
    *("left over", "left", "stay", "made", "more", "increase", "behind", "still"),
    *("not discharged", "concentration increases", "outnumber", "higher", "greater", "dominate"),
)
#: the same said before its name
LEAVING = (
    *("leaving ..", "left ..", "staying ..", "making ..", "more ..", "increasing .."),
    *("concentration of", "lots of", "plenty of", "a lot of", "too many", "full of", "only"),
)
#: no reason: a metal that is not there
METAL_REACTS = combine(
    ("potassium ..", "sodium .."),
    ("reacts with water", "react with water", "reacting with water", "reacted with water"),
)
#: no reason: an ion that is not discharged
ACID_OF_ITS_ION = (
    *combine(("because sulfate ..",), ("make sulfuric acid", "become sulfuric acid")),
    *combine(("because nitrate ..",), ("make nitric acid", "become nitric acid")),
)


def _discharged(ion: str, gas: str, change: str, noun: str) -> tuple[str, ...]:
    """Return ways to say that an ion is discharged, or that water gives the gas."""
    return (
        *combine((f"{ion} ion ..",), (each for each in GONE if each != other(change))),
        *combine((f"{ion} ion .. make ..",), (gas, "gas", "bubble", "water")),  # not: ions are made
        *combine(
            (
                "discharge ..",
                "loss of",
                "fewer",
                "less",
                "decrease in",
                f"{noun} of",
                f"{change} ..",
            ),
            (f"{ion} ion",),
        ),
        *combine((f"{gas}",), (f".. {each}" for each in FORMS)),
        *combine(("make", "become", "as", "to", "into", "turns to"), (gas,)),
        *combine(
            ("water .. ",),
            (
                change,
                "split",
                "discharge",
                f"become {gas}",
                "gain" if gas == "hydrogen" else "lose",
            ),
        ),
        f"{noun} of water",
    )


def other(change: str) -> str:
    """Return the change that is not this one."""
    return {"reduced": "oxidised", "oxidised": "reduced"}[change]


def _left(ion: str, name: str) -> tuple[str, ...]:
    """Return ways to say that an ion is left over."""
    return (
        *combine((f"{name} ..",), LEFT),
        *combine(LEAVING, (name,)),
        f"{ion} concentration",
        f"{ion} ion concentration",
        f"increase in {name}",
        f"{name} concentration",
    )


#: by the point of a mark
OF_RESIDUES = {
    "hydrogen ions discharged": Patterns(
        (
            *_discharged("hydrogen", "hydrogen", "reduced", "reduction"),
            "hydrogen and hydroxide",
            "water + electrons",
            "hydrogen ions + 2 electrons",
            "hydrogen ions + electrons",
        ),
        (
            *combine(("hydrogen ions",), ("are left", "stay")),
            "leaving hydrogen ions",
            "more hydrogen ions are made",
            *METAL_REACTS,
        ),
        ("hydrogen", "h+", "h^+"),
    ),
    "hydroxide ions left": Patterns(
        (
            *_left("hydroxide", "hydroxide"),
            *combine(("hydrogen and", "hydrogen +"), ("hydroxide", "2oh", "oh")),
            "sodium hydroxide",
            "potassium hydroxide",
        ),
        ("hydroxide ions .. discharged", "hydroxide ions .. oxidised", *METAL_REACTS),
        ("hydroxide", "alkali"),
    ),
    "hydroxide ions discharged": Patterns(
        (
            *_discharged("hydroxide", "oxygen", "oxidised", "oxidation"),
            *combine(("hydroxide ..",), ("discharge", "oxidised", "become", "lose", "make oxygen")),
            "hydrogen ion and oxygen",
            "oxygen and hydrogen ion",
            "water - 4 electron",
            "oxygen + .. hydrogen ion",
            "oxygen + 4h",
        ),
        (*combine(("hydroxide ions",), ("are left", "stay")), "leaving hydroxide ions"),
        ("hydroxide", "oxygen", "oh-", "oh^-"),
    ),
    "hydrogen ions left": Patterns(
        (
            *_left("hydrogen", "hydrogen ion"),
            "oxygen and hydrogen ion",
            "oxygen + hydrogen ion",
            "oxygen + 4h",
            "sulfuric acid",
            "nitric acid",
        ),
        ("hydrogen ions .. discharged", "hydrogen ions .. reduced", *ACID_OF_ITS_ION),
        ("hydrogen", "h+", "h^+", "acid"),
    ),
}
