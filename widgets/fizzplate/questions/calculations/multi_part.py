"""Calculations in several parts, each going on from the one before, built from explicit quantities."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fizzplate.lesson.measure import (
    Step,
    as_given,
    duration_step,
    moles_step,
    significant,
)
from fizzplate.questions.calculations.derivations import (
    ROOM,
    end_link,
    links_from_electrons,
    links_to_electrons,
    links_to_product,
    needed_charge_link,
    room_data,
    with_one_mark_for_moles,
)
from fizzplate.questions.calculations.parts import (
    Link,
    Slip,
    joined,
    number_question,
    part,
    parts_at,
)
from fizzplate.questions.calculations.quantities import (
    FARADAY,
    TAKEN_FARADAY_C_MOL,
    amperes,
    measured,
)
from fizzplate.words import DEFAULT_WORDING, NO_BREAK, say, with_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from fizzplate.questions.calculations.derivations import ChargeSource
    from fizzplate.questions.calculations.quantities import Product
    from fizzplate.questions.question_types import Question
    from fizzplate.words import Wording

#: what a question in parts may ask for on the way from a charge to its product
PROMPTS = {
    "charge": "Calculate the charge that passes, in C.",
    "electrons": "How many moles of electrons pass?",
    "moles": "How many moles of {name} form?",
    "end": "What {kind} of {name}, in {unit}, forms?",
}
AREAS_CM2 = {"cm²": 1.0, "m²": 1e4}  # one of each unit
THICKNESSES_CM = {"mm": 0.1, "µm": 1e-4}


def in_parts(
    charge_source: ChargeSource,
    product: Product,
    unit: str,
    *,
    part_names: Sequence[str] = tuple(PROMPTS),
    situation: str = "In a cell, {passes}.",
    figures: int = 3,
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for a charge, for moles of electrons and of the product, and for its mass or volume.

    Parameters
    ----------
    charge_source, product, unit
        The charge, the product, and the unit of the last part.
    part_names
        Which of the numbers on the way are asked for, out of :data:`PROMPTS`.
    situation
        The situation, with {passes} for what happens.
    figures
        Of the answers.
    watch
        A cell that shows it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> in_parts(Flow(0.5, 30), Product("Cu", "Cu2+", "copper"), "g").answer
    '900 C; 0.00933 mol; 0.00466 mol; 0.296 g'
    """
    gas = unit in ROOM
    links = links_to_product(charge_source, product, unit, figures=figures)
    words = {"name": product.name, "unit": unit, "kind": "volume" if gas else "mass"}
    # where one electron passes for each particle, its moles are those of electrons: one question
    names = {link.name for link in links}
    asked = dict.fromkeys(name if name in names else "moles" for name in part_names)
    prompts = [(name, say(PROMPTS[name], wording, **words)) for name in asked]
    parts = parts_at(links, prompts, figures)
    data = (FARADAY, room_data(unit) if gas else product.molar)
    return number_question(
        f"{say(situation, wording, passes=charge_source.passes)}", parts, data=data, watch=watch
    )


def melt_mass(
    charge_source: ChargeSource,
    metal: Product,
    other: Product,
    unit: str,
    *,
    situation: str = "In the electrolysis of a molten salt, {passes}.",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the masses of both products of a molten salt.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Coulombs, Product)
    >>> calcium, chlorine = Product("Ca", "Ca2+", "calcium"), Product("Cl2", "Cl-", "chlorine")
    >>> melt_mass(Coulombs(3.33e5), calcium, chlorine, "g").answer
    '69.2 g; 122 g'
    """
    of_electrons = charge_source.charge_C / TAKEN_FARADAY_C_MOL
    moles = charge_source.charge_C * other.per_charge_mol
    *others, last, mass = links_to_product(charge_source, metal, unit)
    to_metal = joined([last, mass]) if metal.electrons > 1 else [last, mass]
    first = part(
        [*others, *to_metal],
        prompt=say(
            "What mass of {metal}, in {unit}, forms at {the_cathode}?",
            wording,
            metal=metal.name,
            unit=unit,
        ),
    )
    second = part(
        joined([*links_from_electrons(of_electrons, other), end_link(other, moles, unit)]),
        prompt=say(
            "What mass of {other}, in {unit}, forms at {the_anode} in the same time?",
            wording,
            other=other.name,
            unit=unit,
        ),
        before=first.value,
    )
    data = (FARADAY, metal.molar, other.molar)
    text = f"{say(situation, wording, passes=charge_source.passes)}"
    return number_question(text, [first, second], data=data, watch=watch)


def efficiency(
    charge_source: ChargeSource,
    product: Product,
    unit: str,
    percent: float,
    *,
    situation: str = "In a cell, {passes}. Only {percent} of the charge makes {name}.",
    prompt: str = "What mass of {name}, in {unit}, forms?",
    figures: int = 3,
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for a mass where only part of the charge makes the product.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Flow, Product)
    >>> magnesium = Product("Mg", "Mg2+", "magnesium")
    >>> efficiency(Flow(1e5, 1, "h"), magnesium, "kg", 85).answer
    '38.5 kg'
    """
    links = with_one_mark_for_moles(
        links_to_product(charge_source, product, unit, percent=percent, figures=figures)
    )
    words = {
        "name": product.name,
        "unit": unit,
        "percent": with_unit(measured(percent), "%"),
        "passes": charge_source.passes,
    }
    words["units"] = {"g": "grams", "kg": "kilograms"}[unit]
    data = (FARADAY, product.molar)
    text = f"{say(situation, wording, **words)} {say(prompt, wording, **words)}"
    return number_question(text, [part(links, figures=figures)], data=data, watch=watch)


def plating_time(
    product: Product,
    thickness: tuple[float, str],
    area: tuple[float, str],
    density_g_cm3: float,
    current_A: float,
    *,
    situation: str = "A layer of {name}, {thickness} thick, is to cover {area}.",
    unit: str = "s",
    watch: str = "",
    wording: Wording = DEFAULT_WORDING,
) -> Question:
    """Ask for the mass of a layer, the charge for it and the time that a current needs.

    Parameters
    ----------
    product
        The metal.
    thickness, area
        Each as a number with its unit: "mm" or "µm", "cm²" or "m²".
    density_g_cm3, current_A
        Of the metal; the steady current.
    situation
        The situation, with {name}, {thickness} and {area}.
    unit
        Of the time: "s" or "min".
    watch
        A cell that shows it.

    Examples
    --------
    >>> from fizzplate.questions.calculations.quantities import (Product)
    >>> chromium = Product("Cr", "Cr3+", "chromium")
    >>> plating_time(chromium, (0.01, "mm"), (3.3, "m²"), 7.19, 33.46).answer
    '237 g; 1.32 × 10⁶ C; 39 500 s'
    """
    links = _layer_links(product, thickness, area, density_g_cm3, current_A, unit)
    prompts = (
        ("mass", f"What mass of {product.name}, in g, does the layer hold?"),
        ("charge", "What charge, in C, deposits it?"),
        (unit, f"How long, in {unit}, must a current of {amperes(current_A)} flow?"),
    )
    words = {
        "name": product.name,
        "thickness": with_unit(measured(thickness[0]), thickness[1]),
        "area": with_unit(measured(area[0]), area[1]),
    }
    density = f"{density_g_cm3:.2f}{NO_BREAK}g/cm³ for the density of {product.name}"
    return number_question(
        say(situation, wording, **words),
        parts_at(links, prompts),
        data=(FARADAY, product.molar, density),
        watch=watch,
    )


def _layer_links(
    product: Product,
    thickness: tuple[float, str],
    area: tuple[float, str],
    density_g_cm3: float,
    current_A: float,
    unit: str,
) -> list[Link]:
    """Return the steps from a layer to the time that it takes."""
    thick_cm = thickness[0] * THICKNESSES_CM[thickness[1]]
    area_cm2 = area[0] * AREAS_CM2[area[1]]
    volume = area_cm2 * thick_cm
    mass = volume * density_g_cm3
    moles = mass / product.molar_g_mol
    of_electrons = moles * product.electrons
    needed_C = of_electrons * TAKEN_FARADAY_C_MOL
    links = [
        Link(
            "volume",
            Step(
                f"Volume: {as_given(area_cm2)}{NO_BREAK}cm² × {as_given(thick_cm)}{NO_BREAK}cm",
                volume,
                "cm³",
                exact=True,
            ),
            _layer_slips(thickness[1], area[1]),
            joined=True,
        ),
        Link(
            "mass",
            Step(
                f"Mass: {as_given(volume)}{NO_BREAK}cm³ × {density_g_cm3:.2f}{NO_BREAK}g/cm³",
                mass,
                "g",
            ),
            (Slip(density_g_cm3**-2, "Mass is volume times density, not divided by it."),),
        ),
        Link(
            "moles",
            moles_step(product.name, significant(mass, 4), f"{product.molar_g_mol:.1f}", moles),
        ),
        *joined(
            [
                *links_to_electrons(moles, product),
                needed_charge_link(of_electrons, needed_C, product),
            ]
        ),
        Link(
            "s",
            duration_step(significant(needed_C, 4), current_A, needed_C / current_A),
            joined=unit == "min",
        ),
    ]
    if unit == "min":
        seconds = needed_C / current_A
        working = f"Time in minutes: {significant(seconds, 4)}{NO_BREAK}s ÷ 60"
        slip = Slip(60, "That is the time in seconds: divide by 60.")
        links.append(Link("min", Step(working, seconds / 60, "min"), (slip,)))
    return links


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
        slips.append(Slip(1e-2, f"A square metre holds {as_given(10_000)}{NO_BREAK}cm², not 100."))
        slips.append(Slip(1e-4, "The area was not converted from m² into cm²."))
    return tuple(slips)
