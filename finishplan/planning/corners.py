"""What slow corners do to an edge that is broken under a set force or at a set depth, and what keeps them in hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array
from finishplan.physics.motion import CORNER_TURN
from finishplan.planning.edge_abrasion_operation import AbradedEdge
from finishplan.planning.edge_operation import EdgeCutting
from finishplan.planning.motion import Motion
from finishplan.planning.search import Found
from finishplan.planning.travel import SlowPlace, Travel
from finishplan.process.edge_conditions import CompliantMount
from finishplan.process.edge_limits import corner_limit
from finishplan.process.limits import Limit

BrokenEdge: TypeAlias = EdgeCutting | AbradedEdge

FORCES_TRIED: Final = 400


@dataclass(frozen=True)
class HeldForce:
    """The force [N] at the slowest corner that comes closest to the nominal break, and the break it leaves [m]."""

    force: float
    leg: float


@dataclass(frozen=True, eq=False)
class CornerEffect:
    """What the slowest corner of a path does to the edge break, and the ways to treat it.

    `leg` is the break under unchanged settings; `held` is None for a tool whose force nothing sets. The programmed
    feed would be kept by a path rounded to `radius`, which then stays `deviation` off a sharp corner, or by the
    `acceleration` across the path. `limit` judges the break with the force lowered where one is set.
    """

    places: tuple[SlowPlace, ...]
    leg: float
    held: HeldForce | None
    radius: float
    deviation: float | None
    acceleration: float
    limit: Limit

    @property
    def worst(self) -> SlowPlace:
        return self.places[0]


def corner_effect(operation: BrokenEdge, found: Found, way: Travel, motion: Motion) -> CornerEffect | None:
    """Break at the slowest corner and what would hold it; None where the feed is kept all along."""
    if not way.slow_places:
        return None
    worst, conditions = way.slow_places[0], operation.conditions
    at_corner = {**found.settings, "feed": np.float64(worst.speed)}
    leg = float(_leg(operation, at_corner, found.passes))
    mount = conditions.mount
    held = _held(operation, mount, at_corner, found) if isinstance(mount, CompliantMount) else None
    feed = float(found.settings["feed"])
    radius = float(physics.feed_radius(feed, motion.normal_acceleration))
    return CornerEffect(
        places=way.slow_places,
        leg=leg,
        held=held,
        radius=radius,
        deviation=float(physics.blend_deviation(radius, worst.turn)) if CORNER_TURN <= worst.turn < 3.0 else None,
        acceleration=motion.normal_acceleration * worst.over_work**2,
        limit=corner_limit(conditions.edge, leg if held is None else held.leg),
    )


def _held(operation: BrokenEdge, mount: CompliantMount, at_corner: Mapping[str, Array], found: Found) -> HeldForce:
    pressing = operation.axes[-1].name
    forces = np.geomspace(float(mount.force_min), float(mount.force_max), FORCES_TRIED)
    legs = _leg(operation, {**at_corner, pressing: forces}, found.passes)
    # more force never leaves a smaller break
    force = np.interp(float(found.evaluation.predictions["nominal"].leg), legs, forces)
    return HeldForce(float(force), float(_leg(operation, {**at_corner, pressing: force}, found.passes)))


def _leg(operation: BrokenEdge, settings: Mapping[str, Array], passes: int) -> Array:
    return operation.evaluate(settings, passes).predictions["nominal"].leg
