"""The class's own numbers: read whatever is pasted, fitted by least squares, explained by their own data."""

from __future__ import annotations

import re
from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pint
import pytest
from tests.questions.plain_spaces import with_plain_spaces

from fizzplate import data
from fizzplate.lesson.measure.causes_of_error import (
    judge_causes,
    possible_causes,
    resolution_sentence,
)
from fizzplate.lesson.measure.class_entries import invented_rows, read_groups
from fizzplate.lesson.measure.class_table import (
    MAX_FILE_BYTES,
    read_table,
    read_value,
    safe_cell,
    write_csv,
)
from fizzplate.lesson.measure.fitting import (
    Fit,
    constants_from_masses,
    free_line,
    outliers,
    through_origin,
)
from fizzplate.lesson.measure.interruptions import (
    Interruption,
    current_curve,
    gaps,
    interruption_sentences,
    pauses,
)
from fizzplate.lesson.measure.logger_file import Readings, logger_columns, read_logger, with_heading
from fizzplate.lesson.measure.theory_comparison import compare_with_theory, quantities, results_csv
from fizzplate.lesson.measure.worked_amounts import (
    PRODUCTS,
    amount_working,
    electrons_for,
    time_or_current_working,
)
from fizzplate.words.refusals import InputError
from fizzplate.words.wording import Wording

FARADAY = 96485.33212


@pytest.mark.parametrize(
    "text",
    [
        "group\tcurrent\n1\t0.25\n",
        "group;current\n1;0,25\n",
        'group,current\n1,"0.25"\n',
        "\ufeffgroup,current\r\n1,0.25\r\n\r\n",
    ],
)
def test_tables_are_read_however_they_are_separated(text):
    head, row = read_table(text)
    assert head == ["group", "current"]
    assert read_value("current", row[1]) == 0.25


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff", "a\0b"])
def test_what_is_no_table_is_refused(text):
    with pytest.raises(InputError, match="file"):
        read_table(text)


def test_a_file_that_is_too_large_is_refused_by_its_size():
    with pytest.raises(InputError, match=str(MAX_FILE_BYTES)):
        read_table("1,2\n" * 2_000_000)


@pytest.mark.parametrize("text", ["strong", "1.2.3", "nan", "=1+1", "1e", "--1"])
def test_text_in_a_number_column_is_refused(text):
    with pytest.raises(InputError):
        read_value("current", text)


def test_formula_like_cells_are_written_back_safely():
    assert safe_cell("=HYPERLINK(1)") == "'=HYPERLINK(1)"
    assert safe_cell("+cmd") == "'+cmd"
    assert safe_cell("@x") == "'@x"
    assert safe_cell("-1.5") == "-1.5"
    assert "'=cmd" in write_csv([["=cmd"]])


def test_a_wrong_cell_is_marked_and_only_it_is_left_out():
    rows = invented_rows()
    rows[2]["current"] = "a lot"
    groups = read_groups(rows, {})
    wrong = [mark for mark in groups.marks if mark.wrong]
    assert [(mark.row, mark.key) for mark in wrong] == [(2, "current")]
    assert "'a lot'" in wrong[0].sentence
    assert np.isnan(groups.charge_C[2])
    assert np.isfinite(groups.charge_C[[0, 1, 3]]).all()


@pytest.mark.parametrize(
    ("key", "text"),
    [("minutes", "-3"), ("current", "50"), ("temperature", "300"), ("cathode_before", "-1")],
)
def test_values_out_of_range_are_marked(key, text):
    groups = read_groups([{"group": "A", key: text}], {})
    assert [(mark.key, mark.wrong) for mark in groups.marks] == [(key, True)]


def test_lighter_than_before_is_asked_about_and_kept():
    row = {"cathode_before": "8.2", "cathode_after": "8.1", "current": "0.2", "minutes": "5"}
    groups = read_groups([row], {})
    assert [(mark.key, mark.wrong) for mark in groups.marks] == [("cathode_after", False)]
    assert groups.gained_g[0] == pytest.approx(-0.1)


def test_units_can_be_chosen():
    row = {"current": "200", "minutes": "20", "cathode_before": "8000", "cathode_after": "8079"}
    groups = read_groups([row], {"current": "mA", "cathode_before": "mg", "cathode_after": "mg"})
    assert groups.charge_C[0] == pytest.approx(240)
    assert groups.gained_g[0] == pytest.approx(0.079)


def test_least_squares_agree_with_numpy():
    rng = np.random.default_rng(7)
    x = np.linspace(50, 800, 12)
    y = 3.2e-4 * x + 0.004 + rng.normal(0, 0.003, x.size)
    fit = free_line(x, y)
    (slope, intercept), covariance = np.polyfit(x, y, 1, cov=True)
    assert fit.slope == pytest.approx(slope)
    assert fit.intercept == pytest.approx(intercept)
    assert fit.slope_error == pytest.approx(np.sqrt(covariance[0, 0]))
    assert fit.intercept_error == pytest.approx(np.sqrt(covariance[1, 1]))
    origin = through_origin(x, y)
    assert origin.slope == pytest.approx(float(np.linalg.lstsq(x[:, None], y, rcond=None)[0][0]))


def test_a_published_regression_is_met():
    """Anscombe, The American Statistician 27 (1973) 17: y = 3.00 + 0.500 x, slope's error 0.118.

    Data and summary from memory.
    """
    x = np.array([10.0, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5])
    y = np.array([8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68])
    fit = free_line(x, y)
    assert fit.slope == pytest.approx(0.500, abs=0.001)
    assert fit.intercept == pytest.approx(3.00, abs=0.005)
    assert fit.slope_error == pytest.approx(0.118, abs=0.001)
    assert fit.intercept_error == pytest.approx(1.125, abs=0.002)


def test_the_uncertainty_of_a_slope_is_what_many_classes_would_scatter_by():
    rng = np.random.default_rng(3)
    x = np.linspace(100, 700, 8)
    slopes, errors = [], []
    for _ in range(4000):
        fit = through_origin(x, 3.293e-4 * x + rng.normal(0, 0.006, x.size))
        slopes.append(fit.slope)
        errors.append(fit.slope_error)
    assert np.mean(errors) == pytest.approx(np.std(slopes), rel=0.05)


def test_a_perfect_class_finds_the_constants():
    x = np.linspace(100, 700, 6)
    found = constants_from_masses(through_origin(x, x * 63.546 / (2 * FARADAY)), 63.546, 2)
    assert found["Faraday constant, C/mol"].value == pytest.approx(FARADAY)
    assert found["molar mass, g/mol"].value == pytest.approx(63.546)
    assert found["charge number"].value == pytest.approx(2)


def test_an_outlier_is_named_and_kept_in_the_fit():
    groups = read_groups(invented_rows(), {})
    compared = compare_with_theory(
        groups, quantities("Cu")["cathode gain"], "cathode gain", resolution=0.001
    )
    assert compared.far_off == ("H",)
    assert len(compared.names) == 8
    assert compared.origin.residuals.size == 8
    assert compared.constants["Faraday constant, C/mol"].value == pytest.approx(FARADAY, rel=0.2)


@pytest.mark.parametrize(("deviations", "named"), [(3.3, ()), (3.7, (6,)), (-3.7, (6,))])
def test_a_group_is_an_outlier_from_three_and_a_half_deviations_on(deviations, named):
    """Iglewicz and Hoaglin (1993), from memory: 3.5 times 1.4826 times the median deviation."""
    away = np.array([-1.0, 1.0, -1.0, 0.0, 1.0, -np.sign(deviations), 1.4826 * deviations])
    fit = Fit(slope=1.0, slope_error=0.1, intercept=0.0, intercept_error=0.0, residuals=away)
    assert outliers(fit) == named


def test_outliers_need_a_few_groups():
    x = np.array([1.0, 2.0, 3.0])
    assert outliers(through_origin(x, np.array([1.0, 2.0, 9.0]))) == ()


def test_two_weighings_on_a_coarse_balance_put_18_percent_on_79_mg():
    """Common practice: a 0.01 g balance, 0.2 A for 20 minutes."""
    row = {"cathode_before": "8.00", "cathode_after": "8.08", "current": "0.2", "minutes": "20"}
    groups = read_groups([row], {})
    compared = compare_with_theory(
        groups, quantities("Cu")["cathode gain"], "cathode gain", resolution=0.01
    )
    assert compared.theory[0] == pytest.approx(0.079, rel=0.01)
    assert compared.error / compared.theory[0] == pytest.approx(0.18, abs=0.005)


def test_gas_is_compared_at_the_rooms_own_temperature():
    row = {"gas_cathode": "7.5", "current": "0.1", "minutes": "10", "temperature": "25"}
    groups = read_groups([row, row | {"temperature": "5"}], {})
    compared = compare_with_theory(
        groups, quantities("Cu")["cathode gas"], "cathode gas", resolution=0.1
    )
    assert compared.theory[0] == pytest.approx(7.6, abs=0.05)  # trade: 60 C gives 7.6 cm3 at 25 °C
    assert compared.theory[0] / compared.theory[1] == pytest.approx(298.15 / 278.15)


def test_gas_over_water_takes_more_room_by_the_vapour():
    """Water's vapour pressure at 25 °C: 3170 Pa (IAPWS-95)."""
    groups = read_groups([{"gas_cathode": "7.5", "current": "0.1", "minutes": "10"}], {})
    volumes = [
        compare_with_theory(
            groups, quantities("Cu")["cathode gas"], "cathode gas", resolution=0.1, over_water=wet
        ).theory[0]
        for wet in (False, True)
    ]
    assert volumes[1] / volumes[0] == pytest.approx(101.325 / (101.325 - 3.170), rel=1e-3)


def test_results_hold_every_group():
    groups = read_groups(invented_rows(), {})
    compared = compare_with_theory(
        groups, quantities("Cu")["anode loss"], "anode loss", resolution=0.001
    )
    lines = results_csv(groups, [compared]).strip().splitlines()
    assert len(lines) == 9
    assert lines[1].startswith("A,240,")


LOGGER = "time/s;current/mA\n0;200\n30;210\n60;220\n"


def test_a_logger_is_integrated_by_trapezia():
    readings = read_logger(LOGGER)
    assert readings.charge_C == pytest.approx(12.6)
    assert readings.mean_A == pytest.approx(0.21)
    assert readings.drift == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "file"),
        ("time/s,current/A\n", "two rows"),
        ("clock,voltage\n0,1\n1,2\n", "time"),
        ("time/s,current/A\n0,0.2\n10,off\n", "row 3"),
        ("time/s,current/A\n10,0.2\n0,0.2\n", "go up"),
        ("time/s,current/A\n0,0.2\n", "two rows"),
    ],
)
def test_a_logger_that_cannot_be_read_says_where(text, words):
    with pytest.raises(InputError, match=words):
        read_logger(text)


def test_columns_of_a_logger_can_be_chosen():
    text = "clock/min,meter/A\n0,0.5\n1,0.5\n"
    assert read_logger(text, "clock/min", "meter/A").charge_C == pytest.approx(30)


@pytest.mark.parametrize("product", PRODUCTS)
def test_the_working_agrees_with_an_independent_calculation(product):
    units = pint.UnitRegistry()
    charge = 0.45 * units.ampere * 17.5 * units.minute
    moles = (charge / (FARADAY * units.coulomb / units.mole) / electrons_for(product)).to("mole")
    steps = with_plain_spaces(amount_working(product, 0.45, 17.5))
    assert f"{charge.to('coulomb').magnitude:.6g} C" in steps[1]
    shown = float(steps[3].rsplit("= ", 1)[1].split()[0])
    assert shown == pytest.approx(moles.magnitude, rel=0.005)


def test_the_worked_example_of_a_textbook():
    """OpenStax, Chemistry 2e, example 17.9: Ag+, 10.23 A, 1 h: 36 830 C, 0.3817 mol, 41.19 g."""
    steps = with_plain_spaces(amount_working("Ag", 10.23, 60, figures=4))
    assert "36 828 C" in steps[1]
    assert "0.3817 mol" in steps[2]
    assert float(steps[-1].rsplit("= ", 1)[1].split()[0]) == pytest.approx(41.19, rel=0.005)


def test_forwards_and_backwards_meet():
    mass = float(amount_working("Cu", 0.5, 30)[-1].rsplit("= ", 1)[1].split()[0])
    assert mass == pytest.approx(0.296, abs=0.001)  # trade: 296 mg
    lasts = with_plain_spaces(time_or_current_working("Cu", mass, current_A=0.5))
    assert "30.0 min" in lasts[-1]
    needs = with_plain_spaces(time_or_current_working("Cu", mass, minutes=30))
    assert "0.499 A" in needs[-1]  # 0.296 g is rounded


@pytest.mark.parametrize(
    ("off", "possible"),
    [
        ({"gain": (-1.0, 2.0), "loss": (12.0, 2.0)}, {"grains shed"}),
        ({"gain": (-15.0, 2.0), "loss": (0.0, 2.0)}, {"flakes lost", "hydrogen with the metal"}),
        ({"gain": (-8.0, 2.0), "loss": (-8.0, 2.0)}, {"current below what was noted"}),
        (
            {"gas": (-15.0, 2.0)},
            {
                "gas dissolved",
                "carbon burning",
                "gas lost outside the tube",
                "current below what was noted",
            },
        ),
        ({"gain": (0.5, 2.0), "loss": (-0.5, 2.0)}, set()),
    ],
)
def test_the_class_s_own_data_say_which_causes_they_allow(off, possible):
    found = judge_causes(off)
    allowed = {each.cause.name for each in found if each.allowed}
    assert possible <= allowed
    if not possible:
        assert allowed == set()
    assert all(each.sentence.endswith(".") for each in found)


@pytest.mark.parametrize(
    ("heading", "seconds"),
    [("Time (h)", 3600), ("time/min", 60), ("Time [ms]", 1e-3), ("t_s", 1), ("time, minutes", 60)],
)
def test_a_logger_s_unit_of_time_is_read(heading, seconds):
    delimiter = ";" if "," in heading else ","
    text = f"{heading}{delimiter}Current (mA)\n0{delimiter}200\n2{delimiter}200\n"
    assert read_logger(text).charge_C == pytest.approx(0.2 * 2 * seconds)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("time (d),current (A)\n0,1\n1,1\n", "'d' cannot be used. Use ms, s, min, h"),
        ("time (s),current (kA)\n0,1\n1,1\n", "'kA' cannot be used"),
        ("time,current\n5,1\n5,1\n", "the same time in every row"),
        ("time,current\n0,0\n5,0\n", "0 in every row"),
        ("time,current\n0,-1\n5,-1\n", "mostly negative"),
        ("time,current\n0,nan\n5,1\n", "row 2"),
        ("\n\n", "a heading and at least two rows"),
        ("\0\1\2\n\0\n", "text with values"),
    ],
)
def test_a_logger_without_a_charge_or_a_known_unit_is_refused_in_words(text, words):
    with pytest.raises(InputError, match=words):
        read_logger(text)


def test_a_current_that_rises_from_zero_has_no_finite_drift():
    assert read_logger("time,current\n0,0\n5,1\n").drift == np.inf


def test_quoted_decimal_commas_of_a_logger_are_read():
    assert read_logger('time,current\n"0,0","0,2"\n"5,0","0,2"\n').charge_C == pytest.approx(1.0)


def test_typed_readings_get_the_heading_that_they_lack():
    text = with_heading("0; 0,20\n5; 0,30\n", "min", "A")
    assert read_logger(text).charge_C == pytest.approx(75)
    own = "time/s,current/mA\n0,200\n5,200\n"
    assert read_logger(with_heading(own, "min", "A")).charge_C == pytest.approx(1.0)
    assert logger_columns("clock/min;meter/A\n0;1") == ["clock/min", "meter/A"]
    assert logger_columns("") == []


@pytest.mark.parametrize(
    ("key", "text", "units", "sentence"),
    [
        ("minutes", "-20", {}, r"Minutes: -20 cannot be used\. .* from 0 to 600 min"),
        ("minutes", "700", {}, "to 600 min"),
        ("current", "30000", {"current": "mA"}, r"30000 cannot be used\. Use .* to 20000 mA"),
    ],
)  # fmt: skip
def test_refusals_speak_in_the_unit_that_was_typed(key, text, units, sentence):
    (mark,) = read_groups([{key: text}], units).marks
    assert re.search(sentence, mark.sentence)


@pytest.mark.parametrize(
    "key", ["cathode_before", "anode_after", "current", "minutes", "gas_cathode", "gas_anode"]
)
def test_nothing_at_all_may_be_measured_and_less_may_not(key):
    assert read_groups([{key: "0"}], {}).marks == ()
    (mark,) = read_groups([{key: "-0.01"}], {}).marks
    assert "a number from 0 to" in mark.sentence


def test_a_slope_is_never_surer_than_the_balance():
    """Masses that a coarse balance rounds to a perfect line say nothing of their uncertainty."""
    steady = {"cathode_before": "8.00", "current": "0.2"}
    rows = [
        steady | {"cathode_after": f"{8 + 0.08 * k:.2f}", "minutes": str(20 * k)} for k in (1, 2, 3)
    ]
    groups = read_groups(rows, {})
    found = compare_with_theory(
        groups, quantities("Cu")["cathode gain"], "cathode gain", resolution=0.01
    )
    least = np.sqrt(2) * 0.01 / np.sqrt(np.sum(found.charge_C**2))
    assert found.origin.by_resolution
    assert found.free.by_resolution
    assert found.origin.slope_error == pytest.approx(least)
    faraday = found.constants["Faraday constant, C/mol"]
    assert faraday.error / faraday.value == pytest.approx(least / found.origin.slope)


def test_the_faraday_constant_follows_from_gas_volumes():
    rows = [
        {"gas_cathode": f"{7.608 * k:.3f}", "current": "0.1", "minutes": str(10 * k)}
        for k in (1, 2, 3)
    ]
    found = compare_with_theory(
        read_groups(rows, {}), quantities("Cu")["cathode gas"], "cathode gas", resolution=0.1
    )
    assert found.constants["Faraday constant, C/mol"].value == pytest.approx(FARADAY, rel=1e-3)
    assert found.constants["Faraday constant, C/mol"].error > 0
    assert found.constants["electrons for each molecule"].value == pytest.approx(2, rel=1e-3)


def test_hydrogen_and_oxygen_are_judged_apart_and_carbon_burns_only_in_oxygen():
    off = {"hydrogen": (0.5, 1.0), "oxygen": (-20.0, 1.0)}
    found = {each.cause.name: each for each in judge_causes(off)}
    assert found["carbon burning"].allowed
    assert found["gas dissolved"].allowed
    assert "oxygen" in found["gas dissolved"].sentence
    assert not found["current below what was noted"].allowed
    assert "twice its uncertainty" in found["current below what was noted"].sentence
    assert "carbon burning" not in {
        each.cause.name for each in judge_causes({"hydrogen": (-20.0, 1.0)})
    }


def test_another_cause_s_effect_rules_nothing_out():
    off = {"gain": (8.0, 1.0), "loss": (12.0, 1.0)}
    found = {each.cause.name: each for each in judge_causes(off)}
    assert found["liquid trapped"].sentence.startswith(
        "Not alone: the loss is off by +12\N{NO-BREAK SPACE}%, in the opposite direction"
    )
    assert not any(each.sentence.startswith("No:") for each in found.values())


def test_the_size_of_a_cause_decides_whether_it_is_big_enough():
    off = {"loss": (12.0, 1.0)}
    grains = next(each for each in possible_causes() if each.name == "grains shed")
    allowed = {}
    for milligrams in (2.0, 14.0):
        effects = {grains.name: grains.effects(milligrams, {"loss": 0.8})}
        allowed[milligrams] = next(
            each for each in judge_causes(off, effects) if each.cause is grains
        )
    assert not allowed[2.0].allowed
    assert "a cause of this size makes +1.6\N{NO-BREAK SPACE}%" in allowed[2.0].sentence
    assert allowed[14.0].allowed


def test_what_a_milligram_does_to_a_slope_is_what_it_does():
    groups = read_groups(invented_rows(), {})
    quantity = quantities("Cu")["anode loss"]
    found = compare_with_theory(groups, quantity, "anode loss", resolution=0.001)
    more = through_origin(found.charge_C, found.measured + 0.005).slope
    expected = through_origin(found.charge_C, found.theory).slope
    assert 100 * (more - found.origin.slope) / expected == pytest.approx(
        0.005 * found.percent_per_unit
    )


def test_the_resolution_stands_beside_the_causes():
    sentence = resolution_sentence({"gain": (-1.0, 0.8), "loss": (12.0, 0.8)})
    assert (
        "The gain is off by −1\N{NO-BREAK SPACE}%. "
        "The resolution of the instrument can explain up to 1.6\N{NO-BREAK SPACE}%." in sentence
    )
    assert "can explain only 1.6\N{NO-BREAK SPACE}%" in sentence


def test_a_note_goes_with_every_row_and_the_board_s_names_over_it():
    groups = read_groups(invented_rows(), {})
    made = compare_with_theory(
        groups, quantities("Cu")["anode loss"], "anode loss", resolution=0.001
    )
    board = Wording(electrode_names="negative")
    lines = results_csv(groups, [made], note="Invented.", wording=board).strip().splitlines()
    assert "lost at the positive electrode" in lines[0]
    assert all(line.endswith(",Invented.") for line in lines[1:])


def test_gases_are_worked_out_backwards_from_their_volume():
    steps = with_plain_spaces(
        amount_working("Cl2", 0.2, 10, seconds=30, temperature_C=20, figures=4)
    )
    assert "10 min × 60 + 30 s = 630 s" in steps[0]
    volume = float(re.search(r"= ([\d.]+) cm³", steps[-1])[1])
    assert "= 630" in time_or_current_working(
        "Cl2", volume_cm3=volume, current_A=0.2, temperature_C=20, figures=3
    )[-1]  # fmt: skip
    needs = time_or_current_working(
        "Cl2", volume_cm3=volume, minutes=10, seconds=30, temperature_C=20, figures=3
    )
    assert "0.200 A" in with_plain_spaces(needs[-1])
    with pytest.raises(InputError):
        time_or_current_working("Cu", volume_cm3=30, current_A=0.2)


def test_where_readings_or_the_current_break_off_is_found_and_said():
    rows = [(t, 0.2) for t in range(300)]
    rows += [(t, 0.001) for t in range(300, 360)]  # a meter with its leads open
    rows += [(t, 0.2) for t in range(540, 900)]
    text = "time/s,current/A\n" + "".join(f"{t},{amps}\n" for t, amps in rows)
    readings = read_logger(text)
    assert gaps(readings) == (Interruption(359, 540),)
    assert pauses(readings) == (Interruption(300, 359),)
    gap, none = interruption_sentences(readings)
    assert gap.startswith("No readings from 5.98 to 9 minutes.")
    assert none.startswith("No current from 5 to 5.98 minutes.")
    times, amps = current_curve(readings)
    assert np.count_nonzero(np.isnan(times)) == 1  # the line is broken where nothing was read
    assert np.isnan(amps[np.flatnonzero(np.isnan(times))]).all()
    assert times.size == readings.time_s.size + 1


@pytest.mark.parametrize(
    "rows",
    [
        [(0, 0.2), (5, 0.3), (10.5, 0.2)],  # typed, as the clock was looked at
        [(0, 0.2), (1, 0), (2, 0.2), (3, 0.2)],  # one reading of nothing is a loose contact
        [(k, 0.2) for k in range(50)],
        [(k // 4, 0.2) for k in range(50)],  # four readings in a second, on a clock of seconds
    ],
)
def test_nothing_is_said_of_readings_without_a_break(rows):
    text = "time,current\n" + "".join(f"{t},{amps}\n" for t, amps in rows)
    assert interruption_sentences(read_logger(text)) == []


def test_many_breaks_are_counted_and_a_long_file_keeps_its_peaks():
    starts = np.arange(8)[:, None] * 100.0
    times = (starts + np.arange(20)).ravel()
    readings = Readings(times, np.full(times.size, 0.2))
    assert "and in 4 more places" in interruption_sentences(readings)[0]
    amps = np.full(50_000, 0.2)
    amps[31_415] = 1.7
    drawn, currents = current_curve(Readings(np.arange(50_000.0), amps))
    assert drawn.size < 2500
    assert currents.max() == 1.7


def test_a_cause_whose_cell_is_bad_is_refused_with_its_line_and_its_column(monkeypatch):
    rows = data.rows("causes_of_error")
    key = {**rows[1].key, "gain": "heavier"}
    bad = replace(rows[1], key=MappingProxyType(key))
    monkeypatch.setattr(data, "rows", {"causes_of_error": (rows[0], bad)}.get)
    told = r"^data/causes_of_error\.csv, line 3, gain: 'heavier' is none of nothing, high, low$"
    with pytest.raises(data.BadRowError, match=told):
        possible_causes.__wrapped__()
