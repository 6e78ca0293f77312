"""Surfaces as features: one option for the best sequence of grits on every set of tools, and for the second best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from finishplan import physics, reference
from finishplan.errors import Fault, GeometryError, JobError
from finishplan.formula import INFINITY
from finishplan.geometry import Coverage, Raster, Region, cross_hatch, lay_raster
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import LoadedJob, Surface
from finishplan.planning.abrasive_feature import approach_speed
from finishplan.planning.abrasive_setup import (
    AbrasiveDesk,
    coefficient_band,
    grits_of,
    open_abrasive_desk,
    roughness_band,
)
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import faults_at
from finishplan.planning.regions import surface_region
from finishplan.planning.search import RANK, Found, search, with_limits
from finishplan.planning.sequence import sequences
from finishplan.planning.surface_map import MapResult, map_limit, mapped
from finishplan.planning.surface_operation import SurfaceAbrasion, surface_abrasion
from finishplan.planning.surface_setup import StepTask, surface_setup
from finishplan.reference import Grit


@dataclass(frozen=True)
class Node:
    """One grit on one tool of the cell."""

    abrasive: AbrasiveEntry
    grit: Grit
    step_ratio: float
    floor: float

    @property
    def grain_size(self) -> float:
        return self.grit.size.value


@dataclass(frozen=True, eq=False)
class StepDetail:
    """What is told of one step besides settings and limits; crosswise work has two rasters."""

    operation: SurfaceAbrasion
    rasters: tuple[Raster, ...]
    map: MapResult
    roughness_band: tuple[float, float]
    coefficient_band: tuple[float, float]

    @property
    def paths(self) -> tuple[Points, ...]:
        """Paths of the raster, or of both crosswise."""
        return tuple(path for raster in self.rasters for path in raster.paths)


@dataclass(frozen=True, eq=False)
class SurfaceDetail:
    """What is told of a surface: its steps in order, and the second-best sequence."""

    region: Region
    steps: tuple[StepDetail, ...]

    def of(self, step: Step) -> StepDetail:
        """Detail of one step."""
        return next(detail for detail in self.steps if detail.operation is step.found.operation)


@dataclass(frozen=True, eq=False)
class SurfaceFeature:
    """One surface section of a job with its region."""

    loaded: LoadedJob
    index: int
    region: Region
    notes: Sequence[str]
    _details: dict[int, StepDetail] = field(default_factory=dict)
    _found: dict[tuple[str, str, float], Found] = field(default_factory=dict)

    @property
    def surface(self) -> Surface:
        return self.loaded.job.surface[self.index]

    @property
    def name(self) -> str:
        return self.surface.name

    @property
    def _across(self) -> float:
        """Extent of the region square to the lines, the smaller one where the direction is free [m]."""
        left, bottom, right, top = self.region.shape.bounds
        if self.surface.direction is None:
            return min(right - left, top - bottom)
        turned = self.surface.direction
        return float((right - left) * abs(np.sin(turned)) + (top - bottom) * abs(np.cos(turned)))

    def options(self, margin: float) -> list[Option]:
        """The sequences of grits, best first: the best and second best that keep the margin, or the nearest."""
        nodes = self._nodes()
        wanted = self.surface.target_roughness or INFINITY
        chains = list(sequences(nodes, lambda node: node.floor <= wanted)) or list(sequences(nodes, lambda node: True))
        priced = sorted((self._price(chain, margin) for chain in chains), key=lambda price: self._merit(*price))
        return [self._option(chain, founds) for chain, founds in priced[:2]]

    def _nodes(self) -> list[Node]:
        nodes = []
        for entry in self.loaded.abrasives_for(self.surface):
            for grit in grits_of(self.loaded, entry, self.surface.grits):
                desk = self._desk(entry, grit)
                assert desk.family.grain is not None
                ratio = desk.family.grain.step_ratio
                floor = desk.family.roughness_factor(desk.group).value * grit.size.value
                nodes.append(Node(entry, grit, ratio.high or ratio.value, floor))
        return nodes

    def _desk(self, entry: AbrasiveEntry, grit: Grit) -> AbrasiveDesk:
        return open_abrasive_desk(self.loaded, "surface", self.index, self.surface, entry, grit)

    def _price(self, chain: tuple[Node, ...], margin: float) -> tuple[tuple[Node, ...], list[Found]]:
        """Search every step of a sequence; a step met in another sequence is not searched again."""
        founds, roughness, taken = [], self._initial_roughness(chain), 0.0
        for position, node in enumerate(chain):
            task = self._task(position, roughness, taken, last=position == len(chain) - 1)
            key = (node.abrasive.name, node.grit.name, round(task.removal * 1e9) + task.taken_before)
            if key not in self._found:
                desk = self._desk(node.abrasive, node.grit)
                operation = surface_abrasion(surface_setup(desk, self.region.area, self._across, task))
                self._found[key] = search(operation, margin)
            found = self._found[key]
            founds.append(found)
            roughness = float(found.evaluation.predictions["nominal"].roughness)
            taken += task.removal
        return chain, founds

    def _merit(self, chain: tuple[Node, ...], founds: Sequence[Found]) -> tuple[int, float, float]:
        """Worst verdict of the steps, how far limits are exceeded, then about the time the surface takes."""
        rank = max(RANK[found.verdict] for found in founds)
        working = sum(self.region.area / float(found.evaluation.pace) for found in founds)
        changes = sum(
            _change_time(node.abrasive) for node, change in zip(chain, _grit_changes(chain), strict=True) if change
        )
        return rank, max(found.worst for found in founds) if rank else 0.0, working + changes

    def _initial_roughness(self, chain: tuple[Node, ...]) -> float:
        """As the job says, or that of the first grit where it only asks for a depth."""
        return self.surface.initial_roughness or chain[0].floor

    def _task(self, position: int, roughness: float, taken: float, *, last: bool) -> StepTask:
        """Depth the step takes off: the scratches before it, and at first the depth asked for."""
        scratches = float(
            physics.scratch_removal(
                reference.default("scratch_removal_factor").value,
                reference.default("roughness_depth_ratio").value,
                roughness,
            )
        )
        asked = self.surface.removal
        if asked is None:
            removal = scratches
        elif position == 0:
            removal = asked
        else:
            removal = scratches
        wanted = self.surface.target_roughness if last else None
        return StepTask(removal, roughness, wanted or INFINITY, taken)

    def _option(self, chain: tuple[Node, ...], founds: Sequence[Found]) -> Option:
        return Option(
            tuple(
                self._step(node, found, change=change)
                for node, found, change in zip(chain, founds, _grit_changes(chain), strict=True)
            )
        )

    def _step(self, node: Node, found: Found, *, change: bool) -> Step:
        operation = found.operation
        assert isinstance(operation, SurfaceAbrasion)
        detail = self._detail(operation, found)
        judged = with_limits(found, [map_limit(operation, detail.map)])
        paths = detail.paths
        starts, ends = (np.array([path[place] for path in paths]) for place in (0, -1))
        return Step(judged, self._time(node, found, detail.rasters, change=change), starts, ends)

    def _detail(self, operation: SurfaceAbrasion, found: Found) -> StepDetail:
        if id(operation) not in self._details:
            coverage = coverage_of(operation, float(found.settings["step"]))
            laid = cross_hatch if self.surface.cross_hatch else _one_way
            rasters = laid(self.region, coverage)
            desk = operation.setup.desk
            self._details[id(operation)] = StepDetail(
                operation,
                rasters,
                mapped(operation, found, self.region, rasters),
                roughness_band(desk),
                coefficient_band(desk),
            )
        return self._details[id(operation)]

    def _time(self, node: Node, found: Found, rasters: Sequence[Raster], *, change: bool) -> StepTime:
        motion, prediction = motion_of(self.loaded), found.evaluation.predictions["nominal"]
        feed = float(prediction.feed)
        ends = sum(raster.turns + len(raster.paths) for raster in rasters)
        length = sum(raster.path_length for raster in rasters)
        once = (length / feed + ends * feed / motion.acceleration) / len(rasters)
        speed = approach_speed(found)
        entries = found.passes // len(rasters) * sum(raster.lifts + 1 for raster in rasters)
        return StepTime(
            contact=found.passes * once,
            approach=entries * motion.entry_time(speed),
            approach_speed=speed,
            entries=entries,
            slowest=feed,
            wait=_change_time(node.abrasive) if change else 0.0,
        )

    def paths(self, step: Step) -> Sequence[Points]:
        """The raster of the step."""
        return self._details[id(step.found.operation)].paths

    def detail(self, chosen: Option) -> SurfaceDetail:
        """Steps of the chosen sequence."""
        return SurfaceDetail(self.region, tuple(self._details[id(step.found.operation)] for step in chosen.steps))


def _one_way(region: Region, coverage: Coverage) -> tuple[Raster, ...]:
    return (lay_raster(region, coverage),)


def _grit_changes(chain: tuple[Node, ...]) -> list[bool]:
    """Whether a tool has to be given another grit for a step: every time, once it carries more than one per part."""
    names = [node.abrasive.name for node in chain]
    return [names.count(name) > 1 for name in names]


def _change_time(entry: AbrasiveEntry) -> float:
    """Time to put on the next grit [s]."""
    return reference.default("abrasive_change_time").value if entry.change_time is None else entry.change_time


def coverage_of(operation: SurfaceAbrasion, step: float) -> Coverage:
    """How the region is covered at a step of the raster."""
    conditions, surface = operation.setup.nominal, operation.setup.surface
    reach = float(conditions.abrasive.tool.reach)
    share = surface.overhang if surface.overhang is not None else reference.default("pad_overhang").value
    return Coverage(
        pad_radius=reach, step=min(step, 2 * reach), overhang=2 * reach * min(share, 0.5), direction=surface.direction
    )


def surface_features(loaded: LoadedJob) -> list[SurfaceFeature]:
    """Every surface of a job.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    features: list[SurfaceFeature] = []
    faults: list[Fault] = []
    for index in range(len(loaded.job.surface)):
        try:
            region, notes = surface_region(loaded, index)
            features.append(SurfaceFeature(loaded, index, region, notes))
        except GeometryError as error:
            faults.extend(faults_at(loaded, ("surface", index), error.faults))
    if faults:
        raise JobError(faults)
    return features
