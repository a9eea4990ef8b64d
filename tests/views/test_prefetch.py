"""A run that was begun ahead is the one that is asked for, and never another's."""

import pytest

from fizzplate.views.controls.prefetch import Prefetch


def refuse():
    raise AssertionError("worked out twice")


def test_what_was_begun_is_not_worked_out_twice():
    prefetch = Prefetch()
    prefetch.begin("a", lambda: "run of a")
    prefetch.begin("a", refuse)
    assert prefetch.result("a", refuse) == "run of a"


def test_another_cell_gets_its_own_run():
    prefetch = Prefetch()
    prefetch.begin("a", lambda: "run of a")
    prefetch.begin("b", lambda: "run of b")
    assert prefetch.result("c", lambda: "run of c") == "run of c"
    assert prefetch.result("b", lambda: "again") == "again"  # it was let go of


def test_what_goes_wrong_is_told_when_it_is_asked_for():
    def fail():
        raise ValueError("stuck")

    prefetch = Prefetch()
    prefetch.begin("a", fail)
    with pytest.raises(ValueError, match="stuck"):
        prefetch.result("a", refuse)
