"""Regions: plane surfaces to be finished, as outlines with holes.

Outlines come as they are drawn. One that crosses itself or another, is open or encloses nothing
is answered with where it does so, never repaired.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from finishplan.errors import Fault, GeometryError
from finishplan.geometry.chain import Chain
from finishplan.geometry.crossing import Meeting, meetings
from finishplan.geometry.piece import COINCIDENT, Points
from finishplan.units import from_si

QUARTER_SEGMENTS: Final = 32
"""Segments in a quarter circle of an offset; they leave the true arc by 0.03 % of the offset."""

_OUTLINES: Final = "closed outlines that enclose the surface"


@dataclass(frozen=True, eq=False)
class Region:
    """A plane surface to be finished.

    Attributes
    ----------
    shape : MultiPolygon
        One polygon, with its holes, for each outer outline [m].
    name, key : str
        What the region is called in a fault: the drawing and the layer it was read from.
    """

    shape: MultiPolygon
    name: str = "surface"
    key: str = "outline"

    @property
    def area(self) -> float:
        """Area without the holes [m2]."""
        return self.shape.area

    def inset(self, distance: float) -> MultiPolygon:
        """The part of the region at least `distance` [m] from every border; empty where none is."""
        return polygons(self.shape.buffer(-distance, quad_segs=QUARTER_SEGMENTS))


@dataclass(frozen=True, eq=False)
class OutlineLayer:
    """The chains of one layer of a drawing, and how the layer is named in a fault.

    Attributes
    ----------
    chains : sequence of Chain
        Outlines, closed.
    file, layer : str
        Drawing and layer as the user wrote them.
    unit : str
        Unit places are shown in.
    """

    chains: Sequence[Chain]
    file: str
    layer: str
    unit: str = "mm"

    def fault(self, given: str, wanted: str, write: str) -> Fault:
        """The fault of this layer."""
        return Fault(self.file, f"layer {self.layer!r}", wanted, given, write)

    def place(self, point: Points) -> str:
        """A point in the unit of the drawing."""
        x, y = (from_si(float(coordinate), self.unit) for coordinate in point)
        return f"({x:.6g}, {y:.6g}) {self.unit}"


@dataclass(frozen=True, eq=False)
class _Outline:
    """One closed outline, the layer it is on, and whether that layer holds nothing but holes."""

    points: Points
    layer: OutlineLayer
    hole: bool

    @property
    def flat(self) -> bool:
        """Whether it runs to and fro on one line; an outline that crosses itself is not flat."""
        around = LineString(self.points)
        return bool(around.convex_hull.area <= COINCIDENT * around.length)


def rectangle(length: float, width: float, name: str = "surface") -> Region:
    """A plain rectangle of a length along x and a width along y [m], a corner at the origin.

    Raises
    ------
    GeometryError
        A length or width that is not above zero.
    """
    wrong = [
        Fault(name, key, f"a {key} above zero", f"{value:g} m")
        for key, value in (("length", length), ("width", width))
        if not 0 < value < math.inf
    ]
    if wrong:
        raise GeometryError(wrong)
    return Region(MultiPolygon([shapely.box(0.0, 0.0, length, width)]), name, "rectangle")


def square(area: float, name: str = "surface") -> Region:
    """The square that stands for a surface of which only the area [m2] is known.

    Raises
    ------
    GeometryError
        An area that is not above zero.
    """
    if not 0 < area < math.inf:
        raise GeometryError([Fault(name, "area", "an area above zero", f"{area:g} m2")])
    return rectangle(math.sqrt(area), math.sqrt(area), name)


def region_from_layers(outlines: OutlineLayer, holes: OutlineLayer | None = None) -> Region:
    """The surface drawn by closed outlines, nested to any depth.

    Parameters
    ----------
    outlines : OutlineLayer
        The outermost outline encloses surface, one inside it a hole, one inside that surface again;
        several outermost outlines may stand side by side.
    holes : OutlineLayer, optional
        Outlines of places to be left out, such as masked ones, drawn on a layer of their own.

    Returns
    -------
    Region
        Named after the layer of the outlines.

    Raises
    ------
    GeometryError
        An open chain, an outline without area, outlines that cross or touch themselves or each
        other, a hole outside the surface; carries every fault of the first kind found.
    """
    layers = [(outlines, False)] + ([(holes, True)] if holes is not None else [])
    closed = [_Outline(_distinct(chain.points), layer, hole) for layer, hole in layers for chain in _closed(layer)]
    _refuse([fault for layer, _ in layers for fault in _open_chains(layer)])
    _refuse([*_without_area(closed), *_nothing_drawn(outlines)])
    _refuse([_meeting_fault(meeting, closed) for meeting in meetings([outline.points for outline in closed])])
    depth, parent = _nesting(closed)
    _refuse(_misplaced_holes(closed, depth))
    return Region(_nested(closed, depth, parent), outlines.file, f"layer {outlines.layer!r}")


def polygons(shape: BaseGeometry) -> MultiPolygon:
    """The polygons of any shape; points and lines, which have no area, are left out."""
    parts = shapely.get_parts(shapely.get_parts(np.array([shape])))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def _refuse(faults: Sequence[Fault]) -> None:
    if faults:
        raise GeometryError(faults)


def _closed(layer: OutlineLayer) -> list[Chain]:
    return [chain for chain in layer.chains if chain.closed]


def _distinct(points: Points) -> Points:
    """The points without doubles that follow each other."""
    kept = np.concatenate([[True], np.any(np.diff(points, axis=0) != 0, axis=1)])
    return np.asarray(points[kept])


def _open_chains(layer: OutlineLayer) -> Iterator[Fault]:
    chains = [chain for chain in layer.chains if not chain.closed]
    if chains:
        ends = " to ".join(layer.place(point) for point in chains[0].points[[0, -1]])
        count = "an open run" if len(chains) == 1 else f"{len(chains)} open runs, the first"
        yield layer.fault(f"{count} from {ends}", _OUTLINES, "the outline closed, or other lines on other layers")


def _nothing_drawn(layer: OutlineLayer) -> Iterator[Fault]:
    if not layer.chains:
        yield layer.fault("no outline", _OUTLINES, "the layer that holds the outline")


def _without_area(closed: Sequence[_Outline]) -> Iterator[Fault]:
    for outline in closed:
        if outline.flat:
            given = f"an outline at {outline.layer.place(outline.points[0])} that encloses no area"
            yield outline.layer.fault(given, _OUTLINES, "the outline drawn around, or its lines on another layer")


def _meeting_fault(meeting: Meeting, closed: Sequence[_Outline]) -> Fault:
    layer = closed[meeting.one].layer
    where = f"at {layer.place(meeting.place)}" + (f" and {meeting.count - 1} more places" * (meeting.count > 1))
    if meeting.one == meeting.other:
        return layer.fault(f"an outline that crosses itself {where}", "outlines that do not cross", "the outline anew")
    given = f"two outlines that cross or touch {where}"
    return layer.fault(given, "outlines apart from each other", "one outline around both, or the hole inside")


def _nesting(closed: Sequence[_Outline]) -> tuple[NDArray[np.intp], dict[int, int]]:
    """How many outlines lie around each, and the next one around it. None touch, so one point tells."""
    shapes = [Polygon(outline.points) for outline in closed]
    starts = shapely.points([outline.points[0] for outline in closed])
    inner, outer = shapely.STRtree(shapes).query(starts, predicate="within")
    depth = np.bincount(inner, minlength=len(closed))
    parent = {int(i): int(o) for i, o in zip(inner, outer, strict=True) if depth[o] == depth[i] - 1}
    return depth, parent


def _misplaced_holes(closed: Sequence[_Outline], depth: NDArray[np.intp]) -> list[Fault]:
    return [
        outline.layer.fault(
            f"a hole at {outline.layer.place(outline.points[0])} outside every outline",
            "holes inside the surface",
            "the hole inside an outline",
        )
        for outline, level in zip(closed, depth, strict=True)
        if outline.hole and level % 2 == 0
    ]


def _nested(closed: Sequence[_Outline], depth: NDArray[np.intp], parent: dict[int, int]) -> MultiPolygon:
    holes: dict[int, list[Points]] = {}
    for inner in np.flatnonzero(depth % 2 == 1).tolist():
        holes.setdefault(parent[inner], []).append(closed[inner].points)
    outer = np.flatnonzero(depth % 2 == 0).tolist()
    return MultiPolygon([Polygon(closed[index].points, holes.get(index, [])) for index in outer])
