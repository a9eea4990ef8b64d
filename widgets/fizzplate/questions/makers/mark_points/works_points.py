"""What earns the marks of a question about works, in a learner's own words: brine, pure copper, aluminium."""

from __future__ import annotations

from dataclasses import replace

from fizzplate.questions.content import Point
from fizzplate.questions.makers.mark_points.spellings import combine

#: impurities of copper that do not dissolve with it
NOBLE = ("silver", "gold", "platinum")


def hydroxide_stays(left: Point) -> Point:
    """Return what earns the mark for the alkali: not its name, which the question gives."""
    sodium_meets = combine(
        ("sodium ion ..", "these ..", "sodium"),
        ("react with .. hydroxide", "+ hydroxide"),
    )
    # bare "hydroxide" may be the end of the name: only where it begins what is said
    own = [each for each in left.words if not each.endswith("um hydroxide")]
    begun = combine(
        ("^", "and", "leaving", ","),
        (each for each in own if each.startswith("hydroxide") and "ion" not in each),
    )
    named = (each.replace("hydroxide ..", "hydroxide ion ..") for each in own)
    alone = (*(f"{each} ion" if each.endswith(".. hydroxide") else each for each in named), *begun)
    return replace(
        left,
        words=(
            *alone,
            *sodium_meets,
            *combine(("react with", "join", "and"), ("hydroxide ion .. sodium",)),
            *combine(("react with", "leaving", "made", "makes", "more", "extra"), ("hydroxide",)),
            *combine(
                ("hydroxide ..",),
                ("react with sodium", "joined by sodium", "make sodium hydroxide"),
            ),
            *combine(
                ("sodium ion and",),
                ("hydroxide ion .. make", "hydroxide ion make", "hydroxide make"),
            ),
            "joined by sodium",
        ),
    )


def sodium_crosses() -> Point:
    """Return what earns the mark for the membrane."""
    crossing = (
        *("through", "cross", "pass", "membrane", "move", "drift", "across", "come over"),
        *("{cathode} side", "{cathode} compartment", "side", "other half", "enter", "reach"),
    )
    return Point(
        "sodium ions come through the membrane",
        (
            *combine(("sodium ion ..", "positive ion ..", "cation .."), crossing),
            *combine(("membrane ..",), ("sodium ion", "cation", "positive ion", "sodium through")),
            *combine(("let", "lets", "allow", "allows"), ("sodium ion", "cation", "positive ion")),
        ),
        (
            *("sodium ion .. discharged", "sodium atoms .. membrane"),
            *combine(
                (
                    "keeps",
                    "keeps back",
                    "keeps out",
                    "hold",
                    "hold back",
                    "stops",
                    "blocks",
                    "prevents",
                ),
                ("sodium ion", "positive ion", "cation"),
            ),
            *combine(("sodium ion",), ("blocked", "stopped", "kept back", "held back")),
        ),
        ("sodium", "membrane"),
    )


def bleach_forms() -> Point:
    """Return what earns the mark for chlorine with alkali."""
    alkali = ("hydroxide", "alkali", "sodium hydroxide", "caustic", "the alkali")
    return Point(
        "chlorine reacts with the hydroxide (alkali), which gives bleach",
        (
            *combine(("chlorine .. react ..", "chlorine reacts with"), alkali),
            *combine(("hydroxide .. react ..", "alkali .. react .."), ("chlorine",)),
            *combine(("react ..", "reacts with"), alkali),
            *combine(("hydroxide ..", "alkali ..", "caustic soda .."), ("react", "used up by")),
            *("bleach", "chlorate", "hypochlorite", "clo-", "clo^-", "naclo", "naocl"),
        ),
        ("bleaches hydrogen",),
        ("react", "chlorine", "impure"),
    )


def gases_explode() -> Point:
    """Return what earns the mark for chlorine with hydrogen."""
    hydrogen = ("hydrogen", "h2")
    return Point(
        "chlorine and hydrogen may explode (form hydrogen chloride)",
        (
            *("explo", "hydrogen chloride", "hcl", "hydrochloric", "react violently"),
            *combine(("chlorine .. react ..", "chlorine reacts with"), hydrogen),
            *combine(("hydrogen ..", "hydrogen and chlorine"), ("react", "combine", "bang")),
            *combine(("reacts with", "burn with", "ignite with", "reaction with"), hydrogen),
            *combine(
                ("hydrogen and chlorine", "chlorine and hydrogen"), ("burn", "would burn", "ignite")
            ),
            *combine(("ignite ..", "violent .. with", "burn .. with"), hydrogen),
        ),
        (),
        ("dangerous", "react", "mix"),
    )


def copper_dissolves() -> Point:
    """Return what earns the mark for the impure copper."""
    return Point(
        "at {the_anode} copper atoms lose electrons (copper dissolves)",
        (
            *combine(
                ("copper ..", "{anode} ..", "atom .."), ("dissolve", "lose", "oxidised", "ionis")
            ),
            *combine(
                ("copper ..", "{anode}", "it", "goes"),
                (
                    "into solution",
                    "into the solution",
                    "enters the solution",
                    "goes in as",
                    "in as ions",
                ),
            ),
            *combine(
                ("copper - electron ..",), ("copper ion", "becomes copper ion", "= copper ion")
            ),
            *combine(
                ("copper ions",), ("leave the {anode}", "leave .. {anode}", "come from", "come off")
            ),
            *combine(("{anode}", "one"), ("makes copper ions", "makes ions")),
            *combine(("copper leaves",), ("as ion", "as copper ion", "the impure", "the dirty")),
            *combine(("off as", "away as", "in as", "out as", "leaves as"), ("ion", "copper ion")),
            *combine(("copper .. become", "copper .. make"), ("copper ion", "ion")),
            "oxidation of copper",
            "lose electron",
            *combine(
                ("copper ..",), ("into solution", "into the solution", "come off", "comes off")
            ),
            *combine(("copper .. leave",), ("{anode}", "the {anode}")),
            "copper becomes copper ion + electron",
        ),
        (
            *(
                "copper ions dissolve",
                "copper ions lose",
                "atoms gain electrons",
                "{cathode} loses",
            ),
            "dissolves at the {cathode}",
        ),
        ("dissolve", "smaller", "lighter"),
    )


def copper_deposited() -> Point:
    """Return what earns the mark for the pure copper."""
    return Point(
        "at {the_cathode} copper ions gain electrons (copper is deposited)",
        (
            *combine(("copper ..", "ion ..", "{cathode} .."), ("gain", "deposit", "reduced")),
            *combine(
                ("copper ..", "ion ..", "they .."),
                ("plate", "stick", "coat", "settle", "land", "attach", "discharge", "precipitate"),
            ),
            *combine(
                ("these ..", "they ..", "it .."),
                ("reduced", "deposit", "gain", "back to", "back into"),
            ),
            *combine(("{cathode} ..", "pure copper .."), ("copper forms", "copper increase")),
            *combine(
                ("other side", "other one", "other electrode"),
                ("copper forms", "copper collects", "copper appears"),
            ),
            *combine(("sticks", "stuck", "settles"), ("on", "to the {cathode}")),
            *combine(("become",), ("pure copper", "copper at", "copper and")),
            *("gain them", "gain .. back"),
            *("plates clean", "plates the pure", "and plates", "plates onto", "supply electron"),
            *combine(
                ("{cathode} ..",), ("bigger .. copper", "thicker .. copper", "grows .. copper")
            ),
            *combine(("{cathode} ..",), ("copper collects", "copper appears", "copper comes out")),
            *combine(("pure copper",), ("forms", "collects", "increase", "appears", "grows")),
            *combine(
                ("copper makes", "copper appears", "make", "appears"), ("on", "on the {cathode}")
            ),
            *combine(("plated", "coated", "covered"), ("with copper", "in copper")),
            *combine(("back to", "back into"), ("copper", "metal", "atoms", "solid")),
            *combine(
                ("become", "becomes"),
                ("copper atom", "copper on", "copper metal", "metal", "atoms"),
            ),
            *("electrons to copper", "electrons back", "reduced onto"),
            *combine(("added", "transferred"), ("to the {cathode}", "to the pure", "onto")),
            "gain electron",
            *combine(("reverse", "opposite"), ("at the {cathode}", ".. {cathode}")),
            *combine((",", "and", "then"), ("plated on", "deposited on")),
            *combine(("discharged at",), ("the {cathode}", ".. {cathode}")),
            *combine(("then", "and"), ("onto the {cathode}", "onto {cathode}")),
            "reduction of copper",
            *combine(
                ("copper ..", "go", "goes", "added"),
                ("onto", "on to", "on the {cathode}", "on {cathode}"),
            ),
            *("copper ion .. become copper", "ions .. become copper"),
            *combine(("copper ion + electron becomes",), ("copper",)),
        ),
        (
            *("copper ions lose", "gains oxygen", "{anode} gains", "{anode} copper ions gain"),
            *combine(NOBLE, ("gains", "ions gain")),
            *combine(
                ("deposited", "deposits", "plated", "copper forms"),
                ("on the {anode}", "at the {anode}"),
            ),
        ),
        ("thicker", "heavier", "bigger"),
    )


def sludge_falls(metal: str) -> Point:
    """Return what earns the mark for an impurity."""
    falls = (
        *("fall", "sink", "drop", "sludge", "bottom", "not dissolve", "solid", "left"),
        *("settle", "below", "beneath", "underneath", "not react", "not oxidised", "residue"),
        *(
            "mud",
            "floor",
            "under ",
            "under the",
            "undissolved",
            "stay as",
            "stays as",
            "not become",
        ),
        *("drops off", "not reactive", "less active", "not make ions", "not ionis", "not change"),
    )
    return Point(
        f"{metal} falls to the bottom as sludge (does not dissolve)",
        (
            *combine((f"{metal} ..", "it ..", "impurit", "impurity .."), falls),
            *("sludge", "slime", "{anode} mud"),
            *combine(("to", "at", "on"), ("the bottom",)),
        ),
        (
            *(f"{metal} .. deposited", f"{metal} dissolves", f"{metal} ions dissolve"),
            *combine(
                (f"{metal}",), ("too", "also plated", ".. is plated", "goes to the {cathode}")
            ),
        ),
        (metal,),
    )


def oxygen_forms() -> Point:
    """Return what earns the mark for oxygen at hot carbon."""
    return Point(
        "oxygen forms at {the_anode}",
        (
            *combine(
                ("oxygen ..",),
                (
                    *("make", "discharge", "come", "{anode}", "react", "burn", "appear", "bubble"),
                    *("product", "attack", "given", "electrode"),
                ),
            ),
            *combine(
                ("oxygen from", "oxygen of", "oxygen in"),
                ("alumin", "oxide", "the oxide", "the alumin"),
            ),
            *combine(("make", "becomes", "to"), ("oxygen",)),
            "oxide ion .. lose",
            "oxide ion .. discharge",
            "oxide ion .. oxidised",
        ),
        (
            *("oxygen from the air", "oxygen in the air", "oxygen of the air"),
            *("oxide ions gain", "oxygen is reduced"),
        ),
        ("oxygen",),
    )


def carbon_burns(*, named: bool) -> Point:
    """Return what earns the mark for what becomes of the carbon: more than the gas, where that is named."""
    return Point(
        "it reacts with the carbon and makes carbon dioxide (the carbon burns)",
        (
            *combine(("react ..", "reacts with", "burn .."), ("carbon", "graphite", "{anode}")),
            *combine(
                ("carbon ..", "graphite ..", "{anode} ..", "they .."), ("burn", "oxidised", "react")
            ),
            *("two of them react", "two react"),
            *("carbon + oxygen", "c + oxygen", "carbon and oxygen combine"),
            *combine(
                (
                    "oxygen attacks",
                    "oxygen eats",
                    "oxygen burns",
                    "oxygen oxidises",
                    "oxygen takes",
                ),
                (
                    "carbon",
                    "the carbon",
                    "graphite",
                    "the graphite",
                    "them",
                    "the {anode}",
                    "some carbon",
                ),
            ),
            *combine(("burn in", "burns in", "burning in"), ("oxygen", "the oxygen")),
            *combine(
                ("carbon", "graphite", "they", "{anode}"), ("catches fire", "is consumed by oxygen")
            ),
            *combine(
                ("grabs", "grabs some", "oxidises", "burns", "reacts with"),
                ("carbon", "the carbon", "the graphite", "it", "them"),
            ),
            *(() if named else ("carbon dioxide", "carbon monoxide")),
        ),
        (
            *("carbon dissolves", "carbon melts", "carbon ions", "with the air"),
            *combine(("reacts with",), ("aluminium", "the aluminium", "air", "electrolyte")),
        ),
        ("wear", "used up", "smaller"),
    )
