"""Every row has its provenance, and the bibliography is complete and used."""

from __future__ import annotations

import ast
import math
import re
from importlib import resources

import pytest

from fizzplate import data
from fizzplate.chemistry import balance, half_equation, parse_formula, solutions
from fizzplate.chemistry.constants import FARADAY_C_MOL, GAS_J_MOL_K

#: a formula with a charge, as code writes it
ION = re.compile(r"(?:\(?[A-Z][a-z]?\d*\)?\d*)+\^?\d*[+-]")
ALL_ROWS = [row for table in data.table_names() for row in data.rows(table)]


def test_every_source_is_in_the_bibliography():
    assert {row.source for row in ALL_ROWS} <= set(data.sources())


def test_every_entry_of_the_bibliography_is_used():
    used = {row.source for row in ALL_ROWS}
    unused = set(data.sources()) - used - {"codata2018", "buck"}  # those two stand behind modules
    assert unused == set()


def test_what_was_remembered_says_so_in_its_source():
    assert all(row.source == "memory" for row in ALL_ROWS if row.status is data.Status.REMEMBERED)
    assert all(row.source == "practice" for row in ALL_ROWS if row.status is data.Status.PRACTICE)


def test_nothing_is_read_in_the_project_itself():
    """What is read, computed or fitted has a source outside; the project can only choose or compute."""
    own = {row.status for row in ALL_ROWS if row.source == "project"}
    assert own <= {data.Status.CHOSEN, data.Status.COMPUTED}
    outside = {data.Status.READ, data.Status.FITTED}
    assert all(
        row.source not in {"memory", "practice"} for row in ALL_ROWS if row.status in outside
    )


def test_every_idea_of_learners_names_a_publication_or_says_from_memory():
    for row in data.rows("misconceptions"):
        if row.status is data.Status.READ:
            assert any(year in data.source(row.source).citation for year in ("19", "20")), row
        else:
            assert row.status is data.Status.REMEMBERED, row


@pytest.mark.parametrize("table", data.table_names())
def test_no_two_rows_are_about_the_same(table):
    keys = [tuple(row.key.values()) for row in data.rows(table)]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("solution", solutions().values(), ids=lambda s: s.formula)
def test_a_solution_is_neutral_and_holds_the_atoms_of_its_formula(solution):
    charge = sum(n * parse_formula(ion).charge for ion, n in solution.ions.items())
    assert charge == 0
    atoms: dict[str, int] = {}
    for ion, count in solution.ions.items():
        for element, number in parse_formula(ion).elements.items():
            atoms[element] = atoms.get(element, 0) + count * number
    assert atoms == dict(parse_formula(solution.formula).elements)


@pytest.mark.parametrize("row", data.rows("potentials"), ids=lambda row: row["couple"])
def test_a_couple_takes_up_as_many_electrons_as_balance_its_charges(row):
    oxidised, reduced = row["oxidised"], row["reduced"]
    complexes = {"CuCl2-": "Cl-", "CuBr2-": "Br-", "CuI2-": "I-", "Zn(OH)4^2-": "OH-"}
    if oxidised in complexes:
        equation = balance(f"{oxidised} + e- -> {reduced} + {complexes[oxidised]}")
    elif reduced in complexes:
        equation = balance(f"{oxidised} + {complexes[reduced]} + e- -> {reduced}")
    else:
        equation = half_equation(reduced, source=oxidised)
    assert row["electrons"] == str(equation.electrons)


def test_reactions_and_potentials_agree():
    """The electrode reactions repeat the standard potentials of their own table."""
    known = {(row["oxidised"], row["reduced"]): row.value for row in data.rows("potentials")}
    # referred to the dissolved halogen there, to water saturated with it here
    known["Br2", "Br-"] -= 0.0198
    for row in data.rows("electrode_reactions"):
        equation = balance(row["equation"])
        terms = {species for _, species in (*equation.reactants, *equation.products)}
        couples = [couple for couple in known if set(couple) <= terms]
        if "C" in terms or terms & {"AgCl", "AgBr", "AgI", "Ag2SO4"}:
            continue  # their own tables' rows are the only place
        assert row.value in [pytest.approx(known[couple], abs=5e-5) for couple in couples], row


def test_oxygen_and_hydrogen_differ_by_the_ionic_product_in_acid_and_alkali():
    """E(acid) - E(alkali) = (RT/F) ln 10 pKw, with the ionic product of the tables."""
    log_water = data.find("speciation", equation="H2O -> H+ + OH-", quantity="log K").value
    standard_V = {row["couple"]: row.value for row in data.rows("potentials")}
    shift = GAS_J_MOL_K * 298.15 / FARADAY_C_MOL * math.log(10) * -log_water
    assert standard_V["O2/H2O"] - standard_V["O2/OH-"] == pytest.approx(shift, abs=0.002)
    assert standard_V["H+/H2"] - standard_V["H2O/H2"] == pytest.approx(shift, abs=0.002)


def test_a_salt_without_a_figure_of_its_own_has_its_familys():
    """Chlorides of these metals are of one family, and so are their sulfates."""
    shared = [row for row in data.rows("fluidity") if "shared with its family" in row.caveat]
    assert len(shared) == 6
    for row in shared:
        like = data.find("fluidity", cation="Mg2+", anion=row["anion"])
        assert row.value == like.value, row
    for metal in ("Ni", "Fe"):
        for quantity in ("log K", "strength coefficient"):
            own, like = (
                data.find(
                    "speciation",
                    equation=f"{each}2+ + SO4^2- -> {each}SO4",
                    quantity=quantity,
                )
                for each in (metal, "Zn")
            )
            assert own.value == like.value


def test_an_unknown_key_is_refused():
    with pytest.raises(KeyError, match="no row with species Xx"):
        data.find("diffusion", species="Xx+")


def test_every_ion_that_code_names_is_spelt_as_in_the_tables():
    """An ion under another spelling is one that no solution has: what stands under it is never used."""
    in_equilibria = {
        term.lstrip("0123456789")
        for row in data.rows("speciation")
        for term in re.split(r" \+ | -> ", row["equation"])
    }
    known = {row["species"] for row in data.rows("species")} | in_equilibria
    only_to_calculate_with = {"Cr3+"}  # of questions about baths and works: no page has it
    root = resources.files("fizzplate")
    rooms = ("chemistry", "lesson", "questions", "views", "share")
    named = {
        (node.value, path.name)
        for room in rooms
        for path in root.joinpath(room).rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and ION.fullmatch(node.value)
    }
    assert ("NO3-", "predictions.py") in named
    strangers = {each for each in named if each[0] not in known | only_to_calculate_with}
    assert strangers == set()


def test_every_solid_that_may_cloud_a_liquid_has_a_name_and_a_look():
    """A page asks for both as soon as the solid is among those that a liquid can make."""
    solids = {
        row["equation"].split(" ")[0] for row in data.rows("speciation") if row["kind"] == "solid"
    }
    assert solids <= {row["solid"] for row in data.rows("hazes")}
    names = {row["species"] for row in data.rows("species")}
    assert {parse_formula(solid).text for solid in solids} <= names


def test_every_metal_that_dissolves_is_passive_in_alkali_or_said_not_to_be():
    dissolving = {row["name"] for row in data.rows("electrodes") if row["dissolves_as"]}
    said = [row for row in data.rows("passivity") if row["quantity"] == "in alkali"]
    assert {row["material"] for row in said} == dissolving
    assert {row.text for row in said} <= {"passive", "dissolves"}
    breaking = {r["material"] for r in data.rows("passivity") if r["quantity"].startswith("halide")}
    assert breaking == {row["material"] for row in said if row.text == "passive"}
