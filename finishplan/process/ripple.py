"""How uneven a raster leaves a surface far from its borders: the profile of one pass, added up pass beside pass.

The ripple depends on the pitch of the raster over the reach of the profile alone. It is worked out
once for each profile and read off a table; `finishplan.process.removal_map` follows a real raster.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from typing import Final, Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from finishplan.formula import Array, formula

Profile: TypeAlias = Literal["orbital", "spinning disc", "stripe"]
Floats: TypeAlias = NDArray[np.float64]

PITCHES: Final = np.unique(np.concatenate([np.geomspace(0.05, 2.0, 400), 2 / np.arange(1, 41)]))
"""Pitches over the reach; those at which the borders of passes meet stand among them, as the ripple peaks there."""

PLACES: Final = 101
"""Places across one pitch at which the sum is taken."""


def _orbital(offset: Floats) -> Floats:
    """Depth across one pass of a pad whose points all slide alike."""
    return np.asarray(np.sqrt(np.maximum(1 - offset**2, 0.0)))


def _spinning_disc(offset: Floats) -> Floats:
    """Depth across one pass of a disc that spins under even pressure."""
    half_chord = _orbital(offset)
    distance = np.maximum(np.abs(offset), 1e-12)
    return np.asarray(half_chord + distance**2 * np.arcsinh(half_chord / distance))


def _stripe(offset: Floats) -> Floats:
    """Depth across one pass of a belt or wheel: the same over its width."""
    return np.asarray(np.abs(offset) < 1, dtype=float)


PROFILES: Final[Mapping[Profile, Callable[[Floats], Floats]]] = {
    "orbital": _orbital,
    "spinning disc": _spinning_disc,
    "stripe": _stripe,
}


@functools.cache
def _ripples(profile: Profile) -> Floats:
    """Ripple at every pitch of the table."""
    ripples = []
    for pitch in PITCHES:
        neighbours = np.arange(-np.ceil(1 / pitch) - 1, np.ceil(1 / pitch) + 2) * pitch
        place = np.linspace(0.0, pitch, PLACES)
        total = PROFILES[profile](place[:, None] - neighbours).sum(axis=1)
        ripples.append((total.max() - total.min()) / total[:-1].mean())
    return np.array(ripples)


@formula(
    "w = (h_max - h_min)/h_mean of a raster of pitch p under a profile of reach R",
    units={"pitch": "m", "reach": "m", "profile": "-"},
    returns="1",
    source="sum of the depth profiles of passes side by side; orbital sqrt(1 - y^2), disc s + y^2 asinh(s/|y|)",
    domain={"pitch": (1e-9, 1e3), "reach": (1e-9, 1e3)},
)
def raster_ripple(pitch: Array, reach: Array, profile: Profile) -> Array:
    """Unevenness that a raster leaves far from its borders.

    Parameters
    ----------
    pitch : array_like
        Distance of the lines of the raster [m].
    reach : array_like
        Radius of the pad, or half the width of a stripe [m].
    profile : {"orbital", "spinning disc", "stripe"}
        How the depth is spread across one pass [-].

    Returns
    -------
    array_like
        Greatest less smallest depth over the mean depth [1].

    Notes
    -----
    The ripple does not fall steadily with the pitch: it peaks where the borders of passes meet.
    Between the entries of the table it is interpolated; below its finest pitch it falls in proportion.
    """
    share = np.asarray(pitch / reach, dtype=float)
    known = np.interp(share, PITCHES, _ripples(profile))
    return np.where(share < PITCHES[0], known * share / PITCHES[0], known)[()]
