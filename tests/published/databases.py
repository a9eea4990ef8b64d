"""Published values as packages of the test environment carry them: no value stands here."""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path

import chemicals
import phreeqc

FARADAY, GAS_CONSTANT = 96485.33212, 8.314462618  # C/mol, J/(mol K): CODATA 2018
TABLES = Path(chemicals.__file__).parent / "Electrolytes"
DATABASES = Path(phreeqc.__file__).parent / "databases"


@cache
def crc_conductivities():
    """Give the CRC Handbook's limiting conductivities by formula, S cm2 per equivalent, 25 °C."""
    with (TABLES / "CRC conductivity infinite dilution.tsv").open(encoding="utf-8") as table:
        rows = list(csv.DictReader(table, delimiter="\t"))
    return {row["Formula"]: 1e4 * float(row["lambda"]) for row in rows}


def crc_conductivity(ion):
    """Give the CRC Handbook's limiting conductivity of an ion such as "SO4^2-", S cm2 per equivalent."""
    body, number, sign = re.fullmatch(r"(.+?)(?:\^?(\d(?=[+-]$)))?([+-])", ion).groups()
    if f"{body}{sign}" == ion:  # one charge: a digit belongs to the formula, as in NO3-
        return crc_conductivities()[ion]
    try:
        return crc_conductivities()[f"{body}{sign}{number}"]
    except KeyError:
        return crc_conductivities()[f"{body}{number}{sign}"]


def crc_diffusion_m2_s(ion, charge):
    """Give D = R T lambda / (|z| F^2) of the CRC Handbook's conductivity (Nernst and Einstein)."""
    return GAS_CONSTANT * 298.15 * 1e-4 * crc_conductivity(ion) / (abs(charge) * FARADAY**2)


def log_K(database, equation):
    """Give log K of a reaction at 25 °C as a PHREEQC database (USGS) prints it."""
    lines = (DATABASES / database).read_text(encoding="utf-8", errors="replace").splitlines()
    written = [line.split("#")[0].strip() for line in lines]
    start = written.index(equation)
    printed = next(line for line in written[start + 1 : start + 5] if "log_k" in line)
    return float(re.search(r"log_k\s+(\S+?);?(?:\s|$)", printed)[1])


@cache
def reactions(database):
    """Give log K at 25 °C of every reaction that a PHREEQC database (USGS) prints, by what it changes."""
    lines = (DATABASES / database).read_text(encoding="utf-8", errors="replace").splitlines()
    found, change = {}, frozenset()
    for line in (line.split("#")[0].strip() for line in lines):
        if line.count(" = ") == 1:
            change = change_by(line, " = ")
        printed = re.match(r"-?log_k\s+([-+.\deE]+)", line)
        if printed:
            found.setdefault(change, float(printed[1]))
    return found


def change_by(equation, arrow):
    """Give what a reaction makes less what it uses up: formula and number."""
    change = {}
    for side, sign in zip(equation.split(arrow), (-1, 1), strict=True):
        for count, formula in re.findall(r"(?:^|\s)([\d.]*)\s*([A-Z(]\S*)", side):
            change[formula] = change.get(formula, 0) + sign * float(count or 1)
    return frozenset((formula, count) for formula, count in change.items() if count)


def as_phreeqc_writes(equation):
    """Give an equation with "Zn2+" and "SO4^2-" as "Zn+2" and "SO4-2"; dissolved molecules as they are."""
    plain = equation.replace("(aq)", "")
    caret = re.sub(r"\^(\d)([+-])", r"\2\1", plain)
    return re.sub(r"(?<![A-Za-z)])([A-Z][a-z])(\d)\+(?=\s|$)", r"\1+\2", caret)
