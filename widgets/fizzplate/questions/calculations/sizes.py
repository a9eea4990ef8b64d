"""Numbers that go with the phrases of calculations, and which parts a question in parts may have."""

from __future__ import annotations

VOLUMES_CM3 = tuple(6 + k / 2 for k in range(86))
METAL_YIELDS = tuple(76 + k / 2 for k in range(44))
GAS_YIELDS = tuple(82 + k / 2 for k in range(32))
CHLORINE_YIELDS = tuple(57 + k / 2 for k in range(66))  # of which much dissolves
#: where a works loses charge to nothing else (common practice)
WORKS_YIELDS = tuple(92 + k / 2 for k in range(14))
TWO_STEP_SIZES = {"cm³": tuple(range(12, 61, 3)), "mg": tuple(range(80, 401, 10))}
#: solutions in which a class measures the Faraday constant
MEASURED_IN = ("CuSO4", "AgNO3")
#: of the mass that is expected; far enough from it that the book's constant does not come out
MEASURED = (*(96.5 + k / 20 for k in range(9)), *(103.2 + k / 10 for k in range(25)))
MEASURED_WELL = (99.5, 99.8, 100.0, 100.3, 100.6)
ROOM_C, ROOM_KPA = (14, 16, 18, 20, 22, 24, 26, 28), (97.2, 98.4, 99.6, 100.8, 101.3, 102.4)
#: what a class makes at its benches, and what a works or a furnace makes
CLASS_MOL = tuple(k * 1e-4 for k in (24, 27, 30, 36, 42, 45, 48, 54, 60, 66, 72, 84, 90, 96))
AMOUNTS_MOL = tuple(
    size * ten
    for size in (12, 15, 18, 21, 24, 27, 30, 36, 42, 45, 48, 54, 60, 66, 72, 84, 90, 96)
    for ten in (1e-3, 1e-2)
)
PART_CHOICES = (
    ("charge", "electrons", "moles", "end"),
    ("charge", "electrons", "end"),
    ("charge", "moles", "end"),
    ("electrons", "end"),
)
