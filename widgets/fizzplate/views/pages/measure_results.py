"""What a class measured beside theory, as charts and sentences, and why it differs."""

from __future__ import annotations

import math
from html import escape
from typing import TYPE_CHECKING

import numpy as np

from fizzplate.chemistry import species_name
from fizzplate.lesson.measure.causes_of_error import (
    CAUSES,
    GAIN,
    LOSS,
    judge_causes,
    resolution_sentence,
)
from fizzplate.lesson.measure.theory_comparison import (
    TheoryComparison,
    compare_with_theory,
    quantities,
)
from fizzplate.views.figures.graphs import Line, graph
from fizzplate.views.web.board_words import in_board_words
from fizzplate.views.web.scrolling import scrolling
from fizzplate.words.electrode_names import named
from fizzplate.words.refusals import InputError
from fizzplate.words.say import begin

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson import Wording
    from fizzplate.lesson.measure.class_entries import Groups

_FRAME = scrolling("", "Figures").removesuffix("</div>")
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


def report(made: Mapping[str, TheoryComparison], wording: Wording) -> str:
    """Write charts, slopes and constants."""
    if not made:
        return "<h2>Theory and measurement</h2><p>Enter current, time and masses of at least one group.</p>"
    parts = ["<h2>Theory and measurement</h2>"]
    parts += [_one(k, comparison, wording) for k, comparison in enumerate(made.values())]
    return "".join(parts)


def _one(k: int, found: TheoryComparison, wording: Wording) -> str:
    q = found.quantity
    name = named(q.name, wording)
    heading = begin(name)
    scale, unit = (1.0, q.unit) if q.is_gas else (1e3, "mg")
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
    drawing = graph(
        f"measured-{k}",
        heading,
        ("Charge, C", f"{heading}, {unit}"),
        lines,
    )
    said = _sentences(found, scale, unit)
    table = "".join(
        f"<tr><th scope='row'>{escape(group)}</th><td>{charge:.3g}</td><td>{scale * theory:.3g}</td>"
        f"<td>{scale * value:.3g}</td><td>{100 * value / theory:.0f} %</td></tr>"
        for group, charge, theory, value in zip(
            found.names, found.charge_C, found.theory, found.measured, strict=True
        )
    )
    return (
        f"<section class='fp-found'><h3>{escape(heading)}</h3>"
        f'<div class="fp-graphs"><figure class="fp-graph">{drawing}</figure><div>'
        f"{''.join(f'<p>{escape(text)}</p>' for text in said)}"
        f"{_FRAME}<table><caption>Group by group</caption><thead><tr><th scope='col'>group</th>"
        f"<th scope='col'>charge, C</th><th scope='col'>expected, {unit}</th>"
        f"<th scope='col'>measured, {unit}</th><th scope='col'>yield</th></tr></thead>"
        f"<tbody>{table}</tbody></table></div></div></div></section>"
    )


def _sentences(found: TheoryComparison, scale: float, unit: str) -> list[str]:
    said = [f"Error bars: ±{scale * found.error:.2g} {unit}, two readings of the resolution."]
    if found.origin is None:
        return [*said, "A line needs at least two groups."]
    said.append(
        f"Slope through the origin: {scale * found.origin.slope:.4g} ± "
        f"{scale * found.origin.slope_error:.2g} "
        f"{unit}/C; yield {found.yield_percent:.0f} %."
    )
    if found.origin.by_resolution:
        instrument = "gas tube" if found.quantity.is_gas else "balance"
        said.append(
            f"The points scatter less than the {instrument} can show, so the uncertainty is that of its "
            "resolution."
        )
    if found.free is not None:
        said.append(
            f"Free line: slope {scale * found.free.slope:.4g} ± {scale * found.free.slope_error:.2g} "
            f"{unit}/C, "
            f"intercept {scale * found.free.intercept:.2g} ± {scale * found.free.intercept_error:.2g} {unit}."
        )
    for name, value in found.constants.items():
        digits = 1 - math.floor(math.log10(value.error)) if value.error > 0 else 2
        shown = max(digits, 0)
        said.append(
            f"The class's {name}: {round(value.value, digits):.{shown}f} ± "
            f"{round(value.error, digits):.{shown}f} "
            f"(accepted {value.accepted:.{shown}f}; {100 * value.off:+.1f} %)."
        )
    if found.far_off:
        said.append(f"Far off, but kept in the fit: group {', '.join(found.far_off)}.")
    return said


def acting_on(made: Mapping[str, TheoryComparison]) -> list[str]:
    """Name the causes that move something of what was measured."""
    return [each.name for each in CAUSES if any(map(each.direction, _fitted(made)))]


def why(made: Mapping[str, TheoryComparison], sizes: Mapping[str, float], wording: Wording) -> str:
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
        return ""
    off = {what: found.off_percent for what, found in fitted.items()}
    per_mg = {what: 1e-3 * found.percent_per_unit for what, found in fitted.items()}
    effects = {each.name: each.effects(sizes[each.name], per_mg) for each in CAUSES}
    rows = [
        (
            each.cause.name,
            each.cause.how,
            f"{sizes[each.cause.name]:g} {each.cause.unit}",
            _effect(effects[each.cause.name]),
            each.says,
        )
        for each in judge_causes(off, effects)
    ]
    alone = {what: (off[what][0], found.resolution_percent) for what, found in fitted.items()}
    rows.append(
        (
            "resolution of the balance or tube",
            "Two readings make one result, each no finer than the instrument shows.",
            "as set above",
            ", ".join(f"{what} ±{each:.2g} %" for what, (_, each) in alone.items()),
            resolution_sentence(alone),
        )
    )
    measured = "; ".join(
        f"{what} {value:+.1f} ± {error:.1f} %" for what, (value, error) in off.items()
    )
    cells = "".join(
        f"<tr><th scope='row'>{escape(first)}</th>"
        + "".join(f"<td>{escape(cell)}</td>" for cell in others)
        + "</tr>"
        for first, *others in rows
    )
    heads = "".join(
        f"<th scope='col'>{each}</th>" for each in ("cause", "how", "size", "moves", "here")
    )
    return str(
        in_board_words(
            f"<h2>Why it differs</h2><p>Away from theory: {escape(measured)}. "
            "<span class='fp-to-press'>Set the size of each cause below the table.</span></p>"
            f"{_FRAME}<table><caption>Causes, and what the class's own data say "
            f"(common practice)</caption><thead><tr>{heads}</tr></thead><tbody>{cells}</tbody></table></div>",
            wording,
        )
    )


def _fitted(made: Mapping[str, TheoryComparison]) -> dict[str, TheoryComparison]:
    return {what: found for what, found in made.items() if found.origin is not None}


def _effect(effects: Mapping[str, float]) -> str:
    return ", ".join(f"{what} {each:+.1f} %" for what, each in effects.items())
