"""Edges read from drawings: every kind of entity, units, doubles, gaps, and a large drawing."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

import numpy as np
import pytest
from scipy.special import ellipe

from finishplan.geometry.chain import Chain
from finishplan.geometry.drawing import read_chains

Sheet: TypeAlias = Any
"""The sheet of conftest.py."""

INCH = 0.0254


def only(sheet: Sheet) -> Chain:
    (chain,) = sheet.read().chains
    return chain


def test_a_rectangle_drawn_as_a_closed_polyline(sheet: Sheet) -> None:
    sheet.model.add_lwpolyline([(0, 0), (80, 0), (80, 50), (0, 50)], close=True, dxfattribs=sheet.on)
    chain = only(sheet)
    assert (chain.length, chain.closed, chain.smallest_radius, chain.sharp_corners) == (
        pytest.approx(0.26, rel=1e-12), True, math.inf, 4,
    )  # fmt: skip
    assert chain.points == pytest.approx(np.array([(0, 0), (80, 0), (80, 50), (0, 50), (0, 0)]) * 1e-3)


def test_an_open_polyline_stays_open(sheet: Sheet) -> None:
    sheet.model.add_lwpolyline([(0, 0), (80, 0), (80, 50)], dxfattribs=sheet.on)
    chain = only(sheet)
    assert (chain.length, chain.closed, chain.sharp_corners) == (pytest.approx(0.13), False, 1)


def test_loose_lines_and_arcs_of_a_rounded_plate(sheet: Sheet) -> None:
    on, model = sheet.on, sheet.model
    for start, end in [((10, 0), (70, 0)), ((80, 40), (80, 10)), ((70, 50), (10, 50)), ((0, 10), (0, 40))]:
        model.add_line(start, end, on)
    for centre, first in [((10, 10), 180), ((70, 10), 270), ((70, 40), 0), ((10, 40), 90)]:
        model.add_arc(centre, 10, first, first + 90, dxfattribs=on)
    chain = only(sheet)
    assert chain.length == pytest.approx(0.18 + 2 * math.pi * 0.01, rel=1e-12)
    assert (chain.closed, chain.smallest_radius, chain.sharp_corners) == (True, pytest.approx(0.01), 0)


@pytest.mark.parametrize(
    ("start", "end", "degrees"), [(30, 120, 90), (350, 20, 30), (0, 360, 360), (90, 90, 360), (20, 10, 350)]
)
def test_an_arc_runs_anticlockwise_from_start_to_end(sheet: Sheet, start: float, end: float, degrees: float) -> None:
    sheet.model.add_arc((5, 5), 12, start, end, dxfattribs=sheet.on)
    chain = only(sheet)
    assert chain.length == pytest.approx(0.012 * math.radians(degrees), rel=1e-12)
    assert chain.closed is (degrees == 360)


def test_a_circle(sheet: Sheet) -> None:
    sheet.model.add_circle((3, 4), 25, dxfattribs=sheet.on)
    chain = only(sheet)
    assert chain.length == pytest.approx(2 * math.pi * 0.025, rel=1e-14)
    assert (chain.closed, chain.smallest_radius, chain.sharp_corners) == (True, pytest.approx(0.025), 0)


def test_bulges_of_a_slot_have_the_length_of_their_arcs(sheet: Sheet) -> None:
    slot = [(0, 0, 0), (30, 0, 1), (30, 10, 0), (0, 10, 1)]
    sheet.model.add_lwpolyline(slot, format="xyb", close=True, dxfattribs=sheet.on)
    chain = only(sheet)
    assert chain.length == pytest.approx(0.06 + math.pi * 0.01, rel=1e-12)
    assert (chain.smallest_radius, chain.sharp_corners) == (pytest.approx(0.005), 0)


@pytest.mark.parametrize("bulge", [0.2, -0.7, 1.5])
def test_old_and_light_polylines_agree(sheet: Sheet, bulge: float) -> None:
    corners = [(0, 0, bulge), (20, 0, 0), (20, 15, -bulge)]
    sheet.model.add_lwpolyline(corners, format="xyb", close=True, dxfattribs=sheet.on)
    sheet.model.add_polyline2d(corners, format="xyb", close=True, dxfattribs={"layer": "OLD"})
    (light,), (old,) = sheet.read("EDGES").chains, sheet.read("OLD").chains
    assert old.length == pytest.approx(light.length, rel=1e-14)
    assert old.points == pytest.approx(light.points)


@pytest.mark.parametrize(("bulge", "lowest", "highest"), [(1, -10, 0), (-1, 0, 10), (0.5, -5, 0)])
def test_a_positive_bulge_swings_to_the_right_of_its_chord(
    sheet: Sheet, bulge: float, lowest: float, highest: float
) -> None:
    """Sagitta = bulge x half the chord; an anticlockwise arc along +x hangs below it."""
    sheet.model.add_lwpolyline([(0, 0, bulge), (20, 0, 0)], format="xyb", dxfattribs=sheet.on)
    heights = only(sheet).points[:, 1] * 1e3
    assert (heights.min(), heights.max()) == (pytest.approx(lowest, abs=0.01), pytest.approx(highest, abs=0.01))


def test_frame_vertices_of_a_spline_fitted_polyline_draw_nothing(sheet: Sheet) -> None:
    polyline = sheet.model.add_polyline2d([(0, 0), (500, 500), (30, 40)], dxfattribs=sheet.on)
    polyline.vertices[1].dxf.flags = 16
    assert only(sheet).length == pytest.approx(0.05)


def test_a_polyline_in_space_that_lies_flat(sheet: Sheet) -> None:
    sheet.model.add_polyline3d([(0, 0, 7), (30, 0, 7), (30, 40, 7)], close=True, dxfattribs=sheet.on)
    assert only(sheet).length == pytest.approx(0.12)


def test_an_ellipse_against_the_complete_elliptic_integral(sheet: Sheet) -> None:
    """scipy.special.ellipe (library)."""
    sheet.model.add_ellipse((0, 0), major_axis=(30, 40), ratio=0.35, dxfattribs=sheet.on)
    chain = only(sheet)
    assert chain.length == pytest.approx(4 * 0.05 * ellipe(1 - 0.35**2), rel=1e-9)
    assert chain.closed
    assert chain.smallest_radius == pytest.approx(0.05 * 0.35**2)


def test_a_spline_against_its_dense_polygon(sheet: Sheet) -> None:
    """The drawing library's own evaluation of the curve at 200 000 points."""
    spline = sheet.model.add_spline([(0, 0), (20, 30), (50, -10), (80, 20)], dxfattribs=sheet.on)
    dense = np.array([point.xyz for point in spline.construction_tool().approximate(200_000)])[:, :2] * 1e-3
    chain = only(sheet)
    assert chain.length == pytest.approx(np.hypot(*np.diff(dense, axis=0).T).sum(), rel=1e-8)
    assert not chain.closed


def test_a_closed_spline_is_smooth_at_its_seam(sheet: Sheet) -> None:
    spline = sheet.model.add_spline(dxfattribs=sheet.on)
    spline.set_closed([(0, 0, 0), (40, 0, 0), (40, 40, 0), (0, 40, 0)])
    chain = only(sheet)
    assert (chain.closed, chain.sharp_corners) == (True, 0)


@pytest.mark.parametrize("kind", ["arc", "circle", "polyline", "ellipse"])
def test_an_entity_drawn_from_below_is_seen_from_above(sheet: Sheet, kind: str) -> None:
    """With the extrusion direction (0, 0, -1) the entity's own x axis points to -x of the drawing."""
    below = {**sheet.on, "extrusion": (0, 0, -1)}
    quarter = [(15, 0, math.tan(math.pi / 8)), (10, 5, 0)]
    draw = {
        "arc": lambda: sheet.model.add_arc((10, 0), 5, 0, 90, dxfattribs=below),
        "circle": lambda: sheet.model.add_circle((10, 0), 5, dxfattribs=below),
        "polyline": lambda: sheet.model.add_lwpolyline(quarter, format="xyb", dxfattribs=below),
        "ellipse": lambda: sheet.model.add_ellipse((-10, 0), (-5, 0), 1.0, 0, math.pi / 2, dxfattribs=below),
    }
    draw[kind]()
    points = only(sheet).points
    assert np.hypot(*(points - [-0.01, 0.0]).T) == pytest.approx(np.full(len(points), 0.005))
    assert points[:, 0].min() == pytest.approx(-0.015)
    if kind != "circle":
        assert points[:, 0].max() == pytest.approx(-0.01)
        assert points[:, 1].max() == pytest.approx(0.005)
        assert points[:, 1].min() == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("code", "unit", "metre"),
    [(1, "in", INCH), (2, "ft", 12 * INCH), (4, "mm", 1e-3), (5, "cm", 1e-2), (6, "m", 1.0)],
)
def test_the_header_gives_the_unit(sheet: Sheet, code: int, unit: str, metre: float) -> None:
    sheet.document.header["$INSUNITS"] = code
    sheet.model.add_line((0, 0), (3, 4), sheet.on)
    edges = sheet.read()
    assert edges.unit == unit
    assert edges.chains[0].length == pytest.approx(5 * metre, rel=1e-15)
    assert sheet.read(unit=unit).unit == unit


def test_the_job_gives_the_unit_where_the_header_does_not(sheet: Sheet) -> None:
    sheet.document.header["$INSUNITS"] = 0
    sheet.model.add_line((0, 0), (3, 4), sheet.on)
    edges = sheet.read(unit="in")
    assert (edges.unit, edges.chains[0].length) == ("in", pytest.approx(5 * INCH))


def test_tolerances_are_lengths_and_not_drawing_units(sheet: Sheet) -> None:
    """A gap of 0.04 is bridged in millimetres, not in inches."""
    sheet.model.add_line((0, 0), (3, 0), sheet.on)
    sheet.model.add_line((3.04, 0), (6, 0), sheet.on)
    assert len(sheet.read().chains) == 1
    sheet.document.header["$INSUNITS"] = 1
    assert len(sheet.read().chains) == 2


def test_doubled_lines_count_once(sheet: Sheet) -> None:
    outline = [(0, 0), (80, 0), (80, 50), (0, 50)]
    sheet.model.add_lwpolyline(outline, close=True, dxfattribs=sheet.on)
    for start, end in zip(outline, outline[1:] + outline[:1], strict=True):
        sheet.model.add_line(end, start, sheet.on)
    edges = sheet.read()
    assert edges.duplicates_dropped == 4
    assert [chain.length for chain in edges.chains] == pytest.approx([0.26])


def test_other_layers_text_and_hidden_entities_are_left_out_and_told(sheet: Sheet) -> None:
    model, on = sheet.model, sheet.on
    model.add_line((0, 0), (10, 0), on)
    model.add_line((0, 5), (10, 5), {"layer": "OTHER"})
    model.add_line((0, 9), (10, 9), {**on, "invisible": 1})
    model.add_text("deburr all around", dxfattribs=on)
    model.add_text("both sides", dxfattribs=on)
    model.add_point((1, 1), on)
    model.add_polyface(dxfattribs=on)
    edges = sheet.read()
    assert [chain.length for chain in edges.chains] == pytest.approx([0.01])
    assert dict(edges.skipped) == {"LINE (hidden)": 1, "POINT": 1, "POLYLINE (mesh)": 1, "TEXT": 2}
    with pytest.raises(TypeError):
        edges.skipped["TEXT"] = 0  # type: ignore[index]


def test_paper_space_is_not_the_part(sheet: Sheet) -> None:
    sheet.model.add_line((0, 0), (10, 0), sheet.on)
    sheet.document.paperspace().add_line((0, 0), (500, 0), sheet.on)
    assert only(sheet).length == pytest.approx(0.01)


def test_layer_names_match_in_upper_and_lower_case(sheet: Sheet) -> None:
    sheet.model.add_line((0, 0), (10, 0), {"layer": "Edges"})
    assert len(sheet.read("eDGES").chains) == 1


def test_a_drawing_wholly_at_another_height_is_flat(sheet: Sheet) -> None:
    sheet.model.add_line((0, 0, 12), (10, 0, 12), sheet.on)
    sheet.model.add_circle((0, 0, 12), 5, dxfattribs=sheet.on)
    sheet.model.add_lwpolyline([(50, 0), (60, 0)], dxfattribs={**sheet.on, "elevation": 12})
    assert len(sheet.read().chains) == 3


def test_repeated_vertices_of_a_polyline_draw_nothing(sheet: Sheet) -> None:
    sheet.model.add_lwpolyline([(0, 0), (10, 0), (10, 0), (10, 10), (10, 10)], dxfattribs=sheet.on)
    chain = only(sheet)
    assert (chain.length, chain.sharp_corners, len(chain.points)) == (pytest.approx(0.02), 1, 3)


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_versions_of_the_format(sheet: Sheet, version: str) -> None:
    sheet.model.add_line((0, 0), (10, 0), sheet.on)
    sheet.document.dxfversion = version
    unit = "mm" if version == "R12" else None
    assert sheet.read(unit=unit).chains[0].length == pytest.approx(0.01)


def test_the_binary_form(sheet: Sheet) -> None:
    sheet.model.add_circle((0, 0), 10, dxfattribs=sheet.on)
    sheet.document.saveas(sheet.path, fmt="bin")
    (chain,) = read_chains(sheet.path, "EDGES", None, "part.dxf").chains
    assert chain.length == pytest.approx(0.02 * math.pi)


def test_twenty_thousand_entities_are_read(sheet: Sheet) -> None:
    """A perforated sheet: 10 000 round holes, each drawn as two half circles."""
    for row in range(100):
        for column in range(100):
            for start in (0, 180):
                sheet.model.add_arc((8 * column, 8 * row), 2.5, start, start + 180, dxfattribs=sheet.on)
    path = sheet.save()
    edges = read_chains(path, "EDGES", None, "part.dxf")
    assert len(edges.chains) == 10_000
    assert all(chain.closed for chain in edges.chains)
    assert sum(chain.length for chain in edges.chains) == pytest.approx(10_000 * 0.005 * math.pi, rel=1e-10)
