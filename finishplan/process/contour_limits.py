"""Every limit of trimming a contour, held against the corners of the scatter.

Those of path, tool and heat hold whatever cuts; chips and chatter are the cutter's alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import reduce, singledispatch
from typing import Final

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.contour_conditions import ContourConditions, ContourSetting, Trimming
from finishplan.process.contour_cutting import ContourPrediction, ContourPredictions
from finishplan.process.contour_engagement import Engagement, Milled, Sawn
from finishplan.process.contour_forces import resultant_force
from finishplan.process.contour_load import TrimmedPrediction
from finishplan.process.cutter_limits import chip_limits
from finishplan.process.equipment_limits import (
    drive_limits,
    robot_limits,
    spindle_speed_limits,
    surface_speed_limits,
)
from finishplan.process.limits import Limit

LEAST_ROOM: Final = 1e-3
"""Share of the room that stands for none at all, where other errors take up all of it."""


@formula(
    "e_r = (sqrt(3)/C) sqrt(max(0, (T - d)^2 - e_o^2))",
    units={"room": "m", "deflection": "m", "other_errors": "m", "coverage": "1"},
    returns="m",
    source="statistical combination of rectangular errors, solved for one of them",
)
def accuracy_room(room: Array, deflection: Array, other_errors: Array, coverage: Array) -> Array:
    """Path accuracy of the robot, as a half-width, that the tolerance has room for.

    Parameters
    ----------
    room : array_like
        How far the wall may stray T [m].
    deflection : array_like
        Deflection of arm and tool d [m].
    other_errors : array_like
        All other position errors, combined e_o [m].
    coverage : array_like
        Standard uncertainties covered C [1].

    Returns
    -------
    array_like
        Half-width e_r, 0 where nothing is left [m].
    """
    left = np.maximum(room - deflection, 0.0)
    return np.sqrt(3 * np.maximum(left**2 - other_errors**2, 0.0)) / coverage


@formula(
    "k_r = |F_w|/(T - e_p - |F_w|/k_t)",
    units={"wall_force": "N", "room": "m", "position_error": "m", "tool_stiffness": "N/m"},
    returns="N/m",
    source="statics: arm and tool in series, solved for the arm",
)
def stiffness_needed(wall_force: Array, room: Array, position_error: Array, tool_stiffness: Array) -> Array:
    """Stiffness of the arm that the tolerance asks for.

    Parameters
    ----------
    wall_force : array_like
        Mean force square to the wall F_w [N].
    room : array_like
        How far the wall may stray T [m].
    position_error : array_like
        Position errors, combined e_p [m].
    tool_stiffness : array_like
        Stiffness of the tool k_t [N/m].

    Returns
    -------
    array_like
        Stiffness k_r [N/m].
    """
    force = np.abs(wall_force)
    return force / np.maximum(room - position_error - force / tool_stiffness, LEAST_ROOM * room)


def contour_limits(
    conditions: ContourConditions, setting: ContourSetting, predictions: ContourPredictions
) -> list[Limit]:
    """All limits at an operating point, or at every one of an array of points.

    Parameters
    ----------
    conditions : ContourConditions
        The nominal conditions; bounds are read from them.
    setting : ContourSetting
        The settings.
    predictions : mapping of corner to ContourPrediction
        `finishplan.process.contour_cutting.predict_contour` at every corner of the scatter.

    Returns
    -------
    list of Limit
        In the order a programmer checks them: speed, chip, load, robot, result, chatter.
    """
    cutter, nominal, heaviest = conditions.cutter, predictions["nominal"], predictions["heaviest load"]
    loaded = [prediction for name, prediction in predictions.items() if name != "nominal"]
    groups = (
        spindle_speed_limits(setting.spindle_speed, conditions.spindle, cutter.rated_speed, "cutter"),
        surface_speed_limits(nominal.surface_speed, cutter.speed_low, cutter.speed_high, "cutter"),
        chip_limits(nominal, conditions.chip_law, cutter),
        drive_limits(heaviest),
        tool_limits(conditions.engagement, conditions, heaviest),
        robot_limits(
            conditions.robot, physics.process_resultant(heaviest.normal_force, heaviest.tangential_force), setting.feed
        ),
        path_limits(conditions, loaded),
        [heat_limit("heat at the cut edge", conditions, loaded)],
        _chatter_limits(conditions, heaviest),
    )
    return [limit for group in groups for limit in group]


@singledispatch
def tool_limits(engagement: Engagement, conditions: Trimming, heaviest: TrimmedPrediction) -> Iterator[Limit]:
    """What the tool bears, by how it stands in the material."""
    raise TypeError(f"no limits known of {type(engagement).__name__}")


@tool_limits.register
def _(engagement: Milled, conditions: Trimming, heaviest: TrimmedPrediction) -> Iterator[Limit]:
    shank, stress = engagement.shank, heaviest.bending_stress
    assert stress is not None
    yield Limit(
        "depth within the cutting length", heaviest.layer_depth, shank.cutting_length, "length", "at most",
        "shank.cutting_length", "a tool with longer cutting edges, or more layers", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "breakage of the tool", stress, shank.allowed_stress, "strength", "at most",
        "shank.allowed_stress", "a thicker tool, a shorter overhang, or more layers",
    )  # fmt: skip
    yield Limit(
        "tool deflection", heaviest.tool_deflection, conditions.contour.room, "fine length", "at most",
        "contour.room", "a thicker tool, a shorter overhang, or more layers",
    )  # fmt: skip


@tool_limits.register
def _(engagement: Sawn, conditions: Trimming, heaviest: TrimmedPrediction) -> Iterator[Limit]:
    yield Limit(
        "depth within the reach of the disc", engagement.depth, engagement.reach, "length", "at most",
        "disc.reach", "a larger disc, or smaller flanges", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "curve within the side play of the disc", engagement.overcut, engagement.side_play, "length", "at most",
        "disc.side_play", "a smaller disc, teeth that stand out more, or a tool on its axis", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "sideways deflection of the disc", heaviest.tool_deflection, conditions.contour.room, "fine length", "at most",
        "contour.room", "a thicker or smaller disc, larger flanges, more layers, or a sharper disc",
    )  # fmt: skip


def path_limits(conditions: Trimming, loaded: Sequence[TrimmedPrediction]) -> Iterator[Limit]:
    """How far the wall strays under the states that push the tool furthest, and what robot it asks for."""
    contour, arm = conditions.contour, conditions.arm
    deflection = worst([each.deflection for each in loaded])
    force = worst([np.abs(each.wall_force) for each in loaded])
    error = worst([each.path_error for each in loaded])
    yield Limit(
        "path error", error, contour.room, "length", "at most", "contour.room",
        "a stiffer or more accurate robot, a wider tolerance, a finishing cut, or more layers",
    )  # fmt: skip
    yield Limit(
        "path accuracy", conditions.robot.path_accuracy,
        accuracy_room(contour.room, deflection, contour.other_errors, contour.coverage), "length", "at most",
        "robot.path_accuracy", "a calibrated robot, or a wider tolerance", asks_of="value",
    )  # fmt: skip
    yield Limit(
        "robot stiffness", arm.stiffness,
        stiffness_needed(force, contour.room, contour.position_error, arm.tool_stiffness), "stiffness", "at least",
        "robot.stiffness", "a stiffer robot, or more layers", asks_of="value",
    )  # fmt: skip


def worst(figures: Sequence[Array]) -> Array:
    """The greatest of some states."""
    return reduce(np.maximum, figures)


def heat_limit(name: str, conditions: Trimming, loaded: Sequence[TrimmedPrediction]) -> Limit:
    """Rise of the cut edge against what the material bears."""
    return Limit(
        name, worst([each.temperature_rise for each in loaded]), conditions.thermal.room, "temperature difference",
        "at most", "thermal.room", f"{_cooler(conditions.engagement, conditions)}, or a temperature_limit of its own",
    )  # fmt: skip


@singledispatch
def _cooler(engagement: Engagement, conditions: Trimming) -> str:
    """What keeps a wall cooler."""
    raise TypeError(f"no remedy known of {type(engagement).__name__}")


@_cooler.register
def _(engagement: Milled, conditions: Trimming) -> str:
    teeth = isinstance(conditions, ContourConditions)
    return "a slower spindle, thicker chips, fewer teeth, a sharper tool" if teeth else "coarser grit, cooling"


@_cooler.register
def _(engagement: Sawn, conditions: Trimming) -> str:
    return "a slower spindle, a faster feed, a sharper disc, cooling"


def _chatter_limits(conditions: ContourConditions, heaviest: ContourPrediction) -> Iterator[Limit]:
    if heaviest.tool_depth_limit is not None:
        yield Limit(
            "chatter of the tool", heaviest.cut_width, heaviest.tool_depth_limit, "length", "at most",
            "arm.damping_ratio", "a thicker tool, a shorter overhang, fewer teeth, or more layers",
        )  # fmt: skip
    yield Limit(
        "chatter of the arm", heaviest.cut_width, heaviest.arm_depth_limit, "length", "at most",
        "arm.damping_ratio", "a faster spindle, more teeth, a stiffer robot, or more layers",
    )  # fmt: skip
    if conditions.arm.coupling_limit is not None:
        yield Limit(
            "coupling of two directions of the arm",
            resultant_force(heaviest.process_stiffness, conditions.cutter.force_ratio),
            conditions.arm.coupling_limit, "stiffness", "at most", "arm.coupling_limit",
            "a slower feed, a faster spindle, more layers, or another pose of the robot",
        )  # fmt: skip
