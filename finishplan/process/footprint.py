"""Footprints: where under a tool the removal takes place, and what pressure the place carries.

Only ratios count: a footprint is scaled so that the whole of it removes the rate the process gives.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Final, Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

Field: TypeAlias = NDArray[np.float64]
Profile: TypeAlias = Callable[[Field], Field]

_GAUSSIAN_REACH: Final = 7.0
"""Standard deviations after which a Gaussian footprint ends; its height there is 2e-11 of the peak."""

_SAMPLES: Final = 4
"""Samples along each side of a cell, from which the cell's mean is taken."""


class Footprint(Hashable, Protocol):
    """Pressure and sliding speed under a tool, over the distance x and y from its centre [m].

    Footprints that are equal spread alike.
    """

    @property
    def reach(self) -> tuple[float, float]:
        """Largest distance from the centre along x and along y [m]."""

    def pressure(self, x: Field, y: Field) -> Field:
        """Pressure in any unit; zero where the tool does not touch."""

    def speed(self, x: Field, y: Field) -> Field:
        """Sliding speed in any unit."""


def even(share_of_radius: Field) -> Field:
    """The same everywhere."""
    return np.ones_like(share_of_radius)


def proportional(share_of_radius: Field) -> Field:
    """Rising evenly from the centre."""
    return share_of_radius


@dataclass(frozen=True)
class RoundPad:
    """A round pad whose pressure and speed depend on the distance from its centre alone.

    Attributes
    ----------
    radius : float
        Radius of the pad [m].
    pressure_profile, speed_profile : callables
        Pressure and sliding speed over the distance from the centre as a share of the radius.
    """

    radius: float
    pressure_profile: Profile = even
    speed_profile: Profile = even

    @property
    def reach(self) -> tuple[float, float]:
        """The radius, along x and along y [m]."""
        return self.radius, self.radius

    def pressure(self, x: Field, y: Field) -> Field:
        """The pressure profile inside the radius, zero outside."""
        distance = np.hypot(x, y) / self.radius
        return np.where(distance <= 1.0, self.pressure_profile(distance), 0.0)

    def speed(self, x: Field, y: Field) -> Field:
        """The speed profile."""
        return self.speed_profile(np.hypot(x, y) / self.radius)


def orbital_pad(radius: float) -> RoundPad:
    """An orbital pad of a radius [m]: even pressure, and the orbit's speed at every place."""
    return RoundPad(radius)


def spinning_disc(radius: float) -> RoundPad:
    """A disc of a radius [m] turning flat on the surface: even pressure, speed rising with the distance."""
    return RoundPad(radius, speed_profile=proportional)


def gaussian_pad(deviation: float) -> RoundPad:
    """A soft tool whose removal falls off as a normal distribution of this standard deviation [m]."""
    return RoundPad(_GAUSSIAN_REACH * deviation, lambda share: np.exp(-((_GAUSSIAN_REACH * share) ** 2) / 2))


@dataclass(frozen=True)
class BeltContact:
    """The rectangle in which a belt on a contact wheel or platen touches; even pressure and speed.

    Attributes
    ----------
    length : float
        Extent in the direction of travel [m].
    width : float
        Extent across it, the width of the belt [m].
    direction : float
        Direction of travel from the x axis [rad]. It is that of the lines of a raster: on its links
        the belt keeps its attitude.
    """

    length: float
    width: float
    direction: float = 0.0

    @property
    def reach(self) -> tuple[float, float]:
        """Half the extents of the turned rectangle along x and along y [m]."""
        cosine, sine = abs(math.cos(self.direction)), abs(math.sin(self.direction))
        return (self.length * cosine + self.width * sine) / 2, (self.length * sine + self.width * cosine) / 2

    def pressure(self, x: Field, y: Field) -> Field:
        """One inside the rectangle, zero outside."""
        cosine, sine = math.cos(self.direction), math.sin(self.direction)
        along, across = x * cosine + y * sine, y * cosine - x * sine
        return np.where((np.abs(along) <= self.length / 2) & (np.abs(across) <= self.width / 2), 1.0, 0.0)

    def speed(self, x: Field, y: Field) -> Field:
        """One everywhere."""
        return np.ones(np.broadcast_shapes(np.shape(x), np.shape(y)))


def cell_means(field: Callable[[Field, Field], Field], reach: tuple[int, int], cell: tuple[float, float]) -> Field:
    """Mean of a field over every cell around the centre, scaled to a sum of one.

    Parameters
    ----------
    field : callable
        The field over x and y [m].
    reach : (int, int)
        Cells on either side of the central one, along x and along y.
    cell : (float, float)
        Size of a cell along x and along y [m].

    Returns
    -------
    (2 m + 1, 2 n + 1) array
        Rows along y.

    Raises
    ------
    ValueError
        A field that is nowhere above zero.
    """
    columns, rows = 2 * reach[0] + 1, 2 * reach[1] + 1
    offsets = (np.arange(_SAMPLES) + 0.5) / _SAMPLES - 0.5
    total: Field = np.zeros((rows, columns))
    for offset in offsets:
        # Every row of samples is shifted a little against the next, so that an upright rim is met in more places.
        x = ((np.arange(columns) - reach[0])[:, None] + offsets + offset / _SAMPLES).ravel() * cell[0]
        y = (np.arange(rows) - reach[1] + offset) * cell[1]
        total += field(x[None, :], y[:, None]).reshape(rows, columns, _SAMPLES).sum(axis=2)
    if not total.sum() > 0:
        raise ValueError("cell_means: the footprint removes nothing anywhere")
    return np.asarray(total / total.sum())
