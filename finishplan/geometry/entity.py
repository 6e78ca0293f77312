"""Entities of a drawing as edge pieces: which kinds are drawn, and what each becomes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from finishplan.geometry.curve import Ellipse, curve_piece, spline
from finishplan.geometry.piece import COINCIDENT, Piece, ShapeError, arc, bulged, straight, usable

if TYPE_CHECKING:
    from ezdxf.entities.arc import Arc
    from ezdxf.entities.circle import Circle
    from ezdxf.entities.dxfentity import DXFEntity
    from ezdxf.entities.dxfgfx import DXFGraphic
    from ezdxf.entities.ellipse import Ellipse as EllipseEntity
    from ezdxf.entities.line import Line
    from ezdxf.entities.lwpolyline import LWPolyline
    from ezdxf.entities.polyline import Polyline
    from ezdxf.entities.spline import Spline
    from ezdxf.math import Vec3

_TILT: Final = 1e-6
_FULL_TURN: Final = 2 * math.pi
_SAME_ANGLE: Final = 1e-9
_SPLINE_FRAME_VERTEX: Final = 16


@dataclass(frozen=True)
class Outline:
    """What one entity draws: its pieces, and the heights z they lie at [m]."""

    pieces: tuple[Piece, ...]
    heights: tuple[float, ...]


def kind(entity: DXFGraphic) -> str:
    """The entity's type; a polyline that is a mesh of faces is named as such."""
    name = entity.dxftype()
    return "POLYLINE (mesh)" if name == "POLYLINE" and getattr(entity, "get_mode", str)() in _MESHES else name


def is_drawn(entity: DXFGraphic) -> bool:
    """Whether the entity is a line or curve that can be an edge."""
    return kind(entity) in _READERS


def outline(entity: DXFGraphic, scale: float) -> Outline:
    """Pieces of a drawn entity.

    Parameters
    ----------
    entity : ezdxf entity
        One for which `is_drawn` holds.
    scale : float
        Length of one drawing unit [m].

    Raises
    ------
    ShapeError
        Zero length, numbers that are not finite or too large, an entity that does not lie flat.
    """
    _require_data(entity)
    drawn = _READERS[kind(entity)](entity, scale)
    rise = np.ptp(usable(drawn.heights))
    if sum(piece.length for piece in drawn.pieces) + rise <= COINCIDENT:
        raise ShapeError("an entity of zero length", "edges with a length", "the drawing anew without it")
    return drawn


def _require_data(entity: DXFEntity) -> None:
    """Refuse an entity that lacks data: the DXF library would put a default in its place."""
    missing = [name for name in _REQUIRED.get(entity.dxftype(), ()) if not entity.dxf.hasattr(name)]
    if missing:
        given = f"{entity.dxftype()} without {' and '.join(missing).replace('_', ' ')}"
        raise ShapeError(given, "an entity with all its data", "the drawing anew")


def _line(entity: Line, scale: float) -> Outline:
    start, end = entity.dxf.start * scale, entity.dxf.end * scale
    return Outline((straight((start.x, start.y), (end.x, end.y)),), (start.z, end.z))


def _arc(entity: Arc, scale: float) -> Outline:
    start, end = (math.radians(angle) for angle in usable([entity.dxf.start_angle, entity.dxf.end_angle]))
    return _circular(entity, scale, start, _sweep(start, end))


def _circle(entity: Circle, scale: float) -> Outline:
    return _circular(entity, scale, 0.0, _FULL_TURN)


def _circular(entity: Arc | Circle, scale: float, start: float, sweep: float) -> Outline:
    facing = _facing(entity.dxf.extrusion)
    centre, radius = entity.dxf.center * scale, entity.dxf.radius * scale
    if radius < 0:
        raise ShapeError(f"a radius of {entity.dxf.radius:g}", "a radius above zero")
    if facing < 0:
        start, sweep = math.pi - start, -sweep
    return Outline((arc((facing * centre.x, centre.y), radius, start, sweep),), (facing * centre.z,))


def _ellipse(entity: EllipseEntity, scale: float) -> Outline:
    centre, major, minor = (vector * scale for vector in (entity.dxf.center, entity.dxf.major_axis, entity.minor_axis))
    start, end = usable([entity.dxf.start_param, entity.dxf.end_param]).tolist()
    middle, along, across = usable([(vector.x, vector.y) for vector in (centre, major, minor)])
    curve = Ellipse(middle, along, across, start, _sweep(start, end))
    heights = (centre.z - abs(major.z) - abs(minor.z), centre.z + abs(major.z) + abs(minor.z))
    return Outline((curve_piece(curve),), heights)


def _spline(entity: Spline, scale: float) -> Outline:
    try:
        tool = entity.construction_tool()
    except (ValueError, ArithmeticError, LookupError) as error:
        given = f"a spline that cannot be drawn ({error})"
        raise ShapeError(given, "control points and knots that fit the degree, or distinct fit points") from error
    points = np.array([point.xyz for point in tool.control_points]) * scale
    weights = np.array(tool.weights()) if tool.weights() else np.ones(len(points))
    whole = spline(points[:, :2], weights, np.array(tool.knots()), tool.degree)
    pieces = (curve_piece(part) for part in whole.smooth_parts())
    return Outline(tuple(pieces), (points[:, 2].min(), points[:, 2].max()))


def _light_polyline(entity: LWPolyline, scale: float) -> Outline:
    vertices = np.array(entity.get_points("xyb")).reshape(-1, 3)
    facing = _facing(entity.dxf.extrusion)
    corners, bulges = _faced(vertices[:, :2] * scale, vertices[:, 2], facing)
    return Outline(_segments(corners, bulges, entity.closed), (facing * entity.dxf.elevation * scale,))


def _polyline(entity: Polyline, scale: float) -> Outline:
    kept = [vertex for vertex in entity.vertices if not vertex.dxf.flags & _SPLINE_FRAME_VERTEX]
    if not kept:
        return Outline((), (0.0,))
    for vertex in kept:
        _require_data(vertex)
    places = np.array([vertex.dxf.location.xyz for vertex in kept]) * scale
    if entity.is_3d_polyline:
        pieces = _segments(places[:, :2], np.zeros(len(kept)), entity.is_closed)
        return Outline(pieces, (places[:, 2].min(), places[:, 2].max()))
    facing = _facing(entity.dxf.extrusion)
    corners, bulges = _faced(places[:, :2], np.array([vertex.dxf.bulge for vertex in kept]), facing)
    elevation: Vec3 = entity.dxf.elevation
    return Outline(_segments(corners, bulges, entity.is_closed), (facing * elevation.z * scale,))


def _faced(corners: Any, bulges: Any, facing: float) -> tuple[Any, Any]:
    """Corners and bulges seen from above; a polyline drawn facing down is mirrored left to right."""
    return corners * [facing, 1.0], bulges * facing


def _segments(corners: Any, bulges: Iterable[float], closed: bool) -> tuple[Piece, ...]:
    """One piece per segment; repeated vertices draw nothing."""
    ends = np.roll(usable(corners), -1, axis=0)
    segments = list(zip(corners, ends, bulges, strict=True))
    drawn: Sequence[tuple[Any, Any, float]] = segments if closed else segments[:-1]
    return tuple(bulged(start, end, float(bulge)) for start, end, bulge in drawn if math.dist(start, end) > COINCIDENT)


def _sweep(start: float, end: float) -> float:
    """Anticlockwise turn from start to end [rad]; ends that agree mean once around."""
    turn = (end - start) % _FULL_TURN
    return turn if turn > _SAME_ANGLE else _FULL_TURN


def _facing(extrusion: Vec3) -> float:
    """+1 for an entity drawn seen from above, -1 from below; a tilted one is refused."""
    if not math.hypot(extrusion.x, extrusion.y) <= _TILT * abs(extrusion.z):
        raise ShapeError(
            "an entity in a tilted plane", "edges drawn flat in the x-y plane", "a drawing projected onto that plane"
        )
    return math.copysign(1.0, extrusion.z)


_REQUIRED: Final[Mapping[str, tuple[str, ...]]] = {
    "LINE": ("start", "end"),
    "ARC": ("center", "radius", "start_angle", "end_angle"),
    "CIRCLE": ("center", "radius"),
    "ELLIPSE": ("center", "major_axis", "ratio", "start_param", "end_param"),
    "SPLINE": ("degree",),
    "VERTEX": ("location",),
}

_MESHES: Final = frozenset({"AcDbPolygonMesh", "AcDbPolyFaceMesh"})

_READERS: Final[Mapping[str, Callable[[Any, float], Outline]]] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
    "LWPOLYLINE": _light_polyline,
    "POLYLINE": _polyline,
}
