"""Where the classroom rule and the model differ, in one sentence each, with the run's own numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from fizzplate import data
from fizzplate.cell import is_passive
from fizzplate.chemistry import classroom_rule, electrodes, parse_formula, species_name
from fizzplate.words import DEFAULT_WORDING, Sentence, board_slots, page_quantity

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.cell import ElectrodeRecord, Run
    from fizzplate.chemistry import ElectrodeRule
    from fizzplate.words import Wording

MIN_HAZE_MOL = 3e-7  # in the film at an electrode, about 0.1 cm3, that is seen
OLD_HAZE = (
    0.5  # of a haze: where more was there as a run, or a stage of it, began, it did not form then
)
MIN_BURNT_SHARE = 0.005  # of the charge
NOTABLE_SHARE = 0.02  # of the charge: less is not worth a sentence in class
SHORT_OF_LEAD = 0.05  # of the charge makes oxygen beside lead(IV) oxide: well supplied it is less
#: A/m2, exchange current density at 1 mol/dm3 of hydrogen ions: less, and hydrogen needs much more voltage
MIN_QUICK_HYDROGEN_A_M2 = 1e-5
USED_UP = 0.99  # of an electrode's mass
#: ions that silver keeps on itself as a salt
SILVER_SALTS = {"Cl-": "AgCl", "Br-": "AgBr", "I-": "AgI", "SO4^2-": "Ag2SO4"}
EQUAL_MASSES = (
    0.1  # two masses that differ by no more, relative to the larger, are equal in a lesson
)


def charge_share(record: ElectrodeRecord, product: str) -> float:
    """Return the fraction of all charge so far that made a product, 0 before any passed."""
    return float(record.charge_share(product)[-1])


def percent(share: float) -> str:
    """Write a share as a whole percentage."""
    if share < 0.01:
        return f"less than {page_quantity(1, '%')}"
    return page_quantity(100 * share, "%", ".0f")


def differences(
    run: Run, wording: Wording = DEFAULT_WORDING
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the sentences that belong to the cathode and to the anode.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> cathode, anode = differences(Cell("NaCl", concentration_mol_dm3=0.02).run(minutes=5))
    >>> "chlorine" in anode[0]
    True
    """
    if float(run.charge_C[-1]) == 0.0:
        return (), ()
    cell = run.cell
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
    )
    at_both = _sentences_at_cathode(run, rule.cathode), _sentences_at_anode(run, rule.anode)
    cathode, anode = (
        tuple(each.fill(board_slots(wording)) for each in sentences) for sentences in at_both
    )
    return cathode, anode


def _share_in_its_role(run: Run, record: ElectrodeRecord, product: str) -> float:
    """Return what share of the charge made a product while the wires were not swapped."""
    first_role = ~run.swapped[:-1] & ~run.swapped[1:]  # between two samples
    whole_C = float(np.diff(run.charge_C)[first_role].sum())
    made_C = float(np.diff(record.charge_C(product))[first_role].sum())
    return made_C / whole_C if whole_C > 0 else 0.0


def _other_products(
    run: Run, record: ElectrodeRecord, rule: ElectrodeRule, because: Mapping[str, str]
) -> list[Sentence]:
    """Return a sentence for each product that the rule does not give."""
    return [
        Sentence(
            "By the rule, {outcome}. In the model, {share} of the charge {what_it_does}",
            {
                "outcome": _outcome(rule.product),
                "share": percent(share),
                "what_it_does": Sentence(because[product]),
            },
        )
        for product in record.products
        if (share := _share_in_its_role(run, record, product)) >= NOTABLE_SHARE
        and product != rule.product
        and product in because
    ]


def _outcome(product: str) -> str:
    """Say what happens: a product forms, or a metal dissolves, where the product is its ion."""
    formula = parse_formula(product)
    if formula.charge > 0:
        (element,) = formula.elements
        metal, ion = species_name(element), species_name(product)
        return f"{metal} dissolves" if ion == metal else f"{metal} dissolves as {ion}"
    return f"{species_name(product)} forms"


def _reasons_at_cathode(run: Run, rule: ElectrodeRule) -> dict[str, str]:
    """Say for each product of the cathode why it forms although the rule does not give it."""
    expected = species_name(rule.product)
    because = {
        "H2": f"makes hydrogen, because {expected} ions do not reach the electrode fast enough.",
        "Fe2+": "turns iron(III) back into iron(II).",
        "Pb2+": "dissolves the brown lead(IV) oxide again.",
        "CuCl2-": "turns copper(II) into copper(I), which chloride keeps dissolved.",
        "CuBr2-": "turns copper(II) into copper(I), which bromide keeps dissolved.",
    }
    for row in data.rows("halogens"):
        halogen, halide = species_name(row["product"]), species_name(row["ion"])
        because[row["ion"]] = f"turns dissolved {halogen} back into {halide}."
    for product in run.cathode.products:
        formula = parse_formula(product)
        if product == "H2" or formula.charge or len(formula.elements) > 1:
            continue
        metal = species_name(product)
        in_solution = any(parse_formula(ion).elements.get(product) for ion in run.cell.ions_mol_dm3)
        because[product] = (
            f"plates {metal}, because {_why_little_hydrogen(metal)}"
            if in_solution
            else f"plates {metal}, from ions that came from " + "{the_anode}."
        )
    return because


def _why_little_hydrogen(metal: str) -> str:
    """Say why a metal that is more reactive than hydrogen plates before it."""
    exchange = data.find(
        "kinetics",
        reaction="hydrogen from hydrogen ions",
        material=metal,
        quantity="exchange current density",
    )
    if exchange.value < MIN_QUICK_HYDROGEN_A_M2:
        return (
            f"hydrogen needs a much higher voltage on {metal} than its place in the reactivity series "
            "suggests."
        )
    return (
        "the solution holds few hydrogen ions: they do not reach {the_cathode} fast enough for the whole "
        "current."
    )


def hazes_seen(run: Run, sample: int = -1) -> tuple[str, ...]:
    """List the solids of which enough has precipitated to be seen."""
    return tuple(each for each in run.hazes if float(run.haze_mol(each)[sample]) > MIN_HAZE_MOL)


def _hazes(run: Run, electrode: str) -> list[Sentence]:
    """Say which solids cloud the liquid because of what an electrode gives."""
    sentences = []
    for solid in hazes_seen(run):
        row = data.find("hazes", solid=solid)
        haze_mol = float(run.haze_mol(solid)[-1])
        if row["electrode"] == electrode:
            later = f" It {row['later']}." if row["later"] else ""
            was_there = float(run.haze_mol(solid)[0]) > OLD_HAZE * haze_mol
            forms = (
                "{Cloud} of {solid}, about {amount}, was there already."
                if was_there
                else "{Cloud} of {solid} forms, about {amount}, because {because}."
            )
            sentences.append(
                Sentence(
                    forms + later,
                    {
                        "cloud": row.text,
                        "solid": species_name(solid),
                        "amount": page_quantity(haze_mol * 1e3, "mmol", ".2g"),
                        "because": Sentence(row["because"]),
                    },
                )
            )
    return sentences


def _sentences_at_cathode(run: Run, rule: ElectrodeRule) -> tuple[Sentence, ...]:
    return (
        *_other_products(run, run.cathode, rule, _reasons_at_cathode(run, rule)),
        *_hazes(run, "cathode"),
    )


def _and_reacts(run: Run) -> str:
    """Say what else happens to the chlorine where the cathode makes alkali."""
    alkaline = charge_share(run.cathode, "H2") > 0.5 and "H+" not in run.cell.ions_mol_dm3
    return " or reacts with the alkali from {the_cathode}" if alkaline else ""


def _reasons_at_anode(run: Run, rule: ElectrodeRule) -> dict[str, str]:
    """Say for each product of the anode why it forms although the rule does not give it."""
    halides = [row for row in data.rows("halogens") if row["ion"] in run.cell.ions_mol_dm3]
    ruled = next((row["ion"] for row in halides if row["product"] == rule.product), "")
    halide = species_name(ruled) if ruled else "halide"
    because = {
        "O2": f"makes oxygen instead. A more dilute {halide} solution or a larger current makes more oxygen.",
        "Fe3+": "turns iron(II) into iron(III), which needs less voltage: the solution turns yellow.",
        "PbO2": "forms brown lead(IV) oxide on {the_anode}.",
        "CuCl2-": "makes copper(I): each copper atom gives up one electron, and chloride keeps it dissolved.",
        "CuBr2-": "makes copper(I): each copper atom gives up one electron, and bromide binds it.",
        "CuI2-": "makes copper(I): each copper atom gives up one electron, and iodide binds it.",
    }
    if charge_share(run.anode, "O2") > SHORT_OF_LEAD:
        because["PbO2"] += (
            " Lead(II) ions do not reach {the_anode} fast enough for the whole current, so oxygen forms too."
        )
    if electrodes()[run.anode.material].active:
        because["Fe3+"] = "turns iron(II) into iron(III): the solution turns yellow."
        because["O2"] = _why_oxygen_on_a_metal(run)
    own = electrodes()[run.anode.material].dissolves_as
    for product in run.anode.products:
        formula = parse_formula(product)
        if formula.charge > 0 and product not in because and product != own:
            (element,) = formula.elements
            because[product] = (
                f"dissolves {species_name(element)} that was deposited there before the wires were swapped."
            )
    ruled = next((row["ion"] for row in halides if row["product"] == rule.product), "")
    why = f", because {species_name(ruled)} ions do not reach it fast enough" if ruled else ""
    for halogen in ("Cl2", "Br2", "I2"):
        because[halogen] = f"makes {species_name(halogen)}{why}."
    if ruled == "I-":  # of the halides only iodide needs less voltage than iron(II)
        because["Fe3+"] = f"turns iron(II) into iron(III){why}."
    for salt in SILVER_SALTS.values():
        because[salt] = f"turns the silver into {species_name(salt)}, which stays on it."
    return because


def _why_oxygen_on_a_metal(run: Run) -> str:
    """Say why an anode that should dissolve makes oxygen."""
    anode, cell = run.anode, run.cell
    if is_passive(anode.material, cell.ions_mol_dm3):
        return "makes oxygen: in alkali a thin layer of oxide keeps the metal from dissolving."
    for halide, salt in SILVER_SALTS.items():
        if charge_share(anode, salt) >= NOTABLE_SHARE:
            return (
                f"makes oxygen: {species_name(halide)} ions do not reach it fast enough for the "
                "whole current."
            )
    own = electrodes()[anode.material].formula
    if (
        cell.anode_mass_g is not None
        and -float(anode.mass_g(own)[-1]) > USED_UP * cell.anode_mass_g
    ):
        return "makes oxygen, once all of the metal has dissolved."
    return (
        "makes oxygen: the solution at {the_anode} is saturated, so the metal cannot dissolve fast "
        "enough for the whole current."
    )


def _sentences_at_anode(run: Run, rule: ElectrodeRule) -> tuple[Sentence, ...]:
    sentences = _other_products(run, run.anode, rule, _reasons_at_anode(run, rule)) + _hazes(
        run, "anode"
    )
    if "Cl2" in run.anode.products:
        made = float(run.anode.gas_cm3("Cl2")[-1])
        collected = float(run.anode.gas_cm3("Cl2", collected=True)[-1])
        if made > 0 and collected < 0.9 * made:
            caught = (
                f"only about {page_quantity(collected, 'cm3', '.2g')}"
                if collected > 0.05
                else "hardly any"
            )
            sentences.append(
                Sentence(
                    "Of the {made} of chlorine that is made {caught} can be collected: the rest stays "
                    "dissolved{and_reacts}.",
                    {
                        "made": page_quantity(made, "cm3", ".2g"),
                        "caught": caught,
                        "and_reacts": Sentence(_and_reacts(run)),
                    },
                )
            )
    burnt = charge_share(run.anode, "CO2")
    if burnt > MIN_BURNT_SHARE:
        sentences.append(
            Sentence(
                "{An_anode} of carbon also burns slowly to carbon dioxide: in the model this takes {share} "
                "of the charge. On real graphite it takes up to a third (from memory).",
                {"share": percent(burnt)},
            )
        )
    if rule.product == "Cu2+" and "Cu" in run.cathode.products and _blue(run):
        masses = copper_masses(run)
        sentences.append(
            Sentence(
                "{The_anode} loses {loss} and {the_cathode} gains {gain}: {so}.",
                {
                    "loss": page_quantity(masses.loss_mg, "mg", ".3g"),
                    "gain": page_quantity(masses.gain_mg, "mg", ".3g"),
                    "so": masses.comparison or "the blue stays",
                },
            )
        )
    return tuple(sentences)


class CopperMasses(NamedTuple):
    """What an anode of copper has lost, and what the cathode has gained."""

    loss_mg: float
    gain_mg: float

    @property
    def comparison(self) -> str:
        """Say which is more, or nothing where they are equal."""
        if abs(self.loss_mg - self.gain_mg) <= EQUAL_MASSES * max(map(abs, self)):
            return ""
        more = "more" if self.loss_mg > self.gain_mg else "less"
        return f"{more} copper dissolves than is deposited"


def copper_masses(run: Run, sample: int = -1) -> CopperMasses:
    """Return the masses of copper at both electrodes at a sample."""
    return CopperMasses(
        -1e3 * float(run.anode.mass_g("Cu")[sample]), 1e3 * float(run.cathode.mass_g("Cu")[sample])
    )


def _blue(run: Run) -> bool:
    return "Cu2+" in run.cell.ions_mol_dm3
