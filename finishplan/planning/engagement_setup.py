"""How the tool of a contour stands in the material, from job, cell and reference tables."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from finishplan import physics
from finishplan.geometry import departure
from finishplan.geometry.piece import COINCIDENT
from finishplan.planning.contour_cuts import Stock
from finishplan.planning.contour_desk import AbradedContourDesk, ContourDesk, TrimmingDesk
from finishplan.process.contour_engagement import Engagement, Milled, Sawn, Shank
from finishplan.process.edge_conditions import Cutter


class Stand(NamedTuple):
    """How a tool stands, and its own stiffness square to the wall [N/m]."""

    engagement: Engagement
    stiffness: np.float64


class _Blade(NamedTuple):
    """What a disc is: kerf, body and the room on each side of it [m], its modulus [Pa], friction at its side."""

    kerf: np.float64
    body: np.float64
    side_play: np.float64
    modulus: np.float64
    friction: np.float64


def cutter_stand(desk: ContourDesk, cutter: Cutter, stock: Stock) -> Stand:
    """A saw blade on edge, or any other cutter on its axis."""
    if desk.family.is_disc:
        return _on_edge(desk, cutter.diameter, _saw_blade(desk, cutter), stock)
    return _on_axis(desk, cutter.diameter, _fluted_shank(desk, cutter), stock)


def abrasive_stand(desk: AbradedContourDesk, diameter: np.float64, stock: Stock) -> Stand:
    """A cut-off wheel on edge, or a grit router on its axis."""
    if desk.family.is_disc:
        return _on_edge(desk, diameter, _wheel(desk), stock)
    return _on_axis(desk, diameter, _grit_shank(desk, diameter), stock)


def _on_axis(desk: TrimmingDesk, diameter: np.float64, shank: Shank, stock: Stock) -> Stand:
    stiffness = physics.cantilever_stiffness(shank.overhang, shank.bending_diameter, shank.modulus)
    text = "bending of the tool out of its holder"
    return Stand(
        Milled(_radial_depth(desk, stock, diameter), shank),
        desk.ledger.record("arm.tool_stiffness", stiffness, "stiffness", text),
    )


def _radial_depth(desk: TrimmingDesk, stock: Stock, diameter: np.float64) -> np.float64:
    """The stock, or the whole diameter in a slot."""
    if stock.width is not None and stock.width < diameter:
        return stock.width
    return desk.ledger.derived("contour.radial_depth", float(diameter), "length", "full slot of the tool's diameter")


def _fluted_shank(desk: ContourDesk, cutter: Cutter) -> Shank:
    """The cutter as it bends: with its shank, or with its flutes where they are the thinner part."""
    fluted, bending = physics.fluted_diameter(cutter.diameter), cutter.bending_diameter
    if fluted < bending:
        text = "0.8 of the cutting diameter, thinner than the shank"
        bending = desk.ledger.record("cutter.bending_diameter", fluted, "length", text)
    return Shank(cutter.overhang, bending, cutter.modulus, _allowed_stress(desk), _cutting_length(desk))


def _grit_shank(desk: AbradedContourDesk, diameter: np.float64) -> Shank:
    """A grit router as it bends: its body is round, as thick as the tool where no shank is stated."""
    ledger, entry, modulus = desk.ledger, desk.abrasive, desk.family.youngs_modulus
    assert entry.overhang is not None
    assert entry.width is not None
    assert modulus is not None
    shank = entry.shank_diameter
    return Shank(
        overhang=desk.cell_figure("shank.overhang", entry.overhang, "length", *desk.at, "overhang"),
        bending_diameter=diameter
        if shank is None or shank > diameter
        else desk.cell_figure("shank.bending_diameter", shank, "length", *desk.at, "shank_diameter"),
        modulus=ledger.looked_up("shank.modulus", modulus, "strength"),
        allowed_stress=_allowed_stress(desk),
        cutting_length=desk.cell_figure("shank.cutting_length", entry.width, "length", *desk.at, "width"),
    )


def _allowed_stress(desk: TrimmingDesk) -> np.float64:
    rupture = desk.ledger.assumed("shank.rupture", "transverse_rupture_strength", "strength")
    factor = desk.ledger.assumed("shank.factor", "breakage_factor", "number")
    text = "bending strength of the tool over the factor against breakage, both assumed"
    return desk.ledger.derived("shank.allowed_stress", float(rupture / factor), "strength", text)


def _cutting_length(desk: ContourDesk) -> np.float64:
    ledger, tool = desk.ledger, desk.tool
    if tool.cutting_length is not None:
        return desk.cell_figure("shank.cutting_length", tool.cutting_length, "length", *desk.at, "cutting_length")
    ratio = ledger.assumed("shank.cutting_length_ratio", "cutting_length_ratio", "number")
    reach = min(float(ratio) * tool.diameter, tool.overhang)
    return ledger.derived("shank.cutting_length", reach, "length", f"{float(ratio):g} diameters, within the overhang")


def _saw_blade(desk: ContourDesk, cutter: Cutter) -> _Blade:
    ledger, tool = desk.ledger, desk.tool
    assert tool.kerf is not None
    assert tool.body_thickness is not None
    return _Blade(
        kerf=desk.cell_figure("disc.kerf", tool.kerf, "length", *desk.at, "kerf"),
        body=desk.cell_figure("disc.body_thickness", tool.body_thickness, "length", *desk.at, "body_thickness"),
        side_play=ledger.derived(
            "disc.side_play",
            (tool.kerf - tool.body_thickness) / 2,
            "length",
            "half of what the kerf is wider than the body",
        ),
        modulus=cutter.modulus,
        friction=ledger.assumed("disc.friction", "blade_side_friction", "number"),
    )


def _wheel(desk: AbradedContourDesk) -> _Blade:
    ledger, entry, modulus = desk.ledger, desk.abrasive, desk.family.youngs_modulus
    assert entry.width is not None
    assert modulus is not None
    kerf = desk.cell_figure("disc.kerf", entry.width, "length", *desk.at, "width")
    play = ledger.assumed("disc.side_play", "wheel_side_play", "length")
    body = kerf
    if entry.body_thickness is not None:
        body = desk.cell_figure("disc.body_thickness", entry.body_thickness, "length", *desk.at, "body_thickness")
        text = "half of what the rim is wider than the body, or the run-out assumed where that is more"
        play = ledger.derived("disc.side_play", max(float(kerf - body) / 2, float(play)), "length", text)
    return _Blade(
        kerf=kerf,
        body=body,
        side_play=play,
        modulus=ledger.looked_up("disc.modulus", modulus, "strength"),
        friction=ledger.looked_up("disc.friction", desk.family.force_ratio_on(desk.group), "number"),
    )


def _on_edge(desk: TrimmingDesk, diameter: np.float64, blade: _Blade, stock: Stock) -> Stand:
    ledger, contour = desk.ledger, desk.contour
    clamped = _clamped_share(desk, diameter)
    protrusion = desk.figure_or_default(
        "disc.protrusion", contour.protrusion, "length", ("protrusion",), "blade_protrusion"
    )
    depth = ledger.derived(
        "disc.depth", contour.thickness + float(protrusion), "length", "thickness and what the disc comes out beyond it"
    )
    stiffness = physics.rim_stiffness(diameter, clamped, blade.body, blade.modulus)
    disc = Sawn(
        kerf=blade.kerf,
        width=blade.kerf if stock.width is None or stock.width > blade.kerf else stock.width,
        protrusion=protrusion,
        out=np.float64(0.0),
        depth=depth,
        reach=ledger.derived(
            "disc.reach", float(diameter * (1 - clamped)) / 2, "length", "from the flanges to the rim of the disc"
        ),
        overcut=_overcut(desk, diameter, depth),
        side_play=blade.side_play,
        side_force_share=ledger.assumed("disc.side_force_share", "blade_side_force", "number"),
        rubbing_force=ledger.assumed("disc.rubbing_force", "blade_rubbing_force", "force"),
        side_friction=blade.friction,
    )
    return Stand(disc, ledger.record("arm.tool_stiffness", stiffness, "stiffness", "rim of the disc, sideways"))


def _clamped_share(desk: TrimmingDesk, diameter: np.float64) -> np.float64:
    flange = desk.entry.flange_diameter
    if flange is None:
        return desk.ledger.assumed("disc.clamped_share", "flange_share", "number")
    place = desk.place("cell", *desk.at, "flange_diameter")
    return desk.ledger.derived(
        "disc.clamped_share", flange / float(diameter), "number", f"flange over diameter, {place}"
    )


def _overcut(desk: TrimmingDesk, diameter: np.float64, depth: np.float64) -> np.float64:
    """What the chord of the disc takes off the outside of the tightest curve [m]."""
    reach = float(physics.disc_chord(diameter, np.minimum(depth, diameter / 2))) / 2
    bent = max((departure(run, reach) for run in desk.course.runs), default=0.0)
    # what is drawn straight departs from a straight line by the last digits of its points
    bent = bent if bent > COINCIDENT else 0.0
    text = "most that the drawn path departs from a straight line as long as the disc in it"
    return desk.ledger.derived("disc.overcut", bent, "length", text)
