"""Draw the DXF files of the examples. The parts are invented.

Run ``python examples/draw_drawings.py`` to draw them again beside this script.
"""

from __future__ import annotations

from pathlib import Path

import ezdxf
from ezdxf.layouts import Modelspace

HERE = Path(__file__).parent
ROUND_QUARTER = 0.41421356237309503
"""Bulge of a quarter circle, tan(90/4 degrees)."""


def rounded_rectangle(
    space: Modelspace, layer: str, corner: tuple[float, float], size: tuple[float, float], radius: float
) -> None:
    """A closed polyline with quarter-circle corners."""
    (left, bottom), (width, height) = corner, size
    right, top = left + width, bottom + height
    points = [
        (left + radius, bottom, 0), (right - radius, bottom, ROUND_QUARTER),
        (right, bottom + radius, 0), (right, top - radius, ROUND_QUARTER),
        (right - radius, top, 0), (left + radius, top, ROUND_QUARTER),
        (left, top - radius, 0), (left, bottom + radius, ROUND_QUARTER),
    ]  # fmt: skip
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": layer})


def cast_cover() -> None:
    """Cast aluminium cover, 320 x 220 mm: flange rim, two ports, a kidney-shaped pocket, a ribbed seat."""
    drawing = ezdxf.new("R2010", units=4)
    space = drawing.modelspace()
    rounded_rectangle(space, "RIM", (0, 0), (320, 220), 25)
    for x in (90, 230):
        space.add_circle((x, 150), 28, dxfattribs={"layer": "PORTS"})
    fit_points = [(80, 60), (120, 90), (200, 90), (240, 60), (200, 42), (120, 42), (80, 60)]
    space.add_spline(fit_points, dxfattribs={"layer": "POCKET"})
    space.add_line((20, 110), (120, 110), dxfattribs={"layer": "SEAT"})
    space.add_arc((120, 122), 12, 270, 360, dxfattribs={"layer": "SEAT"})
    space.add_line((132, 122), (132, 200), dxfattribs={"layer": "SEAT"})
    space.add_text("COVER", height=8, dxfattribs={"layer": "SEAT"}).set_placement((150, 200))
    drawing.saveas(HERE / "cast_cover.dxf")


def steel_bracket() -> None:
    """Milled steel bracket, 240 x 120 mm: outline with sharp corners, a slot, two bores."""
    drawing = ezdxf.new("R2010", units=4)
    space = drawing.modelspace()
    outline = [(0, 0), (240, 0), (240, 60), (180, 120), (0, 120)]
    space.add_lwpolyline(outline, close=True, dxfattribs={"layer": "OUTLINE"})
    rounded_rectangle(space, "SLOT", (60, 45), (90, 24), 12)
    for x in (30, 200):
        space.add_circle((x, 30), 11, dxfattribs={"layer": "BORES"})
    drawing.saveas(HERE / "steel_bracket.dxf")


def stainless_cover() -> None:
    """Stainless cover, 420 x 280 mm, with a cut-out for a screen."""
    drawing = ezdxf.new("R2010", units=4)
    space = drawing.modelspace()
    rounded_rectangle(space, "TOP", (0, 0), (420, 280), 20)
    rounded_rectangle(space, "TOP", (140, 90), (140, 100), 10)
    drawing.saveas(HERE / "stainless_cover.dxf")


def hardwood_seat() -> None:
    """Seat blank, about 430 x 400 mm, narrower at the back."""
    drawing = ezdxf.new("R2010", units=4)
    outline = [(0, 0, 0.06), (430, 0, 0), (430, 120, 0.12), (370, 400, 0.05), (60, 400, 0.12), (0, 120, 0)]
    drawing.modelspace().add_lwpolyline(outline, format="xyb", close=True, dxfattribs={"layer": "SEAT"})
    drawing.saveas(HERE / "hardwood_seat.dxf")


def gfrp_fender() -> None:
    """Fender of glass-fibre laminate: open lower edge, wheel arch, and a closed slot for a lamp."""
    drawing = ezdxf.new("R2010", units=4)
    space = drawing.modelspace()
    rim = [(0, 0, 0), (180, 0, -0.55), (620, 0, 0), (820, 0, 0.1), (860, 240, 0.12), (420, 400, 0.1), (40, 300, 0.05)]
    space.add_lwpolyline(rim, format="xyb", close=True, dxfattribs={"layer": "RIM"})
    rounded_rectangle(space, "LAMP", (640, 150), (130, 70), 25)
    drawing.saveas(HERE / "gfrp_fender.dxf")


def chair_shell() -> None:
    """Shell of a chair, seat and back in one piece, laid flat: waisted outline and a grip hole, and the face."""
    drawing = ezdxf.new("R2010", units=4)
    space = drawing.modelspace()
    outline = [
        (60, 0, 0), (400, 0, 0.3), (450, 60, 0.05), (440, 380, -0.1), (420, 560, 0.08),
        (410, 820, 0.35), (330, 900, 0), (130, 900, 0.35), (50, 820, 0.08),
        (40, 560, -0.1), (20, 380, 0.05), (10, 60, 0.3),
    ]  # fmt: skip
    for contour, hole in (("OUTLINE", "GRIP"), ("FACE", "FACE")):
        space.add_lwpolyline(outline, format="xyb", close=True, dxfattribs={"layer": contour})
        rounded_rectangle(space, hole, (170, 800), (120, 35), 17)
    drawing.saveas(HERE / "chair_shell.dxf")


def gfrp_panel() -> None:
    """Panel of glass-fibre laminate, 1800 x 900 mm, one corner cut off and one long side slightly bowed; a hatch."""
    drawing = ezdxf.new("R2010", units=4)
    space = drawing.modelspace()
    outline = [(0, 0, 0), (1800, 0, 0), (1800, 700, 0), (1600, 900, 0.02), (0, 900, 0)]
    space.add_lwpolyline(outline, format="xyb", close=True, dxfattribs={"layer": "OUTLINE"})
    rounded_rectangle(space, "HATCH", (300, 250), (420, 300), 30)
    drawing.saveas(HERE / "gfrp_panel.dxf")


if __name__ == "__main__":
    # no dates and no random identifiers, so that drawing again changes nothing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    cast_cover()
    steel_bracket()
    stainless_cover()
    hardwood_seat()
    gfrp_fender()
    chair_shell()
    gfrp_panel()
