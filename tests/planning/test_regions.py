"""Regions of surfaces: drawn, with holes, by two sides or by area; faults at the job's line."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import ezdxf
import numpy as np
import pytest

from finishplan.errors import JobError
from finishplan.job import LoadedJob
from finishplan.planning.plan import make_plan
from finishplan.planning.regions import surface_region
from finishplan.planning.surface_feature import surface_features

Sanding = Callable[..., LoadedJob]
SIDES = 'length = "600 mm"\nwidth = "400 mm"'
DRAWN = (SIDES, 'drawing = "face.dxf"\nlayer = "FACE"')
WITH_HOLES = (SIDES, 'drawing = "face.dxf"\nlayer = "FACE"\nholes_layer = "HOLES"')
PANEL = [(0, 0), (600, 0), (600, 400), (0, 400)]

Outlines = dict[str, list[Sequence[tuple[float, float]]]]


def draw(folder: Path, outlines: Outlines, *, closed: bool = True) -> None:
    drawing = ezdxf.new(units=4)
    for layer, runs in outlines.items():
        drawing.layers.add(layer)
        for run in runs:
            drawing.modelspace().add_lwpolyline(run, close=closed, dxfattribs={"layer": layer})
    drawing.saveas(folder / "face.dxf")


def box(x: float, y: float, width: float, height: float) -> list[tuple[float, float]]:
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


class TestAreas:
    def test_two_sides(self, panel: LoadedJob) -> None:
        region, notes = surface_region(panel, 0)
        assert region.area == pytest.approx(0.24, rel=1e-12)
        assert region.shape.bounds == pytest.approx((0, 0, 0.6, 0.4))
        assert notes == ()

    def test_an_area_alone_is_worked_out_on_a_square_and_said_so(self, sanding: Sanding) -> None:
        region, notes = surface_region(sanding(job=[(SIDES, 'area = "0.25 m2"')]), 0)
        assert region.shape.bounds == pytest.approx((0, 0, 0.5, 0.5))
        assert "square" in notes[0]

    def test_outlines_inside_outlines_are_holes_and_islands(self, sanding: Sanding, tmp_path: Path) -> None:
        draw(tmp_path, {"FACE": [PANEL, box(100, 100, 300, 200), box(150, 150, 50, 50)]})
        region, _ = surface_region(sanding(job=[DRAWN]), 0)
        assert region.area == pytest.approx(0.24 - 0.06 + 0.0025, rel=1e-9)

    def test_holes_on_a_layer_of_their_own(self, sanding: Sanding, tmp_path: Path) -> None:
        draw(tmp_path, {"FACE": [PANEL], "HOLES": [box(100, 100, 100, 100), box(400, 200, 50, 100)]})
        assert surface_region(sanding(job=[DRAWN]), 0)[0].area == pytest.approx(0.24, rel=1e-9)
        assert surface_region(sanding(job=[WITH_HOLES]), 0)[0].area == pytest.approx(0.24 - 0.015, rel=1e-9)

    def test_a_round_hole(self, sanding: Sanding, tmp_path: Path) -> None:
        drawing = ezdxf.new(units=4)
        drawing.layers.add("FACE")
        drawing.modelspace().add_lwpolyline(PANEL, close=True, dxfattribs={"layer": "FACE"})
        drawing.modelspace().add_circle((300, 200), 100, dxfattribs={"layer": "FACE"})
        drawing.saveas(tmp_path / "face.dxf")
        region, _ = surface_region(sanding(job=[DRAWN]), 0)
        assert region.area == pytest.approx(0.24 - np.pi * 0.01, rel=1e-3)


FAULTY = [
    pytest.param({"FACE": [[(0, 0), (600, 400), (600, 0), (0, 400)]]}, DRAWN, "crosses itself", id="self-crossing"),
    pytest.param({"FACE": [PANEL, box(500, 300, 200, 200)]}, DRAWN, "cross or touch", id="two that cross"),
    pytest.param({"FACE": [PANEL], "HOLES": [box(700, 0, 50, 50)]}, WITH_HOLES, "outside every outline", id="hole"),
]


class TestFaults:
    @pytest.mark.parametrize(("outlines", "edit", "told"), FAULTY)
    def test_a_wrong_outline_is_placed_at_the_line_that_names_its_layer(
        self, sanding: Sanding, tmp_path: Path, outlines: Outlines, edit: tuple[str, str], told: str
    ) -> None:
        draw(tmp_path, outlines)
        loaded = sanding(job=[edit])
        with pytest.raises(JobError) as caught:
            surface_features(loaded)
        (fault,) = caught.value.faults
        assert told in fault.given
        written = (tmp_path / "sanding.toml").read_text().splitlines()
        assert written[fault.line - 1] == 'layer = "FACE"'
        assert Path(fault.file).name == "sanding.toml"
        assert 'surface "face"' in fault.key
        assert "face.dxf" in fault.key

    def test_an_open_outline_says_where_it_is_open(self, sanding: Sanding, tmp_path: Path) -> None:
        draw(tmp_path, {"FACE": [PANEL]}, closed=False)
        with pytest.raises(JobError, match=r"open run from \(0, 0\) mm to \(0, 400\) mm"):
            surface_features(sanding(job=[DRAWN]))

    def test_every_faulty_surface_is_told_at_once(self, sanding: Sanding, tmp_path: Path) -> None:
        draw(tmp_path, {"FACE": [[(0, 0), (600, 400), (600, 0), (0, 400)]], "HOLES": [[(0, 0), (1, 0)]]})
        second = (
            '\n[[surface]]\nname = "other"\ndrawing = "face.dxf"\nlayer = "HOLES"\n'
            'initial_roughness = "3 um"\ntarget_roughness = "2 um"\n'
        )
        with pytest.raises(JobError) as caught:
            surface_features(sanding(job=[DRAWN], more=second))
        assert [fault.key.partition(",")[0] for fault in caught.value.faults] == ['surface "face"', 'surface "other"']

    @pytest.mark.parametrize("small", [DRAWN, (SIDES, 'area = "36 cm2"')], ids=["drawn", "area"])
    def test_a_pad_that_fits_nowhere_is_placed_in_the_job(
        self, sanding: Sanding, tmp_path: Path, small: tuple[str, str]
    ) -> None:
        draw(tmp_path, {"FACE": [box(0, 0, 60, 60)]})
        with pytest.raises(JobError) as caught:
            make_plan(sanding(job=[small]))
        (fault,) = caught.value.faults
        assert "a pad of 150 mm" in fault.given
        assert "drawing" not in fault.key or small is DRAWN
        assert Path(fault.file).name == "sanding.toml"
        assert fault.line >= 12
