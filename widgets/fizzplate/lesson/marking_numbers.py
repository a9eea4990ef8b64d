"""How numbers are read and marked: steps, near misses, errors carried forward, units and figures."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.lesson.marks import Line, Marked, all_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.lesson.question import NearMiss, Part

#: how each unit may be written, and what of the unit asked for it is
UNITS: dict[str, Mapping[str, float]] = {
    "C": {"c": 1, "coulomb": 1, "coulombs": 1, "as": 1, "kc": 1000},
    "A": {"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1, "ma": 1e-3},
    "V": {"v": 1, "volt": 1, "volts": 1, "mv": 1e-3},
    "g": {"g": 1, "gram": 1, "grams": 1, "mg": 1e-3, "kg": 1000},
    "kg": {"kg": 1, "g": 1e-3, "t": 1000, "tonnes": 1000},
    "mg": {"mg": 1, "g": 1000},
    "mol": {"mol": 1, "mole": 1, "moles": 1, "mmol": 1e-3},
    "cm³": {"cm3": 1, "ml": 1, "dm3": 1000, "l": 1000, "litres": 1000},
    "dm³": {"dm3": 1, "l": 1, "litres": 1, "cm3": 1e-3, "ml": 1e-3},
    "s": {"s": 1, "sec": 1, "second": 1, "seconds": 1, "min": 60, "minutes": 60, "h": 3600},
    "min": {
        "min": 1,
        "mins": 1,
        "minute": 1,
        "minutes": 1,
        "s": 1 / 60,
        "seconds": 1 / 60,
        "h": 60,
    },
    "%": {"%": 1, "percent": 1},
    "C/mol": {"c/mol": 1, "cmol-1": 1, "coulombs/mole": 1, "kc/mol": 1000},
}

_NUMBER = re.compile(
    r"([+-]?(?:[0-9]+(?:[.,][0-9]*)*|[.,][0-9]+))(?:(?:[xX×*·]10\^?|[eE])([+-]?[0-9]{1,3}))?(.*)",
    re.DOTALL,
)
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]*)?")


@dataclass(frozen=True, slots=True)
class Given:
    """A number as it was typed: what it may mean, its figures, and its unit.

    The noughts at the end of a whole number may be figures or only fill its places: ``figures`` leaves
    them out, ``most_figures`` counts them.
    """

    values: tuple[float, ...]
    figures: int
    most_figures: int
    unit: str


def mark_parts(parts: tuple[Part, ...], answer: str, *, strict: bool) -> Marked:
    """Mark the numbers of an answer, with semicolons between them.

    Parameters
    ----------
    parts
        What is asked.
    answer
        Plain text.
    strict
        Whether a missing unit, or too many figures, cost a part's last mark where it has several.
    """
    typed = answer.split(";")
    lines: list[Line] = []
    remarks = []
    before: float | None = None
    for k, part in enumerate(parts):
        text = typed[k] if k < len(typed) else ""
        marked, before = _mark_part(part, text, before, strict=strict)
        label = f"({'abcdefgh'[k]}) " if len(parts) > 1 else ""
        lines += [Line(line.earned, label + line.reason) for line in marked.lines]
        if marked.remark and all(line.reason != marked.remark for line in marked.lines):
            remarks.append(label + marked.remark)
    return Marked(tuple(lines), " ".join(remarks))


def read_number(text: str, part: Part) -> Given | None:
    """Read a number with its unit; nothing, if there is no number.

    Examples
    --------
    >>> from fizzplate.lesson.question import Part
    >>> read_number("1,2 x 10^2 mg", Part(0.12, "g", ("",)))
    Given(values=(0.12,), figures=2, most_figures=2, unit='mg')
    """
    found = _NUMBER.match(text.replace(" ", ""))
    if not found:
        return None
    digits, power, unit = found[1], float(f"1e{int(found[2] or 0)}"), found[3]
    readings = []
    if _THOUSANDS.fullmatch(digits):
        readings.append(digits.replace(",", ""))
    if len(re.findall("[.,]", digits)) <= 1:
        readings.append(digits.replace(",", "."))
    known = UNITS.get(part.unit, {}).get(_plain_unit(unit), 1)
    every = re.sub(r"[.,]", "", digits).lstrip("+-0")
    figures = every if re.search(r"[.,]", digits) else every.rstrip("0")
    values = tuple(float(reading) * power * known for reading in readings)
    return Given(values, len(figures), len(every), unit) if values else None


def _mark_part(
    part: Part, text: str, before: float | None, *, strict: bool
) -> tuple[Marked, float | None]:
    """Mark one part; give what was answered to the next."""
    given = read_number(text, part)
    if given is None:
        remark = "No number could be read."
        return Marked(all_of(len(part.steps), remark, earned=False), remark), None
    about_unit = _about_unit(part, given.unit)
    about_figures = _about_figures(part, given.figures)
    remark = f"{about_unit}{about_figures}".strip()
    value = next((each for each in given.values if _near(part, each, part.value)), given.values[0])
    if _near(part, value, part.value) or _rounds_to(value, part.value, given.figures):
        lines = [Line(earned=True, reason=step) for step in part.steps]
        if _rounded_too_far(part, value, given):
            lines[-1] = Line(earned=False, reason=f"Rounded too far: give {part.figures} figures.")
    elif before is not None and part.factor and _near(part, value, before * part.factor):
        lines = [
            Line(earned=True, reason=f"Right from your answer before: {step}")
            for step in part.steps
        ]
    else:
        miss = _near_miss(part, value, before)
        if miss is None:
            said = f"The answer is {part.answer}: {' '.join(part.steps)}"
            return Marked(all_of(len(part.steps), said, earned=False), said), value
        lines = [
            Line(k not in miss.lost, miss.reason if k in miss.lost else step)
            for k, step in enumerate(part.steps)
        ]
    if strict and remark and len(lines) > 1 and lines[-1].earned:
        lines[-1] = Line(earned=False, reason=remark)
    return Marked(tuple(lines), remark), value


def _near_miss(part: Part, value: float, before: float | None) -> NearMiss | None:
    """Return the slip that gives a value, from the right answer before or from the one that was given."""
    scales = [1.0]
    if before is not None and part.factor and part.value:
        scales.append(before * part.factor / part.value)
    for scale in scales:
        for miss in part.near_misses:
            if _near(part, value, scale * miss.value):
                return miss
    return None


def _rounded_too_far(part: Part, value: float, given: Given) -> bool:
    """Whether one figure was given where that is too few."""
    if given.figures != 1 or part.figures <= 2 or _near(part, value, part.value):
        return False
    return given.most_figures == 1 or not _rounds_to(value, part.value, 2)


def _near(part: Part, value: float, wanted: float) -> bool:
    return abs(value - wanted) <= part.tolerance * abs(wanted)


def _rounds_to(value: float, wanted: float, figures: int) -> bool:
    """Whether a value is what another one is, rounded to so many figures."""
    if not wanted or not 1 <= figures <= 3:
        return False
    place = int(f"{wanted:.10e}".split("e")[1]) - figures + 1
    return abs(value - wanted) <= 0.5000001 * float(f"1e{place}")


def _plain_unit(unit: str) -> str:
    return re.sub(r"[\s^.*·]", "", unit).replace("³", "3").lower()


def _about_unit(part: Part, unit: str) -> str:
    if not part.unit:
        return ""
    if not unit:
        return f"Give the unit: {part.unit}. "
    known = UNITS[part.unit].get(_plain_unit(unit))
    return "" if known == 1 else f"The unit asked for is {part.unit}. "


def _about_figures(part: Part, figures: int) -> str:
    if figures > part.figures + 1:
        return f"That is more figures than the data allow: {part.figures} are enough. "
    return ""
