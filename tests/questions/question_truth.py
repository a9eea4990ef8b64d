"""Work the right answer out once more from the words of a question, and hold every option against it.

Nothing here looks at how a question was made: solutions, potentials and numbers are read from its text.
"""

from __future__ import annotations

import re
from dataclasses import replace

import periodictable
from plain_spaces import with_plain_spaces  # beside this file

from fizzplate import data
from fizzplate.cell import Cell
from fizzplate.chemistry import electrodes, melts, parse_formula, pretty, solutions, species_name
from fizzplate.chemistry.substances.product_tests import observation_of
from fizzplate.lesson.classroom.predictions import choice_of
from fizzplate.lesson.equations.equation_judge import judge
from fizzplate.lesson.measure.causes_of_error import GAIN, GAS, LOSS, possible_causes

FARADAY_C_MOL = 96485.33
NAMES = {each.name.lower(): formula for formula, each in (*solutions().items(), *melts().items())}
BY_LENGTH = sorted(NAMES, key=len, reverse=True)
#: electrons for one particle of a product, counted by hand
ELECTRONS = {"H2": 2, "O2": 4, "Cl2": 2, "Br2": 2, "I2": 2, "Cu": 2, "Ag": 1}


def plain(text):
    """Name the electrodes in one way."""
    return text.replace("positive electrode", "anode").replace("negative electrode", "cathode")


def formula_in(text):
    """The substance that a text names, the longest name first."""
    lower = text.lower()
    return next(NAMES[name] for name in BY_LENGTH if name in lower)


def formulae_in(text):
    lower, found = text.lower(), []
    for name in BY_LENGTH:
        if name in lower:
            found.append(NAMES[name])
            lower = lower.replace(name, " ")
    return found


def material_in(text):
    found = re.search(r"\b(copper|silver|zinc|nickel) (?:electrodes|rods)", text)
    return found[1] if found else "graphite"


def cell_in(text):
    formula = formula_in(text)
    if formula in melts():
        return Cell(formula)
    material = material_in(text)
    return Cell(formula, concentration_mol_dm3=0.5, anode=material, cathode=material)


def rule_in(text, wording):
    """What the rule says of the cell in a text; a solution that is not called dilute is none.

    In an acid hydrogen ions are plentiful, and in an alkali hydroxide ions: they react with every board.
    """
    if "acid" in text.lower():
        wording = replace(wording, hydrogen_from="H+")
    if "hydroxide solution" in text.lower():
        wording = replace(wording, oxygen_from="OH-")
    return cell_in(text).rule(wording, dilute_chloride_below_mol_dm3=0.0)


def flagged(question, is_right):
    """Say which options are not as the model has them."""
    return [
        f"calls {option.text!r} {'right' if option.right else 'wrong'} in {question.text!r}"
        for option in question.options
        if is_right(plain(option.text)) != option.right
    ]


def _role(question):
    text = plain(question.text)
    return "cathode" if text.rfind("cathode") > text.rfind("anode") else "anode"


def product(question, wording):
    role = _role(question)
    right = choice_of(getattr(rule_in(question.text, wording), role).product, "graphite")
    return flagged(question, lambda text: text == right)


def _pair(text, wording):
    rule = rule_in(text, wording)
    dissolves = electrodes()[material_in(text)].active
    return species_name(rule.cathode.product), "" if dissolves else species_name(rule.anode.product)


def which_cell(question, wording):
    text = plain(question.text)
    metal = re.search(r"does (\w+) form at the cathode", text)[1]
    gas = re.search(r"while (\w+) forms at the anode", text)
    wanted = metal, gas[1] if gas else ""
    return flagged(question, lambda option: _pair(option, wording) == wanted)


def active_anode(question, wording):
    metal = material_in(question.text)
    assert rule_in(question.text, wording).anode.product == electrodes()[metal].dissolves_as
    right = f"the {metal} of the anode dissolves and forms ions"
    return flagged(question, lambda text: text == right)


def melt(question, wording):
    rule = rule_in(question.text, wording)
    metal, other = (species_name(each.product) for each in (rule.cathode, rule.anode))
    return flagged(question, lambda text: text == f"{metal} at the cathode, {other} at the anode")


def molten_or_dissolved(question, wording):
    formula = formula_in(question.text).removesuffix("(l)")
    metal = species_name(Cell(f"{formula}(l)").rule().cathode.product)
    gas = species_name(Cell(formula).rule().cathode.product)
    return flagged(question, lambda text: text == f"{metal} when molten, {gas} when dissolved")


def mixture(question, wording):
    first, second = formulae_in(question.text.split(".")[0])
    rule = Cell({first: 0.4, second: 0.4}).rule(wording, dilute_chloride_below_mol_dm3=0.0)
    right = species_name(getattr(rule, _role(question)).product)
    return flagged(question, lambda text: text == right)


def ions_present(question, wording):
    formula = formula_in(question.text)
    molten = formula in melts()
    ions = set((melts() if molten else solutions())[formula].ions)
    ions |= set() if molten else {"H+", "OH-"}
    right = {pretty(ion) for ion in ions}
    return flagged(question, lambda text: set(text.split(", ")) == right)


def which_way(question, wording):
    names = {pretty(row["species"]): row["species"] for row in data.rows("species")}
    shown = [ion for ion in names if re.search(rf"(?<!\S){re.escape(ion)}(?!\S)", question.text)]
    if shown:
        ion = names[shown[0]]
    else:
        lower = question.text.lower()
        words = {
            f"{species_name(s)} ions".lower(): s for s in names.values() if parse_formula(s).charge
        }
        ion = next(words[word] for word in sorted(words, key=len, reverse=True) if word in lower)
    role = "cathode" if parse_formula(ion).charge > 0 else "anode"
    return flagged(question, lambda text: text == f"to the {role}")


def oxidised(question, wording):
    rule = rule_in(question.text, wording)
    role = "anode" if "is oxidised" in question.text else "cathode"
    equation = getattr(rule, role).half_equation
    used = next(s for _, s in equation.reactants if s != "e-")
    name = species_name(used) + (" ions" if parse_formula(used).charge else "")
    return flagged(question, lambda text: text == f"{name}, at the {role}")


def same_electrons(question, wording):
    rule = rule_in(question.text, wording)
    given = int(re.search(r"while (\d+) ", question.text)[1])
    count = given * ELECTRONS[rule.cathode.product] / ELECTRONS[rule.anode.product]
    return flagged(question, lambda text: text.startswith(f"{count:.0f} "))


def lamp(question, wording):
    reading = re.search(r"reads (\d\.\d\d) A", question.text)[1]
    return flagged(question, lambda text: text.startswith(f"{reading} A,"))


def test_result(question, wording):
    gas = getattr(rule_in(question.text, wording), _role(question)).product
    test = next(
        name
        for name in ("lighted splint", "glowing splint", "damp blue litmus")
        if name in question.text
    )
    right = data.find("gas_tests", test=test, gas=gas).text
    return flagged(question, lambda text: text == right)


def _left(rule, ions):
    """What becomes of the whole, from the products alone: an ion that water gave is left or is not."""
    hydrogen, oxygen = rule.cathode.product == "H2", rule.anode.product == "O2"
    if {"H+", "OH-"} & set(ions):
        return "acid" if "H+" in ions else "alkaline"
    if hydrogen == oxygen:
        return "neutral"
    return "alkaline" if hydrogen else "acid"


def identify(question, wording):
    text = plain(question.text)

    def fits(option):
        rule = rule_in(option, wording)
        seen = (
            f"At the cathode: {observation_of(rule.cathode.product)}." in text
            and f"At the anode: {observation_of(rule.anode.product)}." in text
        )
        left = re.search(r"once mixed, is (\w+)\.", text)
        return seen and (not left or left[1] == _left(rule, cell_in(option).ions_mol_dm3))

    return flagged(question, fits)


def what_is_left(question, wording):
    rule, ions = rule_in(question.text, wording), cell_in(question.text).ions_mol_dm3
    hydrogen, oxygen = rule.cathode.product == "H2", rule.anode.product == "O2"
    if hydrogen and oxygen:
        right = "becomes more concentrated"
    elif hydrogen == oxygen or {"H+", "OH-"} & set(ions):
        right = "becomes more dilute"
    else:
        right = "turns alkaline" if hydrogen else "turns acid"
    return flagged(question, lambda text: right in text)


def unfamiliar(question, wording):
    given = {
        name: float(volts.replace("−", "-"))
        for name, volts in re.findall(r"(\S+/\S+) ([+−]?\d\.\d\d) V", question.text)
    }
    assert len(given) == 3
    at_anode = _role(question) == "anode"
    best = (min if at_anode else max)(given, key=lambda name: given[name])
    made = best.split("/")[0 if at_anode else 1]
    found = next(row["species"] for row in data.rows("species") if pretty(row["species"]) == made)
    return flagged(question, lambda text: text == species_name(found))


def least_voltage(question, wording):
    volts = [float(v.replace("−", "-")) for v in re.findall(r"([+−]\d\.\d\d) V", question.text)]
    assert len(volts) == 2
    return _differs(question, max(volts) - min(volts), 1e-6)


def _differs(question, value, tolerance):
    given = question.parts[0].value
    return (
        [] if abs(given - value) <= tolerance * abs(value) else [f"asks for {given}, not {value}"]
    )


def _at(line, minutes):
    """A value of a line between its points."""
    for x, y, after_x, after_y in zip(line.x, line.y, line.x[1:], line.y[1:], strict=False):
        if x <= minutes <= after_x:
            return y + (after_y - y) * (minutes - x) / (after_x - x)
    raise AssertionError(f"{minutes} min is not on the chart")


def read_chart(question, wording):
    words = ("copper", "silver", "zinc", "hydrogen", "oxygen", "chlorine", "charge")
    asked = question.text.partition(". ")[2]  # the first sentence tells of the run
    what = next(word for word in words if word in asked)
    line = next(line for line in question.chart.lines if line.name.startswith(what))
    minutes = re.search(r"(\d+) minutes", question.text)
    if minutes:
        return _differs(question, _at(line, float(minutes[1])), 1e-6)
    level = float(re.search(r"(?:had|was|were|could) ([\d.]+) ", question.text)[1])
    return [] if abs(_at(line, question.parts[0].value) - level) < 0.006 * level else ["misreads"]


def ratio_from_chart(question, wording):
    minutes = float(re.search(r"at (\d+) minutes", question.text)[1])
    lines = {line.name.split()[0]: line for line in question.chart.lines}
    hydrogen, oxygen = (_at(lines[name], minutes) for name in ("hydrogen", "oxygen"))
    return _differs(question, hydrogen / oxygen, 1e-6)


def current_from_chart(question, wording):
    (line,) = question.chart.lines
    minutes = re.search(r"mass at (\d+) minutes", question.text)
    if not minutes:
        return _differs(question, line.y[-1] / (60 * line.x[-1]), 1e-6)
    metal = "Cu" if "copper" in line.name else "Ag"
    molar = periodictable.elements.symbol(metal).mass
    time_s = 60 * float(minutes[1])
    charge = _at(line, float(minutes[1])) / 1e3 / molar * ELECTRONS[metal] * FARADAY_C_MOL
    return _differs(question, charge / time_s, 2e-3)


def hydrogen_begins(question, wording):
    (line,) = question.chart.lines
    if line.name.startswith("hydrogen"):
        begun = question.parts[0].value
        early, late = _at(line, begun), _at(line, begun + 6)
        return [] if early < 0.03 and late > 0.04 else [f"{early} cm³ by {begun} min, then {late}"]
    volume, minutes = (
        float(re.search(pattern, question.text)[1])
        for pattern in (r"(\d+) cm³", r"(\d+)\s+minutes")
    )
    strength = float(re.search(r"([\d.]+) mol/dm³", question.chart.title)[1])
    gone = _at(line, minutes) / 1e3 / periodictable.Cu.mass
    return _differs(question, 100 * (1 - gone / (strength * volume / 1e3)), 2e-3)


def which_line(question, wording):
    lines = {line.name: line.y[-1] for line in question.chart.lines}
    highest, lowest = (f(lines, key=lambda name: lines[name]) for f in (max, min))
    right = lowest if "is oxygen?" in question.text else highest
    return flagged(
        question,
        lambda text: (
            text.startswith(f"line {right},")
            and any(why in text for why in ("two volumes of hydrogen", "is deposited", "more ions"))
        ),
    )


def planted(question, wording):
    """A half-equation that is to be corrected must not be right as it stands, in no part of it."""
    shown = re.search(r"(?:writes|has|gives) (.*→.*?) as the half-equation", question.text)[1]
    code, earned = judge(shown, question.task).code, question.mark(shown).earned
    return [] if code != "unread" and not earned else [f"plants {shown}: {code}, {earned} marks"]


def gapped(question, wording):
    """A half-equation with gaps holds nothing that the right one does not."""
    shown = question.text.split(": ")[-1].rstrip(".").replace("__ ", "")
    bare = {re.sub(r"^\d+", "", term) for term in re.split(r" [+−→] ", shown)}
    right = re.sub(r"\((?:aq|s|l|g)\)", "", question.answer)
    terms = {re.sub(r"^\d+", "", term) for term in re.split(r" [+−→] ", right)}
    missing = terms - bare
    return [] if bare <= terms and missing == {"e⁻"} else [f"shows {shown} for {question.answer}"]


def wires_swapped(question, wording):
    rule = rule_in(question.text, wording)
    gained, lost = (species_name(each.product) for each in (rule.cathode, rule.anode))
    if rule.cathode.product == "Cu":
        right = "the copper on rod A dissolves, and copper is deposited on rod B"
    else:
        right = f"{gained} forms at rod B, and {lost} at rod A"
    return flagged(question, lambda text: text == right)


def indicator(question, wording):
    rule = rule_in(question.text, wording)
    assert rule.cathode.product == "H2"
    acid = {"O2": "red", "Cl2": "red and then bleached"}[rule.anode.product]
    return flagged(
        question, lambda text: text == f"purple round the cathode, {acid} round the anode"
    )


def one_ion(question, wording):
    names = {pretty(row["species"]): row["species"] for row in data.rows("species")}
    charge = parse_formula(names[re.search(r"each (\S+) ion", question.text)[1]]).charge
    count = ("no", "one electron", "two electrons", "three electrons")[abs(charge)]
    right = (
        f"it gains {count}: it is reduced" if charge > 0 else f"it loses {count}: it is oxidised"
    )
    return flagged(question, lambda text: text == right)


def times_the_mass(question, wording):
    times = "twice" if "double" in question.text else "three times"
    right = {f"the same current for {times} as long", f"{times} the current for the same time"}
    return flagged(question, lambda text: text in right)


def possible_cause(question, wording):
    """A cause is possible if it moves nothing the other way, nor what agrees with theory."""
    text = plain(question.text)
    pairs = {
        GAIN: (r"change by (\d+) mg", r"gained (\d+) mg"),
        LOSS: (r"change by (\d+) mg", r"lost (\d+) mg"),
        GAS: (r"theory ([\d.]+) cm³", r"collects ([\d.]+) cm³"),
    }
    moved = {}
    for what, patterns in pairs.items():
        found = [re.search(pattern, text) for pattern in patterns]
        if all(found):
            expected, measured = (float(each[1]) for each in found)
            error = 3.0 if what != GAS else 0.03 * expected
            off = measured - expected
            moved[what] = 0 if abs(off) <= 2 * error else 1 if off > 0 else -1

    def fits(option):
        moves = next(
            (c.directions for c in possible_causes() if plain(c.sentence_in()) == option), {}
        )
        ways = [(moved[what], way) for what, way in moves.items() if what in moved]
        return bool(ways) and all(seen == way for seen, way in ways)

    return flagged(question, fits)


TRUE_BY = {
    "wires swapped": wires_swapped,
    "indicator": indicator,
    "one ion": one_ion,
    "double the mass": times_the_mass,
    "possible cause": possible_cause,
    "product at the cathode": product,
    "product at the anode": product,
    "which cell": which_cell,
    "active anode": active_anode,
    "melt": melt,
    "molten or dissolved": molten_or_dissolved,
    "mixture": mixture,
    "ions present": ions_present,
    "which way": which_way,
    "oxidised or reduced": oxidised,
    "the same electrons": same_electrons,
    "lamp and ammeters": lamp,
    "test result": test_result,
    "identify the solution": identify,
    "what is left": what_is_left,
    "unfamiliar data": unfamiliar,
    "least voltage": least_voltage,
    "read a chart": read_chart,
    "ratio from a chart": ratio_from_chart,
    "current from a chart": current_from_chart,
    "hydrogen begins": hydrogen_begins,
    "which line": which_line,
    "correct a half-equation": planted,
    "complete a half-equation": gapped,
}


def untruths(question, wording):
    """What the model has otherwise."""
    check = TRUE_BY.get(question.maker)
    return check(with_plain_spaces(question), wording) if check else []
