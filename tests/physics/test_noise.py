"""Levels, rooms, enclosures, doses and vibration: identities and limits."""

from __future__ import annotations

import numpy as np
import pytest

from finishplan.physics.noise import (
    NOISE_SCHEMES,
    SHIFT_LEVEL_DB,
    SOURCE_LEVELS,
    VIBRATION_ACTION_VALUE,
    VIBRATION_LIMIT_VALUE,
    LevelBand,
    cell_level_band,
    combined_level_db,
    compound_loss_db,
    daily_vibration,
    enclosure_insertion_loss_db,
    equal_sources_level_db,
    exposure_level_db,
    free_field_level_db,
    level_away,
    noise_dose,
    permitted_time,
    room_constant,
    room_level_db,
    shift_level_db,
    vibration_points,
    vibration_time,
)

HOUR = 3600.0
INFINITE = float("inf")


class TestLevels:
    def test_one_source_keeps_its_level(self) -> None:
        assert combined_level_db([83.0]) == pytest.approx(83.0, rel=1e-14)

    def test_two_equal_ones_add_three_decibels(self) -> None:
        assert combined_level_db([80.0, 80.0]) == pytest.approx(80 + 10 * np.log10(2), rel=1e-14)

    def test_equal_sources_are_a_sum(self) -> None:
        assert equal_sources_level_db(77.0, 5) == pytest.approx(combined_level_db([77.0] * 5), rel=1e-14)

    def test_order_does_not_matter_and_rows_add_apart(self) -> None:
        levels = np.array([[70.0, 90.0, 80.0], [90.0, 80.0, 70.0]])
        first, second = combined_level_db(levels)
        assert first == pytest.approx(second, rel=1e-14)

    def test_ten_times_as_far_is_twenty_decibels_less(self) -> None:
        assert free_field_level_db(90.0, 1.0, 10.0) == pytest.approx(70.0, rel=1e-14)

    def test_typical_levels_are_bands(self) -> None:
        for level in SOURCE_LEVELS.values():
            assert level.low_db <= level.high_db


class TestCell:
    def test_in_the_open_the_power_spreads_over_the_half_sphere(self) -> None:
        assert room_level_db(100.0, 2.0, INFINITE) == pytest.approx(100 - 10 * np.log10(8 * np.pi), rel=1e-14)

    def test_in_a_reverberant_hall_distance_hardly_matters(self) -> None:
        near, far = room_level_db(100.0, np.array([10.0, 20.0]), 20.0)
        assert near - far < 0.1

    def test_room_constant_counts_the_surface(self) -> None:
        assert room_constant(500.0, 0.2) == pytest.approx(125.0, rel=1e-14)

    def test_one_part_keeps_its_loss_and_an_opening_spoils_it(self) -> None:
        assert compound_loss_db([4.0], [30.0]) == pytest.approx(30.0, rel=1e-14)
        # one hundredth open lets about one hundredth through
        assert compound_loss_db([9.9, 0.1], [60.0, 0.0]) == pytest.approx(20.0, abs=0.01)

    def test_an_enclosure_without_walls_or_lining_does_nothing(self) -> None:
        assert enclosure_insertion_loss_db(30.0, 0.0) == 0
        assert enclosure_insertion_loss_db(30.0, 1.0) == pytest.approx(30.0, abs=0.01)

    def test_band_spans_the_uncertainties(self) -> None:
        band = cell_level_band([95.0], [3.0], distance=2.0, room=INFINITE, insertion_loss_db=15.0)
        assert band.middle_db == pytest.approx(room_level_db(80.0, 2.0, INFINITE), rel=1e-14)
        assert band.high_db - band.middle_db == pytest.approx(3.0, rel=1e-12)
        assert band.middle_db - band.low_db == pytest.approx(3.0, rel=1e-12)

    def test_uncertain_enclosure_widens_the_band(self) -> None:
        band = cell_level_band(
            [95.0, 90.0], [3.0, 1.0], distance=2.0, room=100.0, insertion_loss_db=15.0, insertion_uncertainty_db=4.0
        )
        plain = cell_level_band([95.0, 90.0], [3.0, 1.0], distance=2.0, room=100.0, insertion_loss_db=15.0)
        assert band.middle_db == pytest.approx(plain.middle_db, rel=1e-14)
        assert band.high_db - plain.high_db == pytest.approx(4.0, rel=1e-12)

    @pytest.mark.parametrize(("levels", "spreads"), [([], []), ([90.0], []), ([90.0], [1.0, 2.0])])
    def test_refuses_sources_without_uncertainty(self, levels: list[float], spreads: list[float]) -> None:
        with pytest.raises(ValueError, match="one half-width"):
            cell_level_band(levels, spreads, distance=1.0, room=10.0)


class TestDose:
    @pytest.mark.parametrize("scheme", NOISE_SCHEMES)
    def test_the_criterion_lasts_a_shift_and_halves_by_the_exchange_rate(self, scheme: str) -> None:
        criterion = NOISE_SCHEMES[scheme]
        levels = criterion.level_db + criterion.exchange_db * np.arange(3)
        found = permitted_time(levels, scheme)  # type: ignore[arg-type]
        assert found == pytest.approx(np.array([8, 4, 2]) * HOUR, rel=1e-14)

    @pytest.mark.parametrize("scheme", NOISE_SCHEMES)
    def test_shift_level_gives_a_constant_level_back(self, scheme: str) -> None:
        dose = noise_dose([93.0], [8 * HOUR], scheme)  # type: ignore[arg-type]
        assert shift_level_db(dose, scheme) == pytest.approx(93.0, rel=1e-14)  # type: ignore[arg-type]

    def test_energy_mean_is_the_shift_level_at_three_decibels(self) -> None:
        # 3 dB stand for a factor of 2 in the scheme, 3.01 dB in the energy
        levels, durations = [95.0, 80.0], [2 * HOUR, 6 * HOUR]
        by_dose = shift_level_db(noise_dose(levels, durations, "EU limit"), "EU limit")
        assert exposure_level_db(levels, durations) == pytest.approx(by_dose, abs=0.05)

    def test_lowest_shift_level_governs(self) -> None:
        assert SHIFT_LEVEL_DB.governing.value == 80
        assert {figure.value for figure in SHIFT_LEVEL_DB.figures} == {80, 85, 90}

    def test_refuses_an_unknown_scheme(self) -> None:
        with pytest.raises(ValueError, match="scheme must be one of OSHA, NIOSH"):
            permitted_time(90.0, "ISO")  # type: ignore[arg-type]

    def test_refuses_a_dose_of_zero(self) -> None:
        with pytest.raises(ValueError, match="shift_level_db: dose"):
            shift_level_db(0.0)


class TestFurtherAway:
    BAND = LevelBand(80.0, 85.0, 90.0)

    def test_low_end_falls_as_in_the_open_and_the_high_end_not_at_all(self) -> None:
        away = level_away(self.BAND, 1.0, 4.0)
        assert away.low_db == pytest.approx(float(free_field_level_db(80.0, 1.0, 4.0)))
        assert away.high_db == 90.0
        assert self.BAND.middle_db - away.middle_db == pytest.approx((80.0 - away.low_db) / 2)

    def test_nearer_than_it_was_found_it_stays(self) -> None:
        assert level_away(self.BAND, 1.0, 0.5) == self.BAND


class TestVibration:
    def test_a_whole_shift_is_the_tool_itself(self) -> None:
        assert daily_vibration([3.2], [8 * HOUR]) == pytest.approx(3.2, rel=1e-14)

    def test_points_add_up_over_tools(self) -> None:
        both = vibration_points([7.0, 4.0], [1 * HOUR, 2 * HOUR])
        assert both == pytest.approx(vibration_points([7.0], [HOUR]) + vibration_points([4.0], [2 * HOUR]), rel=1e-14)

    def test_points_are_a_hundred_and_four_hundred_at_the_values(self) -> None:
        values = [VIBRATION_ACTION_VALUE.value, VIBRATION_LIMIT_VALUE.value]
        assert [vibration_points([value], [8 * HOUR]) for value in values] == pytest.approx([100, 400], rel=1e-14)

    def test_time_reaches_the_daily_value(self) -> None:
        duration = vibration_time(9.0, 2.5)
        assert daily_vibration([9.0], [duration]) == pytest.approx(2.5, rel=1e-14)
