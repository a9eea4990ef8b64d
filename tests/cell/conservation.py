"""What is conserved in a run, worked out from its record alone."""

from __future__ import annotations

import numpy as np

from fizzplate.chemistry import molar_mass_g_mol, parse_formula
from fizzplate.chemistry.constants import FARADAY_C_MOL

# moles of acid that a mole of each holds, water and the oxidised halogens' own form counting nothing:
# HClO for chlorine, HBrO for bromine, IO3- for iodine
ACID_HELD = {
    "H+": 1,
    "OH-": -1,
    "HSO4-": 1,
    "HF": 1,
    "HF2-": 1,
    "Cl2": 1,
    "ClO-": -1,
    "Br2": 1,
    "Br3^-": 1,
    "BrO-": -1,
    "I2": 2,
    "I3^-": 2,
    "HIO": 1,
}
HALOGENS = {"Cl2": "Cl-", "Br2": "Br-", "I2": "I-"}
ELEMENTS = [
    "Na",
    "K",
    "Mg",
    "Ca",
    "Zn",
    "Fe",
    "Ni",
    "Cu",
    "Ag",
    "Pb",
    "S",
    "N",
    "F",
    "Cl",
    "Br",
    "I",
    "Mn",
]
ROUNDING = 1e-10  # of what is in the liquid, over hundreds of steps


def _atoms(formula, element):
    return parse_formula(formula).elements.get(element, 0)


def _dissolved(run):
    return dict.fromkeys((*run.ions, *run.dissolved))


def _in_liquid(run, name):
    return run.concentration(name) @ run.volume_m3


def released_mol(run, halogen):
    """Return the halogen that left the liquid above saturation, (samples,), mol."""
    return run.anode._gas_collection._left.get(halogen, np.zeros_like(run.time_s))


def element_miss(run, element):
    """Return how far an element is from being conserved, relative to what moved, (samples,).

    What is in the liquid, on the electrodes, in the gas and in the haze must add up to the same at
    all times. Hydrogen and oxygen are left to :func:`acid_miss`: water takes part in everything.
    """
    inside = sum(_atoms(name, element) * _in_liquid(run, name) for name in _dissolved(run))
    inside = inside + sum(_atoms(s, element) * run.haze_mol(s) for s in run.hazes)
    outside = np.zeros_like(run.time_s)
    moved = 0.0
    for record in (run.cathode, run.anode):
        for solid in record.solids:
            there = _atoms(solid, element) * record.mass_g(solid) / molar_mass_g_mol(solid)
            outside = outside + there
            moved += float(np.abs(there).max())
        for product in record.products:
            moved += _atoms(product, element) * float(record.amount_mol(product)[-1])
    for halogen in ("Cl2", "Br2", "I2"):
        outside = outside + _atoms(halogen, element) * released_mol(run, halogen)
    total = inside + outside
    # where nothing of the element moved only rounding is left
    scale = moved + ROUNDING / 1e-6 * float(np.max(np.abs(inside)))
    return np.abs(total - total[0]) / max(scale, 1e-10)


def acid_miss(run):
    """Return how far the acid excess of the liquid is from what the electrodes made of it.

    Charge balance: what passed at each electrode and did not move through another ion's charge was
    acid or alkali. The charge of all that is dissolved must stay nothing, and the acid excess must
    change by the hydrogen ions and hydroxide of each electrode reaction.
    """
    excess = sum(
        ACID_HELD.get(name, _complexed_hydroxide(name)) * _in_liquid(run, name)
        for name in _dissolved(run)
    )
    excess = excess - sum(_hydroxide_in(s) * run.haze_mol(s) for s in run.hazes)
    made = np.zeros_like(run.time_s)
    # where hardly any acid is made, rounding of all the salt beside it counts: a fifth of what an element may
    # miss (cell 23 misses 3e-14 mol of acid beside 2e-3 mol of zinc sulfate)
    salt = max(float(np.max(np.abs(_in_liquid(run, name)))) for name in _dissolved(run))
    scale = ROUNDING / 1e-6 * max(float(np.max(np.abs(excess))), 0.2 * salt)
    for record in (run.cathode, run.anode):
        for product, electrons_per_acid in (("H2", -1), ("O2", 1), ("CO2", 1)):
            acid = electrons_per_acid * record.charge_C(product) / FARADAY_C_MOL
            made = made + acid
            scale += float(np.abs(acid).max())
        # four moles of acid for each of lead(IV) oxide, given when it forms and taken when it goes
        oxide = record.mass_g("PbO2") / molar_mass_g_mol("PbO2")
        made = made + 4 * oxide
        scale += 4 * float(np.abs(oxide).max())
        # chlorine and bromine hydrolyse to a mole of hydrogen ions, iodine would to two
        for halogen, halide in HALOGENS.items():
            if halogen in run.dissolved:
                made = made + ACID_HELD[halogen] * (
                    record.amount_mol(halogen) - record.amount_mol(halide) / 2
                )
    for halogen in HALOGENS:
        made = made - ACID_HELD[halogen] * released_mol(run, halogen)
    return np.abs((excess - excess[0]) - (made - made[0])) / max(scale, 1e-9)


def _hydroxide_in(solid):
    """Return the hydroxide ions that made a mole of a solid; less the acid that a solid halogen holds."""
    if solid in {"I2(s)", "Br2(l)"}:
        return -ACID_HELD[solid.partition("(")[0]]
    # the oxygen of a sulfate, as of Ag2SO4, is none of hydroxide
    return 2 if solid in {"Cu2O", "Ag2O"} else -_complexed_hydroxide(solid)


def _complexed_hydroxide(name):
    """Return minus the hydroxide in a complex or a solid such as Zn(OH)4^2-, CuOH+ or Zn(OH)2."""
    return -_atoms(name, "O") if "OH" in name else 0
