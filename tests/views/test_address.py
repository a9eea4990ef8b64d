"""What each page offers of its address: a link, and a page to take away where something makes it."""

from __future__ import annotations

import pytest
from tests.pages import PAGE_CLASSES

from fizzplate.views.web.address import Address


@pytest.mark.parametrize("made", PAGE_CLASSES.values())
def test_every_page_offers_the_same_and_the_page_to_take_away_only_with_a_maker(made):
    assert made().address.link_description.startswith(f"It opens {made.__name__} ")
    assert not made().address.can_take_away
    assert made(take_away=str.upper).address.can_take_away


def test_an_error_in_the_making_is_said_and_not_swallowed():
    def take_away(query):
        raise LookupError(query)

    address = Address(lambda _: None, take_away=take_away)
    said = []
    address.send = said.append
    with pytest.raises(LookupError):
        address._on_message(None, {"takeAway": True}, [])
    assert said == [{"notMade": "The page could not be made."}]
