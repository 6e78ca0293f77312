"""Contours to be trimmed as features: each tool that suits, in a single cut or with a finishing cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from finishplan import reference
from finishplan.geometry import Chain, lengthened, straight_runs
from finishplan.job import Abrasive, Contour, LoadedJob, Tool
from finishplan.planning.abrasive_setup import grits_of
from finishplan.planning.contour_cuts import Cut, FinishingCut, RoughCut, SingleCut
from finishplan.planning.contour_desk import Course, open_abraded_contour_desk, open_contour_desk
from finishplan.planning.contour_ends import chord_of, entry_of, exit_of, trimming_of
from finishplan.planning.contour_operation import (
    ContourCutting,
    contour_abrasion,
    contour_cutting,
)
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline, outline_ends, outlines_of
from finishplan.planning.search import Found, with_limits
from finishplan.planning.together import Searching, side_by_side
from finishplan.planning.travel import return_time, slowed, travel
from finishplan.process.contour_conditions import ContourSetting
from finishplan.process.contour_engagement import Sawn
from finishplan.process.contour_limits import heat_limit
from finishplan.process.limits import Limit
from finishplan.reference import AbrasiveFamily, CutterFamily

ALL_HEADINGS = np.linspace(0.0, np.pi, 181)
"""Directions of the path where none is drawn; opposite ones are alike [rad]."""


@dataclass(frozen=True, eq=False)
class ContourDetail:
    """What is told of a contour besides its settings and limits: the chains, and as the tool follows them."""

    outline: Outline
    followed: Outline


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

    @property
    def _contour(self) -> Contour:
        return self.loaded.job.contour[self.index]

    def options(self) -> Searching[list[Option]]:
        """A single cut with each tool, and a rough and a finishing cut with every cutter on its axis where the
        stock has room for both.
        """
        cutters = [way(tool) for tool in self.loaded.tools_for(self._contour) for way in self._ways(tool)]
        abrasives = [self.abrasive_cut(entry) for entry in self.loaded.abrasives_for(self._contour)]
        return side_by_side(cutters + abrasives)

    def _ways(self, tool: Tool) -> Sequence[Callable[[Tool], Searching[Option]]]:
        two = self._leaves_room_for_two() and not reference.cutter(tool.family).is_disc
        return [self.single_cut, self.rough_and_finish] if two else [self.single_cut]

    def _leaves_room_for_two(self) -> bool:
        stock = self._contour.stock
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

    def abrasive_cut(self, entry: Abrasive) -> Searching[Option]:
        """The whole stock to size at once, with the best grit."""
        cut, course = SingleCut(), self._course(reference.abrasive(entry.family))
        founds = yield [
            contour_abrasion(open_abraded_contour_desk(self.loaded, self.index, entry, grit, cut, course))
            for grit in grits_of(self.loaded, entry, None)
        ]
        return min((Option((self._step(found),), cut.name) for found in founds), key=lambda option: option.merit)

    def _operation(self, tool: Tool, cut: Cut) -> ContourCutting:
        course = self._course(reference.cutter(tool.family))
        return contour_cutting(open_contour_desk(self.loaded, self.index, tool, cut, course))

    def _course(self, family: CutterFamily | AbrasiveFamily) -> Course:
        runs = self._runs() if family.is_disc else self.outline.chains
        return Course(headings(self.outline), runs if self.outline.drawn else ())

    def _runs(self) -> tuple[Chain, ...]:
        """The chains as a disc follows them, which cannot turn and begins anew behind every sharp corner."""
        return tuple(run for chain in self.outline.chains for run in straight_runs(chain))

    def outline_of(self, found: Found) -> Outline:
        """The chains as a step follows them; a disc goes on until all of its chord has passed either end."""
        operation = trimming_of(found)
        engagement = operation.conditions.engagement
        if not isinstance(engagement, Sawn):
            return self.outline
        past = chord_of(engagement, operation) / 2
        return replace(self.outline, chains=tuple(lengthened(run, past) for run in self._runs()))

    def _step(self, found: Found) -> Step:
        time = self._time(found)
        ends = outline_ends(self.outline_of(found))
        return Step(with_limits(found, _corner_limits(found, time.slowest)), time, *ends)

    def reworked(self, step: Step, found: Found) -> Step:
        """A cut of the contour at another point of its operation."""
        return self._step(found)

    def _time(self, found: Found) -> StepTime:
        motion, feed = motion_of(self.loaded), float(found.settings["feed"])
        operation, outline = trimming_of(found), self.outline_of(found)
        way = travel(outline, feed, motion, operation.turning_radius)
        entry, leaving = entry_of(found, self.outline), exit_of(found, self.outline)
        runs = found.passes * len(outline.chains)
        entries = sum(1 if chain.closed else found.passes for chain in outline.chains)
        return StepTime(
            contact=found.passes * way.time + runs * (entry.time + leaving.time),
            approach=entries * motion.entry_time(feed) + return_time(outline, found.passes, motion),
            approach_speed=entry.feed,
            entries=entries,
            slowest=way.slowest,
        )

    def paths(self, step: Step) -> Sequence[Points]:
        """The drawn chains, as the step follows them."""
        outline = self.outline_of(step.found)
        return [chain.points for chain in outline.chains] if outline.drawn else []

    def detail(self, chosen: Option) -> ContourDetail:
        """The outline, and how the steps follow it."""
        return ContourDetail(self.outline, self.outline_of(chosen.steps[0].found))


def contour_features(loaded: LoadedJob) -> list[ContourFeature]:
    """Every contour of a job.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    return [ContourFeature(loaded, index, outline) for index, outline in enumerate(outlines_of(loaded, "contour"))]


def headings(outline: Outline) -> np.ndarray:
    """Directions of the path, all of them where none is drawn [rad]."""
    if not outline.drawn:
        return ALL_HEADINGS
    steps = np.concatenate([np.diff(chain.points, axis=0) for chain in outline.chains])
    return np.unique(np.round(np.arctan2(steps[:, 1], steps[:, 0]), 3))


def _corner_limits(found: Found, slowest: float) -> list[Limit]:
    """Heat at the slowest corner, where the tool dwells; none where the feed holds all along."""
    operation, settings = trimming_of(found), found.settings
    if not slowed(slowest, float(settings["feed"])):
        return []
    corner = ContourSetting(settings["spindle_speed"], np.float64(slowest), np.float64(found.passes))
    return [heat_limit("heat at the slowest corner", operation.conditions, operation.loaded_at(corner))]
