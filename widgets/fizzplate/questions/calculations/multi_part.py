"""Calculations in several parts, each going on from the one before, built from explicit quantities."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.measure import (
    ROUND_FARADAY,
    Step,
    as_given,
    duration_step,
    figures_of,
    moles_step,
    needed_charge_step,
    needed_step,
    share_step,
    significant,
)
from fizzplate.questions.calculations.derivations import ROOM, end_link, links_to_product, room_data
from fizzplate.questions.calculations.parts import Link, Slip, number_question, part, parts_at
from fizzplate.questions.calculations.quantities import (
    FARADAY,
    TAKEN_FARADAY_C_MOL,
    amperes,
    electron_slips,
)
from fizzplate.words import DEFAULT_WORDING, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.calculations.derivations import Passed
    from fizzplate.questions.calculations.quantities import Made
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

#: what a question in parts may ask for on the way from a charge to its product
ASKS = {
    "charge": "Calculate the charge that passes, in C.",
    "electrons": "How many moles of electrons pass?",
    "moles": "How many moles of {name} form?",
    "end": "What {kind} of {name}, in {unit}, forms?",
}
AREAS_CM2 = {"cm²": 1.0, "m²": 1e4}  # one of each unit
THICKNESSES_CM = {"mm": 0.1, "µm": 1e-4}


def in_parts(
    passed: Passed,
    made: Made,
    unit: str,
    *,
    asks: Sequence[str] = tuple(ASKS),
    says: str = "In a cell, {passes}.",
    figures: int = 3,
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for a charge, for moles of electrons and of the product, and for its mass or volume.

    Parameters
    ----------
    passed, made, unit
        The charge, the product, and the unit of the last part.
    asks
        Which of the numbers on the way are asked for, out of :data:`ASKS`.
    says
        The situation, with {passes} for what happens.
    figures
        Of the answers.
    watch
        A cell that shows it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Made)
    >>> in_parts(Flow(0.5, 30), Made("Cu", "Cu2+", "copper"), "g").answer
    '900 C; 0.00933 mol; 0.00466 mol; 0.296 g'
    """
    gas = unit in ROOM
    links = links_to_product(passed, made, unit, figures=figures)
    words = {"name": made.name, "unit": unit, "kind": "volume" if gas else "mass"}
    parts = parts_at(links, [(name, say(ASKS[name], wording, **words)) for name in asks], figures)
    data = (FARADAY, room_data(unit) if gas else made.molar)
    return number_question(
        f"{say(says, wording, passes=passed.passes)}", parts, data=data, watch=watch
    )


def melt_mass(
    passed: Passed,
    metal: Made,
    other: Made,
    unit: str,
    *,
    says: str = "In the electrolysis of a molten salt, {passes}.",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the masses of both products of a molten salt.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Coulombs, Made)
    >>> calcium, chlorine = Made("Ca", "Ca2+", "calcium"), Made("Cl2", "Cl-", "chlorine")
    >>> melt_mass(Coulombs(3.33e5), calcium, chlorine, "g").answer
    '69.2 g; 122 g'
    """
    of_electrons = passed.charge_C / TAKEN_FARADAY_C_MOL
    moles = passed.charge_C * other.per_charge_mol
    first = part(
        links_to_product(passed, metal, unit),
        asks=say(
            "What mass of {metal}, in {unit}, forms at {the_cathode}?",
            wording,
            metal=metal.name,
            unit=unit,
        ),
    )
    second = part(
        [
            Link(
                "moles",
                share_step(other.particle, other.electrons, of_electrons, 4),
                electron_slips(other),
            ),
            end_link(other, moles, unit),
        ],
        asks=say(
            "What mass of {other}, in {unit}, forms at {the_anode} in the same time?",
            wording,
            other=other.name,
            unit=unit,
        ),
        before=first.value,
    )
    data = (FARADAY, metal.molar, other.molar)
    text = f"{say(says, wording, passes=passed.passes)}"
    return number_question(text, [first, second], data=data, watch=watch)


def efficiency(
    passed: Passed,
    made: Made,
    unit: str,
    percent: float,
    *,
    says: str = "In a cell, {passes}. Only {percent} % of the charge makes {name}.",
    asks: str = "What mass of {name}, in {unit}, forms?",
    figures: int = 3,
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for a mass where only part of the charge makes the product.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Made)
    >>> magnesium = Made("Mg", "Mg2+", "magnesium")
    >>> efficiency(Flow(1e5, 1, "h"), magnesium, "kg", 85).answer
    '38.5 kg'
    """
    links = links_to_product(passed, made, unit, percent=percent, figures=figures)
    words = {"name": made.name, "unit": unit, "percent": as_given(percent), "passes": passed.passes}
    words["units"] = {"g": "grams", "kg": "kilograms"}[unit]
    data = (FARADAY, made.molar)
    text = f"{say(says, wording, **words)} {say(asks, wording, **words)}"
    return number_question(text, [part(links, figures=figures)], data=data, watch=watch)


def plating_time(
    made: Made,
    thickness: tuple[float, str],
    area: tuple[float, str],
    density_g_cm3: float,
    current_A: float,
    *,
    says: str = "A layer of {name}, {thickness} thick, is to cover {area}.",
    unit: str = "s",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the mass of a layer, the charge for it and the time that a current needs.

    Parameters
    ----------
    made
        The metal.
    thickness, area
        Each as a number with its unit: "mm" or "µm", "cm²" or "m²".
    density_g_cm3, current_A
        Of the metal; the steady current.
    says
        The situation, with {name}, {thickness} and {area}.
    unit
        Of the time: "s" or "min".
    watch
        A cell that shows it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Made)
    >>> chromium = Made("Cr", "Cr3+", "chromium")
    >>> plating_time(chromium, (0.01, "mm"), (3.3, "m²"), 7.19, 33.46).answer
    '237 g; 1.32 × 10⁶ C; 39 500 s'
    """
    thick_cm = thickness[0] * THICKNESSES_CM[thickness[1]]
    area_cm2 = area[0] * AREAS_CM2[area[1]]
    volume = area_cm2 * thick_cm
    mass = volume * density_g_cm3
    moles = mass / made.molar_g_mol
    of_electrons = moles * made.electrons
    needed_C = of_electrons * TAKEN_FARADAY_C_MOL
    links = [
        Link(
            "volume",
            Step(
                f"Volume: {as_given(area_cm2)} cm² × {as_given(thick_cm)} cm",
                volume,
                "cm³",
                exact=True,
            ),
            _layer_slips(thickness[1], area[1]),
        ),
        Link(
            "mass",
            Step(f"Mass: {as_given(volume)} cm³ × {density_g_cm3:.2f} g/cm³", mass, "g"),
            (Slip(density_g_cm3**-2, "Mass is volume times density, not divided by it."),),
        ),
        Link(
            "moles", moles_step(made.name, significant(mass, 4), f"{made.molar_g_mol:.1f}", moles)
        ),
        Link(
            "electrons",
            needed_step(made.particle, made.electrons, moles, 4),
            electron_slips(made, needed=True),
        ),
        Link("charge", needed_charge_step(of_electrons, needed_C, ROUND_FARADAY, 4)),
        Link("s", duration_step(significant(needed_C, 4), current_A, needed_C / current_A)),
    ]
    if unit == "min":
        seconds = needed_C / current_A
        working = f"Time in minutes: {significant(seconds, 4)} s ÷ 60"
        slip = Slip(60, "That is the time in seconds: divide by 60.")
        links.append(Link("min", Step(working, seconds / 60, "min"), (slip,)))
    asks = (
        ("mass", f"What mass of {made.name}, in g, does the layer hold?"),
        ("charge", "What charge, in C, deposits it?"),
        (unit, f"How long, in {unit}, must a current of {amperes(current_A)} flow?"),
    )
    words = {
        "name": made.name,
        "thickness": _thick(*thickness),
        "area": f"{as_given(area[0])} {area[1]}",
    }
    density = f"{density_g_cm3:.2f} g/cm³ for the density of {made.name}"
    return number_question(
        say(says, wording, **words),
        parts_at(links, asks),
        data=(FARADAY, made.molar, density),
        watch=watch,
    )


def _thick(size: float, unit: str) -> str:
    """Write a thickness as it is measured: millimetres with two figures."""
    return (
        f"{significant(size, max(2, figures_of(size))) if unit == 'mm' else as_given(size)} {unit}"
    )


def _layer_slips(thickness_unit: str, area_unit: str) -> tuple[Slip, ...]:
    """Return what goes wrong with the units of a layer."""
    slips = [
        Slip(
            1 / THICKNESSES_CM[thickness_unit],
            f"The thickness was not converted from {thickness_unit} into cm.",
        )
    ]
    if thickness_unit == "µm":
        slips.append(Slip(10, "A micrometre is a ten-thousandth of a centimetre."))
    if area_unit == "m²":
        slips.append(Slip(1e-2, "A square metre holds 10 000 cm², not 100."))
        slips.append(Slip(1e-4, "The area was not converted from m² into cm²."))
    return tuple(slips)
