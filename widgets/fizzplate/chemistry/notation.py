"""Write formulae in Unicode (on pages, paper and drawings), in HTML, for LaTeX, and as they are spoken."""

from __future__ import annotations

import re

from fizzplate.chemistry.formula import parse_formula
from fizzplate.words import lowered, raised

_COUNT = re.compile(r"(?<=[A-Za-z)])\d+")  # of atoms or groups
_SPOKEN_STATE = {"s": "solid", "l": "liquid", "g": "gas", "aq": "aqueous"}


def line_and_charge(formula: str) -> tuple[str, str]:
    """Split the canonical spelling into what stands on the line and the charge.

    Examples
    --------
    >>> line_and_charge("SO4^2-"), line_and_charge("Cl-")
    (('SO4', '2-'), ('Cl', '-'))
    """
    parsed = parse_formula(formula)
    text = parsed.text
    if not parsed.charge:
        return text, ""
    size = str(abs(parsed.charge)) if abs(parsed.charge) > 1 else ""
    charge = f"{size}{'+' if parsed.charge > 0 else '-'}"
    return text[: -len(charge)].removesuffix("^"), charge


def pretty(formula: str) -> str:
    """Return a formula with Unicode sub- and superscripts.

    Examples
    --------
    >>> pretty("SO4^2-"), pretty("CuSO4.5H2O"), pretty("e-")
    ('SO₄²⁻', 'CuSO₄·5H₂O', 'e⁻')
    """
    body, charge = line_and_charge(formula)
    written = _COUNT.sub(lambda found: lowered(found[0]), body)
    return written.replace(".", "·") + raised(charge)


def html(formula: str) -> str:
    """Return a formula marked up with sub and sup.

    Examples
    --------
    >>> html("SO4^2-")
    'SO<sub>4</sub><sup>2−</sup>'
    """
    body, charge = line_and_charge(formula)
    written = _COUNT.sub(lambda found: f"<sub>{found[0]}</sub>", body)
    above = f"<sup>{charge.replace('-', '−')}</sup>" if charge else ""
    return written.replace(".", "·") + above


def latex(formula: str) -> str:
    r"""Return a formula for LaTeX's mathematics, upright.

    Examples
    --------
    >>> print(latex("SO4^2-"))
    \mathrm{SO_{4}^{2-}}
    """
    body, charge = line_and_charge(formula)
    written = _COUNT.sub(lambda found: f"_{{{found[0]}}}", body)
    above = f"^{{{charge}}}" if charge else ""
    dotted = written.replace(".", r"\cdot ")
    return rf"\mathrm{{{dotted}{above}}}"


def speech(formula: str) -> str:
    """Return a formula as it is spoken, letter by letter.

    Examples
    --------
    >>> speech("SO4^2-"), speech("Cu2+"), speech("e-")
    ('S O 4, 2 minus', 'C u, 2 plus', 'electron')
    """
    parsed = parse_formula(formula)
    if parsed.text == "e-":
        return "electron"
    body, charge = line_and_charge(formula)
    spelled = " ".join(re.findall(r"[A-Za-z]|\d+|[().]", body))
    spelled = spelled.replace("(", "bracket").replace(")", "close bracket").replace(".", "dot")
    if charge:
        sign = "plus" if charge.endswith("+") else "minus"
        spelled += f", {charge[:-1]} {sign}" if len(charge) > 1 else f" {sign}"
    return f"{spelled} {_SPOKEN_STATE[parsed.state]}" if parsed.state else spelled
