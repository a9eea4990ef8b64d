"""Every page says beside its name how it is used."""

import re

import pytest
from jinja2 import TemplateNotFound
from tests.pages import PAGE_CLASSES

from fizzplate.views.inquiry.phone_parts import PARTS
from fizzplate.views.web.html import render


@pytest.mark.parametrize("page", [each.entry() for each in PAGE_CLASSES.values()])
def test_a_page_explains_itself_beside_its_name(page):
    title = render("pages/templates/title.html.j2", page=page)
    assert f"{page.title}</span></h1>" in title
    inside = re.search(r"<summary>Help</summary>(.*)</details>", title, re.DOTALL)[1]
    assert inside.count("<li>") >= 4


@pytest.mark.parametrize("name", ["explore", "prepare", "revise", "measure"])
def test_help_says_how_folded_fields_are_changed(name):
    assert "<b>change</b>" in render(f"pages/templates/help/{name}.html.j2")


def test_help_names_what_a_phone_shows_below_the_cell():
    text = render("pages/templates/help/explore.html.j2")
    assert [label for label in PARTS.values() if f"<b>{label}</b>" not in text] == []


def test_a_page_without_an_explanation_cannot_be_made():
    with pytest.raises(TemplateNotFound, match=r"help/unknown\.html\.j2"):
        render("pages/templates/title.html.j2", page={"name": "unknown", "title": "Unknown"})
