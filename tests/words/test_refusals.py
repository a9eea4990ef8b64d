"""A refusal names the argument to a Python caller and the field to a reader of a page."""

from __future__ import annotations

import inspect
from typing import Any

import pytest

import fizzplate as fp
from fizzplate.words.field_labels import LABELS, page_refusal
from fizzplate.words.refusals import InputError, number
from fizzplate.words.rendering import Quantity, Rendering, number_text, unit_text
from fizzplate.words.wording import Wording


def refused(**arguments: object) -> InputError:
    with pytest.raises(InputError) as raised:
        fp.Cell(**{"solution": "NaCl"} | arguments)
    return raised.value


def test_python_and_a_page_say_the_same_each_in_its_own_words() -> None:
    refusal = refused(concentration_mol_dm3=9)
    python, page = str(refusal), page_refusal(refusal)
    assert python.startswith("concentration_mol_dm3: 9 cannot be used. Use a number above 0")
    assert "at most 5.4 mol/dm3 (no stronger sodium chloride solution" in python
    assert page.startswith("Concentration, mol/dm³: 9 cannot be used. Use a number above 0")
    assert "at most 5.4\N{NO-BREAK SPACE}mol/dm³ (no stronger sodium chloride solution" in page


def test_every_argument_of_a_cell_has_a_label() -> None:
    assert set(inspect.signature(fp.Cell).parameters) <= set(LABELS)
    assert not [label for label in LABELS.values() if "_dm3" in label or "_cm" in label]


@pytest.mark.parametrize(
    ("names", "label"), [("cathode", "Anode"), ("negative", "Positive electrode")]
)
def test_an_electrode_is_called_as_the_board_calls_it(names: str, label: str) -> None:
    page = page_refusal(refused(anode="grafite"), Wording(electrode_names=names))
    assert page.startswith(f"{label}: 'grafite' cannot be used. Use graphite")
    assert page.endswith("Did you mean 'graphite'?")


def test_why_something_is_never_offered_names_the_electrodes_as_the_board_does() -> None:
    refusal = refused(anode="stainless steel")
    assert "a steel anode may contain chromium" in str(refusal)
    page = page_refusal(refusal, Wording(electrode_names="negative"))
    assert "a steel positive electrode may contain chromium" in page
    assert "so a negative electrode of steel is not offered either" in page


def test_a_refusal_says_what_to_use_instead() -> None:
    assert page_refusal(refused(volume_cm3=5)) == (
        "Volume, cm³: 5 cannot be used. Use a number from 20 to 100\N{NO-BREAK SPACE}cm³ in a beaker."
    )
    both = page_refusal(refused(supply_V=6, current_A=0.1))
    assert both.endswith(
        ": 0.1 cannot be used. Use either a current or a supply voltage, not both."
    )


@pytest.mark.parametrize(
    ("arguments", "python", "page"),
    [
        (
            {"crystal": "KMnO4"},
            "Use None: a beaker",
            "Crystal: 'KMnO4' cannot be used. Use none: a beaker",
        ),
        (
            {"vessel": "paper strip", "volume_cm3": 5},
            "Use None: the size of a paper strip",
            "Volume, cm³: 5 cannot be used. Use an empty field: the size of a paper strip",
        ),
    ],
)
def test_no_value_is_called_as_its_reader_knows_it(arguments: Any, python: str, page: str) -> None:
    refusal = refused(**arguments)
    assert python in str(refusal)
    assert page_refusal(refusal).startswith(page)
    assert "None" not in page_refusal(refusal)


def test_a_pure_number_has_no_unit_to_be_named() -> None:
    with pytest.raises(InputError) as raised:
        number("balance", "heavy", unit="")
    assert page_refusal(raised.value) == "Balance: 'heavy' cannot be used. Use a number."


def test_numbers_and_units_are_written_for_a_page_and_plainly() -> None:
    value = Quantity(-0.00025, "mol/dm3")
    assert {place: value.text(place) for place in Rendering} == {
        Rendering.PLAIN: "-0.00025 mol/dm3",
        Rendering.PAGE: "−0.00025\N{NO-BREAK SPACE}mol/dm³",
    }
    assert number_text(-2.5e-9, Rendering.PAGE) == "−2.5 × 10⁻⁹"
    assert number_text(-10_000, Rendering.PAGE) == "−10\N{NO-BREAK SPACE}000"
    assert unit_text("dm3 mol-1", Rendering.PAGE) == "dm³ mol⁻¹"
