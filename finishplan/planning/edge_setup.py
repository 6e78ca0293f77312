"""From job, cell and reference tables to the conditions of one edge under one tool.

Every figure passes through the ledger, so that the plan can say of each where it came from.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.job import Compliance, Edge, Spindle, Tool
from finishplan.planning import mounting, surroundings, tooling
from finishplan.planning.desk import Desk
from finishplan.planning.edge_desk import EdgeDesk
from finishplan.planning.ledger import Ledger
from finishplan.planning.scatter import coefficient_corners, scatter_corners
from finishplan.process.edge_break import middle_of_band, total_section
from finishplan.process.edge_conditions import CompliantMount, EdgeConditions, EdgeState
from finishplan.process.edge_cutting import Corner
from finishplan.reference import CutterFamily, Workpiece


@dataclass(frozen=True, eq=False)
class EdgeSetup:
    """One edge under one tool: who does it, and the conditions at every corner of the scatter."""

    desk: EdgeDesk
    corners: Mapping[Corner, EdgeConditions]
    coefficient_corners: Mapping[str, EdgeConditions]

    @property
    def nominal(self) -> EdgeConditions:
        return self.corners["nominal"]

    @property
    def edge(self) -> Edge:
        return self.desk.edge

    @property
    def tool(self) -> Tool:
        return self.desk.tool

    @property
    def spindle(self) -> Spindle:
        return self.desk.spindle

    @property
    def device(self) -> Compliance | None:
        return self.desk.device

    @property
    def ledger(self) -> Ledger:
        return self.desk.ledger

    @property
    def family(self) -> CutterFamily:
        return self.desk.family

    @property
    def workpiece(self) -> Workpiece:
        return self.desk.workpiece


def edge_setup(desk: EdgeDesk) -> EdgeSetup:
    """Conditions of one edge under one cutter."""
    edge, cutter, robot = edge_state(desk, desk.edge), tooling.cutter(desk), surroundings.robot(desk)
    nominal = EdgeConditions(
        edge=edge,
        chip_law=tooling.chip_law(desk),
        cutter=cutter,
        spindle=surroundings.spindle(desk),
        mount=mounting.mount(desk, edge, cutter, robot),
        robot=robot,
        rules=surroundings.rules(desk),
    )
    nominal = _with_reference_depth(desk, nominal)
    return EdgeSetup(desk, scatter_corners(desk, nominal), coefficient_corners(desk, nominal))


def edge_state(desk: Desk, edge: Edge) -> EdgeState:
    """The edge as found, with the limits of its break."""
    ledger = desk.ledger
    if edge.included_angle is None:
        angle = ledger.assumed("edge.included_angle", "included_angle", "angle")
    else:
        angle = desk.figure("edge.included_angle", edge.included_angle, "angle", "included_angle")
    lower, upper = _leg_limits(desk, edge, angle)
    amplitude, wavelength = surroundings.waviness(desk)
    return EdgeState(
        included_angle=angle,
        burr_height=desk.figure("edge.burr_height", edge.burr.height, "length", "burr", "height"),
        burr_root_thickness=desk.figure(
            "edge.burr_root_thickness", edge.burr.root_thickness, "length", "burr", "root_thickness"
        ),
        burr_shape=edge.burr.shape,
        leg_lower=lower,
        leg_upper=upper,
        waviness_amplitude=amplitude,
        waviness_wavelength=wavelength,
        path_error=ledger.derived("edge.path_error", 0.0, "length", "nominal position"),
    )


def _leg_limits(desk: Desk, edge: Edge, angle: np.float64) -> tuple[np.float64, np.float64]:
    """Limits as chamfer legs; a radius is held to the chamfer of the same section."""
    limits = edge.edge_break
    lower = desk.figure("edge.leg_lower", limits.lower, "length", "edge_break", "lower")
    upper = desk.figure("edge.leg_upper", limits.upper, "length", "edge_break", "upper")
    if limits.measure == "leg":
        return lower, upper
    text = f"leg of the chamfer with the section of the radius given at {desk.place('edge', desk.index, 'edge_break')}"
    as_legs = [physics.chamfer_leg(physics.round_area(radius, angle), angle) for radius in (lower, upper)]
    return (
        desk.ledger.record("edge.leg_lower", as_legs[0], "length", text),
        desk.ledger.record("edge.leg_upper", as_legs[1], "length", text),
    )


def _with_reference_depth(desk: EdgeDesk, conditions: EdgeConditions) -> EdgeConditions:
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
    middle = physics.chamfer_area(middle_of_band(edge.leg_lower, edge.leg_upper), edge.included_angle)
    burr = physics.burr_area(edge.burr_height, edge.burr_root_thickness, edge.burr_shape)
    return physics.bisector_depth(total_section(middle, burr), edge.included_angle)
