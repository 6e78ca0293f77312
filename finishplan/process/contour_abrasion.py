"""Forward model of trimming a contour with grain along a position path: a cut-off wheel, or a router with grit.

There are no teeth to count: the force follows from the energy that the grain spends on a volume.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process import contour_forces as forces
from finishplan.process.contour_conditions import ContourSetting, Trimming
from finishplan.process.contour_limits import heat_limit, path_limits, tool_limits, worst
from finishplan.process.contour_load import Load, TrimmedPrediction, borne
from finishplan.process.equipment_limits import (
    drive_limits,
    robot_limits,
    spindle_speed_limits,
    surface_speed_limits,
)
from finishplan.process.limits import Limit
from finishplan.process.surface_conditions import Abrasive

AbradedCorner: TypeAlias = Literal["nominal", "heaviest load", "last layer"]
"""States of the scatter: in the middle of the change interval, at its end on the hardest part, and there where
a disc comes out on the far side."""


@dataclass(frozen=True, eq=False)
class AbradedContour(Trimming):
    """Everything an operating point on a contour meets under grain."""

    abrasive: Abrasive


@dataclass(frozen=True, eq=False)
class AbradedContourPrediction(TrimmedPrediction):
    """What an operating point does to one state of a contour under grain."""

    pressure: Array
    roughness: Array


AbradedContourPredictions: TypeAlias = Mapping[AbradedCorner, AbradedContourPrediction]


@formula(
    "K = k K_0",
    units={"coefficient": "1/Pa", "coefficient_factor": "1"},
    returns="1/Pa",
    source="a dull abrasive, or a harder part, is one with a smaller coefficient",
)
def coefficient_at(coefficient: Array, coefficient_factor: Array) -> Array:
    """Removal coefficient in one state of the scatter.

    Parameters
    ----------
    coefficient : array_like
        Coefficient planned with K_0 [1/Pa].
    coefficient_factor : array_like
        Coefficient over the one planned with k [1].

    Returns
    -------
    array_like
        Coefficient K [1/Pa].
    """
    return coefficient * coefficient_factor


@formula(
    "F_n = F_t/mu",
    units={"tangential_force": "N", "force_ratio": "1"},
    returns="N",
    source="definition of the force ratio of an abrasive, tangential over normal force",
)
def pressing_force(tangential_force: Array, force_ratio: Array) -> Array:
    """Normal force that goes with a tangential one.

    Parameters
    ----------
    tangential_force : array_like
        Tangential force F_t [N].
    force_ratio : array_like
        Tangential over normal force mu [1].

    Returns
    -------
    array_like
        Normal force F_n [N].
    """
    return tangential_force / force_ratio


@formula(
    "p = F_n/(b dphi D/2)",
    units={"normal_force": "N", "width": "m", "arc": "rad", "diameter": "m"},
    returns="Pa",
    source="mean over the face of the arc in the material",
)
def arc_pressure(normal_force: Array, width: Array, arc: Array, diameter: Array) -> Array:
    """Mean pressure of the grain on the material.

    Parameters
    ----------
    normal_force : array_like
        Normal force F_n [N].
    width : array_like
        Width of the cut along the tool's axis b [m].
    arc : array_like
        Arc in the material dphi [rad].
    diameter : array_like
        Diameter of the tool D [m].

    Returns
    -------
    array_like
        Pressure p [Pa].
    """
    return normal_force / (width * arc * diameter / 2)


def predict_abraded_contour(conditions: AbradedContour, setting: ContourSetting) -> AbradedContourPrediction:
    """Follow one state of a contour through one layer.

    Parameters
    ----------
    conditions : AbradedContour
        The state of contour, abrasive and cell; scalars, or arrays that broadcast with the setting.
    setting : ContourSetting
        Spindle speed [1/s], feed [m/s] and layers.

    Returns
    -------
    AbradedContourPrediction
        Broadcast over conditions and setting.
    """
    abrasive = conditions.abrasive
    diameter = abrasive.tool.diameter
    load = _load(conditions, setting)
    return AbradedContourPrediction(
        **borne(conditions, setting, load, diameter),
        pressure=arc_pressure(load.normal, load.passage.width, load.passage.arc, diameter),
        roughness=abrasive.floor_roughness,
    )


def _load(conditions: AbradedContour, setting: ContourSetting) -> Load:
    abrasive = conditions.abrasive
    diameter = abrasive.tool.diameter
    speed = physics.surface_speed(diameter, setting.spindle_speed)
    layer = forces.layer_depth(conditions.contour.thickness, setting.layers)
    passage = conditions.engagement.passage(layer, setting.layers, diameter)
    coefficient = coefficient_at(abrasive.coefficient, abrasive.coefficient_factor)
    energy = physics.specific_energy(abrasive.force_ratio, coefficient)
    rate = physics.removal_rate(passage.section, setting.feed)
    power = physics.cutting_power(energy, rate)
    tangential = physics.tangential_force(power, speed)
    normal = pressing_force(tangential, abrasive.force_ratio)
    return Load(
        layer=layer,
        passage=passage,
        speed=speed,
        specific=energy,
        rate=rate,
        power=power,
        tangential=tangential,
        normal=normal,
        peak=physics.process_resultant(normal, tangential),
        # what rubs and what cuts is one under grain: all of it goes with the thickness that is taken off
        edge_share=np.float64(0.0),
    )


def abraded_contour_limits(
    conditions: AbradedContour, setting: ContourSetting, predictions: AbradedContourPredictions
) -> list[Limit]:
    """All limits at an operating point, or at every one of an array of points.

    Parameters
    ----------
    conditions : AbradedContour
        The nominal conditions; bounds are read from them.
    setting : ContourSetting
        The settings.
    predictions : mapping of corner to AbradedContourPrediction
        `predict_abraded_contour` at every corner of the scatter.

    Returns
    -------
    list of Limit
        In the order a programmer checks them: speed, load, robot, result.
    """
    abrasive, nominal, heaviest = conditions.abrasive, predictions["nominal"], predictions["heaviest load"]
    loaded = [prediction for name, prediction in predictions.items() if name != "nominal"]
    groups: tuple[Iterator[Limit] | list[Limit], ...] = (
        spindle_speed_limits(setting.spindle_speed, conditions.spindle, abrasive.rated_speed, "abrasive"),
        surface_speed_limits(nominal.surface_speed, abrasive.speed_low, abrasive.speed_high, "abrasive"),
        _pressure_limits(abrasive, nominal, loaded),
        drive_limits(heaviest),
        tool_limits(conditions.engagement, conditions, heaviest),
        robot_limits(
            conditions.robot, physics.process_resultant(heaviest.normal_force, heaviest.tangential_force), setting.feed
        ),
        path_limits(conditions, loaded),
        [heat_limit("heat at the cut edge", conditions, loaded)],
    )
    return [limit for group in groups for limit in group]


def _pressure_limits(
    abrasive: Abrasive, nominal: AbradedContourPrediction, loaded: Sequence[AbradedContourPrediction]
) -> Iterator[Limit]:
    yield Limit(
        "highest pressure: breaking out of grain", worst([each.pressure for each in loaded]), abrasive.pressure_high,
        "contact pressure", "at most", "abrasive.pressure_high", "tougher grit, a larger tool, or a faster spindle",
    )  # fmt: skip
    yield Limit(
        "lowest pressure: glazing", nominal.pressure, abrasive.pressure_low, "contact pressure", "at least",
        "abrasive.pressure_low", "a stronger or slower spindle, or a faster feed",
    )  # fmt: skip
