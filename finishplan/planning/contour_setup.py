"""From job, cell and reference tables to the conditions of one cut of a contour under one cutter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from finishplan import physics, reference
from finishplan.job import Contour, LoadedJob, StiffnessDirections, Tool
from finishplan.planning import mounting, surroundings, tooling
from finishplan.planning.contour_cuts import Cut, Stock
from finishplan.planning.desk import drive_of
from finishplan.planning.edge_desk import CutterDesk
from finishplan.planning.ledger import Ledger
from finishplan.planning.scatter import scaled_law
from finishplan.process.contour_conditions import Arm, ContourConditions, ContourState, ToolStrength
from finishplan.process.contour_cutting import Corner
from finishplan.process.edge_conditions import Cutter, RobotState
from finishplan.process.surface_conditions import Rubbing

ALL_HEADINGS = np.linspace(0.0, np.pi, 181)
"""Directions of the path where none is drawn; opposite ones are alike."""


@dataclass(frozen=True, eq=False)
class ContourDesk(CutterDesk):
    """One cut of one contour under one cutter. `headings` are the directions of its path [rad]."""

    contour: Contour
    cut: Cut
    headings: np.ndarray


@dataclass(frozen=True, eq=False)
class ContourSetup:
    """One cut of a contour: who does it, and the conditions at every corner of the scatter."""

    desk: ContourDesk
    corners: Mapping[Corner, ContourConditions]

    @property
    def nominal(self) -> ContourConditions:
        return self.corners["nominal"]


def open_contour_desk(loaded: LoadedJob, index: int, tool: Tool, cut: Cut, headings: np.ndarray) -> ContourDesk:
    """Look up everything a cut of contour number `index` needs under a cutter of the cell."""
    contour = loaded.job.contour[index]
    spindle, device = drive_of(loaded, tool)
    return ContourDesk(
        loaded, "contour", index, contour, spindle, device, reference.workpiece(loaded.job.part.material), Ledger(),
        tool, reference.cutter(tool.family), contour, cut, headings,
    )  # fmt: skip


def contour_setup(desk: ContourDesk) -> ContourSetup:
    """Conditions of one cut of a contour."""
    cutter, robot = _slender(desk, tooling.cutter(desk)), surroundings.robot(desk)
    stock = desk.cut.stock(desk, desk.contour)
    nominal = ContourConditions(
        contour=_state(desk, stock, cutter, robot),
        chip_law=tooling.chip_law(desk),
        cutter=cutter,
        strength=_strength(desk),
        edge=_edge(desk),
        thermal=surroundings.part_thermal(desk),
        spindle=surroundings.spindle(desk),
        arm=_arm(desk, cutter),
        robot=robot,
    )
    return ContourSetup(desk, _corners(desk, nominal, stock))


def _slender(desk: ContourDesk, cutter: Cutter) -> Cutter:
    """The cutter as it bends: with its shank, or with its flutes where they are the thinner part."""
    fluted = physics.fluted_diameter(cutter.diameter)
    if cutter.bending_diameter <= fluted:
        return cutter
    text = "0.8 of the cutting diameter, thinner than the shank"
    return replace(cutter, bending_diameter=desk.ledger.record("cutter.bending_diameter", fluted, "length", text))


def _state(desk: ContourDesk, stock: Stock, cutter: Cutter, robot: RobotState) -> ContourState:
    ledger, contour = desk.ledger, desk.contour
    others = desk.cut.errors(desk)
    coverage = ledger.assumed("rules.coverage_factor", "coverage_factor", "number")
    errors = ledger.gather("contour.position_errors", [robot.path_accuracy, *others], "length")
    combined = physics.required_stroke(errors, coverage, "statistical")
    return ContourState(
        thickness=desk.figure("contour.thickness", contour.thickness, "length", "thickness"),
        radial_depth=_radial_depth(desk, stock, cutter),
        room=desk.cut.room(desk, contour),
        position_error=ledger.record(
            "contour.position_error", combined, "length", "position errors combined statistically"
        ),
        other_errors=physics.required_stroke(np.array(others), coverage, "statistical"),
        coverage=coverage,
        direction=contour.direction,
    )


def _radial_depth(desk: ContourDesk, stock: Stock, cutter: Cutter) -> np.float64:
    """The stock, or the whole diameter in a slot."""
    if stock.width is not None and stock.width < cutter.diameter:
        return stock.width
    text = "full slot of the cutter's diameter"
    return desk.ledger.derived("contour.radial_depth", float(cutter.diameter), "length", text)


def _strength(desk: ContourDesk) -> ToolStrength:
    ledger, tool = desk.ledger, desk.tool
    rupture = ledger.assumed("strength.rupture", "transverse_rupture_strength", "strength")
    factor = ledger.assumed("strength.factor", "breakage_factor", "number")
    if tool.cutting_length is None:
        ratio = ledger.assumed("strength.cutting_length_ratio", "cutting_length_ratio", "number")
        reach = min(float(ratio) * tool.diameter, tool.overhang)
        text = f"{float(ratio):g} diameters, within the overhang"
        length = ledger.derived("strength.cutting_length", reach, "length", text)
    else:
        length = desk.cell_figure("strength.cutting_length", tool.cutting_length, "length", *desk.at, "cutting_length")
    return ToolStrength(
        allowed_stress=ledger.derived(
            "strength.allowed_stress", float(rupture / factor), "strength",
            "bending strength of the cutter over the factor against breakage, both assumed",
        ),
        cutting_length=length,
    )  # fmt: skip


def _edge(desk: ContourDesk) -> Rubbing:
    """The cutting edge as it rubs on the wall, half worn: between its own radius and the land of a worn one."""
    ledger, family = desk.ledger, desk.family
    sharp = desk.tool.edge_radius or family.edge_radius.value
    return Rubbing(
        conductivity=ledger.looked_up("edge.conductivity", family.conductivity, "conductivity"),
        contact_radius=ledger.derived(
            "edge.contact_radius", (sharp + _worn_land()) / 4, "fine length",
            "half the length that rubs on a half-worn edge, between the radius of a sharp one and a worn land",
        ),
        carried_away=ledger.assumed("edge.carried_away", "chip_heat_share", "fraction"),
    )  # fmt: skip


def _worn_land() -> float:
    """Length of the land that rubs behind the edge at the end of its life [m]."""
    return reference.default("worn_land").value


def _arm(desk: ContourDesk, cutter: Cutter) -> Arm:
    ledger, robot = desk.ledger, desk.loaded.cell.robot
    stiffness = mounting.arm_stiffness(desk)
    mass = ledger.assumed_of_class(
        "robot.effective_mass", reference.robot_class(robot.kind).effective_mass, "mass", robot.kind
    )
    swing = physics.natural_frequency(stiffness, mass)
    tool = physics.cantilever_stiffness(cutter.overhang, cutter.bending_diameter, cutter.modulus)
    directions = robot.stiffness_directions
    return Arm(
        stiffness=stiffness,
        tool_stiffness=ledger.record("arm.tool_stiffness", tool, "stiffness", "bending of the tool out of its holder"),
        natural_frequency=ledger.record("arm.natural_frequency", swing, "frequency", "from its stiffness and mass"),
        damping_ratio=ledger.assumed("arm.damping_ratio", "chatter_damping", "fraction"),
        coupling_limit=None if directions is None else _coupling_limit(desk, cutter, directions),
    )


def _coupling_limit(desk: ContourDesk, cutter: Cutter, directions: StiffnessDirections) -> np.float64:
    """Least process stiffness that makes two directions of the arm flutter, anywhere on the path.

    On which side of the path the part lies is not known, so the force is tried on both.
    """
    place = ("robot", "stiffness_directions")
    first = desk.cell_figure("arm.first_stiffness", directions.first, "stiffness", *place, "first")
    second = desk.cell_figure("arm.second_stiffness", directions.second, "stiffness", *place, "second")
    axis = desk.cell_figure("arm.first_direction", directions.angle, "angle", *place, "angle")
    from_normal = axis - (desk.headings + np.pi / 2)
    force = np.arctan2(1.0, cutter.force_ratio)
    limits = [physics.mode_coupling_limit(first, second, from_normal, side * force) for side in (1, -1)]
    text = "least over the directions of the path"
    return desk.ledger.derived("arm.coupling_limit", float(np.min(limits)), "stiffness", text)


def _corners(desk: ContourDesk, nominal: ContourConditions, stock: Stock) -> dict[Corner, ContourConditions]:
    """Hardest material, worn tool and most stock, with either end of the band of the force ratio.

    A high ratio pushes the cutter off the wall and loads the drive of the arm; with a low one the
    tangential force draws a conventional cut into the wall.
    """
    ratio, contour = desk.family.force_ratio, nominal.contour
    scatter = desk.ledger.assumed("chip_law.scatter", "cutting_force_scatter", "fraction")
    deepest = np.minimum(contour.radial_depth + stock.more, nominal.cutter.diameter)
    loaded = replace(
        nominal,
        contour=replace(contour, radial_depth=deepest),
        chip_law=replace(
            scaled_law(nominal.chip_law, 1 + scatter), wear_factor=np.float64(desk.family.wear_factor.value)
        ),
        edge=replace(
            nominal.edge,
            contact_radius=desk.ledger.assumed(
                "edge.worn_contact_radius", "worn_land", "fine length", 0.5,
                "half the length that rubs on the wall behind a worn edge",
            ),
        ),
    )  # fmt: skip

    def with_ratio(end: float | None) -> ContourConditions:
        return replace(loaded, cutter=replace(nominal.cutter, force_ratio=np.float64(end or ratio.value)))

    return {"nominal": nominal, "heaviest load": with_ratio(ratio.high), "drawn in": with_ratio(ratio.low)}
