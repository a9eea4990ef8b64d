"""A half-equation balanced in visible steps: atoms first, then charge with electrons."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from fizzplate.chemistry import parse_formula

if TYPE_CHECKING:
    from fizzplate.chemistry import Equation, Side


@dataclass(frozen=True, slots=True)
class BalancingStep:
    """One step of balancing.

    Parameters
    ----------
    sentence
        What is done, as a sentence.
    equation
        What stands there after it; not balanced before the last step.
    """

    sentence: str
    equation: Equation


def balancing_steps(equation: Equation) -> tuple[BalancingStep, ...]:
    """Return how a half-equation is balanced, step by step; the last leaves the equation itself.

    Examples
    --------
    >>> from fizzplate.chemistry import half_equation
    >>> for step in balancing_steps(half_equation("Cl2")):
    ...     print(step.equation, "|", step.sentence)
    Cl- -> Cl2 | Write what is discharged and what forms.
    2Cl- -> Cl2 | Balance the atoms.
    2Cl- -> Cl2 + 2e- | Balance the charge: 2− on the left, 0 on the right, so 2 electrons on the right.
    """
    left, right = (_without_electrons(side) for side in (equation.reactants, equation.products))
    atoms = replace(equation, reactants=left, products=right, electrons_taken=False)
    bare = replace(atoms, reactants=_ones(left), products=_ones(right))
    made = [BalancingStep("Write what is discharged and what forms.", bare)]
    if bare != atoms:
        made.append(BalancingStep("Balance the atoms.", atoms))
    return (*made, BalancingStep(_charges(equation, left, right), equation))


def _charges(equation: Equation, left: Side, right: Side) -> str:
    before, after = (signed_charge(charge_of(side)) for side in (left, right))
    count = electron_count(equation.electrons)
    if not equation.is_oxidation:
        place = f"so {count} on the left"
    elif equation.electrons_taken:
        place = f"so {count} taken away on the left"
    else:
        place = f"so {count} on the right"
    return f"Balance the charge: {before} on the left, {after} on the right, {place}."


def electron_count(number: int) -> str:
    """Write a number of electrons.

    Examples
    --------
    >>> electron_count(1), electron_count(4)
    ('1 electron', '4 electrons')
    """
    return f"{number} electron{'s' if number > 1 else ''}"


def charge_of(side: Side) -> int:
    """Return the charge of one side of an equation.

    Examples
    --------
    >>> charge_of(((4, "OH-"), (1, "Cu2+")))
    -2
    """
    return sum(n * parse_formula(species).charge for n, species in side)


def signed_charge(charge: int) -> str:
    """Write a charge as chemists do, the sign behind.

    Examples
    --------
    >>> signed_charge(-4), signed_charge(2), signed_charge(0)
    ('4−', '2+', '0')
    """
    return f"{abs(charge)}{'+' if charge > 0 else '−'}" if charge else "0"


def _without_electrons(side: Side) -> Side:
    return tuple(part for part in side if part[1] != "e-")


def _ones(side: Side) -> Side:
    return tuple((1, species) for _, species in side)
