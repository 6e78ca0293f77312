"""How a turning tool stands in the material along a contour: on its axis beside a wall, or on edge in its own kerf.

A cutter or router stands square to the sheet and works with its side. A saw blade or cut-off wheel stands
on edge, its axis parallel to the sheet, and takes out a kerf as wide as itself; in the sheet's plane only
what its two sides differ by pushes it off the path.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.physics.cutting.direction import Direction
from finishplan.process import contour_forces as forces

MOST_OUT: Final = 0.45
"""Most that a disc comes out on the far side, over its diameter: with the least of flanges at its middle."""


@dataclass(frozen=True, eq=False)
class Shank:
    """What a standing tool bears: stress in bending, and the length it works with.

    `bending_diameter` and `modulus` are those of the round bar it bends like.
    """

    overhang: Array
    bending_diameter: Array
    modulus: Array
    allowed_stress: Array
    cutting_length: Array


@dataclass(frozen=True, eq=False)
class Passage:
    """The way through one layer: width along the tool's axis, depth square to axis and feed, where it is met.

    The angles count from the finished wall, or from the lowest point of a disc. `arc` is what lies
    between them.
    """

    width: Array
    depth: Array
    section: Array
    start: Array
    angle: Array
    arc: Array


@dataclass(frozen=True, eq=False)
class Reaction:
    """Mean forces on the tool: off the wall, and against the feed in either direction of travel.

    `lift` is what draws the part towards the spindle; None where the cut has no such share.
    """

    off_wall: Array
    conventional: Array
    climb: Array
    lift: Array | None


@dataclass(frozen=True, eq=False)
class Milled:
    """A tool on its axis; `radial_depth` is the diameter in a slot."""

    radial_depth: Array
    shank: Shank

    def passage(self, layer: Array, layers: Array, diameter: Array) -> Passage:
        """The way through a layer [m]."""
        angle = physics.engagement_angle(self.radial_depth, diameter)
        section = forces.cut_section(layer, self.radial_depth)
        return Passage(layer, self.radial_depth, section, np.float64(0.0), angle, angle)

    def mean_chip(self, per_tooth: Array, passage: Passage, diameter: Array) -> Array:
        """Mean chip [m]."""
        return physics.mean_chip_thickness(per_tooth, passage.depth, diameter)

    def max_chip(self, per_tooth: Array, passage: Passage, diameter: Array) -> Array:
        """Thickest chip [m]."""
        return physics.max_chip_thickness(per_tooth, passage.depth, diameter)

    def reaction(self, tangential: Array, normal: Array, passage: Passage, direction: Direction) -> Reaction:
        """Mean forces on the tool."""
        return Reaction(
            off_wall=physics.wall_force(tangential, normal, passage.angle, direction),
            conventional=physics.feed_direction_force(tangential, normal, passage.angle, "conventional"),
            climb=physics.feed_direction_force(tangential, normal, passage.angle, "climb"),
            lift=None,
        )


@dataclass(frozen=True, eq=False)
class Sawn:
    """A disc on edge.

    `width` is what it takes out, its `kerf` or a narrower stock. `protrusion` is how far it comes out on the
    far side of the part: in the last layer, where `out` is 1, and not in those before it, where `out` is 0.
    `depth` is how deep it goes in all, `reach` how deep the flanges let it go; `overcut` is what its chord
    takes off the outside of the tightest curve and `side_play` what it may take before its body rubs.
    `side_force_share` is the force that pushes it to either side over the tangential one; its sides rub on
    the walls with a `rubbing_force` and the `side_friction`.
    """

    kerf: Array
    width: Array
    protrusion: Array
    out: Array
    depth: Array
    reach: Array
    overcut: Array
    side_play: Array
    side_force_share: Array
    rubbing_force: Array
    side_friction: Array

    def passage(self, layer: Array, layers: Array, diameter: Array) -> Passage:
        """The way through a layer [m]."""
        beyond = reach_beyond(self.protrusion, layers, self.out, diameter)
        start = physics.engagement_angle(beyond, diameter)
        angle = physics.engagement_angle(rim_depth(layer, beyond, diameter), diameter)
        section = forces.cut_section(layer, self.width)
        return Passage(self.width, layer, section, start, angle, physics.engaged_arc(angle, start))

    def mean_chip(self, per_tooth: Array, passage: Passage, diameter: Array) -> Array:
        """Mean chip [m]."""
        return physics.slit_mean_chip(per_tooth, passage.depth, diameter, passage.arc)

    def max_chip(self, per_tooth: Array, passage: Passage, diameter: Array) -> Array:
        """Thickest chip [m]."""
        return physics.slit_max_chip(per_tooth, passage.angle)

    def reaction(self, tangential: Array, normal: Array, passage: Passage, direction: Direction) -> Reaction:
        """Mean forces on the tool."""
        start = passage.start
        off_floor = physics.wall_force(tangential, normal, passage.angle, direction, start)
        return Reaction(
            off_wall=side_force(self.side_force_share, tangential),
            conventional=physics.feed_direction_force(tangential, normal, passage.angle, "conventional", start),
            climb=physics.feed_direction_force(tangential, normal, passage.angle, "climb", start),
            lift=lift_force(off_floor),
        )


Engagement: TypeAlias = Milled | Sawn


@formula(
    "e = min(e_0, 0.45 D) in the last layer, or the only one; 0 in those before it",
    units={"protrusion": "m", "layers": "1", "out": "1", "diameter": "m"},
    returns="m",
    source="geometry; a disc that comes out by more is beyond the reach of any flanges",
)
def reach_beyond(protrusion: Array, layers: Array, out: Array, diameter: Array) -> Array:
    """How far a disc comes out of the far side of a layer.

    Parameters
    ----------
    protrusion : array_like
        How far it comes out of the part in the last layer e_0 [m].
    layers : array_like
        Layers [1].
    out : array_like
        1 for the last layer, 0 for those before it [1].
    diameter : array_like
        Diameter of the disc D [m].

    Returns
    -------
    array_like
        Reach e [m].
    """
    return np.where((layers == 1) | (out == 1), np.minimum(protrusion, MOST_OUT * diameter), 0.0)


@formula(
    "a = min(t_l + e, D/2)",
    units={"layer": "m", "beyond": "m", "diameter": "m"},
    returns="m",
    source="geometry of a disc through a sheet; what is thicker lies beyond its reach anyway",
)
def rim_depth(layer: Array, beyond: Array, diameter: Array) -> Array:
    """How deep the rim of a disc is below the face of a layer.

    Parameters
    ----------
    layer : array_like
        Thickness of the layer t_l [m].
    beyond : array_like
        How far the disc comes out on its far side e [m].
    diameter : array_like
        Diameter of the disc D [m].

    Returns
    -------
    array_like
        Depth a [m].
    """
    return np.minimum(layer + beyond, diameter / 2)


@formula(
    "F_s = r_s F_t",
    units={"side_force_share": "1", "tangential_force": "N"},
    returns="N",
    source="a disc that is set or worn unevenly is pushed sideways by a share of its cutting force",
)
def side_force(side_force_share: Array, tangential_force: Array) -> Array:
    """Force that pushes a disc out of its plane, to either side.

    Parameters
    ----------
    side_force_share : array_like
        Side force over tangential force r_s [1].
    tangential_force : array_like
        Tangential force F_t [N].

    Returns
    -------
    array_like
        Force F_s [N].
    """
    return side_force_share * tangential_force


@formula(
    "F_l = -F_z",
    units={"off_floor_force": "N"},
    returns="N",
    source="statics: the part takes what the disc gives",
)
def lift_force(off_floor_force: Array) -> Array:
    """Force that draws the part towards the spindle.

    Parameters
    ----------
    off_floor_force : array_like
        Mean force on the disc away from the floor of the kerf F_z [N].

    Returns
    -------
    array_like
        Force F_l [N].
    """
    return -off_floor_force
