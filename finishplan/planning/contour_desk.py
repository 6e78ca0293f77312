"""The desk of a contour under a cutter, and that of one under an abrasive."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from finishplan import reference
from finishplan.geometry import Chain
from finishplan.job import Abrasive, Contour, LoadedJob, Tool
from finishplan.planning.abrasive_setup import AbrasiveDesk, open_abrasive_desk
from finishplan.planning.contour_cuts import Cut
from finishplan.planning.desk import drive_of
from finishplan.planning.edge_desk import CutterDesk
from finishplan.planning.ledger import Ledger
from finishplan.reference import Grit


@dataclass(frozen=True, eq=False)
class Course:
    """What a cut follows: the directions of its path [rad], and the runs it is drawn in; none where it is not."""

    headings: np.ndarray
    runs: tuple[Chain, ...]


@dataclass(frozen=True, eq=False)
class ContourDesk(CutterDesk):
    """One cut of one contour under one cutter."""

    contour: Contour
    cut: Cut
    course: Course

    @property
    def entry(self) -> Tool:
        """The tool as mounted."""
        return self.tool


@dataclass(frozen=True, eq=False)
class AbradedContourDesk(AbrasiveDesk):
    """One cut of one contour under one abrasive."""

    contour: Contour
    cut: Cut
    course: Course

    @property
    def entry(self) -> Abrasive:
        """The tool as mounted."""
        return self.abrasive


TrimmingDesk: TypeAlias = ContourDesk | AbradedContourDesk


def open_contour_desk(loaded: LoadedJob, index: int, tool: Tool, cut: Cut, course: Course) -> ContourDesk:
    """Look up everything a cut of contour number `index` needs under a cutter of the cell."""
    contour = loaded.job.contour[index]
    spindle, device = drive_of(loaded, tool)
    return ContourDesk(
        loaded, "contour", index, contour, spindle, device, reference.workpiece(loaded.job.part.material), Ledger(),
        tool, reference.cutter(tool.family), contour, cut, course,
    )  # fmt: skip


def open_abraded_contour_desk(
    loaded: LoadedJob, index: int, entry: Abrasive, grit: Grit, cut: Cut, course: Course
) -> AbradedContourDesk:
    """Look up everything a cut of contour number `index` needs under an abrasive of the cell."""
    contour = loaded.job.contour[index]
    desk = open_abrasive_desk(loaded, "contour", index, contour, entry, grit)
    return AbradedContourDesk(**vars(desk), contour=contour, cut=cut, course=course)
