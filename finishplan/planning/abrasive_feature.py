"""Edges under abrasives and stock to be taken off, as options of one step with the best grit of each tool."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from finishplan.errors import Fault, JobError
from finishplan.job import Abrasive, LoadedJob, Removal
from finishplan.planning.abrasive_setup import coefficient_band, grits_of
from finishplan.planning.bulk_operation import BulkAbrasion, bulk_abrasion
from finishplan.planning.corners import CornerEffect
from finishplan.planning.desk import drive_of
from finishplan.planning.edge_abrasion_operation import AbradedEdge, edge_abrasion
from finishplan.planning.edge_step import edge_step
from finishplan.planning.feature import Option, Points, Step, StepTime
from finishplan.planning.motion import motion_of
from finishplan.planning.outline import Outline
from finishplan.planning.search import Found
from finishplan.planning.set_depth_operation import set_depth_abrasion
from finishplan.planning.together import Searching
from finishplan.planning.travel import approach_speed


@dataclass(frozen=True, eq=False)
class EdgeAbrasionDetail:
    """What is told of an edge under an abrasive; the band is that of the removal coefficient."""

    operation: AbradedEdge
    outline: Outline
    corner: CornerEffect | None
    coefficient_band: tuple[float, float]


@dataclass(frozen=True, eq=False)
class BulkDetail:
    """What is told of stock taken off; the band is that of the removal coefficient."""

    operation: BulkAbrasion
    coefficient_band: tuple[float, float]


def edge_abrasion_options(loaded: LoadedJob, index: int, outline: Outline) -> Searching[list[Option]]:
    """One option for every abrasive that suits an edge, with its best grit."""
    motion = motion_of(loaded)
    operations = [
        (set_depth_abrasion if drive_of(loaded, entry)[1] is None else edge_abrasion)(loaded, index, entry, grit)
        for entry in loaded.abrasives_for(loaded.job.edge[index])
        for grit in grits_of(loaded, entry, None)
    ]
    founds = yield operations
    return _best_grits(
        Option((edge_step(outline, operation, found, motion),))
        for operation, found in zip(operations, founds, strict=True)
    )


def _best_grits(options: Iterable[Option]) -> list[Option]:
    """Of the options of every tool the best."""
    by_tool: dict[tuple[str, ...], list[Option]] = {}
    for option in options:
        by_tool.setdefault(option.stations, []).append(option)
    return [min(alike, key=lambda option: option.merit) for alike in by_tool.values()]


def _pressed(loaded: LoadedJob, feature: Removal) -> list[Abrasive]:
    """Abrasives that suit a feature and hang on a device, which sets the force the models start from."""
    return [entry for entry in loaded.abrasives_for(feature) if drive_of(loaded, entry)[1] is not None]


@dataclass(frozen=True, eq=False)
class BulkFeature:
    """One removal section of a job."""

    loaded: LoadedJob
    index: int
    notes: Sequence[str] = ()

    @property
    def removal(self) -> Removal:
        return self.loaded.job.removal[self.index]

    @property
    def name(self) -> str:
        return self.removal.name

    def options(self) -> Searching[list[Option]]:
        """One option for every abrasive that suits, with its best grit.

        Raises
        ------
        JobError
            Every abrasive that suits is carried rigidly.
        """
        operations = [
            bulk_abrasion(self.loaded, self.index, entry, grit)
            for entry in _pressed(self.loaded, self.removal)
            for grit in grits_of(self.loaded, entry, None)
        ]
        if not operations:
            raise JobError([self._nothing_pressed()])
        founds = yield operations
        return _best_grits(self._option(found) for found in founds)

    def _nothing_pressed(self) -> Fault:
        place = self.loaded.where("removal", self.index, "tools")
        wanted = "an abrasive on a spindle with a compliance device, which sets its force"
        return Fault(place.file, f'removal "{self.name}"', wanted, "none among its tools", line=place.line)

    def _option(self, found: Found) -> Option:
        motion, speed = motion_of(self.loaded), approach_speed(found)
        contact = float(found.evaluation.predictions["nominal"].contact_time)
        time = StepTime(
            contact=self.removal.count * contact,
            approach=self.removal.count * motion.entry_time(speed),
            approach_speed=speed,
            entries=self.removal.count,
            slowest=float(found.settings["feed"]),
        )
        nowhere = np.empty((0, 2))
        return Option((Step(found, time, nowhere, nowhere),))

    def reworked(self, step: Step, found: Found) -> Step:
        """The stock taken off at another point of its operation."""
        return self._option(found).steps[0]

    def paths(self, step: Step) -> Sequence[Points]:
        """Nothing is drawn of stock."""
        return []

    def detail(self, chosen: Option) -> BulkDetail:
        """The chosen operation and the band of its coefficient."""
        operation = chosen.steps[0].found.operation
        assert isinstance(operation, BulkAbrasion)
        return BulkDetail(operation, coefficient_band(operation.desk))
