"""The arithmetic of a product asks for what is given only, and a group that was chosen stays chosen."""

import pytest

from fizzplate.views.grid import Grid
from fizzplate.views.logged import Logged
from fizzplate.views.reckoning import Reckoning


def shown(reckoning):
    return {label for label, field in reckoning._fields.items() if field.layout.display != "none"}


@pytest.mark.parametrize(
    ("find", "product", "fields"),
    [
        ("amount", "Cu", {"Current, A", "Time, min", "and s"}),
        ("time", "Cu", {"Current, A", "Mass, g"}),
        ("current", "Cu", {"Time, min", "and s", "Mass, g"}),
        (
            "current",
            "H2",
            {"Time, min", "and s", "Volume, cm³"} | {"Temperature, °C", "Pressure, kPa"},
        ),
        (
            "amount",
            "H2",
            {"Current, A", "Time, min", "and s"} | {"Temperature, °C", "Pressure, kPa"},
        ),
    ],
)
def test_only_what_is_given_is_asked_for(find, product, fields):
    reckoning = Reckoning()
    reckoning._product.value = product
    reckoning._find.value = find
    assert shown(reckoning) == fields
    assert "<ol" in reckoning._steps.value or "<li" in reckoning._steps.value


def test_a_chosen_group_stays_chosen_when_another_joins():
    logged = Logged(Grid(lambda: None))
    logged.name_groups(("A", "B", "C"))
    assert logged._group.value == 0
    logged._group.value = 2
    logged.name_groups(("A", "B", "C", "D"))
    assert logged._group.value == 2
    assert [label for label, _ in logged._group.options][-1] == "a new group (row 5)"
    logged.name_groups(("A",))
    assert logged._group.value == 1
