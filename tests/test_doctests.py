"""The examples in the docstrings of the installed package run."""

from __future__ import annotations

import pkgutil

import pytest
from tests.docstring_examples import failed_examples

import fizzplate

MODULES = [
    fizzplate.__name__,
    *sorted(module.name for module in pkgutil.walk_packages(fizzplate.__path__, "fizzplate.")),
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_of(name):
    assert failed_examples(name) == 0
