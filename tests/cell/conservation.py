"""What is conserved in a run, worked out from its record alone."""

from __future__ import annotations

import numpy as np

from fizzplate.chemistry import parse_formula

SOLIDS = ("Cu(OH)2",)


def element_miss(run, element):
    """Return how far an element is from being conserved, relative to what moved, (samples,).

    What is in the liquid, on the electrodes, in the gas and in the haze must add up to the same at
    all times. Hydrogen and oxygen are left to :func:`charge_miss`: water takes part in everything.
    """
    inside = sum(
        parse_formula(name).elements.get(element, 0) * (run.concentration(name) @ run.volume_m3)
        for name in dict.fromkeys((*run.ions, *run.dissolved))
    )
    inside = inside + sum(
        parse_formula(solid).elements.get(element, 0) * run.haze_mol(solid) for solid in SOLIDS
    )
    outside = np.zeros_like(run.time_s)
    moved = 0.0
    for record in (run.cathode, run.anode):
        if element == "Cu":
            metal = record.mass_g("Cu") / 63.546
            outside = outside + metal
            moved += float(np.abs(metal).max())
    if element == "Cl" and "Cl2" in run.dissolved:
        left = run.anode._collector._left["Cl2"]
        outside = outside + 2 * left
        moved += 2 * float(run.anode.amount_mol("Cl2")[-1])
    total = inside + outside
    # where nothing of the element moved only rounding is left: a part in 1e12 of what is there
    scale = moved + 1e-6 * abs(float(np.max(inside)))
    return np.abs(total - total[0]) / max(scale, 1e-12)


def acid_miss(run):
    """Return how far the acid excess of the liquid is from what the electrodes made of it.

    Every mole of electrons at the cathode that made hydrogen took one mole of acid, every one that
    made oxygen at the anode gave one; chlorine that left took none along beyond its own.
    """
    volume = run.volume_m3
    signs = {"H+": 1, "OH-": -1, "HSO4-": 1, "Cl2": 1, "ClO-": -1}
    excess = sum(
        sign * (run.concentration(name) @ volume)
        for name, sign in signs.items()
        if name in run.ions or name in run.dissolved
    )
    excess = excess - 2 * run.haze_mol("Cu(OH)2")
    made = np.zeros_like(run.time_s)
    for record in (run.cathode, run.anode):
        made = made - 2 * record.amount_mol("H2") + 4 * record.amount_mol("O2")
        made = made + record.amount_mol("Cl2") - record.amount_mol("Cl-") / 2
    if "Cl2" in run.dissolved:
        made = made - run.anode._collector._left["Cl2"]
    # where hardly anything moved only rounding is left: a part in 1e12 of what is there
    scale = float(np.abs(run.cathode.amount_mol("H2")).max()) + 1e-6 * float(np.abs(excess).max())
    return np.abs((excess - excess[0]) - (made - made[0])) / max(scale, 1e-9)
