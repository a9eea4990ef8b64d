"""While the page loads: words, and from the first frame the ground that the page will have."""

from __future__ import annotations

import pytest
from matplotlib.colors import to_rgb

from fizzplate.views.theme import tokens

EVERY_FRAME = """
  window.grounds = new Set();
  const look = () => {
    if (document.body) grounds.add(getComputedStyle(document.body).backgroundColor);
    requestAnimationFrame(look);
  };
  look();
"""


@pytest.mark.parametrize("room", ["light", "dark"])
def test_the_ground_never_flashes(browser, demonstrate_address, room):
    context = browser.new_context(color_scheme=room)
    page = context.new_page()
    page.add_init_script(EVERY_FRAME)
    page.goto(demonstrate_address, wait_until="commit")
    page.get_by_role("status").get_by_text("Filling the beaker").wait_for()
    page.get_by_role("article", name="Cathode").wait_for(timeout=60_000)
    paper = [round(255 * part) for part in to_rgb(getattr(tokens(), room)["paper"])]
    assert page.evaluate("[...grounds]") == ["rgb({}, {}, {})".format(*paper)]
    context.close()
