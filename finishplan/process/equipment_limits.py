"""Limits that spindle, device and robot set to every process alike."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.edge_conditions import CompliantMount, RobotState, Rules, Spindle
from finishplan.process.holding_limits import grip_limit, wrist_limit
from finishplan.process.limits import Limit

LEAST_FORCE = 1e-6
"""Stands for no force at all where friction takes up everything that is set [N]."""


@formula(
    "F = F_set - F_friction",
    units={"force": "N", "friction": "N"},
    returns="N",
    source="friction holds the device back on the way out",
)
def pressed_force(force: Array, friction: Array) -> Array:
    """Force that is left to follow the part once friction is overcome.

    Parameters
    ----------
    force : array_like
        Force set [N].
    friction : array_like
        Friction each way [N].

    Returns
    -------
    array_like
        Force, a trace above zero where friction takes up all of it [N].
    """
    return np.maximum(force - friction, LEAST_FORCE)


@formula(
    "dF = q F",
    units={"force": "N", "allowance": "1"},
    returns="N",
    source="common practice, no published source: ripple accepted as a share of the set force",
)
def allowed_ripple(force: Array, allowance: Array) -> Array:
    """Ripple of the contact force that is accepted.

    Parameters
    ----------
    force : array_like
        Force set [N].
    allowance : array_like
        Share q [1].

    Returns
    -------
    array_like
        Ripple [N].
    """
    return allowance * force


@formula(
    "e_r = max(0, (s/2) (1 - q) - e_o)",
    units={"stroke": "m", "other_errors": "m", "end_stop_reserve": "1"},
    returns="m",
    source="errors that add up in the worst case and the reserve at the end stops, solved for the robot's",
)
def accuracy_left(stroke: Array, other_errors: Array, end_stop_reserve: Array) -> Array:
    """Path accuracy of the robot, as a half-width, for which a stroke has room beside all other errors.

    Parameters
    ----------
    stroke : array_like
        Whole stroke s, half of it each way [m].
    other_errors : array_like
        Sum of all other position errors and tool wear e_o [m].
    end_stop_reserve : array_like
        Share q of it kept clear of its end stops [1].

    Returns
    -------
    array_like
        Half-width e_r, 0 where the others take up all of the stroke [m].
    """
    return np.maximum(stroke / 2 * (1 - end_stop_reserve) - other_errors, 0 * stroke)


class Wavy(Protocol):
    """Anything with a periodic form error along the path."""

    @property
    def waviness_amplitude(self) -> Array: ...

    @property
    def waviness_wavelength(self) -> Array: ...


class Load(Protocol):
    """What a cut takes from its spindle, and what the spindle gives at that speed."""

    @property
    def power(self) -> Array: ...

    @property
    def torque(self) -> Array: ...

    @property
    def available_power(self) -> Array: ...

    @property
    def available_torque(self) -> Array: ...


def spindle_speed_limits(speed: Array, spindle: Spindle, rated: Array, tool: str) -> Iterator[Limit]:
    """Rated speed of the tool and range of the spindle; `tool` names the group of the rated speed."""
    yield Limit(
        "rated speed of the tool", speed, rated, "rotation", "at most",
        f"{tool}.rated_speed", "a tool rated for a higher speed",
    )  # fmt: skip
    yield Limit(
        "highest spindle speed", speed, spindle.speed_max, "rotation", "at most",
        "spindle.speed_max", "a faster spindle or a larger tool", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "lowest spindle speed", speed, spindle.speed_min, "rotation", "at least",
        "spindle.speed_min", "a spindle that runs slower", keeps_margin=False,
    )  # fmt: skip


def surface_speed_limits(speed: Array, low: Array, high: Array, tool: str) -> Iterator[Limit]:
    """Window of the surface speed, counted from its middle."""
    middle = (low + high) / 2
    yield Limit(
        "highest surface speed", speed, high, "surface speed", "at most",
        f"{tool}.speed_high", "a smaller tool or a slower spindle", datum=middle,
    )  # fmt: skip
    yield Limit(
        "lowest surface speed", speed, low, "surface speed", "at least",
        f"{tool}.speed_low", "a larger tool or a faster spindle", datum=middle,
    )  # fmt: skip


def drive_limits(load: Load) -> Iterator[Limit]:
    """Power and torque at the spindle's speed."""
    yield Limit(
        "spindle power", load.power, load.available_power, "power", "at most",
        "spindle.curve_powers", "a stronger spindle",
    )  # fmt: skip
    yield Limit(
        "spindle torque", load.torque, load.available_torque, "torque", "at most",
        "spindle.curve_powers", "a spindle with more torque at this speed",
    )  # fmt: skip


def device_limits(mount: CompliantMount, force: Array, path_accuracy: Array) -> Iterator[Limit]:
    """Force range, friction and stroke of a compliant device."""
    each_way = mount.stroke / 2
    yield Limit(
        "highest device force", force, mount.force_max, "force", "at most",
        "mount.force_max", "a stronger device",
    )  # fmt: skip
    yield Limit(
        "lowest device force", force, mount.force_min, "force", "at least",
        "mount.force_min", "a lighter device",
    )  # fmt: skip
    yield Limit(
        "friction of the device", force, mount.smallest_usable_force, "force", "at least",
        "mount.friction", "a device with less friction", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "compliance stroke each way", mount.stroke_needed, each_way, "length", "at most",
        "mount.stroke", "a longer stroke, a better located part, or measuring the part first",
    )  # fmt: skip
    # counted from where the others leave off: the stroke keeps its margin as long as this one does
    yield Limit(
        "path accuracy", path_accuracy, accuracy_left(mount.stroke, mount.other_errors, mount.end_stop_reserve),
        "length", "at most", "robot.path_accuracy", "a calibrated robot, or a longer stroke",
        datum=-mount.other_errors, asks_of="value",
    )  # fmt: skip


def following_limits(mount: CompliantMount, path: Wavy, rules: Rules, force: Array, feed: Array) -> Iterator[Limit]:
    """How fast a device can follow the waviness of the path."""
    amplitude, wavelength = path.waviness_amplitude, path.waviness_wavelength
    pressed = pressed_force(force, mount.friction)
    spring = np.float64(0.0) if mount.bandwidth is not None else mount.stiffness
    yield Limit(
        "loss of contact on the waviness", feed,
        physics.contact_loss_feed(wavelength, amplitude, pressed, mount.moving_mass, spring),
        "feed", "at most", "path.waviness_amplitude", "less moving mass, more force, or a straighter part",
    )  # fmt: skip
    if mount.bandwidth is not None:
        allowed = allowed_ripple(force, rules.force_ripple_allowance)
        yield Limit(
            "force loop on the waviness", feed,
            physics.force_loop_feed(mount.open_loop_stiffness, amplitude, allowed, wavelength, mount.bandwidth),
            "feed", "at most", "mount.bandwidth", "a faster force loop, a softer device, or a straighter part",
        )  # fmt: skip
    elif np.any(mount.stiffness > 0):
        followed = physics.natural_frequency(mount.stiffness, mount.moving_mass)
        yield Limit(
            "form error followed by the suspension", feed,
            physics.form_error_feed(wavelength, followed, rules.form_error_factor),
            "feed", "at most", "mount.stiffness", "a stiffer or lighter suspension",
        )  # fmt: skip


def approach_limit(approach_speed: Array, rules: Rules) -> Limit:
    """The impact at touch-down must leave an approach speed worth programming."""
    return Limit(
        "approach speed the impact allows", approach_speed, rules.approach_speed_min, "feed", "at least",
        "rules.approach_speed_min", "less moving mass or a larger set force",
    )  # fmt: skip


def robot_limits(robot: RobotState, process_force: Array, feed: Array) -> Iterator[Limit]:
    """Holding of the part, wrist and payload with the resultant process force; path speed."""
    if robot.grip is not None:
        yield grip_limit(robot.grip, process_force)
    if robot.wrist is not None:
        yield wrist_limit(robot.wrist, robot.carried_mass, process_force)
    yield Limit(
        "robot payload", physics.payload_with_force(robot.carried_mass, process_force), robot.payload, "mass",
        "at most", "robot.payload", "a robot with more payload, or less weight on its flange",
    )  # fmt: skip
    yield Limit(
        "robot speed", feed, robot.top_speed, "feed", "at most",
        "robot.top_speed", "a faster robot",
    )  # fmt: skip
