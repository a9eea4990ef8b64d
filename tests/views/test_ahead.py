"""A run that was begun ahead is the one that is asked for, and never another's."""

import pytest

from fizzplate.views.controls.prefetch import Ahead


def refuse():
    raise AssertionError("worked out twice")


def test_what_was_begun_is_not_worked_out_twice():
    ahead = Ahead()
    ahead.begin("a", lambda: "run of a")
    ahead.begin("a", refuse)
    assert ahead.result("a", refuse) == "run of a"


def test_another_cell_gets_its_own_run():
    ahead = Ahead()
    ahead.begin("a", lambda: "run of a")
    ahead.begin("b", lambda: "run of b")
    assert ahead.result("c", lambda: "run of c") == "run of c"
    assert ahead.result("b", lambda: "again") == "again"  # it was let go of


def test_what_goes_wrong_is_told_when_it_is_asked_for():
    def fail():
        raise ValueError("stuck")

    ahead = Ahead()
    ahead.begin("a", fail)
    with pytest.raises(ValueError, match="stuck"):
        ahead.result("a", refuse)
