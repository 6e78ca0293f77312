"""From job, cell and reference tables to the conditions of one edge under one tool.

Every figure passes through the ledger, so that the plan can say of each where it came from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.job import Compliance, Edge, LoadedJob, Spindle, Tool
from finishplan.planning import mounting, tooling
from finishplan.planning.desk import Desk, open_desk
from finishplan.planning.ledger import Ledger
from finishplan.planning.scatter import coefficient_corners, scatter_corners
from finishplan.process.edge_conditions import CompliantMount, EdgeConditions, EdgeState, Rules
from finishplan.process.edge_cutting import Corner
from finishplan.reference import CutterFamily, Workpiece


@dataclass(frozen=True, eq=False)
class EdgeSetup:
    """One edge under one tool: who does it, and the conditions at every corner of the scatter."""

    edge: Edge
    tool: Tool
    spindle: Spindle
    device: Compliance | None
    corners: Mapping[Corner, EdgeConditions]
    coefficient_corners: Mapping[str, EdgeConditions]
    ledger: Ledger
    family: CutterFamily
    workpiece: Workpiece

    @property
    def nominal(self) -> EdgeConditions:
        return self.corners["nominal"]


def edge_setup(loaded: LoadedJob, index: int, tool: Tool) -> EdgeSetup:
    """Conditions of edge number `index` under a tool of the cell."""
    desk = open_desk(loaded, index, tool)
    edge, cutter, robot = _edge_state(desk), tooling.cutter(desk), tooling.robot(desk)
    nominal = EdgeConditions(
        edge=edge,
        chip_law=tooling.chip_law(desk),
        cutter=cutter,
        spindle=tooling.spindle(desk),
        mount=mounting.mount(desk, edge, cutter, robot),
        robot=robot,
        rules=_rules(desk),
    )
    nominal = _with_reference_depth(desk, nominal)
    return EdgeSetup(
        edge=desk.edge,
        tool=tool,
        spindle=desk.spindle,
        device=desk.device,
        corners=scatter_corners(desk, nominal),
        coefficient_corners=coefficient_corners(desk, nominal),
        ledger=desk.ledger,
        family=desk.family,
        workpiece=desk.workpiece,
    )


def _edge_state(desk: Desk) -> EdgeState:
    edge, ledger = desk.edge, desk.ledger
    if edge.included_angle is None:
        angle = ledger.assumed("edge.included_angle", "included_angle", "angle")
    else:
        angle = desk.edge_figure("included_angle", edge.included_angle, "angle", "included_angle")
    lower, upper = _leg_limits(desk, angle)
    amplitude, wavelength = _waviness(desk)
    return EdgeState(
        included_angle=angle,
        burr_height=desk.edge_figure("burr_height", edge.burr.height, "length", "burr", "height"),
        burr_root_thickness=desk.edge_figure(
            "burr_root_thickness", edge.burr.root_thickness, "length", "burr", "root_thickness"
        ),
        burr_shape=edge.burr.shape,
        leg_lower=lower,
        leg_upper=upper,
        waviness_amplitude=amplitude,
        waviness_wavelength=wavelength,
        path_error=ledger.derived("edge.path_error", 0.0, "length", "nominal position"),
    )


def _leg_limits(desk: Desk, angle: np.float64) -> tuple[np.float64, np.float64]:
    """Limits as chamfer legs; a radius is held to the chamfer of the same section."""
    limits = desk.edge.edge_break
    lower = desk.edge_figure("leg_lower", limits.lower, "length", "edge_break", "lower")
    upper = desk.edge_figure("leg_upper", limits.upper, "length", "edge_break", "upper")
    if limits.measure == "leg":
        return lower, upper
    text = f"leg of the chamfer with the section of the radius given at {desk.place('edge', desk.index, 'edge_break')}"
    as_legs = [physics.chamfer_leg(physics.round_area(radius, angle), angle) for radius in (lower, upper)]
    return (
        desk.ledger.record("edge.leg_lower", as_legs[0], "length", text),
        desk.ledger.record("edge.leg_upper", as_legs[1], "length", text),
    )


def _waviness(desk: Desk) -> tuple[np.float64, np.float64]:
    waviness = desk.edge.waviness
    if waviness is None:
        return (
            desk.ledger.assumed("edge.waviness_amplitude", "waviness_amplitude", "length"),
            desk.ledger.assumed("edge.waviness_wavelength", "waviness_wavelength", "length"),
        )
    return (
        desk.edge_figure("waviness_amplitude", waviness.amplitude, "length", "waviness", "amplitude"),
        desk.edge_figure("waviness_wavelength", waviness.wavelength, "length", "waviness", "wavelength"),
    )


def _rules(desk: Desk) -> Rules:
    ledger = desk.ledger
    approach = "approach_speed_compliant" if desk.device else "approach_speed_rigid"
    return Rules(
        contact_stiffness=ledger.assumed("rules.contact_stiffness", "contact_stiffness", "stiffness"),
        impact_allowance=ledger.assumed("rules.impact_allowance", "impact_allowance", "number"),
        approach_speed_max=ledger.assumed("rules.approach_speed_max", approach, "feed"),
        approach_speed_min=ledger.assumed("rules.approach_speed_min", "approach_speed_min", "feed"),
        force_ripple_allowance=ledger.assumed("rules.force_ripple_allowance", "force_ripple_allowance", "fraction"),
        form_error_factor=ledger.assumed("rules.form_error_factor", "form_error_factor", "number"),
    )


def _with_reference_depth(desk: Desk, conditions: EdgeConditions) -> EdgeConditions:
    """A compliant path is laid on the depth of the middle of the band, nominal burr included."""
    if not isinstance(conditions.mount, CompliantMount):
        return conditions
    depth = desk.ledger.record(
        "mount.reference_depth", target_depth(conditions), "length", "depth of the middle of the band, burr included"
    )
    return replace(conditions, mount=replace(conditions.mount, reference_depth=depth))


def target_depth(conditions: EdgeConditions) -> Array:
    """Depth along the bisector that leaves the middle of the band at the nominal burr [m]."""
    edge = conditions.edge
    middle = physics.chamfer_area((edge.leg_lower + edge.leg_upper) / 2, edge.included_angle)
    burr = physics.burr_area(edge.burr_height, edge.burr_root_thickness, edge.burr_shape)
    return physics.bisector_depth(middle + burr, edge.included_angle)
