"""What an abrasive tool does at its contact: how fast it slides, and the patch it presses on.

Each kind of tool answers the same four questions; the forward models do not know the kinds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import Array, formula
from finishplan.process.footprint import BeltContact, Footprint, orbital_pad, spinning_disc
from finishplan.process.ripple import Profile

MOST_OF_A_TILTED_DISC = 0.6
"""Share of the force that would press a tilted disc down to its centre; beyond it, it lies flat."""


@dataclass(frozen=True, eq=False)
class Patch:
    """The contact: its area, its extent across and along the feed, and the mean pressure."""

    area: Array
    width: Array
    length: Array
    pressure: Array


@formula(
    "A = w l",
    units={"width": "m", "length": "m"},
    returns="m^2",
    source="geometry of a rectangular patch",
)
def stripe_area(width: Array, length: Array) -> Array:
    """Area of the patch of a belt or wheel.

    Parameters
    ----------
    width : array_like
        Width across the feed [m].
    length : array_like
        Length along the feed [m].

    Returns
    -------
    array_like
        Area [m2].
    """
    return width * length


@formula(
    "A = pi D^2/4",
    units={"diameter": "m"},
    returns="m^2",
    source="geometry of the circle",
)
def pad_area(diameter: Array) -> Array:
    """Area of a round pad.

    Parameters
    ----------
    diameter : array_like
        Diameter D [m].

    Returns
    -------
    array_like
        Area [m2].
    """
    return np.pi * diameter**2 / 4


@formula(
    "p = F/A",
    units={"force": "N", "area": "m^2"},
    returns="Pa",
    source="definition of pressure",
)
def mean_pressure(force: Array, area: Array) -> Array:
    """Mean pressure on a patch.

    Parameters
    ----------
    force : array_like
        Normal force F [N].
    area : array_like
        Area A [m2].

    Returns
    -------
    array_like
        Pressure p [Pa].
    """
    return force / area


@formula(
    "l = 2 b; b the smaller of Hertz on a solid tyre and of a thin tread as a bed of springs",
    units={"force": "N", "width": "m", "diameter": "m", "modulus": "Pa", "thickness": "m"},
    returns="m",
    source="Johnson, Contact Mechanics, 1985, sections 4.2 and 4.3; a bonded tread is stiffer than either",
)
def roller_contact_length(force: Array, width: Array, diameter: Array, modulus: Array, thickness: Array) -> Array:
    """Length of contact of a wheel with a soft tyre.

    Parameters
    ----------
    force : array_like
        Normal force F [N].
    width : array_like
        Width of the wheel or belt [m].
    diameter : array_like
        Wheel diameter D [m].
    modulus : array_like
        Young's modulus of the tyre [Pa].
    thickness : array_like
        Thickness of the tyre [m].

    Returns
    -------
    array_like
        Length along the feed [m].
    """
    tyre = physics.effective_modulus(modulus, RUBBER_POISSON)
    solid = physics.hertz_line_half_width(force / width, diameter / 2, tyre)
    thin = physics.winkler_cylinder_half_width(force / width, diameter / 2, physics.layer_stiffness(modulus, thickness))
    return 2 * np.minimum(solid, thin)


RUBBER_POISSON = 0.5
"""Rubber keeps its volume when it is pressed."""


@dataclass(frozen=True, eq=False)
class Roller:
    """A belt on its contact wheel, or a wheel or brush that works with its rim."""

    diameter: Array
    width: Array
    modulus: Array
    thickness: Array
    profile: Profile = "stripe"

    @property
    def reach(self) -> Array:
        """Half the width of the stripe [m]."""
        return self.width / 2

    def speed(self, spindle_speed: Array, force: Array) -> Array:
        """Sliding speed [m/s]."""
        return physics.belt_speed(self.diameter, spindle_speed)

    def rim_speed(self, spindle_speed: Array) -> Array:
        """Highest speed of the product, which its marking limits [m/s]."""
        return physics.belt_speed(self.diameter, spindle_speed)

    def footprint(self, force: float, direction: float) -> Footprint:
        """Where the removal takes place on a raster of a direction [rad]."""
        return BeltContact(float(self.patch(force).length), float(self.width), direction)

    def patch(self, force: Array) -> Patch:
        """The contact under a force [N]."""
        length = roller_contact_length(force, self.width, self.diameter, self.modulus, self.thickness)
        area = stripe_area(self.width, length)
        return Patch(area, self.width, length, mean_pressure(force, area))


@dataclass(frozen=True, eq=False)
class FlatDisc:
    """A disc that spins flat on the surface."""

    diameter: Array
    modulus: Array
    thickness: Array
    profile: Profile = "spinning disc"

    @property
    def reach(self) -> Array:
        """Radius [m]."""
        return self.diameter / 2

    def speed(self, spindle_speed: Array, force: Array) -> Array:
        """Mean sliding speed [m/s]."""
        return physics.disc_mean_speed(self.diameter, spindle_speed)

    def rim_speed(self, spindle_speed: Array) -> Array:
        """Speed of the rim [m/s]."""
        return physics.belt_speed(self.diameter, spindle_speed)

    def footprint(self, force: float, direction: float) -> Footprint:
        """Where the removal takes place."""
        return spinning_disc(float(self.diameter) / 2)

    def patch(self, force: Array) -> Patch:
        """The contact under a force [N]: the whole disc."""
        return _round_patch(self.diameter, force)


@dataclass(frozen=True, eq=False)
class OrbitalPad:
    """A pad that orbits without spinning; pressed hard, it stops even its slow spin."""

    diameter: Array
    orbit: Array
    modulus: Array
    thickness: Array
    profile: Profile = "orbital"

    @property
    def reach(self) -> Array:
        """Radius [m]."""
        return self.diameter / 2

    def speed(self, spindle_speed: Array, force: Array) -> Array:
        """Sliding speed, the same everywhere on the pad [m/s]."""
        return physics.orbital_speed(self.orbit, spindle_speed)

    def rim_speed(self, spindle_speed: Array) -> Array:
        """Speed of every point [m/s]."""
        return physics.orbital_speed(self.orbit, spindle_speed)

    def footprint(self, force: float, direction: float) -> Footprint:
        """Where the removal takes place."""
        return orbital_pad(float(self.diameter) / 2)

    def patch(self, force: Array) -> Patch:
        """The contact under a force [N]: the whole pad."""
        return _round_patch(self.diameter, force)


@dataclass(frozen=True, eq=False)
class TiltedDisc:
    """A disc held at an angle, so that a segment at its rim works."""

    diameter: Array
    tilt: Array
    modulus: Array
    thickness: Array
    profile: Profile = "stripe"

    @property
    def reach(self) -> Array:
        """Half of the chord a usual contact has, about a third of the radius deep [m]."""
        return physics.tilted_disc_contact_width(self.diameter, self.diameter / 6) / 2

    def speed(self, spindle_speed: Array, force: Array) -> Array:
        """Mean sliding speed over the segment [m/s]."""
        return physics.tilted_disc_mean_speed(self.diameter, spindle_speed, self._depth(force))

    def rim_speed(self, spindle_speed: Array) -> Array:
        """Speed of the rim [m/s]."""
        return physics.belt_speed(self.diameter, spindle_speed)

    def footprint(self, force: float, direction: float) -> Footprint:
        """Where the removal takes place on a raster of a direction [rad]: a stripe as wide as the chord."""
        patch = self.patch(force)
        return BeltContact(float(patch.length), 2 * float(self.reach), direction)

    def patch(self, force: Array) -> Patch:
        """The segment that touches under a force [N], taken as two thirds of its chord by its depth."""
        depth = self._depth(force)
        width = physics.tilted_disc_contact_width(self.diameter, depth)
        area = 2 / 3 * stripe_area(width, depth)
        return Patch(area, width, depth, mean_pressure(force, area))

    def _depth(self, force: Array) -> Array:
        stiffness = physics.layer_stiffness(self.modulus, self.thickness)
        flat = MOST_OF_A_TILTED_DISC * stiffness * np.tan(self.tilt) * (self.diameter / 2) ** 3
        return physics.tilted_disc_contact_depth(np.minimum(force, flat), self.diameter, self.tilt, stiffness)


def _round_patch(diameter: Array, force: Array) -> Patch:
    area = pad_area(diameter)
    return Patch(area, diameter, diameter, mean_pressure(force, area))


AbrasiveTool: TypeAlias = Roller | FlatDisc | OrbitalPad | TiltedDisc
