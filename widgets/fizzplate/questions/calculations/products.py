"""The metals and gases that calculations are about, and currents and times to match.

Currents and times are common practice of the trade, or rounded for school.
"""

from __future__ import annotations

from fizzplate.questions.calculations.quantities import Product

COPPER, SILVER = Product("Cu", "Cu2+", "copper"), Product("Ag", "Ag+", "silver")
NICKEL, ZINC = Product("Ni", "Ni2+", "nickel"), Product("Zn", "Zn2+", "zinc")
CHROMIUM, LEAD = Product("Cr", "Cr3+", "chromium"), Product("Pb", "Pb2+", "lead")
SODIUM, POTASSIUM = Product("Na", "Na+", "sodium"), Product("K", "K+", "potassium")
MAGNESIUM, CALCIUM = Product("Mg", "Mg2+", "magnesium"), Product("Ca", "Ca2+", "calcium")
ALUMINIUM = Product("Al", "Al3+", "aluminium")
# the electrons and the electrode are the same, whichever source the board writes
HYDROGEN, OXYGEN = Product("H2", "H+", "hydrogen"), Product("O2", "OH-", "oxygen")
OXIDE_OXYGEN = Product("O2", "O2-", "oxygen")
CHLORINE, BROMINE = Product("Cl2", "Cl-", "chlorine"), Product("Br2", "Br-", "bromine")
#: what the tables call them
PRODUCTS = {
    "copper": COPPER,
    "silver": SILVER,
    "nickel": NICKEL,
    "zinc": ZINC,
    "chromium": CHROMIUM,
    "lead": LEAD,
    "sodium": SODIUM,
    "potassium": POTASSIUM,
    "magnesium": MAGNESIUM,
    "calcium": CALCIUM,
    "aluminium": ALUMINIUM,
    "hydrogen": HYDROGEN,
    "oxygen": OXYGEN,
    "oxide-oxygen": OXIDE_OXYGEN,
    "chlorine": CHLORINE,
    "bromine": BROMINE,
}

Times = tuple[tuple[float, str], ...]

CLASS_A = (0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.6, 0.75, 0.8)
BATH_A = (1.2, 1.5, 1.8, 2.0, 2.5, 3.2, 4.0, 5.0, 6.5, 8.0)
POT_LINE_A = (60_000.0, 80_000.0, 100_000.0, 150_000.0, 180_000.0)
#: what the tables call them
CURRENTS_A = {
    "paper": (0.002, 0.0025, 0.004, 0.005, 0.006, 0.0075, 0.008),  # at the 20 V of a class
    "small": (0.035, 0.04, 0.05, 0.06, 0.075, 0.08, 0.09),
    "class": CLASS_A,
    "spoon": (0.4, 0.5, 0.6, 0.8, 1.2),
    "track": (0.5, 0.8, 1.2, 1.5, 2.0),
    "bath": BATH_A,
    "tank": (15.0, 20.0, 24.0, 30.0, 45.0, 60.0, 80.0),
    "works": (120.0, 150.0, 200.0, 250.0, 400.0, 600.0),
    "pot-line": POT_LINE_A,
}
CLASS_TIMES: Times = tuple((m, "min") for m in (8, 10, 12, 15, 18, 20, 25, 30, 35, 40, 45))
BATH_TIMES: Times = (
    *((m, "min") for m in (12, 15, 20, 25, 30, 40, 50, 75, 90)),
    *((h, "h") for h in (1, 1.5, 2, 2.5)),
)
SHIFTS: Times = tuple((h, "h") for h in (1, 2, 4, 6, 8, 12, 24))
#: what the tables call them
TIMES = {
    "class": CLASS_TIMES,
    "seconds": tuple((s, "s") for s in (600, 750, 900, 1200, 1500, 1800)),
    "bath": BATH_TIMES,
    "brine": ((30, "min"), (45, "min"), (50, "min"), (1, "h")),
    "works": tuple((h, "h") for h in (1, 1.5, 2, 3, 4, 6, 8)),
    "shift": SHIFTS,
}
LARGE_C = tuple(
    size * ten
    for ten in (1e3, 1e4)
    for size in (
        12.0,
        15.0,
        18.0,
        21.0,
        24.0,
        27.0,
        33.0,
        36.0,
        42.0,
        48.0,
        54.0,
        63.0,
        72.0,
        81.0,
        96.0,
    )
)
