"""A page whose link is known before anyone sees it opens as the link says, at once."""

import pytest
from tests.pages import PAGE_CLASSES, for_every_page
from tests.questions.plain_spaces import with_plain_spaces

from fizzplate.lesson import CellSetup, Wording
from fizzplate.views.pages.demonstrate import Demonstrate
from fizzplate.views.pages.prepare_plan import timetables

LINKS = for_every_page(
    {
        "demonstrate": "cells=NaCl;CuSO4,c=0.2&open=2&ask=off",
        "explore": "cells=NaCl;CuSO4",
        "measure": "metal=Ag&tube=0.5",
        "prepare": "cells=KI;CuCl2",
        "revise": "v=1&set=7&count=4",
    }
)


@pytest.fixture
def served(monkeypatch):
    """Have the programs of pages told what Voila tells them."""

    def tell(query, software="voila/0.5"):
        monkeypatch.setenv("SERVER_SOFTWARE", software)
        monkeypatch.setenv("QUERY_STRING", query)

    return tell


@pytest.mark.parametrize("name", LINKS)
def test_it_opens_as_if_it_had_been_told_later(served, name):
    page, link = PAGE_CLASSES[name], LINKS[name]
    told_later = page()
    told_later.open_query(f"?{link}")
    served(link)
    at_once = page()
    assert at_once.address.applied_query == f"?{link}"
    assert at_once.address.query == told_later.address.query
    assert at_once.address.notices == told_later.address.notices
    assert at_once.address.query != page_without_a_link(served, page).address.query


def page_without_a_link(served, page):
    served("")
    return page()


def test_what_opens_the_door_is_no_part_of_it(served):
    served("key=abc&cells=NaCl&token=def")
    assert Demonstrate().address.applied_query == "?cells=NaCl"
    served("key=abc")
    assert Demonstrate().address.applied_query == ""


def test_a_program_that_serves_no_page_has_no_link(served):
    served("cells=NaCl", software="")
    assert Demonstrate().address.applied_query == ""


def test_what_cannot_be_read_is_said(served):
    served("cells=Nonsense,c=99;NaCl")
    page = Demonstrate()
    assert [cell.solution for cell in page.list.cells] == ["NaCl"]
    assert any("Nonsense" in sentence for sentence in page.address.notices)


def test_a_solution_that_cannot_be_made_is_left_out_of_the_plan_and_nothing_else():
    written = timetables((CellSetup("CuSO4", 9.0), CellSetup("NaCl")), 50.0, Wording())
    assert "NaCl" in written
    assert "9 mol/dm³" not in with_plain_spaces(written)
