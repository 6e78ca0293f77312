"""The paths a feature is worked along, read from its drawing, and the time it takes to follow them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from finishplan.errors import Fault, GeometryError, JobError
from finishplan.geometry import Chain, DrawingEdges, read_chains
from finishplan.job import Edge, LoadedJob


@dataclass(frozen=True)
class Outline:
    """The chains of one feature. A feature known by its length alone is one straight open chain."""

    chains: tuple[Chain, ...]
    drawn: bool
    notes: tuple[str, ...] = ()

    @property
    def length(self) -> float:
        return sum(chain.length for chain in self.chains)

    @property
    def smallest_radius(self) -> float:
        return min(chain.smallest_radius for chain in self.chains)

    @property
    def sharp_corners(self) -> int:
        return sum(chain.sharp_corners for chain in self.chains)


def edge_outlines(loaded: LoadedJob) -> list[Outline]:
    """Outlines of every edge of a job.

    Raises
    ------
    JobError
        With every fault of every drawing, at the job's line that names the layer.
    """
    outlines: list[Outline] = []
    faults: list[Fault] = []
    for index, edge in enumerate(loaded.job.edge):
        try:
            outlines.append(_outline(loaded, edge))
        except GeometryError as error:
            faults.extend(faults_at(loaded, ("edge", index), error.faults))
    if faults:
        raise JobError(faults)
    return outlines


def _outline(loaded: LoadedJob, edge: Edge) -> Outline:
    if edge.drawing is None or edge.layer is None:
        assert edge.length is not None
        points = np.array([[0.0, 0.0], [edge.length, 0.0]])
        return Outline((Chain(points, edge.length, False, np.inf, 0),), drawn=False)
    drawing = read_chains(loaded.folder / edge.drawing, edge.layer, edge.drawing_unit, edge.drawing)
    return Outline(drawing.chains, drawn=True, notes=tuple(drawing_notes(drawing)))


def drawing_notes(drawing: DrawingEdges) -> Iterator[str]:
    """What was left out of the drawing, in words."""
    if drawing.skipped:
        told = ", ".join(f"{count} {kind}" for kind, count in drawing.skipped.items())
        yield f"left out of the drawing's layer, as it draws no edge: {told}"
    if drawing.duplicates_dropped:
        yield f"{drawing.duplicates_dropped} lines drawn twice were counted once"
    yield from drawing.remarks


def faults_at(loaded: LoadedJob, feature: tuple[str, int], faults: Iterable[Fault]) -> Iterable[Fault]:
    """Faults of a drawing, at the line of the job that names its layer."""
    section, index = feature
    place = loaded.where(section, index, "layer")
    name = getattr(loaded.job, section)[index].name
    for fault in faults:
        yield replace(fault, file=place.file, line=place.line, key=f'{section} "{name}", drawing {fault.file}')


def outline_ends(outline: Outline) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """First and last points of the drawn chains."""
    chains = outline.chains if outline.drawn else ()
    starts = np.array([chain.points[0] for chain in chains]).reshape(-1, 2)
    ends = np.array([chain.points[-1] for chain in chains]).reshape(-1, 2)
    return starts, ends
