"""The classroom rule: what an examination expects at each electrode, step by step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate import data
from fizzplate.chemistry.formula import parse_formula
from fizzplate.chemistry.half_equations import half_equation
from fizzplate.chemistry.materials import electrodes
from fizzplate.chemistry.notation import pretty
from fizzplate.chemistry.product_tests import observation_of, usual_test
from fizzplate.chemistry.species import species_name
from fizzplate.words.refusals import choice, number
from fizzplate.words.say import begin, say
from fizzplate.words.wording import Wording

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from fizzplate.chemistry.equation import Equation


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
            at_least=0,
        )
    chosen = with_what_is_plentiful(ions_mol_dm3, wording or Wording())
    dilute_below = (
        chosen.dilute_below_mol_dm3
        if dilute_chloride_below_mol_dm3 is None
        else dilute_chloride_below_mol_dm3
    )
    return Rule(
        cathode=_cathode(ions_mol_dm3, chosen, molten=molten),
        anode=_anode(ions_mol_dm3, anode, chosen, dilute_below, molten=molten),
    )


def with_what_is_plentiful(ions: Iterable[str], wording: Wording) -> Wording:
    """Return a board's wording for a solution.

    A board that lets water react means neutral solutions: an acid gives hydrogen from its hydrogen ions, and
    an alkali gives oxygen from its hydroxide ions, with every board (common practice).

    Examples
    --------
    >>> board = Wording(oxygen_from="H2O", hydrogen_from="H2O")
    >>> with_what_is_plentiful(["H+", "Cl-"], board).hydrogen_from
    'H+'
    >>> with_what_is_plentiful(["Na+", "OH-"], board).oxygen_from
    'OH-'
    """
    if "H+" in ions:
        return replace(wording, hydrogen_from="H+")
    return replace(wording, oxygen_from="OH-") if "OH-" in ions else wording


def ion_list(ions: Iterable[str]) -> str:
    """Join ions as a sentence does, in printed form."""
    shown = [pretty(ion) for ion in ions]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def _present(ions: Mapping[str, float], *, molten: bool) -> str:
    if molten:
        return f"The melt holds {ion_list(ions)}, and no water."
    own = [ion for ion in ions if ion not in {"H+", "OH-"}]
    water = "H⁺ and OH⁻ from the water"
    return (
        f"The solution holds {ion_list(own)}, and {water}."
        if own
        else f"The solution holds {water}."
    )


def _travellers(ions: Mapping[str, float], sign: int, *, molten: bool) -> list[str]:
    own = [ion for ion in ions if parse_formula(ion).charge * sign > 0]
    if molten:
        return own
    from_water = "H+" if sign > 0 else "OH-"
    return [*own, *([] if from_water in own else [from_water])]


def _cathode(ions: Mapping[str, float], wording: Wording, *, molten: bool) -> ElectrodeRule:
    travellers = _travellers(ions, +1, molten=molten)
    place = {ion: data.find("reactivity", ion=ion) for ion in travellers}
    first = max(travellers, key=lambda ion: place[ion].value)
    others = [place[ion]["element"] for ion in travellers if ion != first]
    element = place[first]["element"]
    if others:
        reason = (
            f"{element} is less reactive than {' and '.join(others)}, so {element} is discharged."
        )
    else:
        reason = say(
            "Only {element} ions come to {the_cathode}, so {element} is discharged.",
            wording,
            element=element,
        )
    if first == "H+":
        product, equation = (
            "H2",
            half_equation(
                "H2",
                source=wording.hydrogen_from,
                electrons=wording.electrons,
                states=wording.states,
            ),
        )
    else:
        product = next(
            row["reduced"] for row in data.rows("potentials") if row["oxidised"] == first
        )
        equation = half_equation(product, states=wording.states)
    present = _present(ions, molten=molten)
    return _electrode(
        wording, "cathode", "positive", present, travellers, reason, product, equation
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
    present = _present(ions, molten=molten)
    metal = electrodes()[material]
    if metal.active:
        product = metal.dissolves_as
        reason = say(
            "A {metal} {anode} is active: it dissolves, and no ion is discharged.",
            wording,
            metal=metal.name,
        )
        equation = half_equation(
            product, source=metal.formula, electrons=wording.electrons, states=wording.states
        )
        return _electrode(
            wording, "anode", "negative", present, travellers, reason, product, equation
        )
    order = {row["ion"]: row for row in data.rows("halogens")}
    halides = [
        ion
        for ion in travellers
        if ion in order and not (ion == "Cl-" and ions.get(ion, 0.0) < dilute_below)
    ]
    if halides:
        first = min(halides, key=lambda ion: order[ion].value)
        product = order[first]["product"]
        reason = say(
            "Only {ion} ions come to {the_anode}, so {product} forms."
            if molten
            else "A halide is present, so {product} forms rather than oxygen.",
            wording,
            ion=species_name(first),
            product=species_name(product),
        )
        equation = half_equation(
            product, source=first, electrons=wording.electrons, states=wording.states
        )
    elif molten:
        product = "O2"
        reason = say("Only oxide ions come to {the_anode}, so oxygen forms.", wording)
        equation = half_equation(
            "O2", source="O2-", electrons=wording.electrons, states=wording.states
        )
    else:
        product = "O2"
        dilute = "Cl-" in travellers
        source = "water" if wording.oxygen_from == "H2O" else "hydroxide ions of the water"
        reason = (
            "The chloride is dilute, so oxygen forms."
            if dilute
            else f"No halide is present, so oxygen forms from {source}."
        )
        equation = half_equation(
            "O2", source=wording.oxygen_from, electrons=wording.electrons, states=wording.states
        )
    return _electrode(wording, "anode", "negative", present, travellers, reason, product, equation)


def _electrode(
    wording: Wording,
    role: str,
    sign: str,
    present: str,
    travellers: list[str],
    reason: str,
    product: str,
    equation: Equation,
) -> ElectrodeRule:
    compete = (
        f"{ion_list(travellers)} compete there."
        if len(travellers) > 1
        else f"Only {ion_list(travellers)} is there."
    )
    sentence = begin(reason)
    made = (
        f"{begin(species_name(product))} forms."
        if parse_formula(product).charge == 0
        else f"{pretty(product)} goes into the solution."
    )
    steps = (
        present,
        say(
            f"The {sign} ions, {{ions}}, drift to {{the_{role}}}.",
            wording,
            ions=ion_list(travellers),
        ),
        compete,
        sentence,
        made,
        f"The half-equation is {equation.pretty()}.",
    )
    return ElectrodeRule(
        product, equation, sentence, steps, observation_of(product), str(usual_test(product))
    )
