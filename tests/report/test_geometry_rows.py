"""What was read from drawings, and waypoints that lie on what is drawn."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
import shapely
from rich.console import Console

from finishplan.errors import JobError
from finishplan.planning.plan import Plan
from finishplan.report.geometry_rows import HEADINGS, print_geometry, waypoint_csv


def table(text: str) -> tuple[list[str], np.ndarray]:
    head, *lines = csv.reader(io.StringIO(text))
    return head, np.array([[cell or "nan" for cell in line] for line in lines], dtype=float)


@pytest.fixture
def drawn(example: str, example_plan: Callable[[str], Plan]) -> Plan:
    """Every example with something to follow."""
    plan = example_plan(example)
    if not any(feature.feature.paths(step) for feature in plan.features for step in feature.chosen.steps):
        pytest.skip("nothing is drawn in this example")
    return plan


def followed(plan: Plan) -> list[Any]:
    features = plan.features
    return [feature for feature in features if any(feature.feature.paths(step) for step in feature.chosen.steps)]


class TestWaypoints:
    def test_they_lie_on_the_paths(self, drawn: Plan) -> None:
        for feature in followed(drawn):
            head, rows = table(waypoint_csv(drawn, feature.name, 5e-3, "metric"))
            assert head[:5] == ["step", "run", "x_mm", "y_mm", "z_mm"]
            for number, step in enumerate(feature.chosen.steps, start=1):
                for run, path in enumerate(feature.feature.paths(step), start=1):
                    own = rows[(rows[:, 0] == number) & (rows[:, 1] == run)]
                    points = shapely.points(own[:, 2] / 1e3, own[:, 3] / 1e3)
                    line = shapely.LineString(path)
                    assert np.max(shapely.distance(points, line)) < 1e-6
                    assert own[0, 2:4] / 1e3 == pytest.approx(path[0], abs=1e-6)
                    assert own[-1, 2:4] / 1e3 == pytest.approx(path[-1], abs=1e-6)

    def test_those_of_a_surface_stay_inside_its_outline(self, drawn: Plan) -> None:
        for feature in followed(drawn):
            region = getattr(feature.feature, "region", None)
            if region is None:
                continue
            _, rows = table(waypoint_csv(drawn, feature.name, 5e-3, "metric"))
            inside = region.shape.buffer(1e-6)
            shapely.prepare(inside)
            assert np.all(shapely.covers(inside, shapely.points(rows[:, 2] / 1e3, rows[:, 3] / 1e3)))

    def test_none_is_further_from_the_next_than_asked_for(self, drawn: Plan) -> None:
        feature = followed(drawn)[0]
        _, rows = table(waypoint_csv(drawn, feature.name, 3e-3, "metric"))
        for run in np.unique(rows[:, 1]):
            own = rows[(rows[:, 0] == 1) & (rows[:, 1] == run), 2:4]
            assert np.max(np.hypot(*np.diff(own, axis=0).T)) <= 3.0 + 1e-3

    def test_directions_are_unit_vectors_square_to_each_other(self, drawn: Plan) -> None:
        _, rows = table(waypoint_csv(drawn, followed(drawn)[0].name, 5e-3, "metric"))
        travel, tool = rows[:, 5:8], rows[:, 8:11]
        assert np.linalg.norm(travel, axis=1) == pytest.approx(1.0, abs=1e-5)
        assert np.sum(travel * tool, axis=1) == pytest.approx(0.0, abs=1e-6)

    def test_inches_are_the_same_places(self, drawn: Plan) -> None:
        name = followed(drawn)[0].name
        (_, metric), (head, inch) = (
            table(waypoint_csv(drawn, name, 5e-3, system))  # type: ignore[arg-type]
            for system in ("metric", "inch")
        )
        assert head[2] == "x_in"
        assert inch[:, 2:5] * 25.4 == pytest.approx(metric[:, 2:5], abs=2e-3)


def test_a_corner_shows_in_feed_and_section_and_a_raster_has_neither(example_plan: Callable[[str], Plan]) -> None:
    cast, cover = example_plan("cast_cover.toml"), example_plan("stainless_cover.toml")
    pocket = next(feature for feature in cast.features if feature.name == "pocket")
    head, rows = table(waypoint_csv(cast, "pocket", 1e-3, "metric"))
    assert head[-2:] == ["feed_mm_s", "section_ratio"]
    worst = pocket.detail.corner.worst
    at = np.argmin(np.hypot(rows[:, 2] / 1e3 - worst.x, rows[:, 3] / 1e3 - worst.y))
    assert rows[at, -2] == pytest.approx(1e3 * worst.speed, rel=1e-3)
    assert rows[at, -1] == pytest.approx(worst.over_work, rel=1e-3)
    assert rows[:, -1].min() == pytest.approx(1.0)
    raster = next(feature for feature in followed(cover) if hasattr(feature.feature, "region"))
    assert waypoint_csv(cover, raster.name, 5e-3, "metric").splitlines()[1].endswith(",,")


def test_an_unknown_feature_is_answered_with_the_closest(cast_cover: Plan) -> None:
    with pytest.raises(JobError, match=r"wanted one of flange rim, .* write 'ports'"):
        waypoint_csv(cast_cover, "prots", 5e-3, "metric")


def test_a_length_alone_has_no_waypoints(example_plan: Callable[[str], Plan]) -> None:
    plan = example_plan("gated_housing.toml")
    with pytest.raises(JobError, match="a feature read from a drawing"):
        waypoint_csv(plan, "flange edge", 5e-3, "metric")


def test_every_feature_with_geometry_has_its_line(example: str, example_plan: Callable[[str], Plan]) -> None:
    loaded = example_plan(example).loaded
    out = io.StringIO()
    print_geometry(loaded, "metric", Console(file=out, width=140))
    text = out.getvalue()
    for heading in HEADINGS:
        assert heading in text
    for feature in (*loaded.job.edge, *loaded.job.surface):
        assert feature.name in text
