"""The look: one file of tokens that drives the page's CSS and the charts' matplotlib style."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from cycler import cycler

from fizzplate import data
from fizzplate.chemistry import species_name
from fizzplate.words import choice

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = [
    "Tokens",
    "chart_style",
    "colour_name",
    "haze_property",
    "ion_property",
    "solid_property",
    "stylesheet",
    "tokens",
]


PROJECTOR_PX = 1920  # width of the screen that projected sizes are given for
LEAST_PROJECTED = 1.3  # times smaller on narrow screens, at most
PHONE_PX = 759  # width of the widest screen that is held in a hand


@dataclass(frozen=True, slots=True)
class Tokens:
    """The tokens of the look.

    Parameters
    ----------
    light, dark
        Colours of the two rooms, ``#rrggbb`` by name.
    ions, hazes
        Tints of the ions and of what clouds the liquid, the same in both rooms.
    family
        Font families, best first; all are looked for on the reader's machine.
    scale
        Sizes of type by name, on a desk and projected on a screen of 1920 px, px.
    chart
        Sizes of letters in a projected chart, in units of its drawing.
    paper
        Sizes of type by name on paper, pt.
    space
        Distances by name, px.
    """

    light: Mapping[str, str]
    dark: Mapping[str, str]
    ions: Mapping[str, str]
    hazes: Mapping[str, str]
    family: tuple[str, ...]
    scale: Mapping[str, tuple[int, int]]
    chart: Mapping[str, int]
    paper: Mapping[str, int]
    space: Mapping[str, int]


@cache
def _file() -> Mapping[str, Any]:
    text = resources.files(__package__).joinpath("tokens.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


@cache
def tokens() -> Tokens:
    """Return the tokens, read once."""
    file = _file()
    return Tokens(
        light=MappingProxyType(file["light"]),
        dark=MappingProxyType(file["dark"]),
        ions=MappingProxyType(file["ions"]),
        hazes=MappingProxyType(file["hazes"]),
        family=tuple(file["type"]["family"]),
        scale=MappingProxyType({name: (px[0], px[1]) for name, px in file["scale"].items()}),
        chart=MappingProxyType(file["chart"]),
        paper=MappingProxyType(file["paper"]),
        space=MappingProxyType(file["space"]),
    )


def ion_property(formula: str) -> str:
    """Name the custom property that holds the tint of an ion.

    Examples
    --------
    >>> ion_property("SO4^2-"), ion_property("I3^-"), ion_property("HClO")
    ('--fp-ion-so4', '--fp-ion-i', '--fp-ion-other')
    """
    stem = re.sub(r"(\^\d*)?[+-]$", "", formula).lower()
    element = re.sub(r"(\d|\(.*).*$", "", stem)
    named = next((name for name in (stem, element) if name in tokens().ions), "other")
    return f"--fp-ion-{named}"


def solid_property(formula: str) -> str:
    """Name the custom property that holds the colour of a solid on an electrode.

    Examples
    --------
    >>> solid_property("Cu"), solid_property("AgBr")
    ('--fp-copper', '--fp-halide')
    """
    if formula == "PbO2":
        return "--fp-oxide"
    if formula.startswith("Ag") and formula != "Ag":
        return "--fp-halide"
    name = "graphite" if formula == "C" else species_name(formula)
    return f"--fp-{name}"


def haze_property(formula: str) -> str:
    """Name the custom property that holds the colour of a cloud.

    Examples
    --------
    >>> haze_property("Mg(OH)2")
    '--fp-haze-white'
    """
    return f"--fp-haze-{data.find('hazes', solid=formula)['tint']}"


def _properties(colours: Mapping[str, str], prefix: str = "--fp-") -> str:
    return " ".join(f"{prefix}{name}: {value};" for name, value in colours.items())


def _projected(px: int) -> str:
    """Return a size in proportion to the screen, from a laptop's beside the projector to twice 1920 px."""
    return f"clamp({px / LEAST_PROJECTED:.0f}px, {100 * px / PROJECTOR_PX:.3f}vw, {2 * px}px)"


def stylesheet() -> str:
    """Return the tokens as CSS custom properties: the light room, the dim room, the projector.

    What is of class ``fp-projected`` is read from the back row whatever the size of its page, so it
    has projected sizes on every screen but a phone's.

    Examples
    --------
    >>> "--fp-accent: #0c5a68;" in stylesheet()
    True
    """
    t = tokens()
    family = ", ".join(f'"{name}"' if " " in name else name for name in t.family)
    desk = {name: f"{px}px" for name, (px, _) in t.scale.items()}
    large_type = {name: _projected(px) for name, (_, px) in t.scale.items()}
    charts = {f"chart-{name}": f"{size}px" for name, size in t.chart.items()}
    always = {"fine": "var(--fp-type-small)", "index": ".68em", **charts}
    lettering = " ".join(
        (
            f"--fp-family: {family};",
            _properties(desk | always, "--fp-type-"),
            _properties({name: f"{px}px" for name, px in t.space.items()}, "--fp-space-"),
        )
    )
    projector = _properties(large_type, "--fp-type-")
    paper = _properties({name: f"{pt}pt" for name, pt in t.paper.items()}, "--fp-type-")
    particles = f"{_properties(t.ions, '--fp-ion-')} {_properties(t.hazes, '--fp-haze-')}"
    light = f"{lettering} {_properties(t.light)} {particles}"
    dim = f':root[data-fp-room="dim"] {{ color-scheme: dark; {_properties(t.dark)} }}'
    large = f':root[data-fp-size="projector"] {{ {projector} }}'
    always_large = f"@media (min-width: {PHONE_PX + 1}px) {{ .fp-projected {{ {projector} }} }}"
    return "\n".join(
        (
            f":root {{ color-scheme: light; {light} }}",
            # paper is never dim, and is read from near by
            f"@media screen {{ {dim} {large} {always_large} }}",
            f"@media print {{ :root {{ {paper} }} }}",
        )
    )


def colour_name(name: str) -> str:
    """Return the name of one of a room's colours, or refuse it.

    Examples
    --------
    >>> colour_name("copper")
    'copper'
    """
    return choice("colour", name, tokens().light)


def chart_style() -> dict[str, Any]:
    """Return the matplotlib style of the charts.

    Text stays text in the drawing, so that it can be read aloud, found and set in the page's own
    letters; the names of parts are the same at every drawing. Colours are the page's own, by class
    (``figures/drawing.py``); where none is painted, everything is ink.
    """
    ink = tokens().light["ink"]
    inked = ("text.color", "axes.edgecolor", "axes.labelcolor", "grid.color", "hatch.color")
    ticks = [f"{axis}tick.{part}" for axis in "xy" for part in ("color", "labelcolor")]
    return dict.fromkeys((*inked, *ticks), ink) | {
        "svg.fonttype": "none",
        "svg.hashsalt": "fizzplate",
        "font.family": "sans-serif",
        "font.size": 10.5,
        "axes.facecolor": "none",
        "axes.grid": True,
        "axes.grid.axis": "y",
        "axes.prop_cycle": cycler(color=[ink]),
        "axes.spines.left": False,
        "axes.spines.right": False,
        "axes.spines.top": False,
        "figure.facecolor": "none",
        "grid.linewidth": 0.8,
        "lines.linewidth": 2.2,
        "lines.solid_capstyle": "round",
        "lines.dash_capstyle": "butt",
        "savefig.facecolor": "none",
        "ytick.left": False,
    }
