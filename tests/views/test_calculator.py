"""The arithmetic of a product asks for what is given only, and a group that was chosen stays chosen."""

import re

import pytest
from tests.views.parts import control, is_marked_wrong, page_text

from fizzplate.views.controls.calculator import Calculator
from fizzplate.views.controls.logger_panel import LoggerPanel
from fizzplate.views.grid import Grid


def shown(calculator):
    return {label for label, field in calculator._fields.items() if field.layout.display != "none"}


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
    calculator = Calculator()
    calculator._product.value = product
    calculator._find.value = find
    assert shown(calculator) == fields
    assert "<ol" in calculator._steps.value or "<li" in calculator._steps.value


@pytest.mark.parametrize(
    ("label", "allowed", "refused"),
    [
        ("Current, A", ("0,001", "1000000"), ("0", "-1", "1000001")),
        ("Time, min", ("0", "1000000"), ("-1", "1000001")),  # with some seconds
        ("Temperature, °C", ("0", "50"), ("-1", "51")),
        ("Pressure, kPa", ("50", "120"), ("49", "121")),
    ],
)
def test_a_number_is_taken_up_to_its_limits_and_refused_beyond_by_its_label(
    label, allowed, refused
):
    widget = Calculator().widget
    control(widget, "Product").value = "H2"
    control(widget, "and s").value = "30"
    for value in allowed:
        control(widget, label).value = value
        assert "<ol" in page_text(widget)
        assert not is_marked_wrong(widget, label)
    for value in refused:
        control(widget, label).value = value
        shown = re.sub(r"(?<=\d) (?=\d)", "", page_text(widget))  # thousands stand apart
        assert f"{label}: {value.replace('-', '−')} cannot be used" in shown
        assert "<ol" not in page_text(widget)
        assert is_marked_wrong(widget, label)


def test_no_time_at_all_is_refused_and_seconds_alone_are_enough():
    widget = Calculator().widget
    control(widget, "Time, min").value = "0"
    assert "minutes or seconds above 0" in page_text(widget)
    control(widget, "and s").value = "30"
    assert "0.2 A × 30 s" in page_text(widget)


def test_a_chosen_group_stays_chosen_when_another_joins():
    logged = LoggerPanel(Grid(lambda: None))
    logged.name_groups(("A", "B", "C"))
    assert logged._group.value == 0
    logged._group.value = 2
    logged.name_groups(("A", "B", "C", "D"))
    assert logged._group.value == 2
    assert [label for label, _ in logged._group.options][-1] == "a new group (row 5)"
    logged.name_groups(("A",))
    assert logged._group.value == 1


def test_what_is_seldom_changed_is_folded_behind_a_line_that_says_its_values():
    calculator = Calculator()
    line = calculator._group._line
    assert line.description == "3 significant figures: change"
    calculator._product.value = "H2"
    assert line.description == "25 °C, 101.325 kPa, 3 significant figures: change"
    control(calculator.widget, "Temperature, °C").value = "18"
    assert line.description.startswith("18 °C, ")
    assert "with" not in calculator.values  # the line is no field
    again = Calculator()
    again.show(calculator.values)
    assert again._group._line.description == line.description
    panel = LoggerPanel(Grid(lambda: None))
    assert panel._fields._line.description == "No readings of a current yet: change"
    control(panel.widget, "Readings: a time and a current on each line").value = "0, 0.2\n10, 0.3"
    assert panel._fields._line.description == "2 readings, for 1: change"
