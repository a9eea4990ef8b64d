"""A matplotlib figure as an SVG drawing for the page: its text stays text, its colours are the page's own.

Nothing in a drawing names a colour. Every stroke and fill takes the colour of the group that it stands in
(``currentColor``), and a class gives that group one of the page's colours, so that a drawing follows its room
and its paper like any other part of the page. Without a class the colour is the page's ink.
"""

from __future__ import annotations

import io
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree as ET

import matplotlib as mpl
from defusedxml.ElementTree import fromstring
from matplotlib.figure import Figure

from fizzplate.views.web.theme import chart_style, colour_name

if TYPE_CHECKING:
    from collections.abc import Iterator

    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

POINTS_PER_INCH = 72  # one unit of the drawing is a point
COLOUR_CLASS = "fp-colour-"
_SVG, _XLINK = "http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"
_HREF = f"{{{_XLINK}}}href"
_BEFORE_A_NAME = "/"  # in a group's id, between its colour and its name

ET.register_namespace("", _SVG)
ET.register_namespace("xlink", _XLINK)


@contextmanager
def figure_for_the_page(
    size_in: tuple[float, float], *, math: bool = True, **options: Any
) -> Iterator[Figure]:
    """Give a figure to draw on, and to write with :func:`drawing` within the same block.

    Parameters
    ----------
    size_in
        Width and height, inches.
    math
        Whether a pair of ``$`` encloses a formula; without, they are dollars.
    options
        Further arguments of the figure.
    """
    style = chart_style() | {"text.parse_math": math}
    with mpl.rc_context(style):  # type: ignore[arg-type]  # its stubs list every key
        yield Figure(figsize=size_in, dpi=POINTS_PER_INCH, **options)


def paint(colour: str, *artists: Artist, name: str = "") -> None:
    """Draw parts of a figure in one of the page's colours.

    Parameters
    ----------
    colour
        Its name in the theme.
    artists
        What is drawn so.
    name
        The id of their group in the drawing, if the page asks for it.
    """
    for artist in artists:
        artist.set_gid(f"{COLOUR_CLASS}{colour_name(colour)}{_BEFORE_A_NAME}{name}")


def paint_frame(figure: Figure, axes: Axes, *, grid: str = "line") -> None:
    """Paint the axes themselves, once everything is on them: their lines, marks, grid and names.

    Parameters
    ----------
    figure, axes
        The figure and its axes, whose limits and marks stay as they are from here on.
    grid
        Colour of the grid at the marks that bear numbers; between them it is ``line``.
    """
    layout = figure.get_layout_engine()
    if layout is not None:  # how much room there is settles which marks there are
        layout.execute(figure)
        figure.set_layout_engine("none")
    paint("edge", *axes.spines.values())
    for axis in (axes.xaxis, axes.yaxis):
        paint("quiet", axis.label)
        for colour, ticks in ((grid, axis.get_major_ticks()), ("line", axis.get_minor_ticks())):
            for tick in ticks:
                paint(colour, tick.gridline)
                paint("edge", tick.tick1line)


def drawing(figure: Figure, name: str, title: str, description: str) -> str:
    """Write a figure as SVG that is part of a page.

    Parameters
    ----------
    figure
        The figure, its parts painted.
    name
        Every id in the drawing begins with it.
    title, description
        What it shows, for those who do not see it.
    """
    written = io.StringIO()
    figure.savefig(written, format="svg", metadata={"Date": None, "Creator": None})
    root = fromstring(written.getvalue())
    for child in list(root):  # what is about the file, and a style that would reach the whole page
        if child.tag == f"{{{_SVG}}}metadata" or child.find(f"{{{_SVG}}}style") is not None:
            root.remove(child)
    colours = _use_classes(root)
    _begin_ids_with(name, root)
    root.attrib = {
        "viewBox": root.attrib["viewBox"],
        "class": "fp-drawing",
        "role": "img",
        "aria-labelledby": f"{name}-title",
        "aria-describedby": f"{name}-desc",
    }
    for place, (part, attributes, text) in enumerate(
        (
            ("title", {"id": f"{name}-title"}, title),
            ("desc", {"id": f"{name}-desc"}, description),
            ("style", {}, _style(colours)),
        )
    ):
        element = ET.Element(f"{{{_SVG}}}{part}", attributes)
        element.text = text
        root.insert(place, element)
    return ET.tostring(root, encoding="unicode")


def _style(colours: set[str]) -> str:
    """Give the drawing's classes their colours, in the drawing itself: it can be saved as a file."""
    rules = [
        f".fp-drawing .{COLOUR_CLASS}{each}{{color:var(--fp-{each})}}" for each in sorted(colours)
    ]
    return "".join(
        (
            ".fp-drawing{color:var(--fp-ink)}",
            ".fp-drawing *{stroke-linejoin:round;stroke-linecap:butt}",
            *rules,
        )
    )


def _use_classes(root: ET.Element) -> set[str]:
    """Let every part take its group's colour, and give the groups of painted artists their classes."""
    used = set()
    for part in root.iter():
        if "style" in part.attrib:
            part.set("style", _in_the_groups_colour(part.attrib["style"]))
    patterns = {part.get("id"): part for part in root.iter(f"{{{_SVG}}}pattern")}
    for group in root.iter(f"{{{_SVG}}}g"):
        colour, _, name = group.get("id", "").partition(_BEFORE_A_NAME)
        if not colour.startswith(COLOUR_CLASS):
            continue
        del group.attrib["id"]
        if name:
            group.set("id", name)
        group.set("class", colour)
        used.add(colour.removeprefix(COLOUR_CLASS))
        for part in group.iter():  # a hatch is kept apart from what it fills
            hatch = _properties(part.get("style", "")).get("fill", "").removeprefix("url(#")
            if hatch.removesuffix(")") in patterns:
                patterns[hatch.removesuffix(")")].set("class", colour)
    return used


def _in_the_groups_colour(style: str) -> str:
    properties = _properties(style)
    for each in ("fill", "stroke"):
        if each in properties and not properties[each].startswith(("none", "url(")):
            properties[each] = "currentColor"
    return "; ".join(f"{key}: {value}" for key, value in properties.items())


def _properties(style: str) -> dict[str, str]:
    pairs = (each.partition(":") for each in style.split(";") if each.strip())
    return {key.strip(): value.strip() for key, _, value in pairs}


def _begin_ids_with(name: str, root: ET.Element) -> None:
    """Make the ids of a drawing its own, since a page shows several."""
    for part in root.iter():
        attributes = part.attrib
        if "id" in attributes:
            attributes["id"] = f"{name}-{attributes['id']}"
        if _HREF in attributes:
            attributes[_HREF] = f"#{name}-{attributes[_HREF].removeprefix('#')}"
        for each in ("clip-path", "style"):
            if "url(#" in attributes.get(each, ""):
                attributes[each] = f"url(#{name}-".join(attributes[each].split("url(#"))
