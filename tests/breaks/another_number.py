"""Which number stands in place of another."""

from __future__ import annotations

COUNTED = 10  # whole numbers up to it count something: charges, electrons, places in a list


def another(number):
    """Return one more of what is counted, a quarter more of what is measured."""
    if isinstance(number, int):
        return number + 1 if number <= COUNTED else round(1.25 * number)
    return float(f"{1.25 * number:.6g}") or 1.0
