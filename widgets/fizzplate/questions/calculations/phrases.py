"""How calculations are asked, each in several ways, with numbers that go with the words."""

from __future__ import annotations

CHARGE_ASKS = (
    "How much charge passes, in C?",
    "Calculate the charge that passes, in C.",
    "How many coulombs have gone round the circuit by then?",
)
CHARGE_TIME_ASKS = (
    "For how many minutes does a steady current of {current} flow?",
    "The ammeter reads {current} throughout. How many minutes does that take?",
)
CHARGE_CURRENT_ASKS = (
    "It takes {time}. What is the steady current, in A?",
    "What does the ammeter read, in A, if that takes {time}?",
)
MASS_ASKS = (
    "What mass of {name}, in {unit}, forms on {the_cathode}?",
    "Calculate the mass of {name} that is deposited, in {unit}.",
    "By how many grams does {the_cathode} become heavier?",
    "Work out how many grams of {name} settle on {the_cathode}.",
)
VOLUME_ASKS = (
    "What volume of {name}, in {unit}, forms at the {electrode}?",
    "Calculate the volume of {name}, in {unit}, that the current makes.",
    "How much {name} bubbles off at the {electrode}, in {unit}?",
)
TIME_ASKS = (
    "For how many minutes must a current of {current} flow?",
    "The current is {current}. How long does it take, in minutes?",
    "How many minutes does that take with a steady {current}?",
)
CURRENT_ASKS = (
    "What steady current, in A, makes it in {time}?",
    "It may take {time}. What current, in A, is needed?",
    "What must the ammeter read, in A, if it is to take {time}?",
)
RATIO_ASKS = (
    "{volume} of {given} is made. What volume of {name}, in cm³, forms in the same time?",
    "One tube catches {volume} of {given}. How much {name}, in cm³, is in the other?",
    "By the time that there is {volume} of {given}, how many cm³ of {name} have formed?",
)
BOTH_ASKS = (
    "Both gases together take up {volume}. How much of that is {name}, in cm³?",
    "{volume} of gas is made in all. Calculate the volume of {name} in it, in cm³.",
)
VOLUMES_CM3 = tuple(6 + k / 2 for k in range(86))
METAL_FOUND = (
    "{The_cathode} gains {amount}. What is the percentage yield of {name}?",
    "{amount} of {name} is found on the dry {cathode}. What percentage of the expected mass is that?",
)
GAS_FOUND = (
    "{amount} of {name} is collected. What is the percentage yield?",
    "Only {amount} of {name} reaches the tube. What percentage of the expected volume is that?",
)
METAL_YIELDS = tuple(76 + k / 2 for k in range(44))
GAS_YIELDS = tuple(57 + k / 2 for k in range(70))
TWO_STEP_SIZES = {"cm³": tuple(range(12, 61, 3)), "mg": tuple(range(80, 401, 10))}
LIQUIDS = {"CuSO4": "copper(II) sulfate solution", "AgNO3": "silver nitrate solution"}
FARADAY_SAYS = (
    "In a class practical, {passes} through {liquid}, and {the_cathode} gains {amount} of {name}.",
    "A group electrolyses {liquid}. On one run {passes}, and {amount} of {name} settles on {the_cathode}.",
    "To find the charge of a mole of electrons, {passes} through {liquid}; {amount} of {name} forms.",
)
SERIES_SAYS = (
    "The same current passes through {first} and then through {second}.",
    "Two cells are joined in series: the first holds {first}, and the second {second}.",
    "A cell with {first} comes before one with {second} in the same circuit.",
)
SERIES_ASKS = (
    "How much {asked}, in {unit}, forms at the second {cathode}?",
    "What {kind} of {asked}, in {unit}, does the second {cathode} give in the same time?",
    "Calculate the {kind} of {asked}, in {unit}, at {the_cathode} of the second cell.",
)
FARADAY_ASKS = (
    "What value of the Faraday constant follows, in C/mol?",
    "Calculate the Faraday constant from this measurement, in C/mol.",
)
#: of the mass that is expected; far enough from it that the book's constant does not come out
MEASURED = (*(96.5 + k / 20 for k in range(9)), *(103.2 + k / 10 for k in range(25)))
MEASURED_WELL = (99.5, 99.8, 100.0, 100.3, 100.6)
ROOM_ASKS = (
    "What volume of dry {name}, in cm³, forms {room}?",
    "How many cm³ of dry {name} is that {room}?",
    "Calculate the volume of dry {name}, in cm³, {room}.",
)
ROOM_C, ROOM_KPA = (14, 16, 18, 20, 22, 24, 26, 28), (97.2, 98.4, 99.6, 100.8, 101.3, 102.4)
#: what a class makes at its benches, and what a works or a furnace makes
CLASS_MOL = tuple(k * 1e-4 for k in (24, 27, 30, 36, 42, 45, 48, 54, 60, 66, 72, 84, 90, 96))
AMOUNTS_MOL = tuple(
    size * ten
    for size in (12, 15, 18, 21, 24, 27, 30, 36, 42, 45, 48, 54, 60, 66, 72, 84, 90, 96)
    for ten in (1e-3, 1e-2)
)
MOLE_ASKS = (
    "How many moles of {name} does the {electrode} give meanwhile?",
    "How many moles of {name} form at the {electrode} in the same time?",
    "What amount of {name}, in mol, forms at the {electrode}?",
)
UNKNOWN_SAYS = (
    "A bottle holds a salt of a metal X. Its solution is electrolysed: {passes}, and {amount} of X forms.",
    (
        "To find the formula of a salt of a metal X, {passes} through its solution. "
        "{The_cathode} gains {amount}."
    ),
    "A solution holds ions of a metal X. When {passes}, {amount} of X settles on {the_cathode}.",
    "The ions of a metal X are tested: {passes} through a solution of them, and {amount} of X is weighed.",
    "A molten chloride of a metal X is electrolysed; {passes}, and {amount} of X is run off.",
)
UNKNOWN_ASKS = (
    "How many positive charges does an ion of X carry?",
    "Work out the charge number of the ions of X.",
)
PART_ASKS = (
    ("charge", "electrons", "moles", "end"),
    ("charge", "electrons", "end"),
    ("charge", "moles", "end"),
    ("electrons", "end"),
)
MELT_SAYS = (
    "In a test of a new furnace {passes}.",
    "During the experiment {passes}.",
    "Between two readings of the meter {passes}.",
)
WORKS_SAYS = (
    "Through one cell of a works {passes}.",
    "In each cell of a works {passes}.",
)
EFFICIENCY_ASKS = (
    "What mass of {name}, in {unit}, forms?",
    "Calculate the mass of {name}, in {unit}, that is really made.",
    "How many {units} of {name} are made?",
)
