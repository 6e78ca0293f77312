"""Noise and vibration against the tables and examples of law and agencies.

Origins: "law" is a figure of the regulation; "agency" one of a guidance of its authority; "handbook" a
printed worked example; "recomputed" follows from such figures.
"""

from __future__ import annotations

import pytest
from scipy import constants

from finishplan.physics.noise import (
    HEARING_CONSERVATION_DOSE,
    VIBRATION_ACTION_VALUE,
    VIBRATION_LIMIT_VALUE,
    combined_level_db,
    daily_vibration,
    equal_sources_level_db,
    exposure_level_db,
    noise_dose,
    permitted_time,
    shift_level_db,
    vibration_points,
    vibration_time,
)

HOUR = constants.hour
MINUTE = constants.minute


@pytest.mark.parametrize(
    ("levels", "expected", "tolerance"),
    [
        # printed to 0.1 dB
        pytest.param([85, 83, 88], 90.6, 0.05, id="OSHA, Noise and Hearing Conservation, App. I:A, example; agency"),
        # printed to 0.01 dB
        pytest.param(
            [85, 88, 80, 70, 95],
            96.25,
            0.01,
            id="ILO Encyclopaedia of Occupational Health and Safety, chapter on noise; handbook",
        ),
        # the quick table adds whole decibels
        pytest.param([70, 73], 75, 0.5, id="OSHA, App. I:A, quick table, 3 dB apart; agency"),
        pytest.param([80, 80], 83, 0.5, id="OSHA, App. I:A, quick table, equal levels; agency"),
        pytest.param([80, 86], 87, 0.5, id="OSHA, App. I:A, quick table, 6 dB apart; agency"),
        pytest.param([80, 92], 92, 0.5, id="OSHA, App. I:A, quick table, 12 dB apart; agency"),
    ],
)
def test_sum_of_levels(levels: list[float], expected: float, tolerance: float) -> None:
    assert combined_level_db(levels) == pytest.approx(expected, abs=tolerance)


def test_ten_equal_sources() -> None:
    """ILO Encyclopaedia of Occupational Health and Safety, chapter on noise: L + 10 log n. Origin: handbook."""
    assert equal_sources_level_db(80.0, 10) == pytest.approx(90.0, abs=1e-9)


@pytest.mark.parametrize(
    ("level", "hours", "last_digit"),
    [
        (80, 32, 1), (82, 24.3, 0.1), (84, 18.4, 0.1), (85, 16, 1), (86, 13.9, 0.1), (88, 10.6, 0.1), (90, 8, 1),
        (91, 7.0, 0.1), (92, 6.1, 0.1), (94, 4.6, 0.1), (95, 4, 1), (96, 3.5, 0.1), (98, 2.6, 0.1), (99, 2.3, 0.1),
        (101, 1.7, 0.1), (104, 1.1, 0.1), (106, 0.87, 0.01), (108, 0.66, 0.01), (112, 0.38, 0.01),
        (116, 0.22, 0.01), (120, 0.125, 0.001), (130, 0.031, 0.001),
    ],
)  # fmt: skip
def test_table_g_16a(level: float, hours: float, last_digit: float) -> None:
    """29 CFR 1910.95, Appendix A, Table G-16a. Origin: law; half of the last digit printed."""
    assert permitted_time(level, "OSHA") / HOUR == pytest.approx(hours, abs=0.5 * last_digit)


@pytest.mark.parametrize(
    ("hours", "level"), [(8, 90), (6, 92), (4, 95), (3, 97), (2, 100), (1.5, 102), (1, 105), (0.5, 110), (0.25, 115)]
)
def test_table_d_2(hours: float, level: float) -> None:
    """29 CFR 1926.52, Table D-2. Origin: law; its levels are whole decibels, 0.5 dB is 7 % of the time."""
    assert permitted_time(level, "OSHA") / HOUR == pytest.approx(hours, rel=0.07)


@pytest.mark.parametrize(("level", "minutes"), [(85, 480), (94, 60), (100, 15)])
def test_times_of_niosh(level: float, minutes: float) -> None:
    """NIOSH Publication 98-126, Table 1-1. Origin: agency, exact by its formula."""
    assert permitted_time(level, "NIOSH") / MINUTE == pytest.approx(minutes, rel=1e-12)


def test_dose_of_a_shift_at_92() -> None:
    """29 CFR 1910.95, Appendix A: 131.95 % by its formula, 131.1 % with the 6.1 h printed. Origin: recomputed."""
    dose = noise_dose([92.0], [8 * HOUR], "OSHA")
    assert 100 * dose == pytest.approx(131.95, abs=0.1)
    # half of the last digit of 6.1 h
    assert 100 * dose == pytest.approx(100 * 8 / 6.1, rel=0.05 / 6.1)


def test_dose_of_two_levels() -> None:
    """29 CFR 1910.95, Appendix A, with 2 h of 4 h and 6 h of 16 h: 87.5 %, 89.04 dB(A). Origin: recomputed."""
    dose = noise_dose([95.0, 85.0], [2 * HOUR, 6 * HOUR], "OSHA")
    assert 100 * dose == pytest.approx(87.5, abs=0.01)
    assert shift_level_db(dose, "OSHA") == pytest.approx(89.04, abs=0.01)


def test_hearing_conservation_begins_at_85() -> None:
    """29 CFR 1910.95(c)(1): an average of 85 dB(A) or, equivalently, a dose of fifty per cent. Origin: law."""
    assert shift_level_db(HEARING_CONSERVATION_DOSE.value, "OSHA") == pytest.approx(85.0, abs=1e-9)


@pytest.mark.parametrize(
    ("level", "hours", "expected", "tolerance"),
    [
        pytest.param(90, 4, 87, 0.05, id="87 dB row: 90 dB for 4 h"),
        pytest.param(94, 1, 85, 0.05, id="85 dB row: 94 dB for 1 h"),
    ],
)
def test_equivalents_of_the_european_values(level: float, hours: float, expected: float, tolerance: float) -> None:
    """SCENIHR, Health risks of personal music players, European Commission 2008, Table 3. Origin: agency.

    The table counts 3 dB for a factor of two, which is 3.01 dB: 0.05 dB over up to three halvings.
    """
    assert exposure_level_db([level], [hours * HOUR]) == pytest.approx(expected, abs=tolerance)


def test_exposure_level_of_two_levels() -> None:
    """Directive 2003/10/EC, Article 2, by ISO 1999: 2 h at 95 and 6 h at 80 dB(A), 89.37. Origin: recomputed."""
    assert exposure_level_db([95.0, 80.0], [2 * HOUR, 6 * HOUR]) == pytest.approx(89.37, abs=0.01)


@pytest.mark.parametrize(
    ("accelerations", "hours", "points", "daily"),
    [
        pytest.param([5], [3], 150, 3.06, id="5 m/s2 for 3 h, HSE example; agency"),
        pytest.param([7], [2], 196, 3.50, id="7 m/s2 for 2 h; recomputed"),
        pytest.param([7, 4, 10], [1, 2, 0.5], 262, 4.05, id="three tools; recomputed"),
        pytest.param([8], [6], 768, 6.93, id="angle grinder all day, above the limit value; recomputed"),
    ],
)
def test_vibration_of_a_day(accelerations: list[float], hours: list[float], points: float, daily: float) -> None:
    """HSE L140: points are twice the square of the acceleration times the hours. 0.01 m/s2 for the digits printed."""
    durations = [hour * HOUR for hour in hours]
    assert vibration_points(accelerations, durations) == pytest.approx(points, rel=1e-9)
    assert daily_vibration(accelerations, durations) == pytest.approx(daily, abs=0.01)


@pytest.mark.parametrize(("acceleration", "action", "limit"), [(10, 30, 120), (7, 61.2, 244.9), (4, 187.5, 750)])
def test_times_to_the_values(acceleration: float, action: float, limit: float) -> None:
    """Directive 2002/44/EC, Article 3: 2.5 and 5 m/s2 [min]. Origin: recomputed; 0.5 % for rounding."""
    assert vibration_time(acceleration, VIBRATION_ACTION_VALUE.value) / MINUTE == pytest.approx(action, rel=5e-3)
    assert vibration_time(acceleration, VIBRATION_LIMIT_VALUE.value) / MINUTE == pytest.approx(limit, rel=5e-3)
