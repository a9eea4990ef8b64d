"""How numbers are read and marked: steps, near misses, errors carried forward, units and figures."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fizzplate.questions.marking.marks import Line, MarkedAnswer, repeat_line
from fizzplate.questions.marking.unit_spellings import UNITS

if TYPE_CHECKING:
    from fizzplate.questions.content import NearMiss, Part

__all__ = ["UNITS", "GivenNumber", "mark_parts", "read_number_answer"]

NO_NUMBER, ONE_NUMBER = "No number could be read.", "Give one number."
_GROUPED = r"[1-9][0-9]{0,2}(?: [0-9]{3})+(?:[.,][0-9]+)?(?![0-9])"  # thousands apart: 1 200
_NUMBER = re.compile(
    r"(?<![A-Za-z0-9_^.,])(^[+-] ?|[+-])?"
    r"(?:([0-9]+) (?=[0-9]{1,2} ?/ ?[0-9]{1,2}(?![0-9])))?"  # 2 1/2
    rf"({_GROUPED}|[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)"
    r"(?: ?[xX×*·⋅] ?10(?: ?(?:\^|\*\*) ?([+-]? ?[0-9]{1,3})|( ?[+-]?[1-9][0-9]?)(?![0-9]))"
    r"|[eE]([+-]?[0-9]{1,3}))?"
    rf"(?: ?/ ?({_GROUPED}|[0-9]+(?:\.[0-9]+)?))?"
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]*)?")
_ANOTHER = re.compile(r"(?<![A-Za-z0-9_^.,])(?<![A-Za-z^][+-])[0-9]")  # 33, but not that of cm3
_SIGNS = re.compile("[=≈~≃≅]")  # the answer stands after the last one
_HEDGED = re.compile("[0-9].*(?:, | or | and )")
_FIGURES_SAID = re.compile(
    r"\(?(?:to )?[1-9] ?(?:s\.? ?f|d\.? ?p|sig\.? fig|significant fig|decimal place)[a-z]*\.?\)?\.?$",
    re.IGNORECASE,
)
# words beside a unit, and what is still part of one: V is not the unit of 3 V s
_BESIDE = {"the", "answer", "is", "in", "of", "about", "approximately", "approx", "exactly"}
_STILL_UNIT = re.compile(
    r"\^-|-[0-9]|/|^(?:[acghjklmsv]|min|hr|mol|per|cubed|cm\^?3|dm\^?3)$", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class GivenNumber:
    """A number as it was typed: what it may mean, its figures, and its unit.

    The noughts at the end of a whole number may be figures or only fill its places: ``figures`` leaves
    them out, ``max_figures`` counts them. A fraction is exact: it has as many as are asked for.
    """

    values: tuple[float, ...]
    figures: int
    max_figures: int
    unit: str


def mark_parts(parts: tuple[Part, ...], answer: str, *, strict: bool) -> MarkedAnswer:
    """Mark the numbers of an answer, with semicolons between them.

    Parameters
    ----------
    parts
        What is asked.
    answer
        Plain text.
    strict
        Whether a missing unit, or too many figures, cost a part's last mark where it has several; a unit
        of another quantity costs it in any case.
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
    return MarkedAnswer(tuple(lines), " ".join(remarks))


def read_number_answer(text: str, part: Part) -> GivenNumber | str:
    """Read a number with its unit, after words or "V ="; if it cannot be read, say why as a sentence.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> read_number_answer("m = 1,2 x 10^2 mg.", Part(0.12, "g", ("",)))
    GivenNumber(values=(0.12,), figures=2, max_figures=2, unit='mg')
    >>> read_number_answer("0.12 g or 5 g", Part(0.12, "g", ("",)))
    'Give one number.'
    """
    *before, last = _pieces(_plain_number(text, part))
    found = _NUMBER.search(last)
    if not found:
        return NO_NUMBER
    if any(map(_HEDGED.search, before)):
        return ONE_NUMBER
    sign, whole, digits, *powers, divisor = found.groups()
    unit, after = _unit_and_more(last[found.end() :], part)
    digits = digits.replace(" ", "")
    readings = []
    if _THOUSANDS.fullmatch(digits):
        readings.append(digits.replace(",", ""))
    if len(re.findall("[.,]", digits)) <= 1:
        readings.append(digits.replace(",", "."))
    if _ANOTHER.search(after) or not readings:
        return ONE_NUMBER
    divide = float((divisor or "1").replace(" ", "").replace(",", "."))
    if not divide:
        return NO_NUMBER
    power = next((each for each in powers if each), "0").replace(" ", "")
    known = UNITS.get(part.unit, {}).get(_plain_unit(unit), 1)
    times = (-1 if "-" in (sign or "") else 1) * known
    values = tuple(
        (float(whole or 0) + float(reading) * float(f"1e{int(power)}") / divide) * times
        for reading in readings
    )
    if divisor:
        return GivenNumber(values, part.figures, part.figures, unit)
    every = re.sub(r"[.,]", "", digits).lstrip("0")
    figures = every if re.search(r"[.,]", digits) else every.rstrip("0")
    return GivenNumber(values, len(figures), len(every), unit)


def _plain_number(text: str, part: Part) -> str:
    """Write fractions as 1/2, of a bare number ratios too; leave out how many figures were given."""
    text = re.sub(r"(?<=[0-9])([0-9])⁄", r" \1/", " ".join(text.split()))  # 2½ comes as 21⁄2
    text = _FIGURES_SAID.sub("", text.replace("⁄", "/").replace("–", "-"))
    return text if part.unit else re.sub(r"(?<=[0-9]) ?(?::| to ) ?(?=[0-9])", "/", text)


def _pieces(text: str) -> list[str]:
    """Cut at signs of equality; the last piece is the last one with a number."""
    pieces = [piece.strip(" ([") for piece in _SIGNS.split(text)]
    last = max((k for k, piece in enumerate(pieces) if _NUMBER.search(piece)), default=0)
    return pieces[: last + 1]


def _unit_and_more(text: str, part: Part) -> tuple[str, str]:
    """Part what follows a number into its unit and the words after it, such as "of hydrogen"."""
    words = [word.strip("()[].,:!?") for word in text.split(" ")]
    words = [word for word in words if word and word.lower() not in _BESIDE]
    for k in range(len(words), 0, -1):
        known = _plain_unit("".join(words[:k])) in UNITS.get(part.unit, {})
        if known and not any(map(_STILL_UNIT.search, words[k:])):
            return " ".join(words[:k]), " ".join(words[k:])
    return " ".join(words), " ".join(words)


def _mark_part(
    part: Part, text: str, before: float | None, *, strict: bool
) -> tuple[MarkedAnswer, float | None]:
    """Mark one part; give what was answered to the next."""
    given = read_number_answer(text, part)
    if isinstance(given, str):
        return MarkedAnswer(repeat_line(len(part.steps), given, earned=False), given), None
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
            return MarkedAnswer(
                repeat_line(len(part.steps), said, earned=False), said
            ), _value_forward(value)
        lines = [
            Line(k not in miss.lost, miss.reason if k in miss.lost else step)
            for k, step in enumerate(part.steps)
        ]
    foreign = bool(given.unit and part.unit) and _size(part, given.unit) is None
    if strict and remark and (len(lines) > 1 or foreign) and lines[-1].earned:
        lines[-1] = Line(earned=False, reason=remark)
    return MarkedAnswer(tuple(lines), remark), _value_forward(value)


def _value_forward(value: float) -> float | None:
    """Return what is carried forward: nothing from 0, from which everything would follow."""
    return value if value and math.isfinite(value) else None


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


def _rounded_too_far(part: Part, value: float, given: GivenNumber) -> bool:
    """Whether one figure was given where that is too few."""
    if given.figures != 1 or part.figures <= 2 or _near(part, value, part.value):
        return False
    return given.max_figures == 1 or not _rounds_to(value, part.value, 2)


def _near(part: Part, value: float, wanted: float) -> bool:
    return abs(value - wanted) <= part.tolerance * abs(wanted)


def _rounds_to(value: float, wanted: float, figures: int) -> bool:
    """Whether a value is what another one is, rounded to so many figures."""
    if not wanted or not 1 <= figures <= 3:
        return False
    place = int(f"{wanted:.10e}".split("e")[1]) - figures + 1
    return abs(value - wanted) <= 0.5000001 * float(f"1e{place}")


def _plain_unit(unit: str) -> str:
    return re.sub(r"[\s^.*·()\[\]]", "", unit).replace("³", "3").lower()


def _size(part: Part, unit: str) -> float | None:
    """Return the size of a unit in the unit asked for; None if it is a unit of another quantity."""
    return UNITS[part.unit].get(_plain_unit(unit))


def _about_unit(part: Part, unit: str) -> str:
    if not part.unit:
        return ""
    if not unit:
        return f"Give the unit: {part.unit}. "
    size = _size(part, unit)
    if size is None:
        return f"{unit[:20]} is not a unit of this quantity: {part.unit} is asked for. "
    return "" if size == 1 else f"The unit asked for is {part.unit}. "


def _about_figures(part: Part, figures: int) -> str:
    if figures > part.figures + 1:
        return f"That is more figures than the data allow: {part.figures} are enough. "
    return ""
