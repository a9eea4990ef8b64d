"""What is in a cell, worked out by hand from formulae and names, and whether every hazard of it is told.

Nothing here asks the package which species are hazardous. ``python tests/lesson/hazard_checks.py 300`` prints
what is left out of so many runs of cells at random, and how long it took.
"""

from __future__ import annotations

import random
import re
import sys
import time

import numpy as np

import fizzplate as fp
from fizzplate.chemistry import InputError
from fizzplate.lesson.classroom.hazards import cautions, hazards, label, waste

METALS = {"Cu": "copper", "Ag": "silver", "Zn": "zinc", "Ni": "nickel", "Pb": "lead", "Fe": "iron"}
RODS = {name: symbol for symbol, name in METALS.items()}
#: what is hazardous: how a caution, a label and the waste list must speak of it
WORDS = {
    **{name: (f"(?i){name}", name, f"{name} waste") for name in METALS.values()},
    "acid": (r"[Aa]cid", "acid", "sodium carbonate"),
    "alkali": (r"[Aa]lkali", "alkali", "plenty of water"),
    "fluoride": ("luoride", "fluoride", "fluoride waste"),
    "hydrogen fluoride": ("hydrofluoric", "hydrofluoric", "fluoride waste"),
    "chlorine": ("^Chlorine irritates", "gives off chlorine", "thiosulfate"),
    "bleach": ("Never add acid to the used solution", "never add acid", "thiosulfate"),
    "bromine": ("Bromine", "bromine", "thiosulfate"),
    "iodine": ("Iodine", "iodine", "thiosulfate"),
    "hydrogen": ("Hydrogen burns, and explodes", "hydrogen: extremely flammable", "no more bubbles"),
    "oxygen": ("Oxygen", "oxygen", "no more bubbles"),
    "nitrogen oxides": ("nitrogen oxides.*[Ff]ume cupboard", "nitrogen oxides", "no more bubbles"),
    "permanganate": ("permanganate.*stains", "permanganate.*stains", "manganese waste"),
    "nitrate on paper": ("nitrate burns fiercely", "nitrate", "while it is wet"),
    "strong calcium chloride": ("Calcium chloride.*irritates", "calcium chloride", "local rules"),
}  # fmt: skip
MIN_MOL_DM3 = 1e-5
MIN_MOL = 1e-8
MIN_OXYGEN_MOL = 1e-5  # a quarter of a cm3
VESSELS = ("beaker", "beaker", "U-tube", "dish", "paper strip")
RUN_MIN = 0.2
ACIDIC_IONS = {"Cu2+", "Zn2+", "Ni2+", "Fe2+"}  # water with these is a little acid
ACIDS = ("HCl", "H2SO4", "HNO3")


def symbols(formula: str) -> set[str]:
    """The elements in a formula, read by its capital letters."""
    return set(re.findall(r"[A-Z][a-z]?", formula))


def formed(cell, run=None) -> set[str]:
    """Formulae of what the rule and the run make, and of what a run leaves dissolved."""
    rule = cell.rule()
    found = {rule.cathode.product, rule.anode.product}
    if run is None:
        return found
    for record in (run.cathode, run.anode):
        least = dict.fromkeys(record.products, MIN_MOL) | {"O2": MIN_OXYGEN_MOL}
        found |= {each for each in record.products if record.amount_mol(each)[-1] > least[each]}
    weights = run.cell.geometry.volume_m3
    return found | {
        name
        for name in {*run.ions, *run.dissolved} - {"H+", "OH-"}
        if np.average(run.concentration(name)[-1], weights=weights) > 1e3 * MIN_MOL_DM3
    }


def metals(cell, made: set[str]) -> set[str]:
    """Metals in salts, in what forms, in an anode, and nickel in either rod."""
    rods = {RODS[each] for each in {cell.anode} & set(RODS)}
    everything = {*cell.mixture_mol_dm3, *made, *rods}
    found = {METALS[each] for text in everything for each in symbols(text) & set(METALS)}
    return found | ({"nickel"} & {cell.anode, cell.cathode})


def acid_and_alkali(cell, made: set[str], run=None) -> set[str]:
    """What is poured in, and what forms round an electrode: by the rule only of what is neither."""
    poured = {"acid"} if any(each in cell.mixture_mol_dm3 for each in ACIDS) else set()
    poured |= {"alkali"} if {"NaOH", "KOH"} & set(cell.mixture_mol_dm3) else set()
    if run is None:
        if poured:
            return poured
        at_the_anode, at_the_cathode = "O2" in made, "H2" in made
    else:
        pH = np.concatenate([run.cathode.pH, run.anode.pH])
        at_the_anode, at_the_cathode = pH.min() < 3, pH.max() > 10
    sides = {"acid": at_the_anode, "alkali": at_the_cathode}
    return poured | {name for name, turned in sides.items() if turned}


def inside(cell, run=None) -> set[str]:
    """What hazardous things are in a cell of solution and may come to be there, by name."""
    made = formed(cell, run)
    found = metals(cell, made) | acid_and_alkali(cell, made, run)
    elements = {each for text in cell.mixture_mol_dm3 for each in symbols(text)}
    nitrate = any("NO3" in formula for formula in cell.mixture_mol_dm3)
    poured_acid = any(each in cell.mixture_mol_dm3 for each in ACIDS)
    metal = {cell.anode, cell.cathode} - {"graphite", "platinum"} or made & set(METALS)
    there = {
        "fluoride": "F" in elements,
        "hydrogen fluoride": "F" in elements
        and ("acid" in found or made & {"HF", "HF2-", *ACIDIC_IONS}),
        "hydrogen": "H2" in made,
        "oxygen": "O2" in made,
        "chlorine": "Cl2" in made,
        "bleach": "Cl2" in made and "alkali" in found,
        "bromine": made & {"Br2", "Br3^-"},
        "iodine": made & {"I2", "I3^-"},
        "nitrogen oxides": nitrate and poured_acid and (metal or elements & {"I", "Fe"}),
        "permanganate": cell.crystal,
        "nitrate on paper": nitrate and cell.vessel.name == "paper strip",
        "strong calcium chloride": cell.mixture_mol_dm3.get("CaCl2", 0.0) >= 1.0,
    }
    return found | {name for name, holds in there.items() if holds}


def left_out(cell, run=None) -> list[str]:
    """What is in a cell without a caution, a label line, a waste route or a line in the risk draft."""
    found = hazards(cell, run)
    said = cautions(cell, run)
    lines = label(found).split("; ")
    routes = waste(found)
    problems = []
    for name in sorted(inside(cell, run)):
        caution, line, route = WORDS[name]
        if not any(re.search(caution, text) for text in said):
            problems.append(f"{name}: no caution")
        if not any(re.search(line, text) for text in lines):
            problems.append(f"{name}: no label")
        if not any(route in text for text in routes):
            problems.append(f"{name}: no waste route")
        if not any(re.search(line, each.label) and each.risk for each in found):
            problems.append(f"{name}: no line in the risk draft")
    return problems + contradictions(cell, found, said, routes)


def contradictions(cell, found, said, routes) -> list[str]:
    """What a list says that cannot hold together with something else that it says."""
    problems = []
    places = [(each.species, each.where) for each in found]
    if len(places) != len(set(places)):
        problems.append("a species has two severities")
    collected = any("none of it down the sink" in text or "collect" in text for text in routes)
    to_the_sink = any("pour" in text and "sink" in text for text in routes)
    if collected == to_the_sink:
        problems.append("both collected and poured away, or neither")
    if to_the_sink and not any("local rules allow" in text for text in routes if "sink" in text):
        problems.append("down the sink without its condition")
    order = [at for at, text in enumerate(routes) if "sodium carbonate" in text]
    later = [at for at, text in enumerate(routes) if text.startswith(("Chlorine", "Collect"))]
    if order and later and max(order) > min(later):
        problems.append("destroyed or collected before it is neutralised")
    deferred = "risk assessment, local rules and a qualified person"
    if not all(deferred in texts[-1] for texts in (said, routes)):
        problems.append("does not defer to the school")
    return problems


def random_cell(rng: random.Random, vessels: tuple[str, ...], most: int):
    """A cell at random of one to so many substances; none if the package refuses it."""
    salts = rng.sample(list(fp.solutions()), min(most, rng.choice((1, 1, 2, 2, 3))))
    strength = {
        each: round(rng.uniform(0.02, 1.0) * min(2.0, fp.solutions()[each].solubility_mol_dm3), 3)
        for each in salts
    }
    vessel = rng.choice(vessels)
    try:
        return fp.Cell(
            strength,
            cathode=rng.choice(list(fp.electrodes())),
            anode=rng.choice(list(fp.electrodes())),
            vessel=vessel,
            crystal="KMnO4" if vessel == "paper strip" and rng.random() < 0.5 else None,
            supply_V=rng.choice((3.0, 6.0, 9.0)),
        )
    except InputError:
        return None


def random_cells(count: int, seed: int, vessels: tuple[str, ...] = VESSELS, most: int = 3) -> list:
    """So many cells at random that the package accepts."""
    rng = random.Random(seed)  # noqa: S311  # no secret
    cells = []
    while len(cells) < count:
        cell = random_cell(rng, vessels, most)
        if cell is not None:
            cells.append(cell)
    return cells


def main(count: int) -> int:
    began = time.process_time()
    failed = 0
    for cell in random_cells(count, seed=2):
        problems = left_out(cell, cell.run(minutes=RUN_MIN, samples=2))
        failed += bool(problems)
        if problems:
            place = (cell.cathode, cell.anode, cell.vessel.name)
            print(dict(cell.mixture_mol_dm3), *place, problems, flush=True)
    print(
        f"{count} runs, {failed} with something left out, {time.process_time() - began:.0f} s of CPU"
    )
    return failed


if __name__ == "__main__":
    sys.exit(bool(main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)))
