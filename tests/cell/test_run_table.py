"""A run as a table: for pandas, for a spreadsheet, with units in the names of its columns."""

import re

import numpy as np
import pandas as pd
import pytest

import fizzplate as fp

UNIT = re.compile(r"_(s|A|C|V|mol|g|cm3|pH|share)$")


@pytest.fixture(scope="module")
def run():
    stages = [fp.Stage(minutes=1), fp.Stage(minutes=1, off=True)]
    return fp.Cell("CuSO4", current_A=0.05).run(stages=stages, samples=9)


def test_columns_are_as_long_as_the_run_and_name_their_units(run):
    columns = run.columns()
    assert {column.shape for column in columns.values()} == {run.time_s.shape}
    assert [name for name in columns if not UNIT.search(name)] == ["swapped"]
    assert columns["cathode_Cu_mass_g"] is not None
    assert columns["cathode_Cu_mass_g"] == pytest.approx(run.cathode.mass_g("Cu"))
    assert columns["anode_O2_gas_cm3"] == pytest.approx(run.anode.gas_cm3("O2"))
    assert columns["anode_O2_amount_mol"] == pytest.approx(run.anode.amount_mol("O2"))


def test_every_product_solid_and_haze_has_its_columns():
    run = fp.Cell("MgCl2", anode="zinc").run(minutes=1, samples=3)
    names = " ".join(run.columns())
    for role in ("cathode", "anode"):
        for formula in (*getattr(run, role).products, *getattr(run, role).solids):
            assert f"{role}_{formula}_" in names
    assert run.hazes
    for formula in run.hazes:
        assert f"haze_{formula}_amount_mol" in names


def test_pandas_takes_the_columns_as_they_are(run):
    frame = pd.DataFrame(run.columns())
    assert len(frame) == 9
    assert frame["time_s"].iloc[-1] == 120
    charge_C = np.trapezoid(frame["current_A"][:5], frame["time_s"][:5])
    assert frame["charge_C"][4] == pytest.approx(charge_C, rel=1e-3)


def test_a_file_gives_the_same_table_back_and_leaves_empty_what_is_no_number(run, tmp_path):
    file = tmp_path / "run.csv"
    run.to_csv(file)
    pd.testing.assert_frame_equal(pd.read_csv(file), pd.DataFrame(run.columns()))
    last = file.read_text(encoding="utf-8").splitlines()[-1].split(",")
    names = list(run.columns())
    assert last[names.index("cathode_potential_V")] == ""
    run.to_csv(str(file))  # once more, over it
    with pytest.raises(OSError, match="nowhere"):
        run.to_csv(tmp_path / "nowhere" / "run.csv")
