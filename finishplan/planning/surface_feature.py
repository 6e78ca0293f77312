"""Surfaces as features: one option for the best sequence of grits on every set of tools, and for the second best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np

from finishplan import reference
from finishplan.errors import Fault, GeometryError, JobError
from finishplan.formula import INFINITY
from finishplan.geometry import Coverage, Raster, Region, cross_hatch, lay_raster
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import LoadedJob, Surface
from finishplan.planning.abrasive_setup import AbrasiveDesk, grits_of, label_of, open_abrasive_desk
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import faults_at
from finishplan.planning.regions import surface_region
from finishplan.planning.search import RANK, Found, with_limits
from finishplan.planning.sequence import sequences, with_finish
from finishplan.planning.surface_map import MapResult, map_limit, mapped
from finishplan.planning.surface_nodes import AnyNode, Node, grit_node, refining_node
from finishplan.planning.surface_operation import SurfaceAbrasion
from finishplan.planning.surface_setup import Covering, StepTask
from finishplan.planning.together import Searching
from finishplan.planning.travel import approach_speed
from finishplan.reference import Grit

Merit: TypeAlias = tuple[int, float, float]
Chain: TypeAlias = tuple[AnyNode, ...]


@dataclass(frozen=True, eq=False)
class StepDetail:
    """What is told of one step besides settings and limits; crosswise work has two rasters."""

    operation: SurfaceAbrasion
    rasters: tuple[Raster, ...]
    map: MapResult
    roughness_band: tuple[float, float]
    coefficient_band: tuple[float, float] | None

    @property
    def paths(self) -> tuple[Points, ...]:
        """Paths of the raster, or of both crosswise."""
        return tuple(path for raster in self.rasters for path in raster.paths)


@dataclass(frozen=True, eq=False)
class SurfaceDetail:
    """What is told of a surface: its region and its steps in order."""

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
    _found: dict[tuple[str, StepTask], Found] = field(default_factory=dict)

    @property
    def surface(self) -> Surface:
        return self.loaded.job.surface[self.index]

    @property
    def name(self) -> str:
        return self.surface.name

    @property
    def _covering(self) -> Covering:
        return Covering(self.region.area, self._across, motion_of(self.loaded).acceleration)

    @property
    def _across(self) -> float:
        """Extent of the region square to the lines, the smaller one where the direction is free [m]."""
        left, bottom, right, top = self.region.shape.bounds
        if self.surface.direction is None:
            return min(right - left, top - bottom)
        turned = self.surface.direction
        return float((right - left) * abs(np.sin(turned)) + (top - bottom) * abs(np.cos(turned)))

    def options(self) -> Searching[list[Option]]:
        """The sequences of grits, best first: the best and second best that keep the margin, or the nearest."""
        wanted, chains = self.surface.target_roughness or INFINITY, self._chains()
        chains = [chain for chain in chains if self._left_by(chain) <= wanted] or chains
        best = yield from self._best_two(chains)
        return [self._option(chain, founds) for chain, founds in best]

    def _chains(self) -> list[Chain]:
        """Every way through the grits, and on to a tool that refines where a roughness is asked for."""
        entries = self.loaded.abrasives_for(self.surface)
        grits = [(entry, grit) for entry in entries for grit in grits_of(self.loaded, entry, self.surface.grits)]
        through = list(sequences([grit_node(self._desk(*each)) for each in grits], lambda node: True))
        if self.surface.target_roughness is None:
            return [*through]
        refining = [entry for entry in entries if reference.abrasive(entry.family).grain is None]
        as_found: list[tuple[Node, ...]] = [()] if self.surface.removal is None else []
        return with_finish([*as_found, *through], [refining_node(self._desk(entry, None)) for entry in refining])

    def _left_by(self, chain: Chain) -> float:
        """Roughness the tables let a sequence tend to [m]."""
        roughness = self._initial_roughness(chain)
        for node in chain:
            roughness = node.leaves(roughness)
        return roughness

    def _desk(self, entry: AbrasiveEntry, grit: Grit | None) -> AbrasiveDesk:
        return open_abrasive_desk(self.loaded, "surface", self.index, self.surface, entry, grit)

    def _best_two(self, chains: Sequence[Chain]) -> Searching[list[tuple[Chain, list[Found]]]]:
        """The best and the second-best sequence, each with what was found for its steps.

        All sequences take a step at a time. One is given up as soon as its first steps are worse than the second
        best of those that came to their end, as further steps never make it better.
        """
        best: list[tuple[Merit, Chain, list[Found]]] = []
        going: list[tuple[Chain, list[Found]]] = [(chain, []) for chain in chains]
        while going:
            yield from self._search_next(going)
            for chain, founds in going:
                founds.append(self._found[self._key(chain, founds)])
            done = [(self._merit(chain, founds), chain, founds) for chain, founds in going if len(founds) == len(chain)]
            best = sorted([*best, *done], key=lambda priced: priced[0])[:2]
            enough = best[1][0] if len(best) == 2 else None
            going = [
                (chain, founds)
                for chain, founds in going
                if len(founds) < len(chain) and (enough is None or self._merit(chain, founds) < enough)
            ]
        return [(chain, founds) for _, chain, founds in best]

    def _search_next(self, going: Sequence[tuple[Chain, Sequence[Found]]]) -> Searching[None]:
        """Search the next step of every sequence; a step that several share is searched once."""
        wanted = {self._key(chain, founds): chain[len(founds)] for chain, founds in going}
        new = {key: node for key, node in wanted.items() if key not in self._found}
        founds = yield [
            node.operation(self._desk(node.abrasive, node.grit), self._covering, task)
            for (_, task), node in new.items()
        ]
        self._found.update(zip(new, founds, strict=True))

    def _key(self, chain: Chain, founds: Sequence[Found]) -> tuple[str, StepTask]:
        """What the next step of a sequence is done with, and what it is for after the steps found so far."""
        node = chain[len(founds)]
        asked = self.surface.removal if not founds else None
        wanted = self.surface.target_roughness if node is chain[-1] else None
        roughness = self._initial_roughness(chain)
        if founds:
            roughness = float(founds[-1].evaluation.predictions["nominal"].roughness)
        # the deepest places of all steps may fall together
        taken = sum(float(found.evaluation.predictions["most removal"].deepest) for found in founds)
        task = StepTask(node.removal(roughness, asked), roughness, wanted or INFINITY, taken)
        return label_of(node.abrasive, node.grit), task

    def _merit(self, chain: Chain, founds: Sequence[Found]) -> Merit:
        """Worst verdict of the steps found, how far limits are exceeded, then about the time the surface takes."""
        rank = max(RANK[found.verdict] for found in founds)
        working = sum(self.region.area / float(found.evaluation.pace) for found in founds)
        changes = sum(
            _change_time(node.abrasive) for node, change in zip(chain, _grit_changes(chain), strict=True) if change
        )
        return rank, max(found.worst for found in founds) if rank else 0.0, working + changes

    def _initial_roughness(self, chain: Chain) -> float:
        """As the job says, or that of the first grit where it only asks for a depth."""
        return self.surface.initial_roughness or chain[0].leaves(INFINITY)

    def _option(self, chain: Chain, founds: Sequence[Found]) -> Option:
        return Option(
            tuple(
                self._step(found, _change_time(node.abrasive) if change else 0.0)
                for node, found, change in zip(chain, founds, _grit_changes(chain), strict=True)
            )
        )

    def reworked(self, step: Step, found: Found) -> Step:
        """A step on the surface at another point of its operation."""
        return self._step(found, step.time.wait)

    def _step(self, found: Found, wait: float) -> Step:
        operation = found.operation
        assert isinstance(operation, SurfaceAbrasion)
        rasters = self._laid(operation, found)
        found = as_laid(found, rasters)
        detail = self._detail(operation, found, rasters)
        judged = with_limits(found, [map_limit(operation, found, detail.map)])
        paths = detail.paths
        starts, ends = (np.array([path[place] for path in paths]) for place in (0, -1))
        time = self._time(found, rasters, wait)
        return Step(judged, time, starts, ends, placed=self.surface.drawing is not None)

    def _laid(self, operation: SurfaceAbrasion, found: Found) -> tuple[Raster, ...]:
        """The raster of a step, or both of crosswise work.

        Raises
        ------
        JobError
            The pad fits nowhere.
        """
        coverage = coverage_of(operation, float(found.settings["step"]))
        try:
            if self.surface.cross_hatch:
                return cross_hatch(self.region, coverage)
            return (lay_raster(self.region, coverage),)
        except GeometryError as error:
            raise JobError(faults_at(self.loaded, ("surface", self.index), error.faults)) from error

    def _detail(self, operation: SurfaceAbrasion, found: Found, rasters: tuple[Raster, ...]) -> StepDetail:
        if id(operation) not in self._details:
            self._details[id(operation)] = StepDetail(
                operation,
                rasters,
                mapped(operation, found, self.region, rasters),
                operation.roughness_band,
                operation.coefficient_band,
            )
        return self._details[id(operation)]

    def _time(self, found: Found, rasters: Sequence[Raster], wait: float) -> StepTime:
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
            wait=wait,
        )

    def paths(self, step: Step) -> Sequence[Points]:
        """The raster of the step."""
        return self._details[id(step.found.operation)].paths

    def detail(self, chosen: Option) -> SurfaceDetail:
        """Steps of the chosen sequence."""
        return SurfaceDetail(self.region, tuple(self._details[id(step.found.operation)] for step in chosen.steps))


def as_laid(found: Found, rasters: Sequence[Raster]) -> Found:
    """The point with the lines as they came out: the region divided evenly, at the feed that goes with it.

    Lines of several rasters share the removal, so their steps are averaged as rates are.
    """
    step = np.float64(len(rasters) / sum(1 / raster.step for raster in rasters))
    evaluation = found.operation.evaluate({**found.settings, "step": step}, found.passes)
    return replace(found, evaluation=evaluation)


def _grit_changes(chain: Chain) -> list[bool]:
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
