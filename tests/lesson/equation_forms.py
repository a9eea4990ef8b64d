"""Many ways of writing an equation, right ones and wrong ones, for the tests of both judges."""

from __future__ import annotations

import re
from itertools import product
from math import gcd

from fizzplate.chemistry import half_equation, overall
from fizzplate.lesson.equations.equation_tasks import half_task, net_of, overall_task

_UP = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
_DOWN = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_WIDE = str.maketrans("0123456789", "０１２３４５６７８９")


def tasks():
    """Give the tasks of the families that school chemistry knows, by name."""
    halves = {name: half_equation(name) for name in ("H2", "O2", "Cu", "Ag")}
    halves |= {name: half_equation(name, source=s) for name, s in (("Cl2", "Cl-"), ("I2", "I-"))}
    made = {
        name: half_task(equation, name, "anode" if equation.is_oxidation else "cathode")
        for name, equation in halves.items()
    }
    copper = half_equation("Cu2+", source="Cu")
    made["copper anode"] = half_task(copper, "Cu2+", "anode")
    made["brine"] = overall_task(halves["H2"], "H2", halves["Cl2"], "Cl2")
    made["copper sulfate"] = overall_task(halves["Cu"], "Cu", halves["O2"], "O2")
    return made


def _styled(species, style):
    if style == "plain" or species[-1] not in "+-":
        return species.translate(_DOWN) if style == "print" else species
    body = (
        species[:-1].rstrip("0123456789")
        if species[-2:-1].isdigit() and len(species) > 3
        else species[:-1]
    )
    charge = species[len(body) :]
    if style == "print":
        return body.translate(_DOWN) + charge.translate(_UP)
    return f"{body}^{charge}"


def _side(terms, style, order, times=1, plus=" + "):
    chosen = terms if order else terms[::-1]
    written = []
    for species, count in chosen:
        number = str(count * times) if count * times > 1 else ""
        if style == "wide":
            number = number.translate(_WIDE)
        written.append(number + _styled(species, "plain" if style == "wide" else style))
    return plus.join(written)


def written(
    net,
    *,
    times=1,
    styles=("plain", "print", "marked", "wide"),
    arrows=(" -> ", " → ", " = ", " --> ", " => ", "→"),
):
    """Yield an equation in many spellings; with the electrons taken away as well where they are lost."""
    left = [(s, -n) for s, n in net.items() if n < 0]
    right = [(s, n) for s, n in net.items() if n > 0]
    for style, arrow, order in product(styles, arrows, (True, False)):
        yield f"{_side(left, style, order, times)}{arrow}{_side(right, style, order, times)}"
    if net.get("e-", 0) > 0:
        rest = [(s, n) for s, n in right if s != "e-"]
        taken = net["e-"] * times
        for style, arrow in product(styles, arrows):
            electrons = f"{taken if taken > 1 else ''}e-"
            yield f"{_side(left, style, True, times)} - {electrons}{arrow}{_side(rest, style, True, times)}"


def accepted(task):
    """Give right answers of a task with the code that each should have."""
    for net in task.accepted:
        yield from ((text, "right") for text in written(dict(net)))
        for times in (2, 3, 5):
            yield from (
                (text, "multiple") for text in written(dict(net), times=times, styles=("plain",))
            )
        yield from ((text, "right") for text in in_fractions(dict(net)))
        for text in written(dict(net), styles=("plain",), arrows=(" > ", " ➝ ")):
            yield text, "right"
            yield f"{text.replace('e-', 'e')}.", "right"


def in_fractions(net):
    """Yield an equation divided by one of its numbers, with fractions as learners type them."""
    for below in {abs(n) for n in net.values() if 2 <= abs(n) <= 9}:
        for shown in ("{}/{}", "{}/{} ", "{}⁄{}"):
            sides = []
            for made in (False, True):
                terms = [(s, abs(n)) for s, n in net.items() if (n > 0) == made]
                sides.append(" + ".join(_number(n, below, shown) + s for s, n in terms))
            whole = " -> ".join(sides)
            yield whole
            yield from (re.sub(r"(?<![0-9])1/2(?![0-9])", half, whole) for half in ("½", "0.5"))


def _number(count, below, shown):
    if count % below:
        shared = gcd(count, below)
        return shown.format(count // shared, below // shared)
    return str(count // below) if count > below else ""


def refused(task):
    """Give wrong answers: every single coefficient changed, turned round, incomplete, or not an equation."""
    for net in task.accepted:
        for species in net:
            for by in (1, 2):
                wrong = dict(net) | {species: net[species] + (by if net[species] > 0 else -by)}
                yield from written(wrong, styles=("plain", "print"), arrows=(" -> ", " → "))
        yield from written(
            {s: -n for s, n in net.items()}, styles=("plain",), arrows=(" -> ", " → ")
        )
        yield from written(
            {s: n for s, n in net.items() if s != "e-"} | {"Na+": -1}, styles=("plain",)
        )
    yield from (
        "",
        "->",
        "2H+ + 2e-",
        "hello",
        "H+ -> ",
        "H+ -> H2 -> H2",
        "cu2+ + 2e- -> cu",
        "NaCl + 2e- -> Na+ + Cl-",
        "2nacl + 2h2o → 2NaOH + h2 + cl2 + H2O",
        "CuSO4 + H2O -> Cu + O2 + H2SO4",
        "Cu+2 + e to Cu",
        "Cu(2+) + Cu++ ⇌ 3Cu [+]",
        "4HO- gives O2",
        "2CI- -> CI2 + 2e-",
        "2\u0421l- → \u0421l2 + 2e-",
        "½Zz2(s) -> ½Cl2",
        "Cl- -> ½Cl2 + ½e-",
        "Ag+ + ½ e- > ½ Ag",
        "2e > Cu2+ + Xx₂.",
        "1/2 > 1/2",
        "/2Cl2 -> /",
        "Cl- -> 0/5Cl2",
        "e -> e",
        "...",
        "H⁺ ＞ H₂",
        "—2Zz — → \u200bCl2",
        "2CI-- -> \U0001d400 + 2e-",
        "<b>H2</b>",
    )


def check_nets():
    """Say whether both ways of making an overall equation agree."""
    brine = overall(half_equation("H2", source="H2O"), half_equation("Cl2", source="Cl-"))
    return net_of(brine)
