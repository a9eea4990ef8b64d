"""Every number can be traced: to its value, unit, conditions, source and caveat."""

import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.chemistry import InputError


def test_a_value_is_told_with_its_source():
    (found,) = fp.explain("Cu2+", "diffusion")
    assert (found.value, found.unit) == ("0.714e-9", "m2/s")
    assert "CRC Handbook" in found.source


def test_spelling_is_forgiven_and_kinetics_are_found_by_material():
    assert fp.explain("SO4 2-", "diffusion")[0].subject == "SO4^2-"
    rows = fp.explain("zinc", "exchange current")
    assert any("hydrogen" in row.subject and "factor of ten" in row.caveat for row in rows)


@pytest.mark.parametrize("table", data.table_names())
def test_every_table_can_be_asked(table):
    row = data.rows(table)[0]
    subject = next(value for value in row.key.values() if value)
    assert any(found.value == row.text for found in fp.explain(subject))


def test_what_nothing_is_known_of_is_refused_with_what_is():
    with pytest.raises(InputError, match="subject"):
        fp.explain("unobtainium")
    with pytest.raises(InputError, match="diffusion"):
        fp.explain("Cu2+", "taste")
