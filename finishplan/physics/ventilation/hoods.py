"""Air that hoods, slots and booths need to take the dust in.

The centre-line equations are homogeneous: their factors hold in any units of length and time. They
can be off by about a third either way in a real cell, with cross draughts and a robot in front of
the hood; a flow from here is a starting value, to be confirmed with smoke and an anemometer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import FOOT_PER_MINUTE, Grade

FLANGE_FACTOR: Final = 0.75
HOOD_BAND: Final = 0.3
"""Relative uncertainty of a centre-line hood flow; common practice, no published source."""

CENTRE_LINE: Final = "DallaValle, Exhaust Hoods, 1945; ACGIH, Industrial Ventilation, chapter on hoods"
FLAG: Final = (0.0, 1.0)


@dataclass(frozen=True)
class CaptureVelocity:
    """Air speed needed where the dust is released [m/s], by how it is released."""

    release: str
    low: float
    high: float
    source: str = "ACGIH, Industrial Ventilation, table of capture velocities"
    grade: Grade = "published"


CAPTURE_VELOCITIES: Final[Mapping[str, CaptureVelocity]] = {
    name: CaptureVelocity(release, low * FOOT_PER_MINUTE, high * FOOT_PER_MINUTE)
    for name, release, low, high in (
        ("still", "released with practically no velocity into still air", 50, 100),
        ("slow", "released at low velocity into moderately still air", 100, 200),
        ("active", "active generation into a zone of rapid air motion", 200, 500),
        ("high-speed", "high initial velocity: grinding, abrasive blasting, tumbling", 500, 2000),
    )
}

FACE_VELOCITIES: Final[Mapping[str, CaptureVelocity]] = {
    "partial enclosure": CaptureVelocity(
        "grinding in a partial enclosure, average over the opening",
        200 * FOOT_PER_MINUTE,
        200 * FOOT_PER_MINUTE,
        "Michigan Administrative Code R 325.52506(5)",
    ),
    "swing-frame booth": CaptureVelocity(
        "cradle and swing-frame grinding booth, over the full opening",
        150 * FOOT_PER_MINUTE,
        150 * FOOT_PER_MINUTE,
        "29 CFR 1910.94(b)",
        "from memory",
    ),
}
"""Least air speed through the opening of an enclosure [m/s]."""


@formula(
    "Q = f V (10 X^2 + A); f = 1 plain, 0.75 flanged",
    units={"capture_velocity": "m/s", "distance": "m", "area": "m^2", "flanged": "1"},
    returns="m^3/s",
    source=CENTRE_LINE,
    domain={"capture_velocity": NON_NEGATIVE, "distance": NON_NEGATIVE, "area": NON_NEGATIVE, "flanged": FLAG},
)
def hood_flow(capture_velocity: Array, distance: Array, area: Array, flanged: Array = False) -> Array:
    """Flow into a plain opening that draws the dust in at a distance in front of it.

    Holds for round openings and rectangles not narrower than a fifth of their length, out to about
    one and a half diameters; the flange about sqrt(A) wide.

    Parameters
    ----------
    capture_velocity : array_like
        Air speed V wanted where the dust is released [m/s].
    distance : array_like
        Distance X of that place from the opening, on its axis [m].
    area : array_like
        Open area A of the hood [m2].
    flanged : array_like of bool
        Whether a flange keeps the air behind the hood out [1].

    Returns
    -------
    array_like
        Flow Q [m3/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.where(flanged, FLANGE_FACTOR, 1.0) * capture_velocity * (10 * distance**2 + area)


@formula(
    "X = sqrt((Q/(f V) - A)/10); f = 1 plain, 0.75 flanged",
    units={"flow": "m^3/s", "capture_velocity": "m/s", "area": "m^2", "flanged": "1"},
    returns="m",
    source=CENTRE_LINE,
    domain={"flow": NON_NEGATIVE, "capture_velocity": POSITIVE, "area": NON_NEGATIVE, "flanged": FLAG},
)
def capture_reach(flow: Array, capture_velocity: Array, area: Array, flanged: Array = False) -> Array:
    """Distance out to which a hood still draws the dust in; the inverse of `hood_flow`.

    Parameters
    ----------
    flow : array_like
        Flow Q the fan gives [m3/s].
    capture_velocity : array_like
        Air speed V wanted where the dust is released [m/s].
    area : array_like
        Open area A of the hood [m2].
    flanged : array_like of bool
        Whether a flange keeps the air behind the hood out [1].

    Returns
    -------
    array_like
        Distance X; zero where the air is too slow even in the opening [m].

    Raises
    ------
    ValueError
        A negative value or a velocity of zero.
    """
    reached = flow / (np.where(flanged, FLANGE_FACTOR, 1.0) * capture_velocity) - area
    return np.sqrt(np.maximum(reached, 0 * area) / 10)


@formula(
    "Q = c L V X; c = 3.7 plain, 2.6 flanged",
    units={"capture_velocity": "m/s", "distance": "m", "length": "m", "flanged": "1"},
    returns="m^3/s",
    source="Silverman's slot equations: ACGIH, Industrial Ventilation, chapter on hoods",
    domain={"capture_velocity": NON_NEGATIVE, "distance": NON_NEGATIVE, "length": NON_NEGATIVE, "flanged": FLAG},
)
def slot_hood_flow(capture_velocity: Array, distance: Array, length: Array, flanged: Array = False) -> Array:
    """Flow into a slot, narrower than a fifth of its length, that draws the dust in at a distance.

    Parameters
    ----------
    capture_velocity : array_like
        Air speed V wanted where the dust is released [m/s].
    distance : array_like
        Distance X of that place from the slot [m].
    length : array_like
        Length L of the slot [m].
    flanged : array_like of bool
        Whether a flange keeps the air behind the slot out [1].

    Returns
    -------
    array_like
        Flow Q [m3/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return np.where(flanged, 2.6, 3.7) * length * capture_velocity * distance


@formula(
    "Q = V_f A",
    units={"face_velocity": "m/s", "opening_area": "m^2"},
    returns="m^3/s",
    source="continuity: the air of an enclosure enters through its openings",
    domain={"face_velocity": NON_NEGATIVE, "opening_area": NON_NEGATIVE},
)
def booth_flow(face_velocity: Array, opening_area: Array) -> Array:
    """Flow that keeps an inward air speed over the openings of a booth or cell.

    Parameters
    ----------
    face_velocity : array_like
        Average air speed V_f through the openings [m/s].
    opening_area : array_like
        Area A of all openings together [m2].

    Returns
    -------
    array_like
        Flow Q [m3/s].

    Raises
    ------
    ValueError
        A negative value.
    """
    return face_velocity * opening_area


@formula(
    "Q = m/(q C_min)",
    units={"mass_rate": "kg/s", "minimum_explosible_concentration": "kg/m^3", "share": "1"},
    returns="m^3/s",
    source="NFPA 480:1998, 4-2.6.2: less than a quarter of the minimum explosible concentration in the duct",
    domain={"mass_rate": NON_NEGATIVE, "minimum_explosible_concentration": POSITIVE, "share": (0.001, 1.0)},
)
def dilution_flow(mass_rate: Array, minimum_explosible_concentration: Array, share: Array = 0.25) -> Array:
    """Flow that keeps the dust in a duct below a share of what can explode.

    Parameters
    ----------
    mass_rate : array_like
        Dust drawn into the duct per time m [kg/s].
    minimum_explosible_concentration : array_like
        Least concentration C_min that can explode [kg/m3].
    share : array_like
        Share q of it that is allowed [1].

    Returns
    -------
    array_like
        Flow Q [m3/s].

    Raises
    ------
    ValueError
        A negative rate, a concentration of zero, or a share outside 0.001 to 1.
    """
    return mass_rate / (share * minimum_explosible_concentration)
