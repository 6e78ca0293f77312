"""One abrasive step on a surface as an operation to search: spindle speed, force and step of the raster."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_setup import abrasive_speed_range, coefficient_band, roughness_band
from finishplan.planning.ledger import Ledger
from finishplan.planning.operation import ALL_PASSES, Axis, Evaluation, Range, mesh
from finishplan.planning.surface_setup import Covering, SurfaceSetup, surface_setup
from finishplan.process.surface_abrasion import SurfaceCorner, predict_surface
from finishplan.process.surface_conditions import SurfaceConditions, SurfaceSetting
from finishplan.process.surface_limits import surface_limits
from finishplan.units import MINUTE

FINEST_STEP = 0.05
"""Smallest step of a raster worth planning, as a share of the tool's width."""


@dataclass(frozen=True, eq=False)
class SurfaceAbrasion:
    """A surface under an abrasive of one grit, ready to be searched."""

    setup: SurfaceSetup
    axes: Sequence[Axis]

    @property
    def pass_counts(self) -> Sequence[int]:
        """Crosswise work takes passes in pairs."""
        return ALL_PASSES[1::2] if self.setup.surface.cross_hatch else ALL_PASSES

    @property
    def conditions(self) -> SurfaceConditions:
        return self.setup.nominal

    @property
    def feature(self) -> str:
        return self.setup.surface.name

    @property
    def tool(self) -> str:
        return self.setup.desk.label

    @property
    def station(self) -> str:
        return self.setup.desk.abrasive.name

    @property
    def ledger(self) -> Ledger:
        return self.setup.ledger

    @property
    def figures(self) -> tuple[Covering, Mapping[SurfaceCorner, SurfaceConditions]]:
        """What the raster covers, and the conditions at every corner of the scatter."""
        return self.setup.covering, self.setup.corners

    def with_figures(self, figures: tuple[Covering, Mapping[SurfaceCorner, SurfaceConditions]]) -> Self:
        """The same step under other conditions."""
        covering, corners = figures
        return replace(self, setup=replace(self.setup, covering=covering, corners=corners))

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model at every corner of the scatter."""
        setting = self._setting(settings, passes)
        predictions = {name: predict_surface(corner, setting) for name, corner in self.setup.corners.items()}
        limits = surface_limits(self.setup.nominal, setting, predictions)
        return Evaluation(settings, passes, predictions, limits, self._pace(setting, predictions["nominal"].feed))

    def _setting(self, settings: Mapping[str, Array], passes: int) -> SurfaceSetting:
        return surface_setting(settings, passes, self._lanes(passes))

    def _pace(self, setting: SurfaceSetting, feed: Array) -> Array:
        """Area finished per time, the turns at the ends of the lines counted [m2/s]."""
        covering = self.setup.covering
        on_lines = covering.area / (setting.step * feed)
        turning = covering.across / setting.step * feed / covering.acceleration
        return covering.area / (setting.passes * (on_lines + turning))

    def _lanes(self, passes: int) -> int:
        """Passes laid between one another; crosswise work has half of them in each direction."""
        return passes // 2 if self.setup.surface.cross_hatch else passes

    def fastest_pace(self, passes: int) -> float:
        """No bound of its own: the pace does not depend on how the depth is split into passes."""
        return np.inf

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """Every setting; those that are not faster are left out by their pace."""
        return mesh(self.axes, [axis.range for axis in self.axes], (8, 16, 10))

    @property
    def roughness_band(self) -> tuple[float, float]:
        """Roughness the step leaves over the band of the tables [m]."""
        return roughness_band(self.setup.desk)

    @property
    def coefficient_band(self) -> tuple[float, float] | None:
        """Removal over the band of the tables, over the nominal one; none where nothing is removed."""
        return coefficient_band(self.setup.desk)

    def again(self, loaded: LoadedJob | None = None) -> SurfaceAbrasion:
        """The same operation built anew, for a recording or under another cell."""
        return surface_abrasion(surface_setup(self.setup.desk.anew(loaded), self.setup.covering, self.setup.task))


def surface_setting(settings: Mapping[str, Array], passes: int, lanes: int) -> SurfaceSetting:
    """The settings as the forward model takes them."""
    return SurfaceSetting(settings["spindle_speed"], settings["force"], settings["step"], passes, lanes)


def surface_abrasion(setup: SurfaceSetup) -> SurfaceAbrasion:
    """The operation with its search ranges: nothing outside them can be feasible."""
    return SurfaceAbrasion(setup, surface_axes(setup))


def surface_axes(setup: SurfaceSetup) -> tuple[Axis, ...]:
    """Axes that every step on a surface has."""
    conditions = setup.nominal
    width = 2 * float(conditions.abrasive.tool.reach)
    return (
        Axis("spindle_speed", abrasive_speed_range(conditions.abrasive, conditions.spindle), 7, 1 / MINUTE),
        Axis("force", Range(float(conditions.mount.force_min), float(conditions.mount.force_max)), 12),
        Axis("step", Range(FINEST_STEP * width, width), 10),
    )
