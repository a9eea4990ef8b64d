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
    judge_causes,
    possible_causes,
    quantities,
    resolution_sentence,
    signed_percent,
)
from fizzplate.views.figures import Line, graph
from fizzplate.views.web import render, trusted_html
from fizzplate.words import InputError, begin

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson import Wording
    from fizzplate.lesson.measure import Groups

WHICH = ("cathode gain", "anode loss", "cathode gas", "anode gas")
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


def report(made: Mapping[str, TheoryComparison], wording: Wording, note: str = "") -> Markup:
    """Write charts, slopes and constants, and the note about the whole table."""
    parts = [_section(k, found, wording) for k, found in enumerate(made.values())]
    return render("pages/templates/measured.html.j2", comparisons=parts, note=note)


def _section(k: int, found: TheoryComparison, wording: Wording) -> dict[str, Any]:
    """Give the chart and sentences about one quantity, for the template."""
    q = found.quantity
    heading = begin(q.name_in(wording))
    scale, unit = (1.0, q.unit) if q.is_gas else (1e3, "mg")
    axes_names = ("Charge, C", f"{heading}, {unit}")
    chart = graph(f"measured-{k}", heading, axes_names, _lines(found, scale))
    heads = ("group", "charge, C", f"expected, {unit}", f"measured, {unit}", "yield")
    rows = [
        (
            group,
            f"{charge:.3g}",
            f"{scale * theory:.3g}",
            f"{scale * value:.3g}",
            f"{100 * value / theory:.0f} %",
        )
        for group, charge, theory, value in zip(
            found.names, found.charge_C, found.theory, found.measured, strict=True
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
    order = np.argsort(found.charge_C)
    lines = [
        Line("expected", found.charge_C[order], scale * found.theory[order]),
        Line(
            "measured",
            found.charge_C[order],
            scale * found.measured[order],
            error=scale * found.error,
        ),
    ]
    if found.origin is not None:
        ends = np.array([0.0, float(found.charge_C.max())])
        lines.append(Line("line through the origin", ends, scale * found.origin.slope * ends))
    return lines


def _sentences(found: TheoryComparison, scale: float, unit: str) -> list[str]:
    sentences = [
        f"Error bars: ±{scale * found.error:.2g} {unit}, from the resolution of two readings."
    ]
    if found.origin is None:
        return [*sentences, "A line needs at least two groups."]
    sentences.append(
        f"Slope through the origin: {scale * found.origin.slope:.4g} ± "
        f"{scale * found.origin.slope_error:.2g} "
        f"{unit}/C; yield {found.yield_percent:.0f} %."
    )
    if found.origin.by_resolution:
        instrument = "gas tube" if found.quantity.is_gas else "balance"
        sentences.append(
            f"The points lie closer to the line than the {instrument} can show, so the uncertainty comes "
            "from its resolution."
        )
    if found.free is not None:
        sentences.append(
            f"Free line: slope {scale * found.free.slope:.4g} ± {scale * found.free.slope_error:.2g} "
            f"{unit}/C, "
            f"intercept {scale * found.free.intercept:.2g} ± {scale * found.free.intercept_error:.2g} {unit}."
        )
    for name, value in found.constants.items():
        digits = 1 - math.floor(math.log10(value.error)) if value.error > 0 else 2
        shown = max(digits, 0)
        sentences.append(
            f"The class's {name}: {round(value.value, digits):.{shown}f} ± "
            f"{round(value.error, digits):.{shown}f} "
            f"(accepted {value.accepted:.{shown}f}; {signed_percent(100 * value.off, '+.1f')})."
        )
    if found.far_off:
        sentences.append(
            f"Far from the line, but kept in the fit: group {', '.join(found.far_off)}."
        )
    return sentences


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
            each.cause.sentence_in(wording),
            f"{sizes[each.cause.name]:g} {each.cause.unit}",
            _effect(effects[each.cause.name]),
            each.sentence,
        )
        for each in judge_causes(off, effects)
    ]
    alone = {what: (off[what][0], found.resolution_percent) for what, found in fitted.items()}
    rows.append(
        (
            "resolution of the balance or tube",
            "Each result needs two readings, and neither can be finer than the instrument shows.",
            "as set above",
            ", ".join(f"{what} ±{each:.2g} %" for what, (_, each) in alone.items()),
            resolution_sentence(alone),
        )
    )
    measured = [f"{what} {value:+.1f} ± {error:.1f} %" for what, (value, error) in off.items()]
    return render("pages/templates/causes.html.j2", measured=measured, rows=rows)


def _fitted(made: Mapping[str, TheoryComparison]) -> dict[str, TheoryComparison]:
    return {what: found for what, found in made.items() if found.origin is not None}


def _effect(effects: Mapping[str, float]) -> str:
    return ", ".join(f"{what} {signed_percent(each, '+.1f')}" for what, each in effects.items())
