"""A class's numbers fitted by least squares and compared with theory, outliers named."""

from __future__ import annotations

import numpy as np
import pytest

from fizzplate.lesson.measure.class_entries import invented_rows, read_groups
from fizzplate.lesson.measure.fitting import (
    Fit,
    constants_from_masses,
    free_line,
    outliers,
    through_origin,
)
from fizzplate.lesson.measure.theory_comparison import compare_with_theory, quantities, results_csv
from fizzplate.words.wording import Wording

FARADAY = 96485.33212


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


def test_a_note_goes_with_every_row_and_the_board_s_names_over_it():
    groups = read_groups(invented_rows(), {})
    made = compare_with_theory(
        groups, quantities("Cu")["anode loss"], "anode loss", resolution=0.001
    )
    board = Wording(electrode_names="negative")
    lines = results_csv(groups, [made], note="Invented.", wording=board).strip().splitlines()
    assert "lost at the positive electrode" in lines[0]
    assert all(line.endswith(",Invented.") for line in lines[1:])
