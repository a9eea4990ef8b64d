"""What is left in the solution, and why it is alkaline, neutral or acid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.chemistry import (
    Equation,
    half_equation,
    overall,
    parse_formula,
    species_name,
)
from fizzplate.chemistry.classroom_rule import ion_list

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell import Run
    from fizzplate.chemistry.classroom_rule import Rule

LEAST_CHANGE = 0.5  # of pH: less is not told from reading a colour scale (a choice)


@dataclass(frozen=True, slots=True)
class Residue:
    """What the classroom rule leaves behind.

    Parameters
    ----------
    overall
        Both half-equations together, with water where it is water that reacts.
    acidity
        "alkaline", "acid" or "neutral": what the whole liquid becomes once mixed; "as before" for an acid
        or alkali, and where nothing is used but water.
    sentences
        What is left and why.
    """

    overall: Equation
    acidity: str
    sentences: tuple[str, ...]


def residue(rule: Rule, ions_mol_dm3: Mapping[str, float], *, molten: bool = False) -> Residue:
    """Work out what is left when what the rule says has happened.

    Parameters
    ----------
    rule
        What happens.
    ions_mol_dm3
        The ions of the salts, mol/dm3.
    molten
        Whether they are molten, without water.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> for salt in ("NaCl", "CuSO4", "Na2SO4", "CuCl2"):
    ...     cell = Cell(salt)
    ...     print(salt, residue(cell.rule(), cell.ions_mol_dm3).acidity)
    NaCl alkaline
    CuSO4 acid
    Na2SO4 as before
    CuCl2 as before
    """
    together = overall(
        _as_it_reacts(rule.cathode.half_equation, rule.cathode.product, ions_mol_dm3),
        _as_it_reacts(rule.anode.half_equation, rule.anode.product, ions_mol_dm3),
    )
    used = {species for _, species in together.reactants}
    left = {species for _, species in together.products}
    stay = [ion for ion in ions_mol_dm3 if ion not in used and ion not in {"H+", "OH-"}]
    said = [f"{ion_list(stay)} {_are(stay)} not discharged: they stay."] if stay else []
    gained = [ion for ion in left if parse_formula(ion).charge > 0 and ion != "H+"]
    acidity = "as before"
    if not together.reactants:
        metal = species_name(rule.cathode.product)
        said = [f"As much {metal} goes into the solution as comes out: it stays as it is."]
    elif "OH-" in left and gained:
        said.append(
            f"{ion_list(gained)} from the anode and hydroxide ions that are left of water meet: they cloud "
            "the solution as a hydroxide."
        )
    elif "OH-" in left:
        acidity = "alkaline"
        with_ = [ion for ion in ions_mol_dm3 if parse_formula(ion).charge > 0]
        said.append(
            "Hydrogen came from water, whose hydroxide ions are left over "
            f"with {ion_list(with_)}: the solution turns alkaline."
        )
        if "Cl2" in left:
            said.append("Chlorine that stays in it takes some of them up: a bleach forms.")
    elif "H+" in left:
        acidity = "acid"
        with_ = [ion for ion in ions_mol_dm3 if parse_formula(ion).charge < 0]
        said.append(
            "Oxygen came from water, whose hydrogen ions are left over "
            f"with {ion_list(with_)}: the solution turns acid."
        )
    elif used == {"H2O"}:
        said.append(
            "Only water is used up: the solution becomes a little stronger. Round the cathode it turns "
            "alkaline and round the anode acid, until it is mixed."
            if not {"H+", "OH-"} & set(ions_mol_dm3)
            else "Only water is used up: the solution becomes a little stronger."
        )
    else:
        gone = [ion for ion in ions_mol_dm3 if ion in used]
        weaker = "" if molten else ": the solution becomes weaker"
        said.append(f"{ion_list(gone)} {_are(gone)} used up{weaker}.")
    if "Cu2+" in used:
        said.append("Its blue fades.")
    if gained and "OH-" not in left:
        said.append(f"{ion_list(gained)} from the anode {_are(gained)} new in the solution.")
    return Residue(together, acidity, tuple(said))


def _are(ions: list[str]) -> str:
    return "is" if len(ions) == 1 and parse_formula(ions[0]).charge == 0 else "are"


def _as_it_reacts(equation: Equation, product: str, ions: Mapping[str, float]) -> Equation:
    """Write it with what there is plenty of: water, unless it is an acid or an alkali."""
    if product == "H2":
        return half_equation("H2", source="H+" if "H+" in ions else "H2O")
    if product == "O2" and not any(species == "O2-" for _, species in equation.reactants):
        return half_equation("O2", source="OH-" if "OH-" in ions else "H2O")
    return Equation(equation.reactants, equation.products)


def acidity_statement(acidity: str, run: Run) -> str:
    """Say what the solution becomes: the whole of it by the rule, and at the faces as in the run.

    Parameters
    ----------
    acidity
        What the rule leaves, from :class:`Residue`.
    run
        What happened.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> acidity_statement("as before", Cell("Na2SO4").run(minutes=5, samples=5))
    'exam, once mixed: as before; bench: alkaline at the cathode, acid at the anode'
    """
    cathode, anode = (
        _change(float(record.pH[0]), float(record.pH[-1])) for record in (run.cathode, run.anode)
    )
    faces = (
        f"{cathode} at both electrodes"
        if cathode == anode
        else f"{cathode} at the cathode, {anode} at the anode"
    )
    return f"exam, once mixed: {acidity}; bench: {faces}"


def _change(before: float, after: float) -> str:
    """Word a change of pH at an electrode."""
    if abs(after - before) < LEAST_CHANGE:
        return "as before"
    if after > before:
        more, less, turned = "alkaline", "less acid", before > 7 + LEAST_CHANGE
        there = after > 7
    else:
        more, less, turned = "acid", "less alkaline", before < 7 - LEAST_CHANGE
        there = after < 7
    return f"more {more}" if turned else more if there else less


def overall_sentence(together: Equation) -> str:
    """Write the overall equation, or that nothing changes but the electrodes."""
    if not together.reactants:
        return "Nothing changes in all: metal moves from the anode to the cathode."
    return f"In all: {together.pretty()}."


def ions_with_water(ions_mol_dm3: Mapping[str, float]) -> tuple[str, ...]:
    """List the ions of a solution, those of the water last.

    Examples
    --------
    >>> ions_with_water({"H+": 1.0, "Cl-": 1.0})
    ('H+', 'Cl-', 'OH-')
    """
    return tuple(dict.fromkeys((*ions_mol_dm3, "H+", "OH-")))
