"""The examples in the docstrings of the installed package run."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import fizzplate

MODULES = [
    fizzplate.__name__,
    *sorted(module.name for module in pkgutil.walk_packages(fizzplate.__path__, "fizzplate.")),
]


@pytest.mark.parametrize("name", MODULES)
def test_examples_of(name):
    failed, _ = doctest.testmod(importlib.import_module(name))
    assert failed == 0
