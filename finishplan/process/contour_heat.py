"""Heat that a cutter leaves in the wall of a contour.

What goes into the material ahead of the cutter is cut away by the next teeth. Only the last stretch of
the arc, close to the finished wall, warms what stays: there the cutting surface advances so slowly that
the heat spreads to the wall before the teeth have reached it. What is warmed there is a band that moves
along the wall with the feed; in metals heat runs ahead of it, which Jaeger's solution counts.
"""

from __future__ import annotations

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.chip_law import ChipLaw
from finishplan.process.surface_conditions import Rubbing, Thermal


@formula(
    "phi_c = min((alpha/(vf D/2))^(1/3), phi)",
    units={"diffusivity": "m^2/s", "feed": "m/s", "diameter": "m", "engagement_angle": "rad"},
    returns="rad",
    source="derived here: heat equation over a surface that is cut away down to the wall",
)
def heated_arc(diffusivity: Array, feed: Array, diameter: Array, engagement_angle: Array) -> Array:
    """Arc, counted from the finished wall, whose heat stays in the wall.

    On the radius R the surface at the angle phi is R (1 - cos phi) above the wall and moves towards it
    at vf sin phi, so a layer of the thickness alpha/(vf sin phi) is warm ahead of it. The warm layer
    reaches the wall where it is as thick as twice that height, which for small angles gives
    phi^3 = alpha/(vf R). Twice, because the rise then agrees with the heat equation: 2 % too much for
    heat spread evenly over the arc, 20 % too much for heat that grows with the angle. The small-angle
    form is 2 % low at 0.5 rad and 8 % low at 0.9 rad.

    Parameters
    ----------
    diffusivity : array_like
        Thermal diffusivity alpha of the material [m2/s].
    feed : array_like
        Feed vf [m/s].
    diameter : array_like
        Cutter diameter D [m].
    engagement_angle : array_like
        Engagement angle phi, the whole arc [rad].

    Returns
    -------
    array_like
        Arc phi_c [rad].
    """
    return np.minimum(np.cbrt(diffusivity / (feed * diameter / 2)), engagement_angle)


@formula(
    "e = -d ln kc/d ln h; 1 where the chip is too thin to form",
    units={"chip_law": "-", "chip_thickness": "m", "specific_force": "Pa"},
    returns="1",
    source="chip law taken as a straight line at the mean chip: force = constant + slope x chip",
)
def edge_force_share(chip_law: ChipLaw, chip_thickness: Array, specific_force: Array) -> Array:
    """Share of the force that rubbing at the edge takes, however thick the chip.

    Parameters
    ----------
    chip_law : PowerLaw or AffineLaw
        Specific cutting force over chip thickness [-].
    chip_thickness : array_like
        Mean chip thickness h [m].
    specific_force : array_like
        Specific cutting force kc at that thickness [Pa].

    Returns
    -------
    array_like
        Share e [1].
    """
    forms = chip_thickness > chip_law.minimum_chip_thickness
    return np.where(forms, -chip_law.log_slope(chip_thickness, specific_force), 1.0)


@formula(
    "w = e phi_c/phi + (1 - c)(1 - e)(1 - cos phi_c)/(1 - cos phi)",
    units={"edge_share": "1", "carried_away": "1", "heated_arc": "rad", "engagement_angle": "rad"},
    returns="1",
    source="derived here: force times path over the arc, for a force that is constant and one that goes with sin phi",
)
def wall_work_share(edge_share: Array, carried_away: Array, heated_arc: Array, engagement_angle: Array) -> Array:
    """Share of the cutting power that turns into heat at the wall.

    The force of the edge does its work evenly along the arc. That of the chip goes with the chip's
    thickness, so with sin phi, and most of its heat leaves with the chip.

    Parameters
    ----------
    edge_share : array_like
        Share of the force that rubbing at the edge takes e [1].
    carried_away : array_like
        Share of the heat of chip forming that leaves with the chip c [1].
    heated_arc : array_like
        Arc whose heat stays in the wall phi_c [rad].
    engagement_angle : array_like
        Engagement angle phi [rad].

    Returns
    -------
    array_like
        Share w [1].
    """
    rubbed = edge_share * heated_arc / engagement_angle
    chip = (1 - edge_share) * np.sin(heated_arc / 2) ** 2 / np.sin(engagement_angle / 2) ** 2
    return rubbed + (1 - carried_away) * chip


@formula(
    "P_w = w P",
    units={"work_share": "1", "power": "W"},
    returns="W",
    source="definition of the share",
)
def wall_power(work_share: Array, power: Array) -> Array:
    """Power that turns into heat at the wall.

    Parameters
    ----------
    work_share : array_like
        Share of the cutting power w [1].
    power : array_like
        Cutting power P [W].

    Returns
    -------
    array_like
        Power P_w [W].
    """
    return work_share * power


@formula(
    "A = a_p phi_c D/2",
    units={"axial_depth": "m", "heated_arc": "rad", "diameter": "m"},
    returns="m^2",
    source="arc over the depth of the layer",
)
def heated_area(axial_depth: Array, heated_arc: Array, diameter: Array) -> Array:
    """Area of the arc whose heat stays in the wall.

    Parameters
    ----------
    axial_depth : array_like
        Axial depth a_p [m].
    heated_arc : array_like
        Arc phi_c [rad].
    diameter : array_like
        Cutter diameter D [m].

    Returns
    -------
    array_like
        Area A [m2].
    """
    return axial_depth * heated_arc * diameter / 2


@formula(
    "l = (D/2) sin(min(phi_c, 90 deg))",
    units={"heated_arc": "rad", "diameter": "m"},
    returns="m",
    source="projection of the arc on the feed",
)
def heated_length(heated_arc: Array, diameter: Array) -> Array:
    """Length along the feed over which a place of the wall is warmed.

    Parameters
    ----------
    heated_arc : array_like
        Arc phi_c [rad].
    diameter : array_like
        Cutter diameter D [m].

    Returns
    -------
    array_like
        Length l [m].
    """
    return diameter / 2 * np.sin(np.minimum(heated_arc, np.pi / 2))


def wall_rise(
    thermal: Thermal,
    edge: Rubbing,
    edge_share: Array,
    power: Array,
    speed: Array,
    axial_depth: Array,
    engagement_angle: Array,
    diameter: Array,
    feed: Array,
) -> Array:
    """Rise of the finished wall behind the cutter.

    Parameters
    ----------
    thermal : Thermal
        What takes the heat.
    edge : Rubbing
        The edge of the cutter, which takes its own share.
    edge_share : array_like
        Share of the force that rubbing at the edge takes [1].
    power : array_like
        Cutting power [W].
    speed : array_like
        Surface speed [m/s].
    axial_depth, engagement_angle, diameter : array_like
        The engagement [m], [rad], [m].
    feed : array_like
        Feed [m/s].

    Returns
    -------
    array_like
        Temperature rise [K].
    """
    spread = physics.diffusivity(thermal.conductivity, thermal.density, thermal.specific_heat)
    arc = heated_arc(spread, feed, diameter, engagement_angle)
    at_wall = wall_power(wall_work_share(edge_share, edge.carried_away, arc, engagement_angle), power)
    partition = physics.heat_partition(
        thermal.conductivity, thermal.density, thermal.specific_heat, speed, edge.conductivity, edge.contact_radius
    )
    flux = physics.contact_flux(partition, at_wall, heated_area(axial_depth, arc, diameter))
    return physics.band_temperature_rise(flux, heated_length(arc, diameter), feed, thermal.conductivity, spread)
