"""Cutter and chip law of a feature under a cutter, from the cell and the reference tables."""

from __future__ import annotations

import numpy as np

from finishplan import physics
from finishplan.planning.edge_desk import CutterDesk
from finishplan.planning.ledger import describe
from finishplan.process.chip_law import AffineLaw, ChipLaw, PowerLaw
from finishplan.process.edge_conditions import Cutter
from finishplan.reference import Kienzle, Value


def chip_law(desk: CutterDesk) -> ChipLaw:
    """Force per chip section of the material under this cutter, half worn."""
    ledger, family, cutting = desk.ledger, desk.family, desk.workpiece.cutting
    if desk.tool.edge_radius is None:
        radius = ledger.looked_up("cutter.edge_radius", family.edge_radius, "fine length")
    else:
        radius = desk.cell_figure("cutter.edge_radius", desk.tool.edge_radius, "fine length", *desk.at, "edge_radius")
    ratio = ledger.looked_up("cutter.minimum_chip_ratio", family.minimum_chip_ratio, "number")
    thinnest = ledger.record(
        "chip_law.minimum_chip_thickness", physics.minimum_chip_thickness(radius, ratio), "fine length",
        f"share of the edge radius, {describe(family.minimum_chip_ratio)}",
    )  # fmt: skip
    wear = ledger.derived(
        "chip_law.wear_factor", (1 + family.wear_factor.value) / 2, "number",
        f"half-worn edge, between 1 and {describe(family.wear_factor)}",
    )  # fmt: skip
    if isinstance(cutting, Kienzle):
        rake = ledger.looked_up("cutter.effective_rake", family.effective_rake, "angle")
        at = ledger.looked_up("chip_law.reference_rake", cutting.reference_rake, "angle")
        factor = ledger.record(
            "chip_law.rake_factor", physics.rake_factor(rake, at), "number",
            f"from the effective rake, {describe(family.effective_rake)}",
        )  # fmt: skip
        return PowerLaw(
            _milled_kc11(desk, cutting.kc11),
            ledger.looked_up("chip_law.mc", cutting.mc, "number"),
            thinnest, factor, wear,
        )  # fmt: skip
    return AffineLaw(
        _own_force_factor(desk, "chip_law.slope", cutting.slope, "strength"),
        _own_force_factor(desk, "chip_law.intercept", cutting.intercept, "line force"),
        thinnest,
        wear,
    )


def _own_force_factor(desk: CutterDesk, field: str, entry: Value, quantity: str) -> np.float64:
    """A table's force coefficient, corrected by the factor the user has measured, if any."""
    factor = desk.loaded.job.part.cutting_force_factor
    if factor is None:
        return desk.ledger.looked_up(field, entry, quantity)
    text = f"{factor:g} ({desk.place('part', 'cutting_force_factor')}) x {describe(entry)}"
    return desk.ledger.derived(field, factor * entry.value, quantity, text)


def _milled_kc11(desk: CutterDesk, entry: Value) -> np.float64:
    """kc1.1 of the tables comes from turning; a milling chip is compressed more."""
    turned = _own_force_factor(desk, "chip_law.kc11_turning", entry, "strength")
    compression = desk.ledger.assumed("chip_law.compression", "chip_compression", "number")
    text = f"{float(compression):g} for the chip compression of milling x {describe(entry)}"
    return desk.ledger.derived("chip_law.kc11", float(turned * compression), "strength", text)


def cutter(desk: CutterDesk) -> Cutter:
    """The cutter as mounted, with the window of its family for the material."""
    tool, ledger, family = desk.tool, desk.ledger, desk.family
    window = family.window(desk.workpiece.group)
    at = desk.at
    diameter = desk.cell_figure("cutter.diameter", tool.diameter, "length", *at, "diameter")
    scale = min(tool.diameter, family.largest_scaled_diameter.value) / family.reference_diameter.value
    if tool.shank_diameter is None:
        bending = ledger.record(
            "cutter.bending_diameter", physics.fluted_diameter(diameter), "length", "0.8 of the cutting diameter"
        )
    else:
        bending = desk.cell_figure("cutter.bending_diameter", tool.shank_diameter, "length", *at, "shank_diameter")
    share = ledger.looked_up("cutter.width_share", family.width_share, "fraction")
    return Cutter(
        diameter=diameter,
        teeth=_teeth(desk, share),
        width_share=share,
        rated_speed=desk.cell_figure("cutter.rated_speed", tool.rated_speed, "rotation", *at, "rated_speed"),
        speed_low=ledger.looked_up("cutter.speed_low", window.speed_low, "surface speed"),
        speed_high=ledger.looked_up("cutter.speed_high", window.speed_high, "surface speed"),
        feed_high=ledger.derived(
            "cutter.feed_high", window.feed_high.value * scale, "fine length",
            f"scaled with the diameter from {describe(window.feed_high)}",
        ),
        force_ratio=ledger.looked_up("cutter.force_ratio", family.force_ratio, "number"),
        bending_diameter=bending,
        overhang=desk.cell_figure("cutter.overhang", tool.overhang, "length", *at, "overhang"),
        modulus=ledger.looked_up("cutter.modulus", family.youngs_modulus, "strength"),
    )  # fmt: skip


def _teeth(desk: CutterDesk, width_share: np.float64) -> np.float64:
    """Teeth that pass each place of the wall: the flutes, or fewer where notches break up their edges."""
    flutes = desk.cell_figure("cutter.teeth", desk.tool.teeth, "number", *desk.at, "teeth")
    if width_share == 1:
        return flutes
    text = f"flutes times the share of the width that one covers, {describe(desk.family.width_share)}"
    return desk.ledger.record("cutter.effective_teeth", physics.effective_teeth(flutes, width_share), "number", text)
