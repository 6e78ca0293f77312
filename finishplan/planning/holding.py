"""What the robot carries, what its wrist bears, and what holds the part."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from finishplan import physics, reference
from finishplan.formula import Array
from finishplan.job import Holding
from finishplan.planning.desk import Desk
from finishplan.process.holding_limits import Grip, Wrist

_FRICTION: Final[Mapping[str, str]] = {
    "clamps": "holding_friction_jaws",
    "jaws": "holding_friction_jaws",
    "vacuum": "holding_friction_vacuum",
    "magnet": "holding_friction_magnet",
}
"""Named default of the friction by the kind of holding."""


def carried_mass(desk: Desk) -> np.float64:
    """Mass on the flange: spindle and device, or gripper and part [kg]."""
    if carries_part(desk):
        part, gripper = desk.loaded.job.part.mass, desk.loaded.cell.holding
        sensor = desk.device.mass if desk.device and desk.device.is_robot else 0.0
        mass = (part or 0.0) + (gripper.mass or 0.0 if gripper else 0.0) + sensor
        text = f"part of the job and gripper{' and force sensor' if sensor else ''} of the cell"
        return desk.ledger.derived("robot.carried_mass", mass, "mass", text)
    mass = desk.spindle.mass + (desk.device.mass if desk.device else 0.0)
    return desk.ledger.derived("robot.carried_mass", mass, "mass", "spindle and device masses of the cell")


def carries_part(desk: Desk) -> bool:
    """Whether the robot carries the part to a stationary tool."""
    return desk.loaded.cell.arrangement == "part-to-tool"


def wrist(desk: Desk) -> Wrist | None:
    """The wrist, where the cell says what moment it bears."""
    own = desk.loaded.cell.robot
    if own.wrist_moment is None or own.process_offset is None or own.load_offset is None:
        return None

    def figure(key: str, value: float, quantity: str) -> np.float64:
        return desk.cell_figure(f"robot.{key}", value, quantity, "robot", key)

    return Wrist(
        moment=figure("wrist_moment", own.wrist_moment, "torque"),
        process_offset=figure("process_offset", own.process_offset, "length"),
        load_offset=figure("load_offset", own.load_offset, "length"),
        acceleration=_acceleration(desk),
    )


def grip(desk: Desk) -> Grip | None:
    """What holds the part, where the cell says so; a part on a fixture does not move."""
    holding, mass = desk.loaded.cell.holding, desk.loaded.job.part.mass
    if holding is None or mass is None:
        return None

    def figure(key: str, value: float | None, default_name: str) -> np.float64:
        return desk.cell_or_default(f"grip.{key}", value, "number", ("holding", key), default_name)

    return Grip(
        part_mass=desk.ledger.given("part.mass", mass, "mass", desk.place("part", "mass")),
        acceleration=_acceleration(desk) if carries_part(desk) else np.float64(0.0),
        safety_factor=figure("safety_factor", holding.safety_factor, "holding_safety_factor"),
        friction=figure("friction", holding.friction, _FRICTION[holding.kind]),
        force=_holding_force(desk, holding),
        contacts=None if holding.contacts is None else np.float64(holding.contacts),
    )


def _acceleration(desk: Desk) -> np.float64:
    own = desk.loaded.cell.robot
    entry = reference.robot_class(own.kind).acceleration
    place = ("robot", "acceleration")
    return desk.cell_or_class("robot.acceleration", own.acceleration, "acceleration", place, own.kind, entry)


def _holding_force(desk: Desk, holding: Holding) -> Array:
    """Force of one jaw, or what presses all cups or magnets to the part [N]."""
    if holding.pressure_difference is not None and holding.area is not None:
        share = "vacuum_efficiency_porous" if holding.porous else "vacuum_efficiency"
        pressing = physics.vacuum_force(
            desk.cell_figure(
                "grip.pressure_difference", holding.pressure_difference, "pressure", "holding", "pressure_difference"
            ),
            desk.cell_figure("grip.area", holding.area, "area", "holding", "area"),
            desk.ledger.assumed("grip.efficiency", share, "fraction"),
        )
        return desk.ledger.record("grip.force", np.float64(pressing), "force", "vacuum of the cell")
    force = desk.cell_figure("grip.force", holding.force or 0.0, "force", "holding", "force")
    if holding.kind != "magnet":
        return force
    thickness, gap = (
        np.float64(1.0 if share is None else share) for share in (holding.thickness_share, holding.gap_share)
    )
    # Materials that are not ferrous were refused when the job was loaded.
    pull = physics.magnet_force(force, thickness, gap, np.float64(1.0))
    return desk.ledger.record("grip.force", np.float64(pull), "force", "rated pull of the cell and what is left of it")
