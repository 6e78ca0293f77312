"""Stock taken off: the volume balance, whole strokes, and limits that react."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.bulk_abrasion import (
    BulkConditions,
    BulkPrediction,
    BulkSetting,
    bulk_limits,
    predict_bulk,
    stock_patch_area,
    strokes_needed,
)
from finishplan.process.limits import Limit, highest_utilisation

AT = BulkSetting(spindle_speed=60.0, feed=0.05, force=30.0)
SPEED = np.pi * 0.12 * 60.0
Scatter = Callable[[Any, int], Any]

WORSE: list[tuple[str, str, float]] = [
    ("rated speed of the tool", "abrasive.rated_speed", 0.8),
    ("highest spindle speed", "spindle.speed_max", 0.8),
    ("lowest spindle speed", "spindle.speed_min", 1.2),
    ("highest surface speed", "abrasive.speed_high", 0.9),
    ("lowest surface speed", "abrasive.speed_low", 1.45),
    ("spindle power", "abrasive.force_ratio", 1.5),
    ("spindle torque", "spindle.curve_powers", 0.5),
    ("usual force, highest", "abrasive.force_high", 0.7),
    ("usual force, lowest", "abrasive.force_low", 1.6),
    ("highest device force", "mount.force_max", 0.5),
    ("lowest device force", "mount.force_min", 2.0),
    ("friction of the device", "mount.smallest_usable_force", 2.0),
    ("compliance stroke each way", "mount.stroke", 0.5),
    ("path accuracy", "robot.path_accuracy", 2.0),
    ("approach speed the impact allows", "mount.moving_mass", 4.0),
    ("robot payload", "robot.payload", 0.5),
    ("robot speed", "setting.feed", 1.5),
    ("heat at the surface", "thermal.room", 0.5),
    ("heat at the surface", "stock.width", 0.5),
]


def limits_of(state: BulkConditions, at: BulkSetting, scatter: Scatter) -> dict[str, Limit]:
    corners = {"nominal": 0, "least removal": -1, "most removal": 1}
    predictions = {name: predict_bulk(scatter(state, sense), at) for name, sense in corners.items()}
    found = bulk_limits(state, at, predictions)  # type: ignore[arg-type]
    assert len({limit.name for limit in found}) == len(found)
    return {limit.name: limit for limit in found}


def test_the_strokes_take_off_the_volume_and_one_less_does_not(gate: BulkConditions) -> None:
    found = predict_bulk(gate, AT)
    per_stroke = 2e-11 * 30.0 * SPEED * 0.03 / 0.05
    assert (found.strokes - 1) * per_stroke < 1.08e-6 <= found.strokes * per_stroke
    assert found.removal_rate == pytest.approx(2e-11 * 30.0 * SPEED, rel=1e-12)
    assert found.depth_per_stroke * 0.018 * 0.03 == pytest.approx(per_stroke, rel=1e-12)


def test_time_in_contact_is_that_of_whole_strokes(gate: BulkConditions) -> None:
    found = predict_bulk(gate, AT)
    assert found.strokes == np.ceil(found.strokes)
    assert found.contact_time == pytest.approx(found.strokes * 0.03 / 0.05, rel=1e-12)
    assert found.contact_time >= 1.08e-6 / found.removal_rate


def test_a_faster_feed_takes_more_strokes_and_hardly_less_time(gate: BulkConditions) -> None:
    slow, fast = (predict_bulk(gate, replace(AT, feed=feed)) for feed in (0.05, 0.2))
    assert fast.strokes > slow.strokes
    assert fast.contact_time == pytest.approx(slow.contact_time, abs=0.03 / 0.05)
    assert fast.temperature_rise == pytest.approx(slow.temperature_rise / 2, rel=1e-12)


@pytest.mark.parametrize(("volume", "strokes"), [(0.0, 1), (0.5, 1), (1.0, 1), (1.5, 2), (7.2, 8)])
def test_whole_strokes_and_at_least_one(volume: float, strokes: int) -> None:
    assert strokes_needed(volume, 1.0, 1.0, 1.0) == strokes


def test_the_tool_touches_over_the_narrower_of_both() -> None:
    assert stock_patch_area(0.01, 0.018, 0.05) == pytest.approx(0.01 * 0.018)
    assert stock_patch_area(0.01, 0.08, 0.05) == pytest.approx(0.01 * 0.05)


def test_the_corners_lie_about_the_nominal_stock(gate: BulkConditions, scatter: Scatter) -> None:
    least, nominal, most = (predict_bulk(scatter(gate, sense), AT) for sense in (-1, 0, 1))
    assert least.removal_rate < nominal.removal_rate < most.removal_rate
    assert least.strokes > nominal.strokes > most.strokes
    assert least.power < nominal.power < most.power


@pytest.mark.parametrize(("name", "figure", "factor"), WORSE)
def test_a_limit_tightens_with_the_figure_it_is_about(
    name: str, figure: str, factor: float, gate: BulkConditions, scatter: Scatter, changed: Any
) -> None:
    before = limits_of(gate, AT, scatter)[name].utilisation
    group, field = figure.split(".")
    if group == "setting":
        after = limits_of(gate, replace(AT, **{field: factor * getattr(AT, field)}), scatter)
    else:
        after = limits_of(changed(gate, figure, factor * getattr(getattr(gate, group), field)), AT, scatter)
    assert after[name].utilisation > before


def test_no_limit_is_left_untried(gate: BulkConditions, scatter: Scatter) -> None:
    assert set(limits_of(gate, AT, scatter)) == {name for name, _, _ in WORSE}


def test_arrays_of_settings_equal_their_elements(gate: BulkConditions, scatter: Scatter) -> None:
    feeds, forces = np.array([0.02, 0.05, 0.2]), np.array([10.0, 40.0, 90.0])
    together = predict_bulk(gate, replace(AT, feed=feeds, force=forces))
    shares = highest_utilisation(list(limits_of(gate, replace(AT, feed=feeds, force=forces), scatter).values()), 0.2)
    for i in range(3):
        one = replace(AT, feed=feeds[i], force=forces[i])
        alone = predict_bulk(gate, one)
        for field in fields(BulkPrediction):
            wide = np.broadcast_to(getattr(together, field.name), 3)
            assert wide[i] == pytest.approx(getattr(alone, field.name), rel=1e-9), field.name
        assert shares[i] == pytest.approx(highest_utilisation(list(limits_of(gate, one, scatter).values()), 0.2))
