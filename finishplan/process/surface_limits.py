"""Every limit of working a surface with an abrasive, held against the corners of the scatter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import singledispatch

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.process.equipment_limits import (
    approach_limit,
    device_limits,
    drive_limits,
    following_limits,
    robot_limits,
    spindle_speed_limits,
    surface_speed_limits,
)
from finishplan.process.limits import Limit
from finishplan.process.surface_abrasion import SurfacePredictions
from finishplan.process.surface_conditions import Product, SurfaceConditions, SurfaceSetting


def surface_limits(
    conditions: SurfaceConditions, setting: SurfaceSetting, predictions: SurfacePredictions
) -> list[Limit]:
    """All limits at a setting, or at every one of an array of settings.

    Parameters
    ----------
    conditions : SurfaceConditions
        The nominal conditions; bounds are read from them.
    setting : SurfaceSetting
        The settings.
    predictions : mapping of corner to SurfacePrediction
        `finishplan.process.surface_abrasion.predict_surface` at every corner of the scatter.

    Returns
    -------
    list of Limit
        In the order a programmer checks them: speed, load, mount, robot, result.
    """
    abrasive, nominal, most = conditions.abrasive, predictions["nominal"], predictions["most removal"]
    groups = (
        spindle_speed_limits(setting.spindle_speed, conditions.spindle, abrasive.rated_speed, "abrasive"),
        surface_speed_limits(nominal.rim_speed, abrasive.speed_low, abrasive.speed_high, "abrasive"),
        drive_limits(most),
        _window_limits(conditions, setting, predictions),
        product_limits(abrasive, nominal.feed),
        device_limits(conditions.mount, setting.force, conditions.robot.path_accuracy),
        following_limits(conditions.mount, conditions.surface, conditions.rules, setting.force, nominal.feed),
        [approach_limit(nominal.approach_speed, conditions.rules)],
        robot_limits(
            conditions.robot, physics.process_resultant(most.force, abrasive.force_ratio * most.force), nominal.feed
        ),
        _result_limits(conditions, setting, predictions),
    )
    return [limit for group in groups for limit in group]


def _window_limits(
    conditions: SurfaceConditions, setting: SurfaceSetting, predictions: SurfacePredictions
) -> Iterator[Limit]:
    abrasive = conditions.abrasive
    yield Limit(
        "highest pressure: stall and loading", predictions["most removal"].pressure, abrasive.pressure_high,
        "pressure", "at most", "abrasive.pressure_high", "a larger or softer pad",
    )  # fmt: skip
    yield Limit(
        "lowest pressure", predictions["least removal"].pressure, abrasive.pressure_low, "pressure", "at least",
        "abrasive.pressure_low", "a smaller pad or more force",
    )  # fmt: skip
    yield from usual_force_limits(abrasive, setting.force)


@singledispatch
def product_limits(product: Product, feed: Array) -> Iterable[Limit]:
    """Limits of a kind of product; with graded grain the depth sets the feed [m/s], and there are none."""
    return ()


def usual_force_limits(abrasive: Product, force: Array, least: Array | None = None) -> Iterator[Limit]:
    """Window of usual forces for the size of the tool, counted from its middle.

    `force` is the one set, or the highest where it scatters down to a `least` [N].
    """
    middle = (abrasive.force_low + abrasive.force_high) / 2
    yield Limit(
        "usual force, highest", force, abrasive.force_high, "force", "at most",
        "abrasive.force_high", "a larger tool", datum=middle,
    )  # fmt: skip
    yield Limit(
        "usual force, lowest", force if least is None else least, abrasive.force_low, "force", "at least",
        "abrasive.force_low", "a smaller tool", datum=middle,
    )  # fmt: skip


def _result_limits(
    conditions: SurfaceConditions, setting: SurfaceSetting, predictions: SurfacePredictions
) -> Iterator[Limit]:
    surface, tool = conditions.surface, conditions.abrasive.tool
    nominal, most = predictions["nominal"], predictions["most removal"]
    yield Limit(
        "heat at the surface", most.temperature_rise, conditions.thermal.room, "temperature difference", "at most",
        "thermal.room", "more feed with more passes, less force, or a larger patch",
    )  # fmt: skip
    yield Limit(
        "unevenness of the raster", nominal.ripple, surface.unevenness, "fraction", "at most",
        "surface.unevenness", "a smaller step, more passes, or an orbital pad",
    )  # fmt: skip
    yield Limit(
        "step within the stripe", setting.step, 2 * tool.reach, "length", "at most",
        "abrasive.tool", "a wider tool", keeps_margin=False,
    )  # fmt: skip
    yield Limit(
        "roughness", nominal.roughness, surface.wanted_roughness, "roughness", "at most",
        "surface.wanted_roughness", "a finer last grit",
    )  # fmt: skip
    yield Limit(
        "sand-through: deepest place", surface.taken_before + most.deepest, surface.layer - surface.keep,
        "roughness", "at most", "surface.layer", "less removal, a smaller step, or a thicker layer",
    )  # fmt: skip
    if np.all(np.isfinite(surface.curvature_radius)):
        stiffness = physics.layer_stiffness(tool.modulus, tool.thickness)
        touching = physics.winkler_dome_radius(predictions["least removal"].force, surface.curvature_radius, stiffness)
        yield Limit(
            "contact on the curve", touching, surface.curved_contact_share * tool.reach, "length", "at least",
            "surface.curvature_radius", "a softer or smaller pad, or more force",
        )  # fmt: skip
