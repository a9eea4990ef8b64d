"""Questions of each kind, answers that tell them apart, and packages of other programs, for tests."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace

from qti_structure import QTI

from fizzplate.chemistry import half_equation
from fizzplate.lesson.equations.equation_tasks import half_task
from fizzplate.questions.content import Chart, ChartLine, NearMiss, Option, Part, Point
from fizzplate.questions.exchange import from_qti
from fizzplate.questions.question_types import (
    ChecklistQuestion,
    ChoiceQuestion,
    EquationQuestion,
    LevelsQuestion,
    NumberQuestion,
    PlotQuestion,
    StructuredQuestion,
    TextQuestion,
)

CHOICE = ChoiceQuestion(
    "by hand",
    "what is left",
    14,
    "What is left in brine?\nThink of the ions: 0 < c & d > 1.",
    "Hydrogen and chlorine leave; Na⁺ and OH⁻ stay.",
    options=(
        Option(
            "sodium hydroxide", right=True, reason="Hydrogen and chlorine leave; Na⁺ and OH⁻ stay."
        ),
        Option(
            "=NaCl",
            right=False,
            reason="That is what there was | before; it is used up.",
            misconception=21,
        ),
        Option("-0.5 mol", right=False, reason="@ that is an amount.", misconception=15),
        Option("NaOCl \\ bleach", right=False, reason="That takes stirring.", misconception=3),
    ),
    watch="NaCl,c=0.1;CuSO4,anode=copper,cathode=copper",
)
NUMBER = NumberQuestion(
    "by hand",
    "quantities",
    16,
    "A current of 0.2 A flows for 20 minutes through copper(II) sulfate solution.",
    "Charge first, then moles of electrons, then mass.",
    parts=(
        Part(
            240.0,
            "C",
            ("20 min is 1200 s.", "Q = I t = 240 C."),
            prompt="Charge",
            near_misses=(NearMiss(4.0, (0,), "The minutes were not converted into seconds.", 29),),
        ),
        Part(
            0.07902763,
            "g",
            ("n(e⁻) = Q/F.", "Two electrons for each copper ion.", "m = n M."),
            prompt="Mass of copper",
            factor=0.07902763 / 240,
            near_misses=(
                NearMiss(0.1580553, (1,), "Copper needs two electrons; here it was one."),
            ),
            tolerance=0.0137,
        ),
    ),
    chart=Chart(
        "Mass of the cathode",
        "time / min",
        "mass gained / g",
        (ChartLine("copper", (0.0, 10.0, 20.0), (0.0, 0.0394567, 0.0790)),),
    ),
    watch="CuSO4",
    strict=True,
)
COLD = replace(
    NUMBER,
    text="How much does the potential change?",
    parts=(Part(-0.34, "V", ("It falls by 0.34 V.",), tolerance=0.05),),
    chart=None,
)
EQUATION = EquationQuestion(
    "by hand",
    "half-equations",
    14,
    "Write the half-equation at the anode: oxygen from hydroxide ions.",
    "Atoms and charge balance.",
    task=half_task(half_equation("O2", source="OH-"), "O2", "anode"),
    watch="Na2SO4",
    answer=str(half_equation("O2", source="OH-")),
)
TEXT = TextQuestion(
    "by hand",
    "observations",
    14,
    "Describe what is seen at the cathode.",
    "Copper is deposited; copper ions are used up.",
    points=(
        Point(
            "a red-brown solid", (" red-brown", "orange-brown; pink"), ("precipitate",), (" red ",)
        ),
        Point("the blue fades", ("fade", "paler | lighter"), ("clear",), ("changes",)),
    ),
    answer="a red-brown solid settles and the blue fades",
)
LIST = ChecklistQuestion(
    "by hand",
    "observations",
    14,
    "Plan it, then tick what your plan holds.",
    "Copper is deposited; copper ions are used up.",
    points=(Point("weighs first", ("weigh",)), Point("repeats", ("repeat",))),
)
PLOT = PlotQuestion(
    "by hand",
    "practical work",
    14,
    "Plot the readings on graph paper.",
    "The line leaves out the second reading.",
    points=(Point("both axes have a unit", ()), Point("the line goes through the origin", ())),
    chart=Chart(
        "The line leaves out 6 minutes",
        "Time, minutes",
        "Mass, mg",
        (
            ChartLine("readings", (3.0, 6.0, 9.0), (20.5, 55.0, 61.0)),
            ChartLine("line of best fit", (0.0, 9.0), (0.0, 61.2)),
        ),
    ),
    watch="CuSO4",
)
LEVELS = LevelsQuestion(
    "by hand",
    "products",
    16,
    "Explain what forms; think of 0 < c & d.",
    "copper at the cathode; chlorine at the anode",
    levels=("Names one | product.", "Explains one; names both.", "Explains both."),
    points=(Point("copper at the cathode", ()), Point("chlorine at the anode", ())),
    watch="CuCl2",
)
STRUCTURED = StructuredQuestion(
    "by hand",
    "products",
    16,
    "Copper(II) chloride solution is electrolysed.",
    "Copper and chlorine form.",
    sections=(
        replace(CHOICE, watch=""),
        replace(NUMBER, parts=NUMBER.parts[:1], chart=None, watch=""),
        replace(EQUATION, watch=""),
        replace(TEXT, watch=""),
    ),
    watch="CuCl2",
)
BY_HAND = {
    "choice": CHOICE,
    "number": NUMBER,
    "negative number": COLD,
    "equation": EQUATION,
    "text": TEXT,
    "list": LIST,
    "levels": LEVELS,
    "plot": PLOT,
    "structured": STRUCTURED,
}


def answers(question):
    """Return answers of every sort that tells two questions apart: right, nearly right and wrong ones."""
    yield from (
        "",
        "42",
        "no idea",
        question.answer,
        question.answer.upper(),
        f"  {question.answer} ",
    )
    yield from (option.text for option in question.options)
    whole = [each.answer for each in question.sections]
    for k, each in enumerate(question.sections):
        for given in answers(each):
            yield " ¦ ".join([*whole[:k], given.replace("¦", " "), *whole[k + 1 :]])
            yield given
    for k, part in enumerate(question.parts):
        before = ["; ".join(each.answer for each in question.parts[:k]), "1"]
        wrong = [miss.value for miss in part.near_misses]
        wrong += [part.value * (1 + off * part.tolerance) for off in (-1.01, -0.99, 0.99, 1.01)]
        wrong += [part.factor, part.value * 1e3, round(part.value, 1), part.value + 1]
        for start in before:
            for value in wrong:
                given = [*filter(None, [start]), f"{value!r} {part.unit}"]
                yield "; ".join(given)
                yield "; ".join([*filter(None, [start]), f"{value:.3g}"])
    for point in question.points:
        words = (*point.words, *point.contradictions, *point.too_little, point.statement)
        yield from words
        yield from (f"it {word} then" for word in words)
        yield " ".join(words)
    yield from (str(k) for k in range(1, len(question.points) + 1))
    yield "; ".join(point.statement for point in question.points)
    if isinstance(question, EquationQuestion):
        yield from question.task.hints
        for form in question.task.accepted:
            made = " + ".join(f"{n}{s}" for s, n in form.items() if n > 0)
            used = " + ".join(f"{-n}{s}" for s, n in form.items() if n < 0)
            yield from (
                f"{used} -> {made}",
                f"{made} -> {used}",
                f"{used} -> {used}",
                f"2{used} -> {made}",
            )


def marks_alike(question, back):
    tried = 0
    for answer in answers(question):
        assert back.mark(answer) == question.mark(answer), answer
        tried += 1
    return tried


def pack(files, compression=zipfile.ZIP_DEFLATED):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", compression) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return packed.getvalue()


def manifest(*names, kind="imsqti_item_xmlv3p0", schema="QTI Package", version="3.0.0"):
    resources = "".join(
        f'<resource identifier="r{k}" type="{kind}" href="{name}"><file href="{name}"/></resource>'
        for k, name in enumerate(names)
    )
    return (
        '<manifest xmlns="http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1" identifier="m"><metadata>'
        f"<schema>{schema}</schema><schemaversion>{version}</schemaversion></metadata><organizations/>"
        f"<resources>{resources}</resources></manifest>"
    )


def item(declared, body, rest="", title="Metals"):
    return (
        f'<qti-assessment-item xmlns="{QTI}" identifier="i" title="{title}" time-dependent="false">'
        f"{declared}<qti-item-body>{body}</qti-item-body>{rest}</qti-assessment-item>"
    )


def response(base, *right, cardinality="single", name="RESPONSE", mapping=""):
    values = "".join(f"<qti-value>{value}</qti-value>" for value in right)
    correct = f"<qti-correct-response>{values}</qti-correct-response>" if right else ""
    return (
        f'<qti-response-declaration identifier="{name}" cardinality="{cardinality}" base-type="{base}">'
        f"{correct}{mapping}</qti-response-declaration>"
    )


def read(*items):
    files = {f"i{k}.xml": text for k, text in enumerate(items)}
    return from_qti(pack({"imsmanifest.xml": manifest(*files), **files}))


OPTIONS = (
    '<qti-choice-interaction response-identifier="RESPONSE" max-choices="1">'
    "<qti-prompt>Which metal?</qti-prompt>"
    '<qti-simple-choice identifier="one">copper <qti-feedback-inline outcome-identifier="F" identifier="one" '
    'show-hide="show">Yes, it settles.</qti-feedback-inline></qti-simple-choice>'
    '<qti-simple-choice identifier="two"><p>Na<sup>+</sup> ions</p></qti-simple-choice>'
    "</qti-choice-interaction>"
)


def entry(name="RESPONSE"):
    return f'<qti-text-entry-interaction response-identifier="{name}"/>'


def equal(mode, tolerance, name="RESPONSE"):
    return (
        "<qti-response-processing><qti-response-condition><qti-response-if>"
        f'<qti-equal tolerance-mode="{mode}" tolerance="{tolerance}"><qti-variable identifier="{name}"/>'
        f'<qti-correct identifier="{name}"/></qti-equal></qti-response-if></qti-response-condition>'
        "</qti-response-processing>"
    )


GOOD = {"imsmanifest.xml": manifest("a.xml"), "a.xml": item(response("identifier", "one"), OPTIONS)}
