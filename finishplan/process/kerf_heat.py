"""Heat that a saw blade or cut-off wheel leaves in the walls of its kerf.

What goes into the floor of the kerf is cut away by the next teeth, but for what runs off sideways out of
the layer that is warm ahead of it. The sides of the disc rub on the walls besides. The walls are warmed
while they pass the arc, as a band that moves along with the feed.
"""

from __future__ import annotations

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.surface_conditions import Rubbing, Thermal


@formula(
    "v_n = vf t/(dphi D/2)",
    units={"feed": "m/s", "layer": "m", "arc": "rad", "diameter": "m"},
    returns="m/s",
    source="geometry: the arc sweeps the layer at the feed, so it advances square to itself by their ratio slower",
)
def floor_advance(feed: Array, layer: Array, arc: Array, diameter: Array) -> Array:
    """How fast the floor of a kerf advances into the material, on the mean over the arc.

    Parameters
    ----------
    feed : array_like
        Feed vf [m/s].
    layer : array_like
        Thickness of the layer t [m].
    arc : array_like
        Arc in the material dphi [rad].
    diameter : array_like
        Diameter of the disc D [m].

    Returns
    -------
    array_like
        Speed square to the floor v_n [m/s].
    """
    return feed * layer / (arc * diameter / 2)


@formula(
    "w = d/(2 (b + d)); d = alpha/v_n",
    units={"diffusivity": "m^2/s", "advance": "m/s", "kerf": "m"},
    returns="1",
    source="derived here: half of what is warm ahead of the ends of the floor; all of it where that is far wider",
)
def sideways_share(diffusivity: Array, advance: Array, kerf: Array) -> Array:
    """Share of the heat at the floor of a kerf that runs off into one of its walls.

    A surface that advances at v_n into a material has a layer of the thickness d = alpha/v_n warm ahead of it.
    Of what is warm there, half lies within d/2 of either end of a wide floor; under a floor narrow against d
    half of all goes either way. Against the heat equation in the plane across the kerf the share is 3 to
    13 % low.

    Parameters
    ----------
    diffusivity : array_like
        Thermal diffusivity alpha of the material [m2/s].
    advance : array_like
        Speed of the floor square to itself v_n [m/s].
    kerf : array_like
        Width of the kerf b [m].

    Returns
    -------
    array_like
        Share w, below a half [1].
    """
    spread = diffusivity / advance
    return spread / (2 * (kerf + spread))


@formula(
    "P_w = w (e + (1 - c)(1 - e)) P + mu F_r v",
    units={
        "power": "W",
        "sideways": "1",
        "edge_share": "1",
        "carried_away": "1",
        "rubbing_force": "N",
        "friction": "1",
        "speed": "m/s",
    },
    returns="W",
    source="derived here: heat that is left at the floor runs off sideways, and the side of the disc rubs on the wall",
)
def kerf_wall_power(
    power: Array,
    sideways: Array,
    edge_share: Array,
    carried_away: Array,
    rubbing_force: Array,
    friction: Array,
    speed: Array,
) -> Array:
    """Power that turns into heat at one wall of a kerf.

    Walls spring back and discs run out whatever the feed, so that a slow feed burns a wall by rubbing.

    Parameters
    ----------
    power : array_like
        Cutting power P [W].
    sideways : array_like
        Share of the heat at the floor that runs off into one wall w [1].
    edge_share : array_like
        Share of the force that rubbing at the edge takes e [1].
    carried_away : array_like
        Share of the heat of chip forming that leaves with the chip c [1].
    rubbing_force : array_like
        Force with which the side of the disc rubs on the wall F_r [N].
    friction : array_like
        Coefficient of friction at its side mu [1].
    speed : array_like
        Surface speed v [m/s].

    Returns
    -------
    array_like
        Power P_w [W].
    """
    left = edge_share + (1 - carried_away) * (1 - edge_share)
    return sideways * left * power + friction * rubbing_force * speed


@formula(
    "l = (D/2)(sin(min(phi, 90 deg)) - sin(psi))",
    units={"engagement_angle": "rad", "start_angle": "rad", "diameter": "m"},
    returns="m",
    source="projection of the arc in the material on the feed",
)
def arc_length(engagement_angle: Array, start_angle: Array, diameter: Array) -> Array:
    """Length along the feed over which a disc is in a sheet.

    Parameters
    ----------
    engagement_angle : array_like
        Angle phi at which the disc meets the near side, counted from its lowest point [rad].
    start_angle : array_like
        Angle psi at which it meets the far side [rad].
    diameter : array_like
        Diameter of the disc D [m].

    Returns
    -------
    array_like
        Length l [m].
    """
    return diameter / 2 * (np.sin(np.minimum(engagement_angle, np.pi / 2)) - np.sin(start_angle))


@formula(
    "A = t l",
    units={"layer": "m", "length": "m"},
    returns="m^2",
    source="wall beside the arc",
)
def warmed_area(layer: Array, length: Array) -> Array:
    """Area of one wall beside the arc.

    Parameters
    ----------
    layer : array_like
        Thickness of the layer t [m].
    length : array_like
        Length along the feed over which the disc is in it l [m].

    Returns
    -------
    array_like
        Area A [m2].
    """
    return layer * length


def kerf_rise(
    thermal: Thermal,
    edge: Rubbing,
    edge_share: Array,
    power: Array,
    speed: Array,
    feed: Array,
    kerf: Array,
    rubbing_force: Array,
    friction: Array,
    layer: Array,
    arc: Array,
    length: Array,
    diameter: Array,
) -> Array:
    """Rise of a wall of the kerf behind the disc.

    Parameters
    ----------
    thermal : Thermal
        What takes the heat.
    edge : Rubbing
        Edge or grain, which takes its own share.
    edge_share : array_like
        Share of the force that rubbing at the edge takes [1].
    power : array_like
        Cutting power [W].
    speed, feed : array_like
        Surface speed and feed [m/s].
    kerf, rubbing_force, friction : array_like
        Width of the disc [m], force with which its side rubs [N], friction there [1].
    layer, arc, length, diameter : array_like
        Thickness of the layer [m], arc in it [rad], its length along the feed and the disc's diameter [m].

    Returns
    -------
    array_like
        Temperature rise [K].
    """
    spread = physics.diffusivity(thermal.conductivity, thermal.density, thermal.specific_heat)
    sideways = sideways_share(spread, floor_advance(feed, layer, arc, diameter), kerf)
    at_wall = kerf_wall_power(power, sideways, edge_share, edge.carried_away, rubbing_force, friction, speed)
    partition = physics.heat_partition(
        thermal.conductivity, thermal.density, thermal.specific_heat, speed, edge.conductivity, edge.contact_radius
    )
    flux = physics.contact_flux(partition, at_wall, warmed_area(layer, length))
    return physics.band_temperature_rise(flux, length, feed, thermal.conductivity, spread)
