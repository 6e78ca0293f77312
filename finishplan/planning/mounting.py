"""The mount of one operation: rigid, or a device with its stroke, friction and spring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from finishplan import physics, reference
from finishplan.job import Compliance, Removal
from finishplan.planning.desk import Desk, Location
from finishplan.planning.edge_desk import EdgeDesk
from finishplan.process.edge_conditions import CompliantMount, Cutter, EdgeState, Mount, RigidMount, RobotState


def mount(desk: EdgeDesk, edge: EdgeState, cutter: Cutter, robot: RobotState) -> Mount:
    """The mount between robot and spindle."""
    if desk.device is None:
        tool = physics.cantilever_stiffness(cutter.overhang, cutter.bending_diameter, cutter.modulus)
        arm = arm_stiffness(desk)
        stiffness = desk.ledger.record(
            "mount.stiffness", physics.series_stiffness(arm, tool), "stiffness", "robot and tool in series"
        )
        return RigidMount(stiffness=stiffness, moving_mass=_spindle_mass(desk))
    return compliant_mount(desk, desk.device, position_errors(desk, edge.waviness_amplitude, robot))


def arm_mount(desk: Desk) -> RigidMount:
    """A spindle on the robot with a tool that yields itself: the arm alone gives way behind it."""
    stiffness = desk.ledger.record("mount.stiffness", arm_stiffness(desk), "stiffness", "stiffness of the robot")
    return RigidMount(stiffness=stiffness, moving_mass=_spindle_mass(desk))


def _spindle_mass(desk: Desk) -> np.float64:
    name = desk.spindle.name
    return desk.ledger.given("mount.moving_mass", desk.spindle.mass, "mass", f"mass of spindle {name!r}", kind="cell")


def arm_stiffness(desk: Desk) -> np.float64:
    """Stiffness of the robot at the tool point, its own or that of its class [N/m]."""
    own = desk.loaded.cell.robot
    entry = reference.robot_class(own.kind).stiffness
    return desk.cell_or_class("robot.stiffness", own.stiffness, "stiffness", ("robot", "stiffness"), own.kind, entry)


def compliant_mount(desk: Desk, device: Compliance, errors: Sequence[np.float64]) -> CompliantMount:
    """A device with the stroke that the position errors ask of it."""
    ledger, at = desk.ledger, ("compliance", desk.loaded.cell.compliance.index(device))
    friction = desk.cell_or_default(
        "mount.friction_band", device.friction_band, "force", (*at, "friction_band"), "friction_band"
    )
    spring = _spring(desk, device, at)
    each_way = physics.friction_each_way(friction)
    robot = desk.loaded.cell.robot.kind
    of_class = reference.robot_class(robot)
    reserve = ledger.assumed("rules.end_stop_reserve", "end_stop_reserve", "fraction")
    closed = ledger.derived("mount.stiffness", 0.0, "stiffness", "the force loop holds the force over the stroke")
    return CompliantMount(
        stiffness=closed if device.has_loop else spring,
        open_loop_stiffness=spring,
        reference_depth=np.float64(0.0),
        force_min=desk.cell_figure("mount.force_min", device.force_min, "force", *at, "force_min"),
        force_max=desk.cell_figure("mount.force_max", device.force_max, "force", *at, "force_max"),
        smallest_usable_force=physics.smallest_usable_force(
            friction, ledger.assumed("rules.friction_multiple", "friction_multiple", "number")
        ),
        friction=ledger.record("mount.friction", each_way, "force", "half the hysteresis band each way"),
        force_scatter=each_way if device.has_loop else _force_scatter(desk, each_way, spring, errors),
        force_error=ledger.derived("mount.force_error", 0.0, "force", "nominal force"),
        stroke=desk.cell_figure("mount.stroke", device.stroke, "length", *at, "stroke"),
        stroke_needed=_stroke_needed(desk, errors, reserve),
        other_errors=_other_errors(desk, errors),
        end_stop_reserve=reserve,
        moving_mass=desk.cell_or_class(
            "mount.moving_mass", device.moving_mass, "mass", (*at, "moving_mass"), robot, of_class.effective_mass
        ),
        effective_area=None
        if device.effective_area is None
        else desk.cell_figure("mount.effective_area", device.effective_area, "area", *at, "effective_area"),
        bandwidth=None
        if not device.has_loop
        else desk.cell_or_class(
            "mount.bandwidth", device.bandwidth, "frequency", (*at, "bandwidth"), robot, of_class.force_bandwidth
        ),
    )


def _force_scatter(desk: Desk, friction: np.float64, spring: np.float64, errors: Sequence[np.float64]) -> np.float64:
    """Friction, and what the spring adds over the position errors, which seldom all point one way [N]."""
    ledger = desk.ledger
    coverage = ledger.assumed("rules.coverage_factor", "coverage_factor", "number")
    contributions = ledger.gather("mount.force_position_errors", errors, "length")
    off = physics.required_stroke(contributions, coverage, "statistical")
    text = "friction, and the spring over the position errors, combined statistically"
    return ledger.record("mount.force_scatter", physics.device_force_scatter(friction, spring, off), "force", text)


def with_force_error(mount: CompliantMount, sense: int) -> CompliantMount:
    """The mount where it presses an abrasive most (1) or least (-1)."""
    return replace(mount, force_error=np.float64(sense * mount.force_scatter))


def _spring(desk: Desk, device: Compliance, at: Location) -> np.float64:
    """Change of force with travel; under a force loop, faster than the loop [N/m]."""
    if device.is_robot and device.stiffness is None:
        text = "stiffness of the robot, with nothing softer behind the tool"
        return desk.ledger.record("mount.spring", arm_stiffness(desk), "stiffness", text)
    default_name = "open_loop_stiffness" if device.has_loop else "suspension_stiffness"
    return desk.cell_or_default("mount.spring", device.stiffness, "stiffness", (*at, "stiffness"), default_name)


def position_errors(desk: Desk, amplitude: np.float64, robot: RobotState) -> list[np.float64]:
    """Half-widths of everything that moves the edge away from the path, the robot first, tool wear last [m]."""
    return [robot.path_accuracy, amplitude, *budget_errors(desk)]


def budget_errors(desk: Desk) -> list[np.float64]:
    """Half-widths of the errors of part, fixture, tool point and tool wear [m]."""
    budget = desk.loaded.cell.error_budget

    def budgeted(name: str) -> np.float64:
        return desk.cell_or_default(
            f"error_budget.{name}", getattr(budget, name), "length", ("error_budget", name), f"{name}_error"
        )

    own = None if isinstance(desk.feature, Removal) else desk.feature.part_error
    part = budgeted("part") if own is None else desk.figure("path.part_error", own, "length", "part_error")
    return [part, *(budgeted(name) for name in ("fixture", "tool_point", "wear"))]


def _stroke_needed(desk: Desk, errors: Sequence[np.float64], reserve: np.float64) -> np.float64:
    *sideways, wear = errors
    contributions = desk.ledger.gather("mount.position_errors", sideways, "length")
    needed = physics.required_stroke(contributions, 1.0, "worst case", wear_allowance=wear, end_stop_reserve=reserve)
    return desk.ledger.record(
        "mount.stroke_needed", needed, "length", "sum of all position errors, tool wear and end-stop reserve"
    )


def _other_errors(desk: Desk, errors: Sequence[np.float64]) -> np.float64:
    """What the path accuracy of the robot shares the stroke with."""
    _, *sideways, wear = errors
    contributions = desk.ledger.gather("mount.other_position_errors", sideways, "length")
    others = physics.required_stroke(contributions, 1.0, "worst case", wear_allowance=wear)
    text = "sum of the position errors of all but the robot, and tool wear"
    return desk.ledger.record("mount.other_errors", others, "length", text)
