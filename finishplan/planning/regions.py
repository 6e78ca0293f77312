"""The region of a surface: from its drawing, from two sides, or from its area alone."""

from __future__ import annotations

from finishplan.geometry import OutlineLayer, Region, read_chains, rectangle, region_from_layers, square
from finishplan.job import LoadedJob, Surface
from finishplan.planning.outline import drawing_notes


def surface_region(loaded: LoadedJob, index: int) -> tuple[Region, tuple[str, ...]]:
    """Region of surface number `index`, and what was left out of its drawing.

    Raises
    ------
    GeometryError
        Faults of the drawing or of its outlines.
    """
    surface = loaded.job.surface[index]
    if surface.drawing is not None:
        return _drawn(loaded, surface)
    if surface.length is not None and surface.width is not None:
        return rectangle(surface.length, surface.width, surface.name), ()
    assert surface.area is not None
    return square(surface.area, surface.name), ("only the area is known: worked out on a square of that area",)


def _drawn(loaded: LoadedJob, surface: Surface) -> tuple[Region, tuple[str, ...]]:
    assert surface.drawing is not None
    assert surface.layer is not None
    path = loaded.folder / surface.drawing
    outlines = read_chains(path, surface.layer, surface.drawing_unit, surface.drawing)
    layers = [OutlineLayer(outlines.chains, surface.drawing, surface.layer)]
    notes = list(drawing_notes(outlines))
    if surface.holes_layer is not None:
        holes = read_chains(path, surface.holes_layer, surface.drawing_unit, surface.drawing)
        layers.append(OutlineLayer(holes.chains, surface.drawing, surface.holes_layer))
        notes += drawing_notes(holes)
    return region_from_layers(*layers), tuple(notes)
