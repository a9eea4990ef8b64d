"""How numbers are read and marked: working and its results, near misses, errors carried forward, units.

What follows from wrong answers before is in ``carried_forward.py``. ``numbers.json`` holds the patterns and
the sentences. The page marks by the same file (``views/quiz/numbers/``); a test holds the two together.
"""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass
from importlib import resources
from typing import TYPE_CHECKING

from fizzplate.questions.marking.carried_forward import AnswersBefore
from fizzplate.questions.marking.marks import Line, MarkedAnswer, repeat_line
from fizzplate.questions.marking.unit_spellings import EVERY_UNIT, UNITS
from fizzplate.words import say

if TYPE_CHECKING:
    from collections.abc import Mapping

    from fizzplate.questions.content import NearMiss, Part

__all__ = ["UNITS", "GivenNumber", "lines_joined", "mark_parts", "read_number_answer"]

_RULES = json.loads(resources.files(__package__).joinpath("numbers.json").read_text("utf-8"))
SENTENCES: Mapping[str, str] = _RULES["sentences"]
ROUNDED_ON_THE_WAY: float = _RULES["rounded_on_the_way"]  # share of the answer that is lost so
#: a tolerance as small as this is that of a reading, of which no figure may be left out
EXACT: float = _RULES["exact"]
_NUMBER, _THOUSANDS, _ANOTHER, _EQUALS, _HEDGED, _WORKING, _STEPS, _OPERATORS = (
    re.compile(_RULES[name])
    for name in (
        *("number", "thousands", "another", "equals", "hedged", "working", "steps"),
        "operators",
    )
)
_FIGURES_SAID = re.compile(_RULES["figures_said"], re.IGNORECASE)
_MIXED_TIME = re.compile(_RULES["mixed_time"])
_LINE_ENDS = re.compile(_RULES["line_ends"])
_PART_LETTERS = re.compile(_RULES["part_letters"])
_GOES_ON = re.compile(_RULES["goes_on"])
_PART_ENDS = re.compile(_RULES["part_ends"])
_CLAUSE_ENDS = re.compile(_RULES["clause_ends"])
_STILL_UNIT = re.compile(_RULES["still_unit"], re.IGNORECASE)
_BESIDE = frozenset(_RULES["beside"])
_REWRITES = [
    (re.compile(pattern), re.sub(r"\$([0-9])", r"\\\1", written))
    for pattern, written in _RULES["rewrites"]
]


@dataclass(frozen=True, slots=True)
class GivenNumber:
    """A number as it was typed: what it may mean, its figures, and its unit.

    The noughts at the end of a whole number may be figures or only fill its places: ``figures`` leaves
    them out, ``max_figures`` counts them. A fraction is exact: it has as many as are asked for. A product
    or a sum that was written down and not worked out is not ``evaluated``.
    """

    values: tuple[float, ...]
    figures: int
    max_figures: int
    unit: str
    evaluated: bool = True

    def in_unit(self, unit: str) -> tuple[float, ...]:
        """Return what it may mean in a unit; as it stands, if its own is none of that quantity."""
        size = _size(unit, self.unit) or 1
        return tuple(value * size for value in self.values)


def lines_joined(answer: str) -> str:
    r"""Write the lines of an answer in one, with semicolons between them.

    Examples
    --------
    >>> lines_joined("Q = 720 C\nn = 0.0075 mol")
    'Q = 720 C; n = 0.0075 mol'
    """
    return _LINE_ENDS.sub("; ", answer)


def mark_parts(
    parts: tuple[Part, ...], answer: str, *, strict: bool, from_equation: float | None = None
) -> MarkedAnswer:
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
    from_equation
        What the equation written in a section before makes for each electron, if that can be read.
    """
    typed = _answers_of_parts(answer, parts)
    lines: list[Line] = []
    remarks = []
    before = AnswersBefore(from_equation=from_equation)
    for k, part in enumerate(parts):
        text = typed[k] if k < len(typed) else ""
        marked = _mark_part(part, text, before, strict=strict)
        label = f"({_RULES['letters'][k]}) " if len(parts) > 1 else ""
        lines += [Line(line.earned, label + line.reason) for line in marked.lines]
        if marked.remark and all(line.reason != marked.remark for line in marked.lines):
            remarks.append(label + marked.remark)
    return MarkedAnswer(tuple(lines), " ".join(remarks))


def _answers_of_parts(answer: str, parts: tuple[Part, ...]) -> list[str]:
    """Cut an answer at letters of parts, or at semicolons; without these or a working at commas.

    One working for all parts is shared out among them. Where an answer holds just as many numbers as are
    asked for, with words between them, each is that of a part.
    """
    if len(parts) == 1:
        return [answer]
    _, *lettered = _PART_LETTERS.split(answer)
    if len(lettered) == len(parts):
        return [each.strip(" ;,") for each in lettered]
    typed = answer.split(";")
    if "=" not in answer and not any(each.strip() for each in typed[1:]):
        listed = _PART_ENDS.split(typed[0].strip(" "))
        if len(listed) == len(parts) and all(map(_NUMBER.search, listed)):
            return listed
    if sum(bool(each.strip()) for each in typed) == len(parts):
        return typed
    among_words = _numbers_among_words(answer, parts)
    return among_words or ("=" in answer and _shared_out(answer, parts)) or typed


def _numbers_among_words(answer: str, parts: tuple[Part, ...]) -> list[str]:
    """Return the numbers of an answer with their units; nothing, if they are not one for each part."""
    plain = _plain_number(answer, parts[0])
    found = list(_NUMBER.finditer(plain))
    if len(found) != len(parts):
        return []
    ends = [each.start() for each in found[1:]] + [len(plain)]
    behind = [plain[each.end() : end] for each, end in zip(found, ends, strict=True)]
    if any(map(_GOES_ON.search, behind)):
        return []
    texts = zip(found, behind, parts, strict=True)
    return [f"{number[0].strip()} {_own_unit(after, part)}" for number, after, part in texts]


def _own_unit(text: str, part: Part) -> str:
    """Return the unit with which a text begins, if that is one."""
    words = text.strip(" ").split(" ")
    for k in range(len(words), 0, -1):
        unit = " ".join(words[:k]).strip("()[].,:!?")
        if _plain_unit(unit) in UNITS.get(part.unit, {}) or _plain_unit(unit) in EVERY_UNIT:
            return unit
    return ""


def _shared_out(working: str, parts: tuple[Part, ...]) -> list[str]:
    """Give each part the clauses of a working up to its own result; nothing, if the first has none."""
    clauses = [each.strip() for each in _CLAUSE_ENDS.split(working) if each.strip()]
    texts: list[str] = []
    first = 0
    for part in parts:
        rest = enumerate(clauses[first:], first + 1)
        end = next((after for after, clause in rest if _ends_in(clause, part)), first)
        texts.append("; ".join(clauses[first:end]))
        first = end
    return texts if texts[0] else []


def _ends_in(clause: str, part: Part) -> bool:
    """Return whether a clause ends in the result of a part."""
    read = read_number_answer(clause, part)
    if isinstance(read, str):
        return False
    allowed = part.tolerance * abs(part.value)
    return any(abs(value - part.value) <= allowed for value in read[-1].in_unit(part.unit))


def read_number_answer(text: str, part: Part) -> tuple[GivenNumber, ...] | str:
    """Read a number with its unit, after words, "V =" or a working; if it cannot be read, say why.

    Returns
    -------
    tuple of GivenNumber
        The numbers of the working in the order in which they stand; the last one is the answer.

    Examples
    --------
    >>> from fizzplate.questions.content import Part
    >>> read_number_answer("m = 1,2 x 10^2 mg.", Part(0.12, "g", ("",)))[-1]
    GivenNumber(values=(120.0,), figures=2, max_figures=2, unit='mg', evaluated=True)
    >>> read_number_answer("2 x 60 = 120 C, /96500", Part(0.12, "g", ("",)))[-1].values
    (0.001243523316062176,)
    >>> read_number_answer("0.12 g or 5 g", Part(0.12, "g", ("",)))
    'Give one number.'
    """
    plain = _plain_number(text, part)
    if _HEDGED.search(plain):
        return SENTENCES["one_number"]
    if not _WORKING.search(plain):
        *_, last = _pieces(plain)
        given = _read_number(last, part)
        return given if isinstance(given, str) else (given,)
    numbers: list[GivenNumber] = []
    for step in _STEPS.split(plain):
        for side in _EQUALS.split(step):
            numbers += _read_side(side.strip(" ()["), part, numbers)
    return tuple(numbers) or SENTENCES["no_number"]


def _read_number(text: str, part: Part) -> GivenNumber | str:
    """Read the one number of a text."""
    found = _NUMBER.search(text)
    if not found:
        return SENTENCES["no_number"]
    unit, after = _unit_and_more(text[found.end() :], part)
    if _ANOTHER.search(after):
        return SENTENCES["one_number"]
    return _given(found, unit, part)


def _given(found: re.Match[str], unit: str, part: Part) -> GivenNumber | str:
    """Say what a number that was found may mean."""
    sign, whole, digits, *powers, divisor = found.groups()
    digits = digits.replace(" ", "")
    readings = []
    if _THOUSANDS.search(digits):
        readings.append(digits.replace(",", ""))
    if len(re.findall("[.,]", digits)) <= 1:
        readings.append(digits.replace(",", "."))
    if not readings:
        return SENTENCES["one_number"]
    divide = float((divisor or "1").replace(" ", "").replace(",", "."))
    if not divide:
        return SENTENCES["no_number"]
    power = next((each for each in powers if each), "0").replace(" ", "")
    times = -1 if "-" in (sign or "") else 1
    values = tuple(
        (float(whole or 0) + float(reading) * float(f"1e{int(power)}") / divide) * times
        for reading in readings
    )
    if divisor:
        return GivenNumber(values, part.figures, part.figures, unit)
    every = re.sub(r"[.,]", "", digits).lstrip("0")
    figures = every if re.search(r"[.,]", digits) else every.rstrip("0")
    return GivenNumber(values, len(figures), len(every), unit)


def _read_side(side: str, part: Part, before: list[GivenNumber]) -> list[GivenNumber]:
    """Read one side of a step of working: its numbers, and what they make together, not worked out.

    A side that begins with a sign goes on from the number before. Numbers side by side without a sign
    between them are labels and the like: the last of them counts.
    """
    numbers: list[GivenNumber] = []
    total: list[float] = []  # of what is added up
    end, joined = 0, True
    for found in _NUMBER.finditer(side):
        between = side[end : found.start()]
        end = found.end()
        given = _given(found, "", part)
        if isinstance(given, str):
            continue
        sign = (_OPERATORS.findall(between) or [""])[-1]
        if not numbers and sign and before and not re.search(r"[A-Za-z]", between):
            total = [before[-1].values[0]]
            numbers.append(before[-1])
        joined = joined and (not numbers or bool(sign) or given.values[0] < 0)
        numbers.append(given)
        _go_on(total, sign, given.values[0])
    if not numbers:
        return []
    unit, _ = _unit_and_more(side[end:], part)
    if len(numbers) > 1 and joined and total:
        made = GivenNumber((sum(total),), part.figures, part.figures, unit, evaluated=False)
        return [*numbers, made]
    last = numbers[-1]
    return [*numbers[:-1], GivenNumber(last.values, last.figures, last.max_figures, unit)]


def _go_on(total: list[float], sign: str, value: float) -> None:
    """Go on with a sum: multiply and divide its last member, or add another."""
    if not total or sign in {"", "+"}:
        total.append(value)
    elif sign == "-":
        total.append(-value)
    elif sign in {"÷", "/"}:
        total[-1] = total[-1] / value if value else math.nan
    else:
        total[-1] *= value


def _plain_number(text: str, part: Part) -> str:
    """Write fractions as 1/2, of a bare number ratios too; leave out how many figures were given."""
    text = re.sub(r"(?<=[0-9])([0-9])⁄", r" \1/", " ".join(text.split()))  # 2½ comes as 21⁄2
    text = _FIGURES_SAID.sub("", text.replace("⁄", "/").replace("–", "-"))
    text = _MIXED_TIME.sub(lambda it: f"{float(it[1]) + float(it[2]) / 60:.2f} min", text)
    for pattern, written in _REWRITES:
        text = pattern.sub(written, text)
    text = text.strip(" ")
    return text if part.unit else re.sub(r"(?<=[0-9]) ?(?::| to ) ?(?=[0-9])", "/", text)


def _pieces(text: str) -> list[str]:
    """Cut at signs of equality; the last piece is the last one with a number."""
    pieces = [piece.strip(" ([") for piece in _EQUALS.split(text)]
    last = max((k for k, piece in enumerate(pieces) if _NUMBER.search(piece)), default=0)
    return pieces[: last + 1]


def _unit_and_more(text: str, part: Part) -> tuple[str, str]:
    """Part what follows a number into its unit and the words after it, such as "of hydrogen"."""
    words = [word.strip("()[].,:!?") for word in text.split(" ")]
    words = [word for word in words if word and word.lower() not in _BESIDE]
    for k in range(len(words), 0, -1):
        plain = _plain_unit("".join(words[:k]))
        known = plain in UNITS.get(part.unit, {}) or plain in EVERY_UNIT
        if known and not any(map(_STILL_UNIT.search, words[k:])):
            return " ".join(words[:k]), " ".join(words[k:])
    return " ".join(words), " ".join(words)


def _mark_part(part: Part, text: str, before: AnswersBefore, *, strict: bool) -> MarkedAnswer:
    """Mark one part after the answers before, and add its answer to them."""
    read = read_number_answer(text, part)
    carried = before.carried(part)
    if isinstance(read, str):
        # who leaves a number out may still go on from the one before
        before.add(part, carried[0] if carried and not text.strip() else None, None)
        return MarkedAnswer(repeat_line(len(part.steps), read, earned=False), read)
    given = read[-1]
    remark = f"{_about_unit(part, given.unit)} {_about_figures(part, given.figures)}".strip()
    values = given.in_unit(part.unit)
    value = next((each for each in values if _near(part, each, part.value)), values[0])
    lines = _lines_of_answer(part, value, given, carried)
    miss = None if lines else _near_miss(part, value, carried)
    if miss:
        lines = _lines_of_slip(part, miss, before.repeated(part, miss))
    before.add(part, _value_forward(value), miss)
    scales = [1.0, *(each / part.value for each in carried if part.value and not part.formula)]
    shown = max(_shown_steps(part, read, scale) for scale in scales)
    if lines is None and shown and _rounded_on_the_way(part, value):
        said = say(SENTENCES["rounded_on_the_way"], figures=part.figures)
        *most, _ = [Line(earned=True, reason=step) for step in part.steps]
        return MarkedAnswer((*most, Line(earned=False, reason=said)))
    if lines is None or (len(read) > 1 and shown > sum(line.earned for line in lines)):
        said = say(SENTENCES["the_answer"], answer=part.answer, steps=" ".join(part.steps))
        lines = [Line(k < shown, step if k < shown else said) for k, step in enumerate(part.steps)]
        if not shown:
            return MarkedAnswer(tuple(lines), said)
        return MarkedAnswer(tuple(lines))
    if not given.evaluated and lines[-1].earned:
        lines[-1] = Line(earned=False, reason=SENTENCES["not_worked"])
    if len(lines) > 1 and lines[-1].earned and _not_converted(part, given):
        lines[-1] = Line(earned=False, reason=say(SENTENCES["unit_other"], unit=part.unit))
    foreign = bool(given.unit and part.unit) and _size(part.unit, given.unit) is None
    if strict and remark and (len(lines) > 1 or foreign) and lines[-1].earned:
        lines[-1] = Line(earned=False, reason=remark)
    return MarkedAnswer(tuple(lines), remark)


def _lines_of_answer(
    part: Part, value: float, given: GivenNumber, carried: list[float]
) -> list[Line] | None:
    """Mark an answer that is right or follows from those before; otherwise nothing."""
    exact = _near(part, value, part.value)
    if not exact and any(_near(part, value, each) for each in carried):
        return [
            Line(earned=True, reason=say(SENTENCES["carried"], step=step)) for step in part.steps
        ]
    fewest = 0 if part.tolerance > EXACT else part.figures
    if exact or _rounds_to(value, part.value, max(given.figures, fewest)):
        lines = [Line(earned=True, reason=step) for step in part.steps]
        if _rounded_too_far(part, value, given):
            said = say(SENTENCES["too_rounded"], figures=part.figures)
            lines[-1] = Line(earned=False, reason=said)
        return lines
    return None


def _lines_of_slip(part: Part, miss: NearMiss, repeated: set[int]) -> list[Line]:
    """Mark an answer that shows a known slip, which costs no mark at steps where it is repeated."""
    said = [miss.reason if k in miss.lost else step for k, step in enumerate(part.steps)]
    return [
        Line(earned=True, reason=say(SENTENCES["repeated"], reason=reason))
        if k in repeated
        else Line(k not in miss.lost, reason)
        for k, reason in enumerate(said)
    ]


def _shown_steps(part: Part, read: tuple[GivenNumber, ...], scale: float) -> int:
    """Count the steps up to the last one before the answer whose result stands in a working.

    Two steps with the same result are both shown only where it stands there twice, worked out. The results
    are as many times larger as what they follow from: the scale.
    """
    reached = 0
    values = (scale * value for value in part.step_values[:-1])
    steps = list(zip(values, part.step_units[:-1], strict=True))
    for k, (result, unit) in enumerate(steps):
        shown = [given for given in read if _shows(part, given, result, unit)]
        same = sum(
            other == unit and _near(part, value, result) for value, other in steps[:k]
        )  # of the steps before
        if sum(given.evaluated for given in shown) > same or (shown and not same):
            reached = k + 1
    return reached


def _shows(part: Part, given: GivenNumber, result: float, unit: str) -> bool:
    """Whether a number of a working is the result of a step."""
    plain = _plain_unit(given.unit)
    if plain in EVERY_UNIT and plain not in UNITS.get(unit, {}):
        return False
    return any(
        _near(part, value, result) or _rounds_to(value, result, given.figures)
        for value in given.in_unit(unit)
    )


def _not_converted(part: Part, given: GivenNumber) -> bool:
    """Whether an answer still stands in another unit where to convert it was part of the work.

    A thousand times more or less is as good; but seconds are not minutes, and the result of the step
    before is not yet the answer.
    """
    size = _size(part.unit, given.unit) if given.unit else None
    if size is None or size == 1:
        return False
    if size < 1 and not math.isclose(10 ** round(math.log10(size)), size):
        return True
    plain = _plain_unit(given.unit)
    return any(
        (_plain_unit(unit) == plain or _size(unit, given.unit) == 1)
        and any(_near(part, each, value) for each in given.values)
        for value, unit in zip(part.step_values[:-1], part.step_units[:-1], strict=True)
    )


def _value_forward(value: float) -> float | None:
    """Return what is carried forward: nothing from 0, from which everything would follow."""
    return value if value and math.isfinite(value) else None


def _near_miss(part: Part, value: float, carried: list[float]) -> NearMiss | None:
    """Return the slip that gives a value, from the right answer before or from the one that was given."""
    for scale in (1.0, *(each / part.value for each in carried if part.value)):
        for miss in part.near_misses:
            if _near(part, value, scale * miss.value):
                return miss
    return None


def _rounded_too_far(part: Part, value: float, given: GivenNumber) -> bool:
    """Whether one figure was given where that is too few."""
    if given.figures != 1 or part.figures <= 2 or _near(part, value, part.value):
        return False
    return given.max_figures == 1 or not _rounds_to(value, part.value, 2)


def _rounded_on_the_way(part: Part, value: float) -> bool:
    """Whether an answer is so near that only numbers in between were rounded, which its working tells."""
    return abs(value - part.value) <= ROUNDED_ON_THE_WAY * abs(part.value)


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


def _size(asked: str, unit: str) -> float | None:
    """Return the size of a unit in the unit asked for; None if it is a unit of another quantity."""
    return UNITS.get(asked, {}).get(_plain_unit(unit))


def _about_unit(part: Part, unit: str) -> str:
    if not part.unit:
        return ""
    if not unit:
        return say(SENTENCES["unit_missing"], unit=part.unit)
    size = _size(part.unit, unit)
    if size is None:
        return say(SENTENCES["unit_foreign"], given=unit[:20], unit=part.unit)
    return "" if size == 1 else say(SENTENCES["unit_other"], unit=part.unit)


def _about_figures(part: Part, figures: int) -> str:
    if figures > part.figures + 1:
        return say(SENTENCES["figures"], figures=part.figures)
    return ""
