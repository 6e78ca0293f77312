"""Drawings that cannot be used: one clear message each, all faults at once, never a traceback."""

from __future__ import annotations

import logging
import math
import os
import random
import re
from contextlib import suppress
from pathlib import Path
from typing import Any, TypeAlias

import ezdxf
import numpy as np
import pytest

from finishplan.errors import Fault, GeometryError
from finishplan.geometry import drawing_file
from finishplan.geometry.drawing import read_chains

Sheet: TypeAlias = Any
"""The sheet of conftest.py."""


def faults(path: Path, layer: str = "EDGES", unit: str | None = None) -> tuple[Fault, ...]:
    with pytest.raises(GeometryError) as refused:
        read_chains(path, layer, unit, "drawings/part.dxf")
    assert all(fault.file == "drawings/part.dxf" for fault in refused.value.faults)
    return refused.value.faults


def fault(path: Path, layer: str = "EDGES", unit: str | None = None) -> Fault:
    (found,) = faults(path, layer, unit)
    return found


@pytest.fixture
def plate(sheet: Sheet) -> Sheet:
    """A drawing with edges on two layers, notes on a third and an empty fourth."""
    sheet.document.layers.add("EMPTY")
    for x in range(3):
        sheet.model.add_line((x, 0), (x, 10), sheet.on)
    sheet.model.add_circle((50, 50), 5, dxfattribs={"layer": "HOLES"})
    sheet.model.add_text("part 1", dxfattribs={"layer": "NOTES"})
    sheet.model.add_mtext("deburr", dxfattribs={"layer": "NOTES"})
    return sheet


def test_a_missing_file(tmp_path: Path) -> None:
    found = fault(tmp_path / "none.dxf")
    assert str(found) == (
        "drawings/part.dxf: drawing: given no such file; wanted a DXF file, text or binary; "
        "write the path from the job file to it"
    )


def test_a_folder(tmp_path: Path) -> None:
    assert fault(tmp_path).given == "a folder or device"


def test_an_impossible_path(tmp_path: Path) -> None:
    assert "too long" in fault(tmp_path / ("x" * 5000)).given
    assert fault(tmp_path / "part\0.dxf").given == "a path that cannot be read"


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "part.dxf")
    assert fault(tmp_path / "part.dxf").given == "a folder or device"


def test_a_drawing_without_model_space(plate: Sheet) -> None:
    text = plate.save().read_text()
    assert text.count("  3\nModel\n") == 1
    plate.path.write_text(text.replace("  3\nModel\n", "  3\nOther\n"))
    assert fault(plate.path).given == "a damaged file (KeyError while reading)"


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"solid plate\nfacet normal 0 0 1\n",
        b"%PDF-1.7\n",
        b"\0" * 5_000_000,
        random.Random(1).randbytes(5_000_000),
    ],
    ids=["empty", "mesh", "document", "zeros", "noise"],
)
def test_what_is_no_drawing_is_told(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "part.dxf"
    path.write_bytes(content)
    found = fault(path)
    assert (found.given, found.wanted) == ("a file that is not DXF", "a DXF file, text or binary")


@pytest.mark.parametrize(
    "content",
    [b"0\nSECTION\n" + random.Random(2).randbytes(5_000_000), b"0\nSECTION\n2\nHEADER\n" + b"0\n" * 2_500_000],
    ids=["noise", "zeros"],
)
def test_nonsense_that_starts_like_a_drawing(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "part.dxf"
    path.write_bytes(content)
    found = fault(path)
    assert found.given.startswith("a damaged")
    assert found.wanted == "a complete DXF file"
    assert str(found).isprintable()


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9, 0.95])
def test_a_drawing_cut_off_anywhere_is_never_read_in_part(plate: Sheet, share: float) -> None:
    content = plate.save().read_bytes()
    plate.path.write_bytes(content[: int(len(content) * share)])
    found = fault(plate.path)
    assert found.given.startswith("a damaged")
    assert found.write == "the drawing anew as DXF"


def test_a_drawing_too_large(plate: Sheet, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(drawing_file, "LARGEST_FILE", 10_000)
    found = fault(plate.save())
    assert (found.wanted, found.write) == ("at most 0 MB", "a drawing that holds the edges alone")


def test_the_limit_of_size_is_a_hundred_megabytes(tmp_path: Path) -> None:
    path = tmp_path / "part.dxf"
    with path.open("wb") as file:
        file.truncate(100_000_001)
    found = fault(path)
    assert (found.given, found.wanted) == ("100 MB", "at most 100 MB")


def test_a_missing_layer_names_the_layers_there_are(plate: Sheet) -> None:
    found = fault(plate.save(), layer="EDGE")
    assert found.key == "layer"
    assert found.given == '"EDGE", which the drawing does not have'
    assert found.wanted.endswith(": EDGES (3), HOLES (1), 0 (0), Defpoints (0), EMPTY (0), NOTES (0)")
    assert found.write == 'layer = "EDGES"'


def test_a_layer_like_no_other_gets_the_fullest_as_a_suggestion(plate: Sheet) -> None:
    assert fault(plate.save(), layer="zzz").write == 'layer = "EDGES"'
    assert fault(plate.path, layer="").write == 'layer = "EDGES"'


def test_many_layers_are_counted_rather_than_listed(plate: Sheet) -> None:
    for index in range(60):
        plate.document.layers.add(f"LAYER {index}")
    assert fault(plate.save(), layer="X").wanted.endswith(" and 46 more")


def test_a_layer_of_text_alone(plate: Sheet) -> None:
    found = fault(plate.save(), layer="NOTES")
    assert found.given == '"NOTES", which holds 1 MTEXT, 1 TEXT'
    assert "lines, arcs, circles" in found.wanted


def test_a_layer_that_stands_empty(plate: Sheet) -> None:
    assert fault(plate.save(), layer="EMPTY").given == '"EMPTY", which holds nothing'


def test_an_empty_drawing(sheet: Sheet) -> None:
    found = fault(sheet.save())
    assert found.given == "nothing"
    assert found.wanted.endswith("in model space")


def test_a_drawing_of_text_alone(sheet: Sheet) -> None:
    sheet.model.add_text("nothing to see", dxfattribs=sheet.on)
    assert fault(sheet.save()).given == "1 TEXT"


def test_no_unit_anywhere(plate: Sheet) -> None:
    plate.document.header["$INSUNITS"] = 0
    found = fault(plate.save())
    assert found.key == "drawing_unit"
    assert found.given == "a drawing that names no unit ($INSUNITS is 0 or missing)"
    assert found.write == 'drawing_unit = "mm"'


def test_an_old_drawing_names_no_unit(plate: Sheet) -> None:
    plate.document.dxfversion = "R12"
    assert fault(plate.save()).write == 'drawing_unit = "mm"'


def test_job_and_drawing_contradict_each_other(plate: Sheet) -> None:
    plate.document.header["$INSUNITS"] = 1
    found = fault(plate.save(), unit="mm")
    assert found.given == 'drawing_unit = "mm" in the job and $INSUNITS = 1 (in) in the drawing'
    assert found.write.startswith('drawing_unit = "in"')


@pytest.mark.parametrize("unit", [None, "mm"])
def test_a_header_in_a_unit_no_part_is_drawn_in(plate: Sheet, unit: str | None) -> None:
    """Code 3 of $INSUNITS is the mile; the job's word does not overrule it."""
    plate.document.header["$INSUNITS"] = 3
    found = fault(plate.save(), unit=unit)
    assert (found.given, found.wanted) == ("$INSUNITS = 3 in the drawing", "a drawing in one of in, ft, mm, cm, m")


def test_an_unknown_unit(plate: Sheet) -> None:
    assert fault(plate.save(), unit="yd").given == "'yd'"


def test_unit_and_layer_are_told_together(plate: Sheet) -> None:
    plate.document.header["$INSUNITS"] = 0
    assert [found.key for found in faults(plate.save(), layer="EDGE")] == ["drawing_unit", "layer"]


def test_entities_of_zero_length_are_all_named(plate: Sheet) -> None:
    line = plate.model.add_line((5, 5), (5, 5), plate.on)
    circle = plate.model.add_circle((5, 5), 0, dxfattribs=plate.on)
    polyline = plate.model.add_lwpolyline([(7, 7), (7, 7)], close=True, dxfattribs=plate.on)
    old = plate.model.add_polyline2d([], dxfattribs=plate.on)
    found = faults(plate.save())
    assert [one.key for one in found] == [
        f"layer 'EDGES', {kind} #{entity.dxf.handle}"
        for kind, entity in [
            ("LINE", line),
            ("CIRCLE", circle),
            ("LWPOLYLINE", polyline),
            ("POLYLINE", old),
        ]
    ]
    assert {one.given for one in found} == {"an entity of zero length"}


def test_a_faulty_entity_in_a_block_is_found_by_its_block(plate: Sheet) -> None:
    plate.document.blocks.new("HOLE").add_line((1, 1), (1, 1))
    plate.model.add_blockref("HOLE", (0, 0), dxfattribs=plate.on)
    assert fault(plate.save()).key.endswith("in block 'HOLE'")


def test_faults_beyond_twenty_are_counted(plate: Sheet) -> None:
    for index in range(25):
        plate.model.add_line((index, 5), (index, 5), plate.on)
    found = faults(plate.save())
    assert len(found) == 21
    assert found[-1].given == "5 more faulty entities"


@pytest.mark.parametrize(
    ("draw", "given"),
    [
        (lambda model, on: model.add_line((0, 0), (math.nan, 1), on), "not a finite number"),
        (lambda model, on: model.add_line((0, 0), (1, 0, math.nan), on), "not a finite number"),
        (lambda model, on: model.add_line((0, 0), (1e30, 1), on), "1e+27 m"),
        (lambda model, on: model.add_circle((math.inf, 0), 1, dxfattribs=on), "not a finite number"),
        (lambda model, on: model.add_circle((0, 0), 1e12, dxfattribs=on), "1e+09 m"),
        (lambda model, on: model.add_circle((0, 0), -5, dxfattribs=on), "a radius of -5"),
        (lambda model, on: model.add_arc((0, 0), 5, 0, math.nan, dxfattribs=on), "not a finite number"),
        (lambda model, on: model.add_ellipse((0, 0), (math.nan, 1), dxfattribs=on), "not a finite number"),
        (lambda model, on: model.add_lwpolyline([(0, 0), (0, math.inf)], dxfattribs=on), "not a finite number"),
        (lambda model, on: model.add_lwpolyline([(0, 0, math.nan), (1, 0, 0)], "xyb", dxfattribs=on), "bulge"),
        (lambda model, on: model.add_polyline3d([(0, 0), (math.nan, 1)], dxfattribs=on), "not a finite number"),
        (lambda model, on: model.add_spline([(0, 0), (0, 0), (0, 0)], dxfattribs=on), "a spline that cannot be drawn"),
        (lambda model, on: model.add_open_spline([(0, 0), (math.nan, 1), (2, 0), (3, 0)], dxfattribs=on), "finite"),
        (lambda model, on: model.add_circle((0, 0), 5, dxfattribs={**on, "extrusion": (0, 1, 1)}), "a tilted plane"),
    ],
)
def test_entities_that_are_no_edges(plate: Sheet, draw: object, given: str) -> None:
    assert callable(draw)
    draw(plate.model, plate.on)
    assert given in fault(plate.save()).given


@pytest.mark.parametrize(
    ("tags", "left_out", "kind"),
    [(" 40\n5.0\n", "radius", "CIRCLE"), (" 11\n3.5\n 21\n4.5\n 31\n0.0\n", "end", "LINE")],
)
def test_data_left_out_is_not_made_up(sheet: Sheet, tags: str, left_out: str, kind: str) -> None:
    sheet.model.add_circle((50, 50), 5, dxfattribs=sheet.on)
    sheet.model.add_line((0, 0), (3.5, 4.5), sheet.on)
    text = sheet.save().read_text()
    head, entities = text.split("ENTITIES\n", 1)
    assert entities.count(tags) == 1
    sheet.path.write_text(f"{head}ENTITIES\n{entities.replace(tags, '')}")
    assert fault(sheet.path).given == f"{kind} without {left_out}"


def test_a_polyline_without_vertices_has_no_length(sheet: Sheet) -> None:
    sheet.model.add_lwpolyline([(3.5, 4.5)], format="xy", dxfattribs=sheet.on)
    text, count = re.subn(r" 10\n3\.5\n 20\n4\.5\n", "", sheet.save().read_text())
    assert count == 1
    sheet.path.write_text(text)
    assert fault(sheet.path).given == "an entity of zero length"


def test_a_vertex_left_out_is_not_made_up(sheet: Sheet) -> None:
    sheet.model.add_polyline2d([(0, 0), (3.5, 4.5), (8, 0)], dxfattribs=sheet.on)
    text = sheet.save().read_text()
    tags = " 10\n3.5\n 20\n4.5\n 30\n0.0\n"
    assert text.count(tags) == 1
    sheet.path.write_text(text.replace(tags, ""))
    assert fault(sheet.path).given == "VERTEX without location"


def test_edges_at_several_heights(plate: Sheet) -> None:
    plate.model.add_line((0, 0, 0), (0, 0, 25), plate.on)
    found = fault(plate.save())
    assert found.key == "layer 'EDGES'"
    assert found.given == "heights z from 0 to 25 mm"
    assert "one layer for each height" in found.write


def test_a_tilted_ellipse_is_not_flat(plate: Sheet) -> None:
    plate.model.add_ellipse((0, 0), (30, 0, 40), 0.5, dxfattribs=plate.on)
    assert fault(plate.save()).given == "heights z from -40 to 40 mm"


def test_an_entity_of_unknown_type_is_told_as_skipped(plate: Sheet) -> None:
    text = plate.save().read_text().replace("\nMTEXT\n", "\nGUSSET\n").replace("NOTES", "EDGES")
    plate.path.write_text(text)
    assert dict(read_chains(plate.path, "EDGES", None, "part.dxf").skipped) == {"GUSSET": 1, "TEXT": 1}


def test_what_the_library_remarks_is_handed_on_and_not_printed(
    plate: Sheet, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    path = plate.save()
    stray = "  0\nLINE\n  8\nEDGES\n  0\nSECTION\n  2\nOBJECTS\n"
    text = path.read_text().replace("  0\nSECTION\n  2\nOBJECTS\n", stray)
    path.write_text(text.replace("  0\nSECTION\n  2\nENTITIES\n", stray.replace("OBJECTS", "ENTITIES")))
    logger = logging.getLogger("ezdxf")
    for level in (logging.ERROR, logging.DEBUG):
        with caplog.at_level(level, logger="ezdxf"):
            before = list(logger.handlers)
            (remark,) = read_chains(path, "EDGES", None, "part.dxf").remarks
            fault(path, layer="EDGE")
            assert "outside a SECTION" in remark
            assert (logger.level, logger.propagate, logger.handlers) == (level, True, before)
    assert (caplog.records, capfd.readouterr()) == ([], ("", ""))


def test_a_sound_drawing_draws_no_remark(plate: Sheet) -> None:
    assert not ezdxf.readfile(plate.save()).audit().has_errors
    edges = read_chains(plate.path, "EDGES", None, "part.dxf")
    assert (len(edges.chains), edges.remarks) == (3, ())


def test_whatever_is_changed_in_a_drawing_is_answered(plate: Sheet) -> None:
    """400 drawings with values changed at random: edges of sound length or a fault, and nothing else."""
    hole = plate.document.blocks.new("HOLE")
    hole.add_arc((0, 0), 5, 0, 90)
    hole.add_lwpolyline([(0, 0, 0.5), (1, 1, 0)], format="xyb")
    plate.model.add_blockref("HOLE", (5, 5), dxfattribs={**plate.on, "xscale": 2, "rotation": 30})
    plate.model.add_ellipse((0, 0), (3, 1), 0.4, 0, 2, dxfattribs=plate.on)
    plate.model.add_spline([(0, 0), (1, 2), (3, 1)], dxfattribs=plate.on)
    plate.model.add_open_spline([(0, 0), (1, 2), (3, 1), (5, 5), (6, 0)], dxfattribs=plate.on)
    plate.model.add_polyline2d([(0, 0, 0.3), (1, 0, 0)], format="xyb", dxfattribs=plate.on)
    lines = plate.save().read_text().split("\n")
    start = lines.index("BLOCKS") // 2
    generator = random.Random(3)
    values = ["nan", "inf", "-1", "0", "1e308", "1e30", "1e-300", "-5.5", "1e6", "99999", "16", "", "x"]
    sound = 0
    for _ in range(400):
        changed = list(lines)
        for _ in range(generator.choice([1, 2, 5])):
            changed[2 * generator.randrange(start, len(lines) // 2) + 1] = generator.choice(values)
        plate.path.write_text("\n".join(changed))
        with suppress(GeometryError):
            chains = read_chains(plate.path, "EDGES", None, "part.dxf").chains
            assert all(0 < chain.length < math.inf and np.isfinite(chain.points).all() for chain in chains)
            sound += 1
    assert 20 < sound < 380
