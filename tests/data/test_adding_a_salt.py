"""A new salt needs a row in each table that differs; a missing row is named; then everything knows it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import fizzplate
from fizzplate.questions.random_source import EDITION

#: what the guide lists for a salt with a new metal
ROWS = {
    "solutions": "LiCl,lithium chloride,Li+ Cl-,LiCl,10,mol/dm3,at 20 °C,remembered,memory,",
    "elements": "Li,6.94,g/mol,,remembered,memory,",
    "species": "Li+,lithium,aq,state,25 °C,practice,practice,",
    "diffusion": "Li+,1.03e-9,m2/s,25 °C,remembered,memory,",
    "reactivity": "Li+,lithium,2.5,place,most reactive first,practice,practice,",
}

EVERYTHING = """
import fizzplate as fp
from fizzplate.lesson import CellSetup, read_cell, write_cell
from fizzplate.lesson.equations import known_species
from fizzplate.questions.random_source import EDITION
from fizzplate.questions.makers.registry import MAKERS
from fizzplate.views.bench.widget import About, bench_state

cell = fp.Cell("LiCl", concentration_mol_dm3=0.5)
rule = cell.rule()
assert (rule.cathode.product, rule.anode.product) == ("H2", "Cl2"), rule
assert "less reactive than lithium" in rule.cathode.reason, rule.cathode.reason
run = cell.run(minutes=2, samples=5)
assert (run.cathode.products[0], run.anode.products[0]) == ("H2", "Cl2"), run
sodium = fp.Cell("NaCl", concentration_mol_dm3=0.5).run(minutes=2, samples=5)
assert 0.7 < run.charge_C[-1] / sodium.charge_C[-1] < 1, "lithium ions are slower than sodium ions"
setup = read_cell(write_cell(CellSetup("LiCl")))[0]
assert setup.solution == "LiCl", setup
assert "lithium chloride" in str(bench_state(run, About()))

assert {"Li+", "Li"} <= set(known_species()), "a learner may write the metal, if only to be told why not"

def asks(edition):
    made = [q for seed in range(12) for q in fp.questions(seed=seed, count=20, edition=edition)]
    return any("lithium" in str(question) for question in made)

assert not asks(EDITION), "a new salt changes sets that there are"
assert asks(EDITION + 1), "no question of 240 has the salt"
"""


@pytest.fixture
def tables(tmp_path: Path) -> Path:
    """Copy the package, and return the folder of the copy's tables."""
    package = tmp_path / "fizzplate"
    shutil.copytree(
        Path(fizzplate.__file__).parent, package, ignore=shutil.ignore_patterns("__pycache__")
    )
    return package / "data"


def add(tables: Path, name: str) -> None:
    with (tables / f"{name}.csv").open("a", encoding="utf-8") as table:
        table.write(f"{ROWS[name]}\n")


def python(tables: Path, script: str) -> subprocess.CompletedProcess[str]:
    """Run a script with the copy of the package."""
    paths = os.environ | {"PYTHONPATH": str(tables.parents[1])}
    return subprocess.run(
        [sys.executable, "-c", script], env=paths, capture_output=True, text=True, check=False
    )


def test_a_salt_without_its_rows_names_each_table_and_row(tables: Path) -> None:
    add(tables, "solutions")
    lines = python(tables, "import fizzplate; fizzplate.solutions()").stderr.splitlines()[-5:]
    assert lines == [
        "fizzplate.data.tables.MissingRowError: LiCl in data/solutions.csv needs more rows:",
        "data/elements.csv: element Li (its standard atomic weight)",
        "data/species.csv: species Li+ (its name and usual state)",
        "data/diffusion.csv: species Li+ (its diffusion coefficient)",
        "data/reactivity.csv: ion Li+ (its element and place in the reactivity series)",
    ]


def test_with_its_rows_it_has_rule_run_questions_and_a_page(tables: Path) -> None:
    for name in ROWS:
        add(tables, name)
    candidates = tables.parent / "questions" / "tables" / "candidates.csv"
    with candidates.open("a", encoding="utf-8") as table:
        table.write(f"solution,LiCl,{EDITION + 1}\n")
    done = python(tables, EVERYTHING)
    assert done.returncode == 0, done.stderr


def test_the_guide_lists_the_tables_of_a_new_salt() -> None:
    guide = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    entry = guide[guide.index("- **Add a solution**") :].partition("\n- **")[0]
    assert not {name for name in ROWS if f"{name}.csv" not in entry}
