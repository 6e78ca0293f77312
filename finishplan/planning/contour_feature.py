"""Contours to be trimmed as features: each cutter that suits, in a single cut or with a finishing cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finishplan import reference
from finishplan.job import LoadedJob, Tool
from finishplan.planning.contour_cuts import Cut, FinishingCut, RoughCut, SingleCut
from finishplan.planning.contour_operation import ContourCutting, contour_cutting
from finishplan.planning.contour_setup import ALL_HEADINGS, contour_setup, open_contour_desk
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline, outline_ends, outlines_of
from finishplan.planning.search import Found, with_limits
from finishplan.planning.together import Searching, side_by_side
from finishplan.planning.travel import return_time, slowed, travel
from finishplan.process.contour_conditions import ContourSetting
from finishplan.process.contour_cutting import predict_contour
from finishplan.process.contour_limits import heat_limit
from finishplan.process.limits import Limit


@dataclass(frozen=True)
class Entry:
    """How the cutter gets into the material: down a ramp, or along an arc from the side. `length` [m]."""

    kind: str
    length: float


@dataclass(frozen=True, eq=False)
class ContourDetail:
    """What is told of a contour besides its settings and limits."""

    outline: Outline


@dataclass(frozen=True, eq=False)
class ContourFeature:
    """One contour section of a job with the chains it names."""

    loaded: LoadedJob
    index: int
    outline: Outline

    @property
    def name(self) -> str:
        return self.loaded.job.contour[self.index].name

    @property
    def notes(self) -> Sequence[str]:
        return self.outline.notes

    def options(self) -> Searching[list[Option]]:
        """A single cut with each cutter, and a rough and a finishing cut where the stock has room for both."""
        ways = [self.single_cut, self.rough_and_finish] if self._leaves_room_for_two() else [self.single_cut]
        tools = self.loaded.tools_for(self.loaded.job.contour[self.index])
        return side_by_side([way(tool) for tool in tools for way in ways])

    def _leaves_room_for_two(self) -> bool:
        stock = self.loaded.job.contour[self.index].stock
        return stock is None or stock > reference.default("finishing_allowance").value

    def single_cut(self, tool: Tool) -> Searching[Option]:
        """The whole stock to size at once."""
        cut = SingleCut()
        (found,) = yield [self._operation(tool, cut)]
        return Option((self._step(found),), cut.name)

    def rough_and_finish(self, tool: Tool) -> Searching[Option]:
        """A rough cut that leaves an allowance, and a finishing cut that takes it."""
        (rough,) = yield [self._operation(tool, RoughCut())]
        strayed = next(limit for limit in rough.evaluation.limits if limit.name == "path error")
        # a rough wall that strays further than the allowance is a fault of the rough cut alone
        error = min(float(strayed.value), float(strayed.bound))
        (finish,) = yield [self._operation(tool, FinishingCut(error))]
        return Option((self._step(rough), self._step(finish)), "rough and finishing cut")

    def _operation(self, tool: Tool, cut: Cut) -> ContourCutting:
        desk = open_contour_desk(self.loaded, self.index, tool, cut, headings(self.outline))
        return contour_cutting(contour_setup(desk))

    def _step(self, found: Found) -> Step:
        time = self._time(found)
        return Step(with_limits(found, _corner_limits(found, time.slowest)), time, *outline_ends(self.outline))

    def reworked(self, step: Step, found: Found) -> Step:
        """A cut of the contour at another point of its operation."""
        return self._step(found)

    def _time(self, found: Found) -> StepTime:
        motion, feed = motion_of(self.loaded), float(found.settings["feed"])
        operation = cutting_of(found)
        way = travel(self.outline, feed, motion, operation.turning_radius)
        entry = entry_of(operation, self.outline, found.passes)
        runs = found.passes * len(self.outline.chains)
        entries = sum(1 if chain.closed else found.passes for chain in self.outline.chains)
        return StepTime(
            contact=found.passes * way.time + runs * entry.length / feed,
            approach=entries * motion.entry_time(feed) + return_time(self.outline, found.passes, motion),
            approach_speed=feed,
            entries=entries,
            slowest=way.slowest,
        )

    def paths(self, step: Step) -> Sequence[Points]:
        """The drawn chains."""
        return [chain.points for chain in self.outline.chains] if self.outline.drawn else []

    def detail(self, chosen: Option) -> ContourDetail:
        """The outline."""
        return ContourDetail(self.outline)


def contour_features(loaded: LoadedJob) -> list[ContourFeature]:
    """Every contour of a job.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    return [ContourFeature(loaded, index, outline) for index, outline in enumerate(outlines_of(loaded, "contour"))]


def cutting_of(found: Found) -> ContourCutting:
    """The operation of a step on a contour."""
    assert isinstance(found.operation, ContourCutting)
    return found.operation


def headings(outline: Outline) -> np.ndarray:
    """Directions of the path, all of them where none is drawn [rad]."""
    if not outline.drawn:
        return ALL_HEADINGS
    steps = np.concatenate([np.diff(chain.points, axis=0) for chain in outline.chains])
    return np.unique(np.round(np.arctan2(steps[:, 1], steps[:, 0]), 3))


def entry_of(operation: ContourCutting, outline: Outline, layers: int) -> Entry:
    """Ramp into every layer of a closed slot, otherwise a quarter of an arc on the tool's radius beside it."""
    conditions = operation.conditions
    diameter = float(conditions.cutter.diameter)
    in_a_slot = float(conditions.contour.radial_depth) >= diameter
    if in_a_slot and any(chain.closed for chain in outline.chains):
        angle = float(operation.ledger.assumed("path.ramp_angle", "ramp_angle", "angle"))
        return Entry("ramp", float(conditions.contour.thickness) / layers / np.tan(angle))
    return Entry("quarter arc", np.pi / 4 * diameter)


def _corner_limits(found: Found, slowest: float) -> list[Limit]:
    """Heat at the slowest corner, where the cutter dwells; none where the feed holds all along."""
    operation, settings = cutting_of(found), found.settings
    if not slowed(slowest, float(settings["feed"])):
        return []
    corner = ContourSetting(settings["spindle_speed"], np.float64(slowest), np.float64(found.passes))
    heaviest = predict_contour(operation.setup.corners["heaviest load"], corner)
    return [heat_limit("heat at the slowest corner", operation.conditions, heaviest)]
