"""Sound in and around a cell: the hall it stands in, the enclosure around it, and the operator beside it.

An estimate from here says whether to expect a problem; only a measurement at the operator's place decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.noise.levels import combined_level_db, free_field_level_db

DIFFUSE: Final = "diffuse field in a room: Beranek, Acoustics, 1954; Kuttruff, Room Acoustics, chapter 5"


@dataclass(frozen=True)
class LevelBand:
    """A level with the lowest and highest it may be [dB]."""

    low_db: float
    middle_db: float
    high_db: float


def level_away(band: LevelBand, reference_distance: float, distance: float) -> LevelBand:
    """A level further away, as it falls in the open at the low end and not at all, in a hard hall, at the high end.

    Parameters
    ----------
    band : LevelBand
        Level at the reference distance [dB].
    reference_distance, distance : float
        Where it was found and where the listener is; nearer than that it is left as it is [m].

    Returns
    -------
    LevelBand
        Level there; its middle half way between the two [dB].

    Raises
    ------
    ValueError
        A distance of zero.
    """
    away = max(distance, reference_distance)
    low = float(free_field_level_db(band.low_db, reference_distance, away))
    return LevelBand(low, band.middle_db - (band.low_db - low) / 2, band.high_db)


@formula(
    "R = S alpha/(1 - alpha)",
    units={"surface": "m^2", "absorption": "1"},
    returns="m^2",
    source=DIFFUSE,
    domain={"surface": POSITIVE, "absorption": (0.001, 0.999)},
)
def room_constant(surface: Array, absorption: Array) -> Array:
    """Room constant: how much of the sound a room swallows.

    Parameters
    ----------
    surface : array_like
        Surface S of walls, floor and ceiling [m2].
    absorption : array_like
        Their mean absorption alpha [1].

    Returns
    -------
    array_like
        Room constant R [m2].

    Raises
    ------
    ValueError
        A surface of zero, or an absorption outside 0.001 to 0.999.
    """
    return surface * absorption / (1 - absorption)


@formula(
    "L_p = L_W + 10 log10(1 m2 (D/(4 pi r^2) + 4/R))",
    units={
        "power_level_db": "1",
        "distance": "m",
        "room_constant": "m^2",
        "directivity": "1",
        "reference_area": "m^2",
    },
    returns="1",
    source=DIFFUSE,
    domain={"distance": POSITIVE, "room_constant": POSITIVE, "directivity": POSITIVE, "reference_area": POSITIVE},
)
def room_level_db(
    power_level_db: Array,
    distance: Array,
    room_constant: Array,
    directivity: Array = 2.0,
    reference_area: Array = 1.0,
) -> Array:
    """Sound pressure level in a room, from the source straight and from the walls.

    Parameters
    ----------
    power_level_db : array_like
        Sound power level of the source L_W, in decibels [1].
    distance : array_like
        Distance r of the listener [m].
    room_constant : array_like
        Room constant R; infinite in the open [m2].
    directivity : array_like
        Directivity D: 1 in the open, 2 above a floor, 4 at a wall [1].
    reference_area : array_like
        Area the two levels are referred to [m2].

    Returns
    -------
    array_like
        Sound pressure level L_p, in decibels [1].

    Raises
    ------
    ValueError
        A distance, room constant or directivity of zero.
    """
    return power_level_db + 10 * np.log10(
        reference_area * (directivity / (4 * np.pi * distance**2) + 4 / room_constant)
    )


@formula(
    "R = -10 log10(sum(S_i 10^(-R_i/10))/sum S_i)",
    units={"areas": "m^2", "losses_db": "1"},
    returns="1",
    source="transmission of a compound wall: ISO 12354-1:2017; the energies through its parts add",
    domain={"areas": NON_NEGATIVE, "losses_db": NON_NEGATIVE},
)
def compound_loss_db(areas: Array, losses_db: Array) -> Array:
    """Transmission loss of walls, windows and openings of an enclosure together.

    Parameters
    ----------
    areas : array_like
        Area S_i of each part, on the last axis [m2].
    losses_db : array_like
        Transmission loss R_i of each, in decibels; zero for an opening [1].

    Returns
    -------
    array_like
        Transmission loss R of the whole, in decibels [1].

    Raises
    ------
    ValueError
        A negative area or loss.
    """
    passed = np.sum(areas * 10 ** np.divide(losses_db, -10), axis=-1)
    return -10 * np.log10(passed / np.sum(areas, axis=-1))


@formula(
    "IL = 10 log10(1 + alpha 10^(R/10))",
    units={"loss_db": "1", "absorption": "1"},
    returns="1",
    source="power balance of a diffuse field inside the enclosure: Kuttruff, Room Acoustics, chapter 5",
    domain={"loss_db": NON_NEGATIVE, "absorption": (0.0, 1.0)},
)
def enclosure_insertion_loss_db(loss_db: Array, absorption: Array) -> Array:
    """By how much an enclosure lowers the sound power that gets out.

    What the lining does not swallow comes out in the end: bare hard walls do little.

    Parameters
    ----------
    loss_db : array_like
        Transmission loss of the whole enclosure R, in decibels [1].
    absorption : array_like
        Mean absorption of its inside alpha [1].

    Returns
    -------
    array_like
        Insertion loss IL, in decibels [1].

    Raises
    ------
    ValueError
        A negative loss or an absorption outside 0 to 1.
    """
    return 10 * np.log10(1 + absorption * 10 ** (loss_db / 10))


def cell_level_band(
    power_levels_db: Sequence[float],
    uncertainties_db: Sequence[float],
    *,
    distance: float,
    room: float,
    insertion_loss_db: float = 0.0,
    insertion_uncertainty_db: float = 0.0,
) -> LevelBand:
    """Level beside a cell with several sources in it, with its band.

    All sources are taken at their low ends together and at their high ends together.

    Parameters
    ----------
    power_levels_db, uncertainties_db : sequence of float
        Sound power level of each source and its half-width [dB].
    distance : float
        Distance of the operator [m].
    room : float
        Room constant of the hall, infinite in the open [m2].
    insertion_loss_db, insertion_uncertainty_db : float
        What the enclosure takes off and its half-width; zero without an enclosure [dB].

    Returns
    -------
    LevelBand
        Sound pressure level at the operator's place [dB].

    Raises
    ------
    ValueError
        No source, sources and uncertainties of different number, or a distance or room constant of zero.
    """
    if not power_levels_db or len(power_levels_db) != len(uncertainties_db):
        raise ValueError(
            "cell_level_band: uncertainties_db must give one half-width [dB] for each of at least one source, "
            f"given {len(uncertainties_db)} for {len(power_levels_db)}"
        )
    sign = np.array([-1.0, 0.0, 1.0])
    spread = np.asarray(power_levels_db) + sign[:, np.newaxis] * np.asarray(uncertainties_db)
    outside = combined_level_db(spread) - insertion_loss_db + sign * insertion_uncertainty_db
    return LevelBand(*room_level_db(outside, distance, room).tolist())
