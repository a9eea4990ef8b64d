"""The pages of a site: a home page, and for each page its program, its look and what it loads."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from importlib.metadata import version
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from jinja2 import ChoiceLoader, Environment, PackageLoader

from fizzplate import data as tables
from fizzplate.lesson.classroom import DEFER, GENERAL_CAUTION
from fizzplate.lesson.state import PAGES
from fizzplate.share.site.folder import digest
from fizzplate.share.takeaway import short_program, short_style
from fizzplate.views.web import ONLY_SERVED, join_in_a_scope, style_text

if TYPE_CHECKING:
    from fizzplate.share.site.folder import Folder

TEMPLATES = "share/jupyter/voila/templates/fizzplate"
ICON = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 16 16">
<rect width="16" height="16" fill="#fbf8f0"/>
<path d="M2 3v11h12V3" fill="none" stroke="#1c1a16" stroke-width="1.5"/>
<path d="M5 1v10" stroke="#b5622a" stroke-width="2.5"/>
<path d="M11 1v10" stroke="#1c1a16" stroke-width="2"/>
<circle cx="12.6" cy="6" r="1" fill="#0b5c6b"/>
</svg>
"""
WORKER = "service-worker.js"
HOME = "index.html"
ONLY_REVISE = "quiz/quiz.css"  # other pages of a site ask no questions
FIRST_SET = re.compile(r"sets/.*-1\.[^.]*\.txt$")  # of each topic: all of them would burden a phone


@dataclass(frozen=True, slots=True)
class SitePage:
    """A page of a site.

    Parameters
    ----------
    name, title
        In its address, and as readers see it.
    loads
        Names of the data that it loads.
    classes
        Of its main part.
    """

    name: str
    title: str
    loads: tuple[str, ...]
    classes: str

    @property
    def file(self) -> str:
        """Name of its file."""
        return f"{self.name}.html"


SITE_PAGES = (
    SitePage("demonstrate", "Demonstrate", ("cells",), "fp-page fp-lesson-page"),
    SitePage("explore", "Explore", ("cells", "explore"), "fp-page fp-column-page fp-explore"),
    SitePage("equations", "Half-equations", ("workshop",), "fp-page fp-column-page"),
    SitePage("revise", "Revise", ("sets",), "fp-page fp-column-page fp-revise"),
    SitePage("prepare", "Prepare", ("sheets",), "fp-page fp-column-page fp-prepare"),
)


#: what a server's home page leads to on Explore
WORKSHOP = MappingProxyType(
    {
        "name": "equations",
        "title": "Half-equations",
        "occasion": "to practise",
        "contents": "write them for any solution, checked as you write, with a hint at each mistake",
        "has_cells": False,
    }
)


#: what a site has of these pages is less than what the program has
CONTENTS = MappingProxyType(
    {
        "explore": "this site's solutions, each at several strengths, two cells side by side",
        "prepare": "sheets to print for teachers and technicians: order, labels, disposal, worksheet",
    }
)


def write_pages(folder: Folder, data: dict[str, str], catalogue: dict[str, Any]) -> None:
    """Write every page, and the worker that keeps them for times without a network.

    Parameters
    ----------
    folder
        Of the site.
    data
        Files of what pages load, by name.
    catalogue
        Cells and lists, as ``data["cells"]`` holds them.
    """
    style = _write_style(folder, (*ONLY_SERVED, ONLY_REVISE))
    with_questions = _write_style(folder, ONLY_SERVED)
    icon = folder.write("look/icon.svg", ICON)
    kept = [style, with_questions, icon, *data.values()]
    for page in SITE_PAGES:
        look = with_questions if page.name == "revise" else style
        kept += [_write_page(folder, page, look, data), page.file]
    folder.write(HOME, _home())
    folder.write("site.webmanifest", _manifest())
    kept += [HOME, "site.webmanifest"]
    kept += [each for each in folder.written if FIRST_SET.match(each)]
    kept += [
        file for listed in catalogue["lists"][:1] for file in _files_of(listed["cells"], catalogue)
    ]
    name = digest(" ".join([*sorted(folder.written), _home(), style]))
    kept_data = json.dumps({"name": name, "kept": sorted(set(kept))}, indent=1)
    folder.write(WORKER, f"const SITE = {kept_data};\n{short_program(_own('worker.js'))}")


def _write_style(folder: Folder, left_out: tuple[str, ...]) -> str:
    """Write the pages' look without some of it, and return its file."""
    text = style_text(left_out) + _own_of("takeaway", "takeaway.css") + _own("site.css")
    return folder.write_named_by_content("look/style", ".css", short_style(text))


def _files_of(keys: list[str], catalogue: dict[str, Any]) -> list[str]:
    """Return the runs that a list begins with, and what its menus lead to."""
    offers = {offer["key"]: offer for offer in catalogue["offers"]}
    return [file for key in keys if key in offers for file in offers[key]["files"]]


def _write_page(folder: Folder, page: SitePage, style: str, data: dict[str, str]) -> str:
    """Write a page and return the file of its program."""
    package = resources.files("fizzplate")
    joined = join_in_a_scope(f"share/site/{page.name}.js", function="openPage", files=package)
    program = folder.write_named_by_content(
        f"look/{page.name}", ".js", short_program(f"{joined}openPage();\n")
    )
    config = {
        "page": page.name,
        "data": {name: data[name] for name in page.loads},
        "worker": WORKER,
    }
    text = (
        _environment()
        .get_template("page.html")
        .render(
            page=page,
            pages=SITE_PAGES,
            style=style,
            program=program,
            config=json.dumps(config, ensure_ascii=False).replace("<", "\\u003c"),
        )
    )
    folder.write(page.file, text)
    return program


def is_own_home(text: str) -> bool:
    """Return whether a home page was written for a site, not by somebody else."""
    return "<title>Fizz &amp; Plate</title>" in text and WORKER in text


def _home() -> str:
    shown = [_on_home(page.name) for page in SITE_PAGES]
    return (
        _environment()
        .get_template("site_home.html")
        .render(
            pages=shown,
            caution=GENERAL_CAUTION,
            defer=DEFER,
            sources=[each.citation for each in tables.sources().values()],
            version=version("fizzplate"),
            worker=WORKER,
        )
    )


def _on_home(name: str) -> Any:
    if name not in PAGES:
        return WORKSHOP
    page = PAGES[name]
    return replace(page, contents=CONTENTS.get(name, page.contents))


def _manifest() -> str:
    return json.dumps(
        {
            "name": "Fizz & Plate",
            "short_name": "Fizz & Plate",
            "description": "The electrolysis of solutions: watch it, explore it, revise it.",
            "start_url": "index.html",
            "scope": "./",
            "display": "standalone",
            "background_color": "#fbf8f0",
            "theme_color": "#fbf8f0",
            "icons": [{"src": "look/icon.svg", "sizes": "any", "type": "image/svg+xml"}],
        },
        indent=1,
    )


@cache
def _environment() -> Environment:
    loader = ChoiceLoader(
        [PackageLoader("fizzplate", "share/site"), PackageLoader("fizzplate", TEMPLATES)]
    )
    return Environment(loader=loader, autoescape=True, trim_blocks=True, keep_trailing_newline=True)


def _own(name: str) -> str:
    return _own_of("site", name)


def _own_of(folder: str, name: str) -> str:
    return resources.files("fizzplate").joinpath("share", folder, name).read_text(encoding="utf-8")
