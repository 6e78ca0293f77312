"""What surrounds any operation: path, spindle, robot, the heat of the part, and the rules of practice."""

from __future__ import annotations

import numpy as np

from finishplan import reference
from finishplan.job import Removal
from finishplan.planning import holding
from finishplan.planning.desk import Desk
from finishplan.planning.ledger import describe
from finishplan.process.edge_conditions import RobotState, Rules, Spindle
from finishplan.process.surface_conditions import Thermal
from finishplan.reference import Value


def waviness(desk: Desk) -> tuple[np.float64, np.float64]:
    """Amplitude and wavelength of the form error along the path [m]."""
    given = None if isinstance(desk.feature, Removal) else desk.feature.waviness
    if given is None:
        return (
            desk.ledger.assumed("path.waviness_amplitude", "waviness_amplitude", "length"),
            desk.ledger.assumed("path.waviness_wavelength", "waviness_wavelength", "length"),
        )
    return (
        desk.figure("path.waviness_amplitude", given.amplitude, "length", "waviness", "amplitude"),
        desk.figure("path.waviness_wavelength", given.wavelength, "length", "waviness", "wavelength"),
    )


def spindle(desk: Desk) -> Spindle:
    """The spindle with its curve of shaft power."""
    own = desk.spindle
    at = ("spindle", desk.loaded.cell.spindle.index(own))
    speeds = [desk.cell_figure("spindle.curve_speed", point.speed, "rotation", *at, "curve") for point in own.curve]
    powers = [desk.cell_figure("spindle.curve_power", point.power, "power", *at, "curve") for point in own.curve]
    return Spindle(
        speed_min=desk.cell_figure("spindle.speed_min", own.speed_min, "rotation", *at, "speed_min"),
        speed_max=desk.cell_figure("spindle.speed_max", own.speed_max, "rotation", *at, "speed_max"),
        curve_speeds=desk.ledger.gather("spindle.curve_speeds", speeds, "rotation"),
        curve_powers=desk.ledger.gather("spindle.curve_powers", powers, "power"),
    )


def robot(desk: Desk) -> RobotState:
    """The robot, what it carries and what holds the part."""
    own = desk.loaded.cell.robot
    kind = reference.robot_class(own.kind)

    def figure(field: str, value: float | None, entry: Value, quantity: str) -> np.float64:
        return desk.cell_or_class(f"robot.{field}", value, quantity, ("robot", field), own.kind, entry)

    return RobotState(
        payload=desk.cell_figure("robot.payload", own.payload, "mass", "robot", "payload"),
        carried_mass=holding.carried_mass(desk),
        top_speed=figure("top_speed", own.top_speed, kind.top_speed, "feed"),
        path_accuracy=figure("path_accuracy", own.path_accuracy, kind.path_accuracy, "length"),
        wrist=holding.wrist(desk),
        grip=holding.grip(desk),
    )


def part_thermal(desk: Desk) -> Thermal:
    """How the part's own material takes heat."""
    ledger, material = desk.ledger, desk.workpiece
    return Thermal(
        conductivity=ledger.looked_up("thermal.conductivity", material.conductivity, "conductivity"),
        density=ledger.looked_up("thermal.density", material.density, "density"),
        specific_heat=ledger.looked_up("thermal.specific_heat", material.specific_heat, "specific heat"),
        room=temperature_room(desk, material.temperature_limit),
    )


def temperature_room(desk: Desk, limit: Value) -> np.float64:
    """Rise that leads from the workshop's temperature to a limit [K]."""
    return room_up_to(desk, limit.value, f"up to {describe(limit)}")


def room_up_to(desk: Desk, limit: float, text: str) -> np.float64:
    """Rise that leads from the workshop's temperature to a temperature [K]."""
    workshop = reference.default("workshop_temperature").value
    return desk.ledger.derived("thermal.room", max(limit - workshop, 1.0), "temperature difference", text)


def rules(desk: Desk) -> Rules:
    """Figures of practice that bounds are made of."""
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
