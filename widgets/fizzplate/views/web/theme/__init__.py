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
    body_px, key_px, projector_body_px, projector_key_px
        Size of body text and of key numbers, ordinary and projected, px.
    scale
        Sizes of type by name, ordinary and projected, px.
    space
        Distances by name, px.
    """

    light: Mapping[str, str]
    dark: Mapping[str, str]
    ions: Mapping[str, str]
    hazes: Mapping[str, str]
    family: tuple[str, ...]
    body_px: int
    key_px: int
    projector_body_px: int
    projector_key_px: int
    scale: Mapping[str, tuple[int, int]]
    space: Mapping[str, int]


@cache
def _file() -> Mapping[str, Any]:
    text = resources.files(__package__).joinpath("tokens.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


@cache
def tokens() -> Tokens:
    """Return the tokens, read once."""
    file = _file()
    lettering = dict(file["type"])
    return Tokens(
        light=MappingProxyType(file["light"]),
        dark=MappingProxyType(file["dark"]),
        ions=MappingProxyType(file["ions"]),
        hazes=MappingProxyType(file["hazes"]),
        family=tuple(lettering.pop("family")),
        scale=MappingProxyType({name: (px[0], px[1]) for name, px in file["scale"].items()}),
        space=MappingProxyType(file["space"]),
        **lettering,
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


def stylesheet() -> str:
    """Return the tokens as CSS custom properties: the light room, the dim room, the projector.

    Examples
    --------
    >>> "--fp-accent: #0c5a68;" in stylesheet()
    True
    """
    t = tokens()
    family = ", ".join(f'"{name}"' if " " in name else name for name in t.family)
    lettering = f"--fp-family: {family}; --fp-body: {t.body_px}px; --fp-key: {t.key_px}px;"
    projector = f"--fp-body: {t.projector_body_px}px; --fp-key: {t.projector_key_px}px;"
    sizes = [" ".join(f"--fp-type-{n}: {px[k]}px;" for n, px in t.scale.items()) for k in (0, 1)]
    distances = " ".join(f"--fp-space-{name}: {px}px;" for name, px in t.space.items())
    lettering, projector = f"{lettering} {sizes[0]} {distances}", f"{projector} {sizes[1]}"
    particles = f"{_properties(t.ions, '--fp-ion-')} {_properties(t.hazes, '--fp-haze-')}"
    light = f"{lettering} {_properties(t.light)} {particles}"
    dim = f':root[data-fp-room="dim"] {{ color-scheme: dark; {_properties(t.dark)} }}'
    large = f':root[data-fp-size="projector"] {{ {projector} }}'
    return "\n".join(
        (
            f":root {{ color-scheme: light; {light} }}",
            f"@media screen {{ {dim} {large} }}",  # paper is never dim, and is read from near by
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
