"""The file of a current logger: its columns, units and breaks, integrated to a charge."""

from __future__ import annotations

import numpy as np
import pytest

from fizzplate.lesson.measure.interruptions import (
    Interruption,
    current_curve,
    gaps,
    interruption_sentences,
    pauses,
)
from fizzplate.lesson.measure.logger_file import Readings, logger_columns, read_logger, with_heading
from fizzplate.words.refusals import InputError

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
