"""Refining a surface as an operation to search: spindle speed, force, step of the raster, and the feed as well."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_setup import refinement_of
from finishplan.planning.edge_operation import SLOWEST_FEED
from finishplan.planning.operation import Axis, Range, mesh
from finishplan.planning.surface_operation import SurfaceAbrasion, surface_axes
from finishplan.planning.surface_setup import SurfaceSetup, refining_setup
from finishplan.process.surface_conditions import SurfaceSetting
from finishplan.process.surface_refining import Refiner, RefiningSetting

_COUNTS = (5, 8, 8, 8)
"""Places along the axes of a grid: with one axis more than for a grit, fewer on each."""


@dataclass(frozen=True, eq=False)
class SurfaceRefining(SurfaceAbrasion):
    """A surface under a buff or wire brush, ready to be searched."""

    @property
    def refiner(self) -> Refiner:
        product = self.conditions.abrasive
        assert isinstance(product, Refiner)
        return product

    @property
    def roughness_band(self) -> tuple[float, float]:
        """Roughness before times the band of the refinement [m]."""
        entry, before = refinement_of(self.setup.desk), self.setup.task.initial_roughness
        return (entry.low or entry.value) * before, (entry.high or entry.value) * before

    @property
    def coefficient_band(self) -> None:
        """Nothing is removed."""
        return None

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """Every setting; those that are not faster are left out by their pace."""
        return mesh(self.axes, [axis.range for axis in self.axes], [2 * count for count in _COUNTS])

    def again(self, loaded: LoadedJob | None = None) -> SurfaceRefining:
        """The same operation built anew, for a recording or under another cell."""
        setup = self.setup
        return surface_refining(refining_setup(setup.desk.anew(loaded), setup.covering, setup.task))

    def _setting(self, settings: Mapping[str, Array], passes: int) -> SurfaceSetting:
        return RefiningSetting(
            settings["spindle_speed"], settings["force"], settings["step"], passes, self._lanes(passes),
            feed=settings["feed"],
        )  # fmt: skip


def surface_refining(setup: SurfaceSetup) -> SurfaceRefining:
    """The operation with its search ranges; the usual feed is the highest."""
    product = setup.nominal.abrasive
    assert isinstance(product, Refiner)
    usual = min(float(product.feed_high), float(setup.nominal.robot.top_speed))
    *counts, last = _COUNTS
    shared = (replace(axis, count=count) for axis, count in zip(surface_axes(setup), counts, strict=True))
    return SurfaceRefining(setup, (*shared, Axis("feed", Range(SLOWEST_FEED, usual), last)))
