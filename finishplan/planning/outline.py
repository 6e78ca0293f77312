"""The paths a feature is worked along, read from its drawing, and the time it takes to follow them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from finishplan.errors import Fault, GeometryError, JobError
from finishplan.geometry import Chain, DrawingEdges, read_chains
from finishplan.job import Contour, Edge, LoadedJob


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


def outlines_of(loaded: LoadedJob, section: Literal["edge", "contour"]) -> list[Outline]:
    """Outlines of every edge or every contour of a job.

    Raises
    ------
    JobError
        With every fault of every drawing, at the job's line that names the layer.
    """
    outlines: list[Outline] = []
    faults: list[Fault] = []
    features: Sequence[Edge | Contour] = getattr(loaded.job, section)
    for index, feature in enumerate(features):
        try:
            outlines.append(_outline(loaded, feature))
        except GeometryError as error:
            faults.extend(faults_at(loaded, (section, index), error.faults))
    if faults:
        raise JobError(faults)
    return outlines


def _outline(loaded: LoadedJob, feature: Edge | Contour) -> Outline:
    if feature.drawing is None or feature.layer is None:
        assert feature.length is not None
        points = np.array([[0.0, 0.0], [feature.length, 0.0]])
        return Outline((Chain(points, feature.length, False, np.inf, 0),), drawn=False)
    drawing = read_chains(loaded.folder / feature.drawing, feature.layer, feature.drawing_unit, feature.drawing)
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
    """Faults of a drawing, at the line of the job that names its layer; without one, at its feature."""
    section, index = feature
    place = loaded.where(section, index, "layer")
    faulty = getattr(loaded.job, section)[index]
    for fault in faults:
        drawn = f", drawing {fault.file}" if faulty.drawing else ""
        yield replace(fault, file=place.file, line=place.line, key=f'{section} "{faulty.name}"{drawn}')


def outline_ends(outline: Outline) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """First and last points of the drawn chains."""
    chains = outline.chains if outline.drawn else ()
    starts = np.array([chain.points[0] for chain in chains]).reshape(-1, 2)
    ends = np.array([chain.points[-1] for chain in chains]).reshape(-1, 2)
    return starts, ends
