"""How surely the model says what share of the charge a product takes, and what that means for the rule."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from fizzplate.chemistry import classroom_rule
from fizzplate.chemistry.substances import product_name
from fizzplate.lesson.rule.rule_vs_model import NOTABLE_SHARE
from fizzplate.words import DEFAULT_WORDING, Sentence, board_slots, page_quantity

if TYPE_CHECKING:
    from fizzplate.cell import ElectrodeRecord, Run
    from fizzplate.chemistry import ElectrodeRule
    from fizzplate.words import Wording

WIDE = 0.05  # of the charge: a narrower range is one number for a class
MOST_PRODUCTS = 3  # named in one sentence


class Range(NamedTuple):
    """What share of all charge a product takes, and the least and most that it could take."""

    product: str
    share: float
    low: float
    high: float

    @property
    def is_wide(self) -> bool:
        """Whether a class should see it."""
        return self.high - self.low > WIDE


def certainty(
    run: Run, wording: Wording = DEFAULT_WORDING
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return sentences on how sure the shares at the cathode and at the anode are; none where they are.

    The first call runs the model again with other constants, which takes longer than the run.

    Raises
    ------
    RuntimeError
        If one of these runs cannot be finished.

    Examples
    --------
    >>> from fizzplate.cell import Cell
    >>> thin = Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03)
    >>> _, anode = certainty(thin.run(minutes=2, samples=5))
    >>> anode[0].split("?")[0]
    'How sure is this'
    """
    if float(run.charge_C[-1]) == 0.0:
        return (), ()
    cell = run.cell
    rule = classroom_rule(
        cell.ions_mol_dm3, anode=cell.anode, cathode=cell.cathode, wording=wording
    )
    cathode, anode = (
        tuple(each.fill(board_slots(wording)) for each in _sentences(record, expected))
        for record, expected in ((run.cathode, rule.cathode), (run.anode, rule.anode))
    )
    return cathode, anode


def charge_share_ranges(record: ElectrodeRecord) -> list[Range]:
    """Return the ranges of an electrode's products, the largest share first."""
    return [_range(record, product) for product in record.products]


def _range(record: ElectrodeRecord, product: str) -> Range:
    low, high = record.charge_share_range(product)
    return Range(product, float(record.charge_share(product)[-1]), float(low[-1]), float(high[-1]))


def _sentences(record: ElectrodeRecord, rule: ElectrodeRule) -> list[Sentence]:
    wide = [each for each in charge_share_ranges(record) if each.is_wide][:MOST_PRODUCTS]
    if not wide:
        return []
    first, *others = wide
    how_sure = Sentence(
        "How sure is this? {First} could take {range} of the charge{others}, because the speed of each "
        "reaction is known only to a factor of about ten, and what reaches the electrode only to a third.",
        {
            "first": product_name(first.product),
            "range": _from_to(first),
            "others": "".join(f" and {product_name(e.product)} {_from_to(e)}" for e in others),
        },
    )
    return [how_sure, *_on_the_rule(record, rule)]


def _on_the_rule(record: ElectrodeRecord, rule: ElectrodeRule) -> list[Sentence]:
    """Say whether the rule, which gives one product all the charge, lies within the range."""
    ruled = _range(record, rule.product)
    if ruled.share > 1 - NOTABLE_SHARE:
        return []
    if ruled.high >= 1 - NOTABLE_SHARE:
        text = (
            "{Name} alone, as the rule says, is within this range: rule and model differ by less than the "
            "model is sure of."
        )
    else:
        text = "{Name} alone, as the rule says, is outside this range."
    return [Sentence(text, {"name": product_name(rule.product)})]


def _from_to(each: Range) -> str:
    return f"{100 * each.low:.0f} to {page_quantity(100 * each.high, '%', '.0f')}"
