"""Load a job file and the cell it names, or report every fault of both at once."""

from __future__ import annotations

import math
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final, NamedTuple, TypeVar

from pydantic import ValidationError

from finishplan import reference
from finishplan.errors import Fault, JobError
from finishplan.job.crosschecks import cross_faults
from finishplan.job.faults import faults_of
from finishplan.job.fields import Section
from finishplan.job.model import Abrasive, Cell, CellFile, Contour, Edge, Job, Removal, Surface, Tool
from finishplan.job.source import Portion, Source, read_source
from finishplan.job.suitability import (
    Candidate,
    Work,
    abrasive_candidate,
    cutter_candidate,
    designations,
    work_on,
)
from finishplan.units import quoted

Model = TypeVar("Model", bound=Section)
Feature = Edge | Surface | Contour | Removal

_KINDS: Final[Mapping[type[Feature], str]] = {
    Edge: "edge",
    Surface: "surface",
    Contour: "contour",
    Removal: "removal",
}


class Place(NamedTuple):
    """Where something is written: the file as the user named it, and the line counted from 1."""

    file: str
    line: int


@dataclass(frozen=True)
class LoadedJob:
    """A job without faults, its cell wherever that is written, and the way back to both files.

    Attributes
    ----------
    job : Job
        The job file; its own `cell` may be a mere reference.
    cell : Cell
        The cell itself.
    folder : Path
        Folder of the job file, from which drawings are named.
    """

    job: Job
    cell: Cell
    folder: Path
    job_portion: Portion
    cell_portion: Portion

    def where(self, *location: str | int) -> Place:
        """Place of a location such as ``("edge", 0, "burr", "height")``, list indices from 0.

        A key that is left out is placed at the table it belongs to; ``("cell", ...)`` leads into
        the cell file where there is one.
        """
        portion, inner = self.job_portion, location
        if location[:1] == ("cell",) and location[1:2] not in {(), ("file",)}:
            portion, inner = self.cell_portion, location[1:]
        return Place(portion.source.shown, portion.source.position(portion.prefix + inner).line)

    def tools_for(self, feature: Edge | Contour) -> list[Tool]:
        """Cutters a feature allows, less those that do not suit it.

        One suits by a window of its family for the part's material; for a contour also by its
        geometry, and by a spindle that the robot carries rigidly.
        """
        work = self._work(feature)
        allowed = [tool for tool in self.cell.tool if feature.tools is None or tool.name in feature.tools]
        return [tool for tool in allowed if work.suits(self._cutter(tool, work))]

    def _cutter(self, tool: Tool, work: Work) -> Candidate:
        family, rigid = reference.cutter(tool.family), self._rigid(tool)
        return cutter_candidate(tool.name, family, tool.diameter, work.kinds, rigid=rigid)

    def _rigid(self, tool: Tool | Abrasive) -> bool:
        """Whether the robot carries the spindle of a tool without a compliance device."""
        return all(spindle.compliance is None for spindle in self.cell.spindle if spindle.name == tool.spindle)

    def abrasives_for(self, feature: Feature) -> list[Abrasive]:
        """Abrasives a feature allows, less those that do not suit it.

        One suits by the kind of tool it is, a window of its family for the material (of a coated
        surface, that of the coating), a mount and a grain the work asks for, a grit among those allowed,
        and a flat pad no larger than the surface.
        """
        work = self._work(feature)
        allowed = [one for one in self.cell.abrasive if feature.tools is None or one.name in feature.tools]
        return [one for one in allowed if work.suits(self._abrasive(one))]

    def _abrasive(self, one: Abrasive) -> Candidate:
        family, grits, tilted = reference.abrasive(one.family), one.grits or (), one.tilt is not None
        return abrasive_candidate(one.name, family, grits, one.diameter, tilted=tilted, rigid=self._rigid(one))

    def _work(self, feature: Feature) -> Work:
        kind, group = _KINDS[type(feature)], reference.workpiece(self.job.part.material).group
        if not isinstance(feature, Surface):
            return work_on(kind, group)
        if feature.coating is not None:
            group = reference.coating(feature.coating).group
        room = min(feature.length or math.inf, feature.width or math.inf)
        return work_on(kind, group, designations(feature.grits or ()), room)


def load_job(path: str | os.PathLike[str]) -> LoadedJob:
    """Read and check a job file, and the cell file if it names one.

    Parameters
    ----------
    path : str or path
        The job file; messages show its name as given here.

    Returns
    -------
    LoadedJob
        The job and its cell, free of faults.

    Raises
    ------
    JobError
        Every fault found in both files, in the order of their lines, the job file first.
    ReferenceDataError
        The reference tables themselves cannot be read.
    """
    job_path = Path(path)
    job_portion = Portion(read_source(job_path, os.fspath(path)))
    cell_portion, faults = _find_cell(job_portion, job_path.parent)
    job, job_faults = _validated(Job, job_portion)
    faults += job_faults
    cell: Cell | None = None
    if job is not None and isinstance(job.cell, Cell):
        cell = job.cell
    elif cell_portion is not None and cell_portion.source is not job_portion.source:
        cell, cell_faults = _validated(Cell, cell_portion)
        faults += cell_faults
    faults += cross_faults(job_portion, cell_portion)
    if faults or job is None or cell is None or cell_portion is None:
        raise JobError(_in_order(faults, job_portion.source))
    return LoadedJob(job, cell, job_path.parent, job_portion, cell_portion)


def _find_cell(job: Portion, folder: Path) -> tuple[Portion | None, list[Fault]]:
    """The cell, in the job file or in its own; None with the reason if it cannot be read."""
    table = job.data.get("cell")
    if not isinstance(table, dict):
        return None, []
    if "file" not in table:
        return Portion(job.source, ("cell",)), []
    try:
        name = CellFile.model_validate({"file": table["file"]}).file
    except ValidationError:
        return None, []
    try:
        return Portion(read_source(folder / name, name)), []
    except JobError as error:
        return None, list(_reported_in_job(error, job.source))


def _reported_in_job(error: JobError, job: Source) -> Iterator[Fault]:
    """Faults of reading the cell file; one of the file as a whole belongs where the job names it."""
    for fault in error.faults:
        if fault.line:
            yield fault
        else:
            given = ", ".join(filter(None, [quoted(fault.file), fault.given]))
            yield job.fault(("cell", "file"), fault.wanted, given=given)


def _validated(model: type[Model], portion: Portion) -> tuple[Model | None, list[Fault]]:
    try:
        return model.model_validate(portion.data), []
    except ValidationError as error:
        return None, list(faults_of(error, portion, model))


def _in_order(faults: list[Fault], job: Source) -> list[Fault]:
    return sorted(faults, key=lambda fault: (fault.file != job.shown, fault.line, fault.column))
