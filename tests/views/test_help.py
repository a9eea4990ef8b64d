"""Every page says beside its name how it is used."""

import re

import pytest
from jinja2 import TemplateNotFound

from fizzplate.views.pages.demonstrate import Demonstrate
from fizzplate.views.pages.explore import Explore
from fizzplate.views.pages.measure import Measure
from fizzplate.views.pages.prepare import Prepare
from fizzplate.views.pages.revise import Revise
from fizzplate.views.web.html import render


@pytest.mark.parametrize("page", [Demonstrate, Explore, Measure, Prepare, Revise])
def test_a_page_explains_itself_beside_its_name(page):
    title = render("pages/templates/title.html.j2", page=page.name)
    assert f"{page.name}</span></h1>" in title
    inside = re.search(r"<summary>Help</summary>(.*)</details>", title, re.DOTALL)[1]
    assert inside.count("<li>") >= 4


def test_a_page_without_an_explanation_cannot_be_made():
    with pytest.raises(TemplateNotFound, match=r"help/unknown\.html\.j2"):
        render("pages/templates/title.html.j2", page="Unknown")
