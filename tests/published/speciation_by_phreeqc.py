"""What PHREEQC (USGS) makes of a mixture, given the same constants and the same activity law as ours.

``python tests/published/speciation_by_phreeqc.py`` prints the whole table: offered ions in random mixtures.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

import numpy as np
import phreeqc

from fizzplate.chemistry import parse_formula
from fizzplate.chemistry.equilibria import (
    ChemicalSystem,
    ConditionalConstants,
    EquilibriumSolver,
    activity,
)

#: stand for elements whose oxidation states PHREEQC is to keep apart, as we do
OWN_ELEMENT = {
    "Cu+": "[Cuone]",
    "HClO": "[Clone]",
    "HBrO": "[Brone]",
    "IO3-": "[Ifive]",
    "Fe3+": "[Fethree]",
}
ION_SIZE = activity.CLOSENESS / 0.32849  # PHREEQC's parameter that makes B a = 1.5
NEGLIGIBLE = 0.01  # of a component's total: less is not compared
VISIBLE_MOL_M3 = 0.01  # of a solid
MIXTURES = (
    ("Na+", "Cl-"),
    ("Cu2+", "Cl-", "Na+"),
    ("Cu2+", "SO4^2-"),
    ("K+", "I-"),
    ("Na+", "Br-"),
    ("Fe2+", "SO4^2-"),
    ("Fe2+", "Cl-"),
    ("Ni2+", "SO4^2-", "Cl-"),
    ("Mg2+", "SO4^2-"),
    ("Ca2+", "Cl-", "NO3-"),
    ("Ag+", "NO3-"),
    ("Pb2+", "NO3-"),
    ("Zn2+", "SO4^2-"),
    ("Zn2+", "Cl-", "Na+", "SO4^2-"),
    ("Zn2+", "Br-", "K+", "F-"),
    ("Na+", "F-"),
    ("Fe2+", "Na+", "F-"),
)


def element_of(component):
    """Give the element that stands for a component in the database."""
    if component in OWN_ELEMENT:
        return OWN_ELEMENT[component]
    return next(name for name in parse_formula(component).elements if name not in {"O", "H"})


def oxygens(formula):
    """Count the oxygen atoms."""
    return parse_formula(formula).elements.get("O", 0)


def written(member):
    """Give a species as the database writes it."""
    if member.formula in {"H+", "OH-"}:
        return member.formula
    atoms = parse_formula(member.formula).elements
    parts = [
        f"{element_of(name)}{number(count)}" for name, count in member.parts.items() if name != "H+"
    ]
    parts += [f"{name}{number(atoms[name])}" for name in ("H", "O") if name in atoms]
    size = abs(member.charge)
    sign = "" if not size else "+" if member.charge > 0 else "-"
    return "".join(parts) + sign + (str(size) if size > 1 else "")


def number(count):
    """Give a count as it stands in a formula."""
    return "" if count == 1 else f"{count:.10g}"


def waters(member):
    """Say how many molecules of water a species or solid takes up when it forms of the components."""
    held = sum(count * oxygens(name) for name, count in member.parts.items())
    return oxygens(member.formula) - held


def formation(member, system):
    """Give both sides of a formation as PHREEQC reads them, the species itself left out."""
    components = {each.formula: each for each in system.species[: len(system.components)]}
    terms = [(count, written(components[name])) for name, count in member.parts.items()]
    terms.append((waters(member), "H2O"))
    left = [f"{count:.10g} {name}" for count, name in terms if count > 0]
    right = [f"{-count:.10g} {name}" for count, name in terms if count < 0]
    return left, right


def database(system):
    """Write a PHREEQC database with the constants of a system."""
    components = system.species[: len(system.components)]
    lines = ["SOLUTION_MASTER_SPECIES", "H H+ -1 H 1.008", "H(0) H2 0 H", "H(1) H+ -1 0"]
    lines += ["E e- 0 0 0", "O H2O 0 O 16", "O(0) O2 0 O", "O(-2) H2O 0 0"]
    for each in components[1:]:
        name = written(each)
        lines.append(f"{element_of(each.formula)} {name} 0 {name} 50")
    lines += ["SOLUTION_SPECIES", "e- = e-", "log_k 0", "H2O = H2O", "log_k 0"]
    lines += ["2 H2O = O2 + 4 H+ + 4 e-", "log_k -86", "2 H+ + 2 e- = H2", "log_k -3"]
    for member in system.species:
        name = written(member)
        if member.formula in system.components:
            lines += [f"{name} = {name}", "log_k 0"]
        else:
            left, right = formation(member, system)
            lines += [f"{' + '.join(left)} = {' + '.join([name, *right])}"]
            lines += [f"log_k {member.log_K}", "-no_check"]
        lines.append(f"-gamma {ION_SIZE} 0")
    lines.append("PHASES")
    for k, member in enumerate(system.solids):
        left, right = formation(member, system)
        lines += [f"Solid{k}", f"{' + '.join([written(member), *right])} = {' + '.join(left)}"]
        lines += [f"log_k {-member.log_K}", "-no_check"]
    return "\n".join([*lines, "END"])


@dataclass
class Found:
    """A mixture at equilibrium: species and solids in mol per kilogram of water, and its surroundings."""

    species: np.ndarray
    solids: np.ndarray
    pH: float
    ionic_strength: float
    water_activity: float
    debye_huckel: float
    closeness: float


class ByPhreeqc:
    """PHREEQC with the database of a system."""

    def __init__(self, system):
        self.system = system
        self._phreeqc = phreeqc.Phreeqc()
        if self._phreeqc.LoadDatabaseString(database(system)):
            raise RuntimeError(self._phreeqc.GetErrorString())

    def mix(self, pH, totals_mol_kg):
        """Give the equilibrium of a mixture, or None where PHREEQC finds none."""
        solids = [f"Solid{k}" for k in range(len(self.system.solids))]
        species = [written(member) for member in self.system.species]
        lines = ["SOLUTION 1", "-units mol/kgw", f"pH {pH}", "pe 4"]
        lines += [f"{element_of(name)} {total:.8g}" for name, total in totals_mol_kg.items()]
        lines += ["EQUILIBRIUM_PHASES 1", *(f"{name} 0 0" for name in solids)]
        lines += ["SELECTED_OUTPUT 1", "-reset false", "-high_precision true"]
        lines += ["-ionic_strength true", f"-molalities {' '.join(species)}"]
        if solids:
            lines.append(f"-equilibrium_phases {' '.join(solids)}")
        lines += ["USER_PUNCH 1", "-headings aw kgw A B pH"]
        lines += ['10 PUNCH 10^LA("H2O"), TOT("water"), DH_A, DH_B, -LA("H+")', "END"]
        if self._phreeqc.RunString("\n".join(lines)):
            return None
        last = self._phreeqc.GetSelectedOutputRowCount() - 1
        columns = range(self._phreeqc.GetSelectedOutputColumnCount())
        value = {
            self._phreeqc.GetSelectedOutputValue(0, column): self._phreeqc.GetSelectedOutputValue(
                last, column
            )
            for column in columns
        }
        return Found(
            np.array([value[f"m_{name}(mol/kgw)"] for name in species]),
            np.array([value[name] for name in solids]) / value["kgw"],
            value["pH"],
            value["mu"],
            value["aw"],
            value["A"],
            value["B"] * ION_SIZE,
        )


@dataclass
class Difference:
    """How far we are from PHREEQC: worst species and its relative difference, pH, the same solids or not."""

    species: str
    relative: float
    pH: float
    same_solids: bool


def compare(ions, count, seed):
    """Compare random mixtures of some ions; the totals of both are those that PHREEQC's species add up to."""
    system = ChemicalSystem.of(ions)
    solver, constants = EquilibriumSolver(system), ConditionalConstants(system)
    # one parameter of ours, the strength coefficient, PHREEQC's law does not have
    constants.ignore_strength_coefficients()
    random = np.random.default_rng(seed)
    theirs = ByPhreeqc(system)
    uptake = np.array([[waters(each)] for each in (*system.species, *system.solids)])
    differences = []
    while len(differences) < count:
        totals = {name: 10 ** random.uniform(-5, 0) for name in system.components[1:]}
        found = theirs.mix(random.uniform(0.5, 13), totals)
        if found is None:
            continue
        amounts = 1e3 * found.species
        held = solver.A.T @ amounts + solver.B.T @ (1e3 * found.solids)
        ln_K, ln_K_solid = constants.at(
            np.array([found.ionic_strength]), found.debye_huckel, found.closeness
        )
        water = uptake * np.log(found.water_activity)
        ln_K, ln_K_solid = ln_K + water[: len(ln_K)], ln_K_solid + water[len(ln_K) :]
        x, v = solver.first_guess(held[:, None], ln_K)
        ours = solver.solve(held[:, None], np.concatenate([ln_K, ln_K_solid]), x, v)
        pH = abs(float(constants.pH(ours.species_mol_m3)[0]) - found.pH)
        differences.append(_difference(solver, ours, amounts, held, 1e3 * found.solids, pH))
    return differences


def _difference(solver, ours, amounts, held, solids, pH):
    shares = np.abs(solver.A) * amounts[:, None]
    matters = (shares > NEGLIGIBLE * np.abs(held)).any(axis=1)
    off = np.abs(ours.species_mol_m3[:, 0] / np.where(amounts > 0, amounts, 1) - 1)
    worst = int(np.argmax(np.where(matters, off, 0)))
    mine = ours.solid_mol_m3[:, 0]
    same = bool(np.array_equal(mine > VISIBLE_MOL_M3, solids > VISIBLE_MOL_M3))
    return Difference(solver.system.species[worst].formula, float(off[worst]), pH, same)


def main():
    """Print the table."""
    for ions in MIXTURES:
        found = compare(ions, 200 // len(MIXTURES) + 1, seed=1)
        worst = max(found, key=lambda each: each.relative)
        solids = "same" if all(each.same_solids for each in found) else "DIFFER"
        print(
            f"{' '.join(ions):28} {len(found):4} mixtures   {worst.species:10} {worst.relative:.1e}   "
            f"pH {max(each.pH for each in found):.1e}   solids {solids}"
        )


if __name__ == "__main__":
    sys.exit(main())
