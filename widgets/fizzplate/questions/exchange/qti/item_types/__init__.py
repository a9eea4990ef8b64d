"""Each type of question as an item: how it is asked, by which rules it is marked, and how it is read back."""

from fizzplate.questions.exchange.qti.item_types.choice_items import (
    ChoiceItems,
)
from fizzplate.questions.exchange.qti.item_types.equation_items import (
    EquationItems,
)
from fizzplate.questions.exchange.qti.item_types.item_type import (
    ItemType,
    OwnItem,
)
from fizzplate.questions.exchange.qti.item_types.number_items import (
    NumberItems,
)
from fizzplate.questions.exchange.qti.item_types.structured_items import (
    StructuredItems,
)
from fizzplate.questions.exchange.qti.item_types.written_items import (
    ChecklistItems,
    LevelsItems,
    PlotItems,
    TextItems,
)

__all__ = [
    "ChecklistItems",
    "ChoiceItems",
    "EquationItems",
    "ItemType",
    "LevelsItems",
    "NumberItems",
    "OwnItem",
    "PlotItems",
    "StructuredItems",
    "TextItems",
]
