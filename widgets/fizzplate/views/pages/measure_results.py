"""What a class measured, compared with theory in charts and sentences, and why it differs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
from markupsafe import Markup

from fizzplate.chemistry import species_name
from fizzplate.lesson.measure import (
    GAIN,
    LOSS,
    TheoryComparison,
    compare_with_theory,
    explain_groups,
    judge_causes,
    possible_causes,
    quantities,
    resolution_sentence,
    signed_percent,
)
from fizzplate.views.figures import Line, Points, graph
from fizzplate.views.web import render, trusted_html
from fizzplate.words import InputError, begin

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson import Wording
    from fizzplate.lesson.measure import Fit, Groups

WHICH = ("cathode gain", "anode loss", "cathode gas", "anode gas")
LETTERS = 6  # of a group's name beside its point
MAX_LETTERS = 40  # groups whose names stand in a chart
POINT = "point-"  # begins the id of a point that can be pressed; its row follows
MASSES = {"cathode gain": GAIN, "anode loss": LOSS}


def comparisons(
    groups: Groups,
    metal: str,
    anode_gas: str,
    resolutions: tuple[float, float],
    *,
    over_water: bool,
) -> dict[str, TheoryComparison]:
    """Compare everything that was measured with theory.

    Parameters
    ----------
    groups
        The class's table.
    metal, anode_gas
        What is deposited or dissolves, and what the anode gives off.
    resolutions
        Of the balance, g, and of the gas tube, cm3.
    over_water
        Whether gas was collected over water.

    Returns
    -------
    dict
        By what was measured: "gain", "loss", or the name of a gas.
    """
    made = {}
    for which in WHICH:
        quantity = quantities(metal, anode_gas)[which]
        resolution = resolutions[1] if quantity.is_gas else resolutions[0]
        try:
            found = compare_with_theory(
                groups, quantity, which, resolution=resolution, over_water=over_water
            )
        except InputError:
            continue  # nobody measured it
        made[MASSES.get(which) or species_name(quantity.product)] = found
    return made


def report(
    made: Mapping[str, TheoryComparison], groups: Groups, wording: Wording, note: str = ""
) -> Markup:
    """Write charts, slopes and constants, what may have happened in single groups, and the note."""
    parts = [_section(k, found, wording) for k, found in enumerate(made.values())]
    verdicts = explain_groups(groups, made, wording)
    left_out = {k for k, is_kept in enumerate(groups.kept) if not is_kept}
    return render(
        "pages/templates/measured.html.j2",
        comparisons=parts,
        note=note,
        groups=[(each, each.row in left_out) for each in verdicts],
    )


def _section(k: int, found: TheoryComparison, wording: Wording) -> dict[str, Any]:
    """Give the chart and sentences about one quantity, for the template."""
    q = found.quantity
    heading = begin(q.name_in(wording))
    scale, unit = (1.0, q.unit) if q.is_gas else (1e3, "mg")
    axes_names = ("Charge, C", f"{heading}, {unit}")
    name = f"measured-{k}"
    chart = graph(name, heading, axes_names, _lines(found, scale), points=_points(found, scale))
    heads = ("group", "charge, C", f"expected, {unit}", f"measured, {unit}", "yield", "counts")
    everyone = found.everyone or found
    rows = [
        (
            group,
            f"{charge:.3g}",
            f"{scale * theory:.3g}",
            f"{scale * value:.3g}",
            f"{100 * value / theory:.0f}\N{NO-BREAK SPACE}%",
            "yes" if row in found.rows else "left out",
        )
        for group, row, charge, theory, value in zip(
            everyone.names,
            everyone.rows,
            everyone.charge_C,
            everyone.theory,
            everyone.measured,
            strict=True,
        )
    ]
    return {
        "heading": heading,
        "chart": trusted_html(chart),
        "sentences": _sentences(found, scale, unit),
        "heads": heads,
        "rows": rows,
    }


def _lines(found: TheoryComparison, scale: float) -> list[Line]:
    everyone = found.everyone or found
    order = np.argsort(everyone.charge_C)
    charge = everyone.charge_C[order]
    lines = [Line("expected", charge, scale * everyone.theory[order], dots=False)]
    ends = np.array([0.0, float(everyone.charge_C.max())])
    fits = {"line through the origin": found.origin}
    if found.everyone is not None:
        fits = {"line without them": found.origin, "line with them": found.everyone.origin}
    lines += [
        Line(name, ends, scale * fit.slope * ends, dots=False)
        for name, fit in fits.items()
        if fit is not None
    ]
    return lines


def _points(found: TheoryComparison, scale: float) -> list[Points]:
    """Give the groups that count, and those left out, each with its letter and the id to press."""
    everyone = found.everyone or found
    is_many = len(everyone.rows) > MAX_LETTERS

    def of(name: str, *, kept: bool) -> Points:
        chosen = [k for k, row in enumerate(everyone.rows) if (row in found.rows) == kept]
        labels = [_letter(everyone.names[k]) if not is_many else "" for k in chosen]
        return Points(
            name,
            everyone.charge_C[chosen],
            scale * everyone.measured[chosen],
            scale * found.error,
            tuple(labels if kept else [f"({each})" for each in labels]),
            tuple(f"{POINT}{everyone.rows[k]}" for k in chosen),
            hollow=not kept,
        )

    return [of("measured", kept=True), of("left out", kept=False)]


def _letter(name: str) -> str:
    """Shorten a group's name to what fits beside a point."""
    return name if len(name) <= LETTERS else f"{name[: LETTERS - 1]}…"


def _places(error: float) -> int:
    """Return how many decimal places show two figures of an uncertainty; fewer than none before the point."""
    return 1 - math.floor(math.log10(error)) if error > 0 else 2


def with_uncertainty(value: float, error: float) -> str:
    """Write a value and its uncertainty to the same place: two figures of the uncertainty.

    Examples
    --------
    >>> print(with_uncertainty(0.34, 0.00291), "|", with_uncertainty(-5.63, 1.32))
    0.3400 ± 0.0029 | −5.6 ± 1.3
    >>> print(with_uncertainty(102931, 5712))
    102900 ± 5700
    """
    places = _places(error)
    first, second = (f"{round(each, places):.{max(places, 0)}f}" for each in (value, error))
    return f"{first.replace('-', '−')} ± {second}"


def _slope(fit: Fit, scale: float) -> str:
    return with_uncertainty(scale * fit.slope, scale * fit.slope_error)


def _sentences(found: TheoryComparison, scale: float, unit: str) -> list[str]:
    sentences = [
        f"Error bars: ±{scale * found.error:.2g} {unit}, from the resolution of two readings."
    ]
    if found.origin is None:
        return [*sentences, "A line needs at least two groups."]
    sentences.append(
        f"Slope through the origin: {_slope(found.origin, scale)} {unit}/C; "
        f"yield {found.yield_percent:.0f} %."
    )
    if found.origin.by_resolution:
        instrument = "gas tube" if found.quantity.is_gas else "balance"
        sentences.append(
            f"The points lie closer to the line than the {instrument} can show, so the uncertainty comes "
            "from its resolution."
        )
    if found.free is not None:
        sentences.append(
            f"Free line: slope {_slope(found.free, scale)} {unit}/C, intercept "
            f"{with_uncertainty(scale * found.free.intercept, scale * found.free.intercept_error)} {unit}."
        )
    for name, value in found.constants.items():
        shown = max(_places(value.error), 0)
        sentences.append(
            f"The class's {name}: {with_uncertainty(value.value, value.error)} "
            f"(accepted {value.accepted:.{shown}f}; {signed_percent(100 * value.off, '+.1f')})."
        )
    if found.far_off:
        sentences.append(
            f"Far from the line, but kept in the fit: group {', '.join(found.far_off)}."
        )
    if found.everyone is not None:
        sentences += _with_and_without(found, scale, unit)
    return sentences


def _with_and_without(found: TheoryComparison, scale: float, unit: str) -> list[str]:
    """Put what a class finds without the groups that it leaves out beside what it finds with them."""
    names = ", ".join(found.left_out)
    group = "groups" if len(found.left_out) > 1 else "group"
    both = [
        (f"Without {group} {names}", found),
        (f"With {group} {names}", found.everyone),
    ]
    return [
        f"{words}: slope {_slope(each.origin, scale)} {unit}/C; "
        f"yield {each.yield_percent:.0f} %{_first_constant(each)}."
        for words, each in both
        if each is not None and each.origin is not None
    ]


def _first_constant(found: TheoryComparison) -> str:
    """Write the constant that a class mostly asks for, with its uncertainty."""
    for name, value in found.constants.items():
        return f"; {name}: {with_uncertainty(value.value, value.error)}"
    return ""


def acting_on(made: Mapping[str, TheoryComparison]) -> list[str]:
    """Name the causes of error that change a measured quantity."""
    return [each.name for each in possible_causes() if any(map(each.direction, _fitted(made)))]


def why(
    made: Mapping[str, TheoryComparison], sizes: Mapping[str, float], wording: Wording
) -> Markup:
    """Say which causes the class's own data allow, each with the effect of its size.

    Parameters
    ----------
    made
        What was measured.
    sizes
        Of each cause, in its unit.
    wording
        The board's.
    """
    fitted = _fitted(made)
    if not fitted:
        return Markup()
    off = {what: found.off_percent for what, found in fitted.items()}
    per_mg = {what: 1e-3 * found.percent_per_unit for what, found in fitted.items()}
    effects = {each.name: each.effects(sizes[each.name], per_mg) for each in possible_causes()}
    rows = [
        (
            each.cause.name,
            each.sentence,
            each.cause.sentence_in(wording),
            f"{sizes[each.cause.name]:g} {each.cause.unit}",
            _effect(effects[each.cause.name]),
        )
        for each in judge_causes(off, effects)
    ]
    alone = {what: (off[what][0], found.resolution_percent) for what, found in fitted.items()}
    rows.append(
        (
            "resolution of the balance or tube",
            resolution_sentence(alone),
            "Each result needs two readings, and neither can be finer than the instrument shows.",
            "as set above",
            ", ".join(f"{what} ±{each:.2g} %" for what, (_, each) in alone.items()),
        )
    )
    measured = [
        f"{what} {value:+.1f} ± {error:.1f} %".replace("-", "−")
        for what, (value, error) in off.items()
    ]
    alone_enough = [each.cause.name for each in judge_causes(off, effects) if each.allowed]
    return render(
        "pages/templates/causes.html.j2",
        measured=measured,
        rows=rows,
        likely=f"Likely for the whole class: {' or '.join(alone_enough)}."
        if alone_enough
        else "No single cause of the sizes below explains the whole class's difference.",
    )


def _fitted(made: Mapping[str, TheoryComparison]) -> dict[str, TheoryComparison]:
    return {what: found for what, found in made.items() if found.origin is not None}


def _effect(effects: Mapping[str, float]) -> str:
    return ", ".join(f"{what} {signed_percent(each, '+.1f')}" for what, each in effects.items())
