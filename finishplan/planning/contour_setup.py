"""From job, cell and reference tables to the conditions of one cut of a contour under one cutter or abrasive."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, TypeVar

import numpy as np

from finishplan import physics, reference
from finishplan.formula import Array
from finishplan.job import StiffnessDirections
from finishplan.planning import abrasive_setup, mounting, surroundings, tooling
from finishplan.planning.contour_cuts import Stock
from finishplan.planning.contour_desk import AbradedContourDesk, ContourDesk, TrimmingDesk
from finishplan.planning.engagement_setup import Stand, abrasive_stand, cutter_stand
from finishplan.planning.scatter import scaled_law
from finishplan.process.contour_abrasion import AbradedContour, AbradedCorner
from finishplan.process.contour_conditions import Arm, ContourConditions, ContourState, Trimming
from finishplan.process.contour_cutting import Corner
from finishplan.process.contour_engagement import Engagement, Milled, Sawn
from finishplan.process.edge_conditions import Cutter, RobotState
from finishplan.process.surface_conditions import Rubbing, Thermal

State = TypeVar("State", bound=Trimming)

LEAST_ROOM: Final = 0.01
"""Share of the tolerance that stands for none at all, where the chord of a disc takes up all of it."""


@dataclass(frozen=True, eq=False)
class ContourSetup:
    """One cut of a contour under a cutter: who does it, and the conditions at every corner of the scatter."""

    desk: ContourDesk
    corners: Mapping[Corner, ContourConditions]

    @property
    def nominal(self) -> ContourConditions:
        return self.corners["nominal"]


@dataclass(frozen=True, eq=False)
class AbradedContourSetup:
    """One cut of a contour under grain: who does it, and the conditions at every corner of the scatter."""

    desk: AbradedContourDesk
    corners: Mapping[AbradedCorner, AbradedContour]

    @property
    def nominal(self) -> AbradedContour:
        return self.corners["nominal"]


def contour_setup(desk: ContourDesk) -> ContourSetup:
    """Conditions of one cut of a contour under a cutter."""
    cutter, robot = tooling.cutter(desk), surroundings.robot(desk)
    stock = desk.cut.stock(desk, desk.contour)
    stand = cutter_stand(desk, cutter, stock)
    nominal = ContourConditions(
        contour=_state(desk, stand.engagement, robot),
        engagement=stand.engagement,
        edge=_edge(desk),
        thermal=_thermal(desk),
        spindle=surroundings.spindle(desk),
        arm=_arm(desk, stand, _force_angle(cutter)),
        robot=robot,
        chip_law=tooling.chip_law(desk),
        cutter=cutter,
    )
    return ContourSetup(desk, _corners(desk, nominal, stock))


def abraded_contour_setup(desk: AbradedContourDesk) -> AbradedContourSetup:
    """Conditions of one cut of a contour under an abrasive."""
    abrasive, robot = abrasive_setup.abrasive(desk), surroundings.robot(desk)
    stock = desk.cut.stock(desk, desk.contour)
    stand = abrasive_stand(desk, abrasive.tool.diameter, stock)
    nominal = AbradedContour(
        contour=_state(desk, stand.engagement, robot),
        engagement=stand.engagement,
        edge=abrasive.grain,
        thermal=_thermal(desk),
        spindle=surroundings.spindle(desk),
        arm=_arm(desk, stand, None),
        robot=robot,
        abrasive=abrasive,
    )
    return AbradedContourSetup(desk, _abraded_corners(desk, nominal, stock))


def _state(desk: TrimmingDesk, engagement: Engagement, robot: RobotState) -> ContourState:
    ledger, contour = desk.ledger, desk.contour
    others = desk.cut.errors(desk)
    coverage = ledger.assumed("rules.coverage_factor", "coverage_factor", "number")
    errors = ledger.gather("contour.position_errors", [robot.path_accuracy, *others], "length")
    combined = physics.required_stroke(errors, coverage, "statistical")
    return ContourState(
        thickness=desk.figure("contour.thickness", contour.thickness, "length", "thickness"),
        room=_room(desk, engagement),
        position_error=ledger.record(
            "contour.position_error", combined, "length", "position errors combined statistically"
        ),
        other_errors=physics.required_stroke(np.array(others), coverage, "statistical"),
        coverage=coverage,
        direction=contour.direction,
    )


def _thermal(desk: TrimmingDesk) -> Thermal:
    """How the part takes heat, up to what the contour allows where it says so."""
    of_part, own = surroundings.part_thermal(desk), desk.contour.temperature_limit
    if own is None:
        return of_part
    text = f"up to {desk.place(desk.section, desk.index, 'temperature_limit')}"
    return replace(of_part, room=surroundings.room_up_to(desk, own, text))


def _room(desk: TrimmingDesk, engagement: Engagement) -> np.float64:
    """How far the wall may stray; a disc uses up some of it in every curve that it can follow."""
    room = desk.cut.room(desk, desk.contour)
    if not isinstance(engagement, Sawn) or not engagement.overcut > 0:
        return room
    taken = min(float(engagement.overcut), float(engagement.side_play))
    left = max(float(room) - taken, LEAST_ROOM * float(room))
    text = "tolerance less what the chord of the disc takes off the outside of the tightest curve"
    return desk.ledger.derived("contour.room", left, "length", text)


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


def _arm(desk: TrimmingDesk, stand: Stand, force_angle: np.float64 | None) -> Arm:
    ledger, robot = desk.ledger, desk.loaded.cell.robot
    stiffness = mounting.arm_stiffness(desk)
    mass = ledger.assumed_of_class(
        "robot.effective_mass", reference.robot_class(robot.kind).effective_mass, "mass", robot.kind
    )
    swing = physics.natural_frequency(stiffness, mass)
    directions = robot.stiffness_directions if isinstance(stand.engagement, Milled) else None
    return Arm(
        stiffness=stiffness,
        tool_stiffness=stand.stiffness,
        natural_frequency=ledger.record("arm.natural_frequency", swing, "frequency", "from its stiffness and mass"),
        damping_ratio=ledger.assumed("arm.damping_ratio", "chatter_damping", "fraction"),
        coupling_limit=None
        if directions is None or force_angle is None
        else _coupling_limit(desk, force_angle, directions),
    )


def _force_angle(cutter: Cutter) -> np.float64:
    """Angle of the force against the wall's normal [rad]."""
    return np.float64(np.arctan2(1.0, cutter.force_ratio))


def _coupling_limit(desk: TrimmingDesk, force_angle: np.float64, directions: StiffnessDirections) -> np.float64:
    """Least process stiffness that makes two directions of the arm flutter, anywhere on the path.

    On which side of the path the part lies is not known, so the force is tried on both. The force of a
    disc lies in a plane square to the sheet, of which the cell does not tell the directions.
    """
    place = ("robot", "stiffness_directions")
    first = desk.cell_figure("arm.first_stiffness", directions.first, "stiffness", *place, "first")
    second = desk.cell_figure("arm.second_stiffness", directions.second, "stiffness", *place, "second")
    axis = desk.cell_figure("arm.first_direction", directions.angle, "angle", *place, "angle")
    from_normal = axis - (desk.course.headings + np.pi / 2)
    limits = [physics.mode_coupling_limit(first, second, from_normal, side * force_angle) for side in (1, -1)]
    text = "least over the directions of the path"
    return desk.ledger.derived("arm.coupling_limit", float(np.min(limits)), "stiffness", text)


def _corners(desk: ContourDesk, nominal: ContourConditions, stock: Stock) -> dict[Corner, ContourConditions]:
    """Hardest material, worn tool and most stock, with either end of the band of the force ratio.

    A high ratio pushes the cutter off the wall and loads the drive of the arm; with a low one the
    tangential force draws a conventional cut into the wall.
    """
    ratio = desk.family.force_ratio
    scatter = desk.ledger.assumed("chip_law.scatter", "cutting_force_scatter", "fraction")
    loaded = replace(
        nominal,
        engagement=_most_loaded(nominal.engagement, stock, nominal.cutter.diameter),
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

    heaviest = with_ratio(ratio.high)
    corners: dict[Corner, ContourConditions] = {
        "nominal": nominal, "heaviest load": heaviest, "drawn in": with_ratio(ratio.low)
    }  # fmt: skip
    if isinstance(heaviest.engagement, Sawn):
        corners["last layer"] = _coming_out(heaviest, heaviest.engagement)
    return corners


def _abraded_corners(
    desk: AbradedContourDesk, nominal: AbradedContour, stock: Stock
) -> dict[AbradedCorner, AbradedContour]:
    """The middle of the change interval, and its end on the part that gives least and has most stock."""
    scatter = desk.ledger.assumed("abrasive.removal_scatter", "removal_scatter", "fraction")
    at_change = reference.default("abrasive_end_of_life").value
    dull = replace(nominal.abrasive, coefficient_factor=np.float64((1 - scatter) * np.sqrt(at_change)))
    engagement = _most_loaded(nominal.engagement, stock, nominal.abrasive.tool.diameter)
    heaviest = replace(nominal, engagement=engagement, abrasive=dull)
    corners: dict[AbradedCorner, AbradedContour] = {"nominal": nominal, "heaviest load": heaviest}
    if isinstance(engagement, Sawn):
        corners["last layer"] = _coming_out(heaviest, engagement)
    return corners


def _most_loaded(engagement: Engagement, stock: Stock, diameter: Array) -> Engagement:
    """With the most stock beside the wall, and a disc that is pushed and rubs most."""
    if isinstance(engagement, Sawn):
        return replace(
            engagement,
            width=np.minimum(engagement.width + stock.more, engagement.kerf),
            side_force_share=_high_end("blade_side_force"),
            rubbing_force=_high_end("blade_rubbing_force"),
        )
    return replace(engagement, radial_depth=np.minimum(engagement.radial_depth + stock.more, diameter))


def _high_end(name: str) -> np.float64:
    entry = reference.default(name)
    return np.float64(entry.high or entry.value)


def _coming_out(conditions: State, disc: Sawn) -> State:
    """The state where a disc comes out on the far side.

    There its arc is shorter: more pressure and heat on less of a wall, where the layers before take more force.
    """
    return replace(conditions, engagement=replace(disc, out=np.float64(1.0)))
