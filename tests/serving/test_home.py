"""The home page says of the tables what the tables hold."""

from __future__ import annotations

import re

from jinja2 import Environment, FileSystemLoader

from fizzplate import data
from fizzplate.lesson.state import PAGES
from fizzplate.share.handlers.home import about
from fizzplate.share.places import template_folder


def home():
    folder = template_folder() / "voila" / "templates" / "fizzplate"
    page = Environment(loader=FileSystemLoader(folder), autoescape=True)
    return page.get_template("home.html").render(base="/", ending="", query="", **about())


def words_of_home():
    return " ".join(re.sub(r"<[^>]+>", " ", home()).split())


def test_it_leads_to_each_page_by_when_it_is_wanted_with_a_picture_of_its_own():
    cards = re.findall(r"<li><a .*?</a></li>", home(), flags=re.DOTALL)
    words = [re.sub(r"<svg.*?</svg>|<[^>]+>", " ", card, flags=re.DOTALL).split() for card in cards]
    for page, said in zip(PAGES.values(), words, strict=True):
        assert " ".join(said).startswith(f"{page.occasion.capitalize()} {page.title} ")
    pictures = [re.findall(r"<svg.*?</svg>", card, flags=re.DOTALL) for card in cards]
    assert [len(each) for each in pictures] == [1] * len(PAGES)
    assert len({picture for (picture,) in pictures}) == len(PAGES)


def test_it_counts_the_rows_by_where_they_come_from():
    words = words_of_home()
    for words_of_status, status in [
        ("were read in a published source", data.Status.READ),
        ("were computed", data.Status.COMPUTED),
        ("were fitted to published measurements", data.Status.FITTED),
        ("were chosen for this model", data.Status.CHOSEN),
        ("are common practice in school laboratories", data.Status.PRACTICE),
        ("are from memory", data.Status.REMEMBERED),
    ]:
        count = sum(
            row.status is status for table in data.table_names() for row in data.rows(table)
        )
        assert f"{count} {words_of_status}" in words
    assert "have not been checked against a source" in words


def test_every_row_is_counted_once():
    total, *parts = map(int, re.findall(r"\b\d+\b", words_of_home().split("Of ")[1].split(".")[0]))
    assert sum(parts) == total
