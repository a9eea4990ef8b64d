"""The classroom rule: what an examination expects at each electrode, step by step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry.formula import parse_formula
from fizzplate.chemistry.half_equations import half_equation
from fizzplate.chemistry.notation import pretty
from fizzplate.chemistry.substances import electrodes, observation_of, species_name, standard_test
from fizzplate.words import Sentence, Wording, choice, number, say

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from fizzplate.chemistry.equation import Equation
    from fizzplate.chemistry.substances import Material


@dataclass(frozen=True, slots=True)
class ElectrodeRule:
    """What the rule says of one electrode.

    Parameters
    ----------
    product
        Formula of the product.
    half_equation
        In the board's wording.
    reason
        The rule as one sentence.
    steps
        Sentences in the order in which a teacher gives them.
    observation
        What is expected to be seen.
    test
        Test and result.
    """

    product: str
    half_equation: Equation
    reason: str
    steps: tuple[str, ...]
    observation: str
    test: str


@dataclass(frozen=True, slots=True)
class Rule:
    """What the rule says of both electrodes."""

    cathode: ElectrodeRule
    anode: ElectrodeRule


def classroom_rule(
    ions_mol_dm3: Mapping[str, float],
    *,
    anode: str = "graphite",
    cathode: str = "graphite",
    molten: bool = False,
    wording: Wording | None = None,
    dilute_chloride_below_mol_dm3: float | None = None,
) -> Rule:
    """Apply the classroom rule to the ions of a solution.

    Cathode: the less reactive of the metal and hydrogen is discharged. Anode: an active metal
    dissolves; at an inert one a halide gives the halogen, otherwise oxygen forms.

    Parameters
    ----------
    ions_mol_dm3
        Concentration of each ion of the salts, mol/dm3.
    anode, cathode
        Materials of the electrodes.
    molten
        Whether it is a melt: there is no water, and so neither its ions nor hydrogen.
    wording
        The board's wording of half-equations.
    dilute_chloride_below_mol_dm3
        Concentration below which a chloride counts as giving oxygen; the wording's, if not given.

    Examples
    --------
    >>> rule = classroom_rule({"Cu2+": 0.5, "SO4^2-": 0.5})
    >>> rule.cathode.product, rule.anode.product
    ('Cu', 'O2')
    """
    choice("anode", anode, electrodes())
    choice("cathode", cathode, electrodes())
    if dilute_chloride_below_mol_dm3 is not None:
        number(
            "dilute_chloride_below_mol_dm3",
            dilute_chloride_below_mol_dm3,
            unit="mol/dm3",
            minimum=0,
        )
    chosen = wording_for(ions_mol_dm3, wording or Wording())
    if molten:
        chosen = replace(
            chosen, states=False
        )  # the tables know states in and round a solution only
    dilute_below = (
        chosen.dilute_below_mol_dm3
        if dilute_chloride_below_mol_dm3 is None
        else dilute_chloride_below_mol_dm3
    )
    return Rule(
        cathode=_cathode(ions_mol_dm3, chosen, molten=molten),
        anode=_anode(ions_mol_dm3, anode, chosen, dilute_below, molten=molten),
    )


def wording_for(ions: Iterable[str], wording: Wording) -> Wording:
    """Return a board's wording for a solution.

    A board that lets water react means neutral solutions: an acid gives hydrogen from its hydrogen ions, and
    an alkali gives oxygen from its hydroxide ions, with every board (common practice).

    Examples
    --------
    >>> board = Wording(oxygen_from="H2O", hydrogen_from="H2O")
    >>> wording_for(["H+", "Cl-"], board).hydrogen_from
    'H+'
    >>> wording_for(["Na+", "OH-"], board).oxygen_from
    'OH-'
    """
    if "H+" in ions:
        return replace(wording, hydrogen_from="H+")
    return replace(wording, oxygen_from="OH-") if "OH-" in ions else wording


def ion_list(ions: Iterable[str]) -> str:
    """Join ions as a sentence does, in printed form."""
    return join_words([pretty(ion) for ion in ions])


def join_words(parts: list[str]) -> str:
    """Join words as a sentence does.

    Examples
    --------
    >>> join_words(["zinc", "copper", "water"])
    'zinc, copper and water'
    """
    return " and ".join(filter(None, (", ".join(parts[:-1]), *parts[-1:])))


def _contents(ions: Mapping[str, float], *, molten: bool) -> str:
    """Say which ions there are, those of the water last."""
    if molten:
        return f"The melt contains {ion_list(ions)}, and no water."
    of_water = ion_list(ion for ion in ("H+", "OH-") if ion not in ions)
    return (
        f"The solution contains {ion_list(ions)}, and {of_water} from the water."
        if ions
        else f"The solution contains {of_water} from the water."
    )


def _travellers(ions: Mapping[str, float], sign: int, *, molten: bool) -> list[str]:
    own = [ion for ion in ions if parse_formula(ion).charge * sign > 0]
    if molten:
        return own
    from_water = "H+" if sign > 0 else "OH-"
    return [*own, *([] if from_water in own else [from_water])]


def competitors(travellers: Iterable[str], wording: Wording) -> tuple[str, ...]:
    """Return what competes at an electrode: water instead of its ions where the board lets water react.

    Examples
    --------
    >>> competitors(["SO4^2-", "OH-"], Wording(oxygen_from="H2O"))
    ('SO4^2-', 'H2O')
    """
    of_water = {"H+": wording.source_of("H2"), "OH-": wording.source_of("O2")}
    return tuple(of_water.get(ion, ion) for ion in travellers)


def _cathode(ions: Mapping[str, float], wording: Wording, *, molten: bool) -> ElectrodeRule:
    travellers = _travellers(ions, +1, molten=molten)
    place = {ion: data.find("reactivity", ion=ion) for ion in travellers}
    first = max(travellers, key=lambda ion: place[ion].value)
    element = place[first]["element"]
    others = [place[ion]["element"] for ion in travellers if ion != first]
    if first == "H+":
        product, source = "H2", wording.hydrogen_from
        outcome = Sentence("hydrogen forms from {hydrogen_source}")
    else:
        product = next(
            row["reduced"] for row in data.rows("potentials") if row["oxidised"] == first
        )
        source, outcome = first, Sentence("{element} ions are discharged", {"element": element})
    reason = (
        "{Element} is less reactive than {others}, so {outcome}."
        if others
        else "Only {element} ions come to {the_cathode}, so {element} forms."
    )
    return _electrode(
        "cathode",
        say(reason, wording, element=element, others=" and ".join(others), outcome=outcome),
        product,
        _half_equation(product, source, wording),
        travellers,
        _contents(ions, molten=molten),
        wording,
    )


def _anode(
    ions: Mapping[str, float],
    material: str,
    wording: Wording,
    dilute_below: float,
    *,
    molten: bool,
) -> ElectrodeRule:
    travellers = _travellers(ions, -1, molten=molten)
    reason, source, product = _at_anode(
        ions, travellers, electrodes()[material], wording, dilute_below, molten=molten
    )
    return _electrode(
        "anode",
        reason,
        product,
        _half_equation(product, source, wording),
        travellers,
        _contents(ions, molten=molten),
        wording,
    )


def _at_anode(
    ions: Mapping[str, float],
    travellers: list[str],
    metal: Material,
    wording: Wording,
    dilute_below: float,
    *,
    molten: bool,
) -> tuple[str, str, str]:
    """Return the reason, what loses electrons, and what forms."""
    if metal.active:
        reason = "{The_anode} is made of an active metal, {metal}: it dissolves, and no ion is discharged."
        return say(reason, wording, metal=metal.name), metal.formula, metal.dissolves_as
    order = {row["ion"]: row for row in data.rows("halogens")}
    halides = [
        ion
        for ion in travellers
        if ion in order and not (ion == "Cl-" and ions.get(ion, 0.0) < dilute_below)
    ]
    if halides:
        first = min(halides, key=lambda ion: order[ion].value)
        reason = (
            "Only {halide} ions come to {the_anode}, so {halogen} forms."
            if molten
            else "A halide is present, so {halogen} forms rather than oxygen."
        )
        product = order[first]["product"]
        halogen = species_name(product)
        return say(reason, wording, halide=species_name(first), halogen=halogen), first, product
    if molten:
        return say("Only oxide ions come to {the_anode}, so oxygen forms.", wording), "O2-", "O2"
    reason = (
        "The chloride is dilute, so oxygen forms from {oxygen_source}."
        if "Cl-" in travellers
        else "No halide is present, so oxygen forms from {oxygen_source}."
    )
    return say(reason, wording), wording.source_of("O2"), "O2"


def _half_equation(product: str, source: str, wording: Wording) -> Equation:
    return half_equation(product, source=source, electrons=wording.electrons, states=wording.states)


def _electrode(
    role: str,
    reason: str,
    product: str,
    equation: Equation,
    travellers: list[str],
    contents: str,
    wording: Wording,
) -> ElectrodeRule:
    present = [
        "water" if each == "H2O" else pretty(each) for each in competitors(travellers, wording)
    ]
    steps = (
        contents,
        "The {sign} ions, {ions}, drift to {electrode}.",
        "{present} compete there." if len(present) > 1 else "Only {present} is there.",
        reason,
        "{Product} forms."
        if parse_formula(product).charge == 0
        else "{ion} goes into the solution.",
        "The half-equation is {equation}.",
    )
    slots = {
        "sign": "positive" if role == "cathode" else "negative",
        "ions": ion_list(travellers),
        "electrode": say("{the_electrode}", wording, role=role),
        "present": join_words(present),
        "product": species_name(product),
        "ion": pretty(product),
        "equation": equation.pretty(),
    }
    return ElectrodeRule(
        product,
        equation,
        reason,
        tuple(say(step, wording, **slots) for step in steps),
        observation_of(product),
        str(standard_test(product)),
    )
