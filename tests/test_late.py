"""What is tried once more is little, and waits."""

from __future__ import annotations

import pytest
from tests.late import FEW, may_be_late


@pytest.mark.parametrize(
    "failed",
    [
        [],
        ["tests/browser/test_a.py::test_b"] * (FEW + 1),
        ["tests/browser/test_a.py::test_b", "tests/cell/test_run.py::test_c"],
        ["tests/serving"],  # a folder that could not be collected
    ],
)
def test_what_else_failed_is_not_tried_again(failed):
    assert not may_be_late(failed)


@pytest.mark.parametrize("room", ["browser", "engines", "serving"])
def test_what_waits_is_tried_again(room):
    assert may_be_late([f"tests/{room}/test_a.py::test_b"])
