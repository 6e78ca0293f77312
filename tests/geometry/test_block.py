"""Blocks: layers inherited from the insert, scaled, turned, mirrored, nested and repeated."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import ellipe

from finishplan.errors import GeometryError
from finishplan.geometry import block

Sheet: TypeAlias = Any
"""The sheet of conftest.py."""


@pytest.fixture
def hole(sheet: Sheet) -> Sheet:
    """A block with a circle on layer 0 and a line on a layer of its own."""
    hole = sheet.document.blocks.new("HOLE", base_point=(1, 1))
    hole.add_circle((1, 1), 5)
    hole.add_line((0, 0), (30, 40), {"layer": "AXES"})
    return sheet


def test_layer_0_inherits_and_other_layers_do_not(hole: Sheet) -> None:
    hole.model.add_blockref("HOLE", (100, 50), dxfattribs=hole.on)
    (circle,), (line,) = hole.read("EDGES").chains, hole.read("AXES").chains
    assert circle.length == pytest.approx(0.01 * math.pi)
    assert np.hypot(*(circle.points - [0.1, 0.05]).T) == pytest.approx(np.full(len(circle.points), 0.005))
    assert line.length == pytest.approx(0.05)


def test_layer_0_inherits_through_every_level(hole: Sheet) -> None:
    hole.document.blocks.new("PAIR").add_blockref("HOLE", (0, 0))
    hole.document.blocks.new("ROW").add_blockref("PAIR", (0, 0), dxfattribs={"layer": "ROWS"})
    hole.model.add_blockref("PAIR", (0, 0), dxfattribs=hole.on)
    hole.model.add_blockref("ROW", (0, 0), dxfattribs=hole.on)
    assert [len(hole.read(layer).chains) for layer in ("EDGES", "ROWS")] == [1, 1]


def test_an_even_scale_keeps_a_circle(hole: Sheet) -> None:
    hole.model.add_blockref("HOLE", (0, 0), dxfattribs={**hole.on, "xscale": 2.5, "yscale": 2.5, "rotation": 30})
    (circle,) = hole.read().chains
    assert (circle.length, circle.smallest_radius) == (pytest.approx(0.025 * math.pi), pytest.approx(0.0125))


def test_an_uneven_scale_makes_an_ellipse(hole: Sheet) -> None:
    """scipy.special.ellipe (library): half axes 15 and 5 mm."""
    hole.model.add_blockref("HOLE", (0, 0), dxfattribs={**hole.on, "xscale": 3, "rotation": 30})
    (circle,) = hole.read().chains
    assert circle.length == pytest.approx(4 * 0.015 * ellipe(1 - (5 / 15) ** 2), rel=1e-9)
    assert circle.smallest_radius == pytest.approx(0.005**2 / 0.015)


def test_bulges_under_an_uneven_scale(sheet: Sheet) -> None:
    """scipy.integrate.quad (library) over the half circle stretched threefold along its chord."""
    arch = [(0, 0, 0), (0, 10, -1), (10, 10, 0), (10, 0, 0)]
    sheet.document.blocks.new("ARCH").add_lwpolyline(arch, format="xyb", close=True)
    sheet.document.blocks.new("OLD ARCH").add_polyline2d(arch, format="xyb", close=True)
    for name, y in [("ARCH", 0), ("OLD ARCH", 100)]:
        sheet.model.add_blockref(name, (0, y), dxfattribs={**sheet.on, "xscale": 3})
    expected = quad(lambda t: math.hypot(15 * math.sin(t), 5 * math.cos(t)), 0, math.pi, epsabs=1e-12)[0] + 50
    light, old = sheet.read().chains
    for chain in (light, old):
        assert (chain.length, chain.closed, chain.sharp_corners) == (pytest.approx(expected * 1e-3, rel=1e-9), True, 2)


def test_a_turned_insert_inside_an_unevenly_scaled_one_is_sheared(sheet: Sheet) -> None:
    """The diagonal (10, 10) turned by 45 degrees points along y, and along y nothing is stretched."""
    sheet.document.blocks.new("DIAGONAL").add_line((0, 0), (10, 10))
    turned = {"layer": "TURNED", "rotation": 45}
    sheet.document.blocks.new("FRAME").add_blockref("DIAGONAL", (0, 0), dxfattribs=turned)
    sheet.model.add_blockref("FRAME", (0, 0), dxfattribs={**sheet.on, "xscale": 5})
    (chain,) = sheet.read("TURNED").chains
    assert chain.points == pytest.approx(np.array([(0, 0), (0, math.sqrt(200))]) * 1e-3, abs=1e-12)


def test_a_mirrored_insert_keeps_lengths_and_faces_the_other_way(sheet: Sheet) -> None:
    profile = sheet.document.blocks.new("PROFILE")
    profile.add_arc((10, 0), 5, 0, 90)
    profile.add_lwpolyline([(10, 5, math.tan(math.pi / 8)), (5, 0, 0)], format="xyb")
    sheet.model.add_blockref("PROFILE", (0, 0), dxfattribs={**sheet.on, "xscale": -1})
    (chain,) = sheet.read().chains
    assert (chain.length, chain.sharp_corners) == (pytest.approx(0.005 * math.pi), 0)
    assert np.hypot(*(chain.points - [-0.01, 0.0]).T) == pytest.approx(np.full(len(chain.points), 0.005))
    assert chain.points[:, 1].min() == pytest.approx(0.0, abs=1e-12)


def test_an_array_of_inserts(hole: Sheet) -> None:
    grid = {"row_count": 3, "column_count": 4, "row_spacing": 20, "column_spacing": 30}
    hole.model.add_blockref("HOLE", (0, 0), dxfattribs={**hole.on, **grid})
    edges = hole.read()
    assert len(edges.chains) == 12
    centres = sorted(tuple(np.round(chain.points[:-1].mean(axis=0) * 1e3, 6)) for chain in edges.chains)
    assert centres == sorted((30.0 * column, 20.0 * row) for row in range(3) for column in range(4))


def test_pieces_of_different_blocks_join(sheet: Sheet) -> None:
    sheet.document.blocks.new("SIDE").add_line((0, 0), (10, 0))
    for turn, place in [(0, (0, 0)), (90, (10, 0)), (180, (10, 10)), (270, (0, 10))]:
        sheet.model.add_blockref("SIDE", place, dxfattribs={**sheet.on, "rotation": turn})
    (chain,) = sheet.read().chains
    assert (chain.length, chain.closed, chain.sharp_corners) == (pytest.approx(0.04), True, 4)


def test_a_hidden_insert_is_told_and_not_opened(hole: Sheet) -> None:
    hole.model.add_line((0, 0), (10, 0), hole.on)
    hole.model.add_blockref("HOLE", (0, 0), dxfattribs={**hole.on, "invisible": 1})
    edges = hole.read()
    assert (len(edges.chains), dict(edges.skipped)) == (1, {"INSERT (hidden)": 1})


def test_an_insert_of_an_empty_block_draws_nothing(sheet: Sheet) -> None:
    sheet.document.blocks.new("EMPTY")
    sheet.model.add_line((0, 0), (10, 0), sheet.on)
    sheet.model.add_blockref("EMPTY", (0, 0), dxfattribs=sheet.on)
    assert not sheet.read().skipped


@pytest.mark.parametrize("layer", ["EDGES", "OTHER"])
def test_a_block_the_file_does_not_hold(sheet: Sheet, layer: str) -> None:
    """Even inserted on another layer it may hold entities of this one."""
    sheet.model.add_line((0, 0), (10, 0), sheet.on)
    sheet.model.add_blockref("BRACKET", (0, 0), dxfattribs={"layer": layer})
    with pytest.raises(GeometryError) as refused:
        sheet.read()
    (fault,) = refused.value.faults
    assert fault.given == "an insert of block 'BRACKET', which the file does not hold"
    assert "references bound" in fault.write


def test_a_hidden_insert_of_a_missing_block_does_no_harm(sheet: Sheet) -> None:
    sheet.model.add_line((0, 0), (10, 0), sheet.on)
    sheet.model.add_blockref("BRACKET", (0, 0), dxfattribs={"layer": "OTHER", "invisible": 1})
    assert not sheet.read().skipped


def test_a_reference_to_another_drawing(sheet: Sheet) -> None:
    sheet.document.add_xref_def("bracket.dxf", "BRACKET")
    sheet.model.add_blockref("BRACKET", (0, 0), dxfattribs=sheet.on)
    with pytest.raises(GeometryError, match="block 'BRACKET', which the file does not hold"):
        sheet.read()


def test_a_reference_on_another_layer_does_no_harm(sheet: Sheet) -> None:
    sheet.document.add_xref_def("border.dxf", "BORDER")
    sheet.model.add_line((0, 0), (10, 0), sheet.on)
    sheet.model.add_blockref("BORDER", (0, 0), dxfattribs={"layer": "FRAME"})
    assert len(sheet.read().chains) == 1


def test_a_block_that_holds_itself(sheet: Sheet) -> None:
    for outer, inner in [("A", "B"), ("B", "A")]:
        sheet.document.blocks.new(outer).add_blockref(inner, (1, 0))
    sheet.model.add_blockref("A", (0, 0), dxfattribs=sheet.on)
    with pytest.raises(GeometryError, match="block 'A', which holds itself"):
        sheet.read()


def test_blocks_that_multiply_beyond_reason(sheet: Sheet, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(block, "MOST_ENTITIES", 20_000)
    sheet.document.blocks.new("LEVEL 0").add_line((0, 0), (1, 0))
    for level in range(1, 9):
        nest = sheet.document.blocks.new(f"LEVEL {level}")
        for step in range(10):
            nest.add_blockref(f"LEVEL {level - 1}", (step, 0))
    sheet.model.add_blockref("LEVEL 8", (0, 0), dxfattribs=sheet.on)
    with pytest.raises(GeometryError, match="at most 20000 entities"):
        sheet.read()


def test_an_array_beyond_reason(hole: Sheet) -> None:
    grid = {"row_count": 30_000, "column_count": 30_000, "row_spacing": 1, "column_spacing": 1}
    hole.model.add_blockref("HOLE", (0, 0), dxfattribs={**hole.on, **grid})
    with pytest.raises(GeometryError, match="an array of 900000000 inserts of block 'HOLE'"):
        hole.read()
