"""Maps of chosen steps: they take off what was planned, and the verdict on a layer follows their deepest place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.geometry import Coverage, Raster, Region, lay_raster, rectangle
from finishplan.job import LoadedJob
from finishplan.planning import surface_map
from finishplan.planning.abrasive_setup import open_abrasive_desk
from finishplan.planning.search import Found
from finishplan.planning.surface_feature import as_laid
from finishplan.planning.surface_map import MapResult, map_limit, mapped
from finishplan.planning.surface_operation import SurfaceAbrasion, surface_abrasion
from finishplan.planning.surface_setup import Covering, StepTask, surface_setup
from finishplan.process.removal_map import RemovalMap
from finishplan.reference import grit

Sanding = Callable[..., LoadedJob]
REGION = rectangle(0.6, 0.4)
TASK = StepTask(removal=8e-6, initial_roughness=3e-6, wanted_roughness=2e-6, taken_before=2e-6)


def operation_of(loaded: LoadedJob, tool: int = 0, task: StepTask = TASK) -> SurfaceAbrasion:
    surface, entry = loaded.job.surface[0], loaded.cell.abrasive[tool]
    desk = open_abrasive_desk(loaded, "surface", 0, surface, entry, grit("P120"))
    return surface_abrasion(surface_setup(desk, Covering(REGION.area, 0.4, 3.0), task))


def set_at(operation: SurfaceAbrasion, passes: int = 1, **settings: float) -> Found:
    evaluation = operation.evaluate({name: np.float64(value) for name, value in settings.items()}, passes)
    return Found(operation, evaluation, "keeps the margin", 0.2, "")


def lines(operation: SurfaceAbrasion, step: float, overhang: float = 0.0, direction: float = 0.0) -> Raster:
    reach = float(operation.conditions.abrasive.tool.reach)
    return lay_raster(REGION, Coverage(reach, step, overhang, direction))


@pytest.fixture
def maps(monkeypatch: pytest.MonkeyPatch) -> list[RemovalMap]:
    """The maps behind a result, in the order they are made."""
    made: list[RemovalMap] = []

    def kept(*arguments: Any) -> RemovalMap:
        made.append(real(*arguments))
        return made[-1]

    real = surface_map.removal_map
    monkeypatch.setattr(surface_map, "removal_map", kept)
    return made


def inside(made: list[RemovalMap], operation: SurfaceAbrasion, pitch: float, count: int) -> float:
    """Mean of the maps over whole pitches about the middle, off the borders by more than the reach of the tool."""
    bottom = 0.2 - count * pitch / 2
    assert bottom > 2 * float(operation.conditions.abrasive.tool.reach)
    low, high = np.searchsorted(made[0].y, [bottom, bottom + count * pitch])
    columns = np.abs(made[0].x - 0.3) < 0.05
    return float(np.mean(sum(each.depth for each in made)[low:high, columns]))


@pytest.mark.parametrize(
    ("tool", "settings", "passes"),
    [
        pytest.param(0, {"spindle_speed": 180.0, "force": 30.0, "step": 0.04}, 1, id="orbital"),
        pytest.param(0, {"spindle_speed": 180.0, "force": 30.0, "step": 0.017}, 3, id="orbital, three passes"),
        pytest.param(1, {"spindle_speed": 60.0, "force": 60.0, "step": 0.019}, 2, id="belt"),
    ],
)
def test_the_inside_of_a_surface_loses_what_is_planned(
    sanding: Sanding, maps: list[RemovalMap], tool: int, settings: dict[str, float], passes: int
) -> None:
    """The region is divided evenly, in finer steps than the one asked for; the feed makes up for it."""
    operation = operation_of(sanding(), tool)
    raster = lines(operation, settings["step"])
    assert raster.step <= settings["step"]
    found = as_laid(set_at(operation, passes, **settings), [raster])
    assert float(found.settings["step"]) == pytest.approx(raster.step)
    mapped(operation, found, REGION, [raster])
    count = 1 if raster.step > 0.03 else 2
    assert inside(maps, operation, raster.step, count) == pytest.approx(8e-6, rel=0.02)


def test_crosswise_work_takes_half_each_way_and_a_belt_turns_with_the_lines(
    sanding: Sanding, maps: list[RemovalMap]
) -> None:
    operation = operation_of(sanding(job=[('overhang = "25 %"', 'overhang = "25 %"\ncross_hatch = true')]), tool=1)
    rasters = [lines(operation, 0.019, direction=direction) for direction in (0.0, np.pi / 2)]
    found = as_laid(set_at(operation, 2, spindle_speed=60.0, force=60.0, step=0.019), rasters)
    result = mapped(operation, found, REGION, rasters)
    assert len(maps) == 2
    assert inside(maps, operation, rasters[0].step, 4) == pytest.approx(8e-6, rel=0.02)
    for each in maps:
        assert inside([each], operation, rasters[0].step, 4) == pytest.approx(4e-6, rel=0.05)
    assert result.statistics.mean == pytest.approx(sum(each.statistics.mean for each in maps), rel=1e-9)


def test_a_raster_without_overhang_never_puts_the_pad_over_a_border(sanding: Sanding) -> None:
    operation = operation_of(sanding())
    found = set_at(operation, spindle_speed=180.0, force=30.0, step=0.04)
    on, over = (mapped(operation, found, REGION, [lines(operation, 0.04, overhang)]) for overhang in (0.0, 0.03))
    assert on.largest_overhang == pytest.approx(0.0, abs=0.01)
    assert on.edge_pressure_ratio == pytest.approx(1.0, abs=0.02)
    assert over.largest_overhang > 0.05
    assert over.edge_pressure_ratio > 1.1
    # what hangs over the border works it longer, so the shallowest places get more
    assert over.statistics.low > on.statistics.low


def test_a_map_is_ordered_and_made_again_is_the_same(sanding: Sanding) -> None:
    operation = operation_of(sanding())
    found, raster = set_at(operation, spindle_speed=180.0, force=30.0, step=0.04), lines(operation, 0.04)
    first, second = (mapped(operation, found, REGION, [raster]) for _ in range(2))
    depth = first.statistics
    assert depth.minimum <= depth.low <= depth.mean <= depth.high <= depth.maximum
    assert first == second


def test_finer_cells_hardly_change_the_statistics(sanding: Sanding, monkeypatch: pytest.MonkeyPatch) -> None:
    operation, raster = operation_of(sanding()), lines(operation_of(sanding()), 0.04)
    found = set_at(operation, spindle_speed=180.0, force=30.0, step=0.04)
    usual = mapped(operation, found, REGION, [raster]).statistics
    monkeypatch.setattr(surface_map, "CELLS_PER_REACH", 60)
    fine = mapped(operation, found, REGION, [raster]).statistics
    assert usual.mean == pytest.approx(fine.mean, rel=0.01)
    assert usual.maximum == pytest.approx(fine.maximum, rel=0.02)


class TestMapLimit:
    def result(self, operation: SurfaceAbrasion) -> tuple[Found, MapResult]:
        found = set_at(operation, spindle_speed=180.0, force=30.0, step=0.04)
        return found, mapped(operation, found, REGION, [lines(operation, 0.04)])

    def test_the_deepest_place_carries_the_scatter_of_removal_and_force(self, sanding: Sanding) -> None:
        operation = operation_of(sanding())
        found, result = self.result(operation)
        most = found.evaluation.predictions["most removal"]
        nominal = found.evaluation.predictions["nominal"]
        wanted = result.statistics.maximum * most.mean_depth / nominal.mean_depth + 2e-6
        assert map_limit(operation, found, result).value == pytest.approx(wanted, rel=1e-12)

    @pytest.mark.parametrize(("spare", "broken"), [(1.02, False), (0.98, True)])
    def test_the_verdict_flips_where_the_layer_gets_thin(self, sanding: Sanding, spare: float, broken: bool) -> None:
        operation = operation_of(sanding())
        found, result = self.result(operation)
        deepest = float(map_limit(operation, found, result).value)
        layer = f'layer_thickness = "{1e6 * (spare * deepest + 10e-6)} um"\nlayer_keep = "10 um"\noverhang = "25 %"'
        thin = operation_of(sanding(job=[('overhang = "25 %"', layer)]))
        limit = map_limit(thin, found, result)
        assert limit.bound == pytest.approx(spare * deepest, rel=1e-9)
        assert bool(limit.utilisation > 1) is broken

    def test_what_the_steps_before_took_counts(self, sanding: Sanding) -> None:
        loaded = sanding()
        operation, later = operation_of(loaded), operation_of(loaded, task=replace(TASK, taken_before=12e-6))
        found, result = self.result(operation)
        added = map_limit(later, found, result).value - map_limit(operation, found, result).value
        assert added == pytest.approx(10e-6, rel=1e-9)


def test_a_region_is_divided_evenly() -> None:
    """The even division the feed is corrected for."""
    region: Region = rectangle(0.6, 0.4)
    raster = lay_raster(region, Coverage(0.075, 0.048, 0.0, 0.0))
    assert 0.25 / raster.step == pytest.approx(round(0.25 / raster.step), rel=1e-9)
