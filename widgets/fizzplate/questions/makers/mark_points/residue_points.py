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
    *("fall", "drop", "smaller", "less"),
)
#: what happens to a gas that forms from it
FORMS = (
    *("forms", "gas", "bubble", "leaves", "escapes", "discharged", "come off", "comes off"),
    *("comes out", "come out", "fizz", "appears", "goes off", "come from", "comes from"),
)
#: what takes an ion, said before its name
TAKES = ("taking", "takes", "took", "reacts with", "loses")
#: what is said of an ion that is not discharged
LEFT = (
    *("left over", "left", "stay", "made", "more", "increase", "behind", "still"),
    *("not discharged", "concentration increases", "outnumber", "higher", "greater", "dominate"),
    *("bigger", "larger", "outweigh", "not touched", "not used", "not react", "set free", "dumped"),
    *(
        "balance",
        "replace",
        *(
            "take over",
            "not leave",
            "exceed",
            "waiting",
            "without partner",
            "not go",
            "takes over",
            "takes its place",
        ),
        "ones that stay",
        "only one",
        "not lost",
        "unaffected",
        "not affected",
        "no partner",
    ),
)
#: the same said before its name
LEAVING = (
    *("leaving ..", "left ..", "staying ..", "making ..", "more ..", "increasing .."),
    *("lots of", "plenty of", "a lot of", "too many", "full of", "fills with", "only", "gain in"),
    *(
        "dumping",
        "dumps",
        "rest is",
        "number of .. greater",
        "setting free",
        "stays is",
        "left is",
        "richer in",
        "rich in",
    ),
)
#: no reason: a metal that is not there
METAL_REACTS = combine(
    ("potassium ..", "sodium .."),
    ("reacts with water", "react with water", "reacting with water", "reacted with water"),
)
#: how an ion begins a reason that names no other
BY_ITSELF = ("^", "^ so", "so", "because")
#: no reason: an ion that is not discharged
ACID_OF_ITS_ION = (
    *combine(BY_ITSELF, ("sulfate ions make sulfuric acid", "sulfate ions become sulfuric acid")),
    *combine(BY_ITSELF, ("nitrate ions make nitric acid", "nitrate ions become nitric acid")),
    *combine(("because sulfate ..",), ("make sulfuric acid", "become sulfuric acid")),
    *combine(("because nitrate ..",), ("make nitric acid", "become nitric acid")),
    *combine(("sulfate ions there",), ("make sulfuric acid",)),
    *combine(("nitric acid", "sulfuric acid"), ("in it", "in the solution already")),
    *combine(("contains", "made of", "made from"), ("nitric acid", "sulfuric acid")),
    *combine(("nitrate ions .. {anode} &", "nitrate .. {anode} &"), ("nitric acid",)),
    *combine(("sulfate ions .. {anode} &", "sulfate .. {anode} &"), ("sulfuric acid",)),
)


#: what may be discharged beside an ion of water
BESIDE = ("chloride", "bromide", "iodide", "copper", "silver")


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
                "decrease of",
                "disappearance of",
                "number decreases of",
                f"{noun} of",
                f"{change} ..",
                f"{change[:-1]}s ..",  # the electrode does
                f"{change[:-2]}ing ..",
                *TAKES,
            ),
            (f"{ion} ion",),
        ),
        *combine((f"{gas}",), (f".. {each}" for each in FORMS)),
        *combine(("make", "become", "as", "to", "into", "turns to"), (gas,)),
        *combine(("you",), (gas, f"get {gas}")),
        *combine(("products", "products ..", "product is"), (gas,)),
        f"{ion} ion but not {other_ion(ion)} ion discharged",
        *combine((f"{gas} is", gas), ("you", "forms", "the product", "a product")),
        *combine(("formation of", "production of", "release of", "not .. but"), (gas,)),
        *combine(("turns .. gas ..", "turn .. gas .."), (f"{ion} ion",)),
        *combine(
            ("water .. ",),
            (
                change,
                "split",
                "discharge",
                f"become {gas}",
                *(f"lose {part}" for part in (ion, f"its {ion}")),
                "gain" if gas == "hydrogen" else "lose",
            ),
        ),
        f"{noun} of water",
        *combine((f"{ion} ion",), ("eaten", "vanish", "destroyed", "go off")),
        *combine(
            ("ions discharged", "discharged ions"),
            (ion, *(f"{each} and {ion}" for each in BESIDE)),
        ),
    )


def other(change: str) -> str:
    """Return the change that is not this one."""
    return {"reduced": "oxidised", "oxidised": "reduced"}[change]


def _left(ion: str, name: str) -> tuple[str, ...]:
    """Return ways to say that an ion is left over."""
    return (
        *combine((f"{name} ..",), LEFT),
        *combine(LEAVING, (name,)),
        *combine(("higher", "greater", "bigger", "larger"), (name,)),
        f"not {name} discharged" if "ion" in name else f"not {name} ion discharged",
        *combine((f"{name} concentration",), ("is higher", "rises", "greater")),
        *combine((f"{ion} concentration",), ("increase", "higher", "rises", "greater")),
        *combine(("increase in", "increase of"), (name, f"{ion} concentration")),
        *combine(
            ("stays is .. ", "left is .. ", "remains is .. ", "stays are ..", "left are .."),
            (name,),
        ),
        *combine(
            ("increase of", "increase in", "higher"),
            (f"concentration of {name}", f"amount of {name}"),
        ),
        *combine((f"has no {other_ion(ion)} ion",), (".. balance",)),
    )


def other_ion(ion: str) -> str:
    """Return the other ion of water."""
    return {"hydrogen": "hydroxide", "hydroxide": "hydrogen"}[ion]


def _falls(name: str) -> tuple[str, ...]:
    """Return what says that there is less of an ion, which loses the mark for what is left."""
    return combine(
        (f"{name} concentration", f"concentration of {name}"), ("decrease", "fall", "drop")
    )


#: by the point of a mark
OF_RESIDUES = {
    "hydrogen ions discharged": Patterns(
        (
            *_discharged("hydrogen", "hydrogen", "reduced", "reduction"),
            "hydrogen and hydroxide",
            "electrons to hydrogen ion",
            *combine(("hydrogen",), ("plus hydroxide", "as well as hydroxide")),
            "water + electrons",
            "hydrogen ions + 2 electrons",
            "hydrogen ions + electrons",
        ),
        (
            *combine(("hydrogen ions",), ("are left", "stay")),
            "leaving hydrogen ions",
            "more hydrogen ions are made",
            "hydrogen ions lose electrons",
            *METAL_REACTS,
        ),
        ("hydrogen", "h+", "h^+"),
    ),
    "hydroxide ions left": Patterns(
        (
            *_left("hydroxide", "hydroxide"),
            *combine(
                combine(("hydrogen", "hydrogen gas"), ("and", "+", "plus", "as well as")),
                ("hydroxide", "2oh"),
            ),
            *combine(("only sodium ion and", "only potassium ion and"), ("hydroxide",)),
            *(
                "hydroxide ion + hydrogen",
                "becomes hydroxide",
                "not reduced hydroxide",
                "not take hydroxide",
            ),
            *combine(("hydroxide ion ..", "hydroxide"), ("not reduced", "not removed", "other")),
            *combine(("leaving", "leaving only", "leaves", "leaves only"), ("alkali",)),
            "sodium hydroxide",
            "potassium hydroxide",
        ),
        (
            *("hydroxide ions .. discharged", "hydroxide ions .. oxidised"),
            *combine(
                ("hydroxide ions", "hydroxide"),
                (
                    "go to the {cathode}",
                    "attracted to the {cathode}",
                    "move to the {cathode}",
                    "go there",
                    "gather at the {cathode}",
                ),
            ),
            *combine(("hydroxide ions",), ("make oxygen", "make gas", "become oxygen")),
            *_falls("hydroxide ion"),
            *_falls("hydroxide"),
            *METAL_REACTS,
        ),
        ("hydroxide", "alkali"),
    ),
    "hydroxide ions discharged": Patterns(
        (
            *_discharged("hydroxide", "oxygen", "oxidised", "oxidation"),
            *combine(("hydroxide ..",), ("discharge", "oxidised", "become", "lose", "make oxygen")),
            *combine(("loss of", "removal of", "oxidation of"), ("hydroxide",)),
            *combine(("electrons from", "electrons off", "electrons of"), ("hydroxide",)),
            *combine(("hydroxide ions",), ("their electrons taken", "- electron")),
            *combine(("oxidises", "discharge"), ("hydroxide",)),
            "{anode} & gain electron & hydroxide",
            "hydrogen ion and oxygen",
            "oxygen and hydrogen ion",
            "water - 4 electron",
            "oxygen + .. hydrogen ion",
            "oxygen + 4h",
        ),
        (
            *combine(("hydroxide ions",), ("are left", "stay", "gain electrons", "are reduced")),
            "leaving hydroxide ions",
        ),
        ("hydroxide", "oxygen", "oh-", "oh^-"),
    ),
    "hydrogen ions left": Patterns(
        (
            *_left("hydrogen", "hydrogen ion"),
            *combine(
                ("oxygen",),
                (
                    "and hydrogen ion",
                    "plus hydrogen ion",
                    ", hydrogen ion",
                    "as well as hydrogen ion",
                ),
            ),
            "oxygen + hydrogen ion",
            "oxygen + 4h",
            "sulfuric acid",
            "nitric acid",
            *combine(("hydrogen ion ..",), ("not reduced", "not removed")),
        ),
        (
            *("hydrogen ions .. discharged", "hydrogen ions .. reduced"),
            *combine(
                ("hydrogen ions",),
                (
                    "go to the {anode}",
                    "attracted to the {anode}",
                    "move to the {anode}",
                    "go there",
                    "gather at the {anode}",
                ),
            ),
            *combine(("silver ions", "copper ions", "nitrate", "sulfate"), ("make hydrogen ions",)),
            *combine(("hydrogen ions",), ("make hydrogen", "make gas", "become hydrogen")),
            *_falls("hydrogen ion"),
            *combine(("sulfate", "nitrate", "sulfate ions", "nitrate ions"), ("lose electrons",)),
            *combine(("nitric acid", "sulfuric acid"), ("goes to", "moves to")),
            *ACID_OF_ITS_ION,
        ),
        ("hydrogen", "h+", "h^+", "acid"),
    ),
}
