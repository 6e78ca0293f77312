"""Sound levels of sources and their sums, in decibels, A-weighted throughout or not at all.

An estimate from here says whether to expect a problem; only a measurement at the operator's place decides.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import POSITIVE
from finishplan.physics.sourced import Grade

ENERGY_SUM: Final = "OSHA, Noise and Hearing Conservation, Appendix I:A; energies of incoherent sources add"


@dataclass(frozen=True)
class SourceLevel:
    """Sound level a kind of work was found to make at the operator's place [dB(A)]."""

    work: str
    low_db: float
    high_db: float
    source: str
    grade: Grade = "published"


_EIS26: Final = "HSE Engineering Information Sheet 26, Noise in engineering"
_WIS13: Final = "HSE Woodworking Information Sheet 13, Noise at woodworking machines"

SOURCE_LEVELS: Final[Mapping[str, SourceLevel]] = {
    level.work: level
    for level in (
        SourceLevel("pedestal grinding", 90, 95, _EIS26),
        SourceLevel("fabrication shop", 85, 95, _EIS26),
        SourceLevel("circular sawing of metal", 95, 105, _EIS26),
        SourceLevel("angle grinder of 100 mm, idle", 95, 100, "no published source", "common practice"),
        SourceLevel("wood sander", 97, 97, _WIS13),
    )
}
"""Levels to expect where nothing is measured yet, by the work; hand-held work by hand."""


@formula(
    "L = 10 log10 sum 10^(L_i/10)",
    units={"levels_db": "1"},
    returns="1",
    source=ENERGY_SUM,
)
def combined_level_db(levels_db: Array) -> Array:
    """Level of several sources heard at once.

    Parameters
    ----------
    levels_db : array_like
        Level L_i of each source, in decibels, on the last axis [1].

    Returns
    -------
    array_like
        Level L of all together, in decibels [1].
    """
    return 10 * np.log10(np.sum(10 ** np.divide(levels_db, 10), axis=-1))


@formula(
    "L_n = L + 10 log10 n",
    units={"level_db": "1", "count": "1"},
    returns="1",
    source=ENERGY_SUM,
    domain={"count": POSITIVE},
)
def equal_sources_level_db(level_db: Array, count: Array) -> Array:
    """Level of a number of equal sources heard at once.

    Parameters
    ----------
    level_db : array_like
        Level of one L, in decibels [1].
    count : array_like
        How many n [1].

    Returns
    -------
    array_like
        Level of all L_n, in decibels [1].

    Raises
    ------
    ValueError
        A count of zero.
    """
    return level_db + 10 * np.log10(count)


@formula(
    "L = L_0 - 20 log10(r/r_0)",
    units={"level_db": "1", "reference_distance": "m", "distance": "m"},
    returns="1",
    source="spherical spreading of a point source: ISO 9613-2:1996, 7.1",
    domain={"reference_distance": POSITIVE, "distance": POSITIVE},
)
def free_field_level_db(level_db: Array, reference_distance: Array, distance: Array) -> Array:
    """Level further away in the open. A hall reflects: there the level falls less.

    Parameters
    ----------
    level_db : array_like
        Level L_0 at the reference distance, in decibels [1].
    reference_distance : array_like
        Distance r_0 it was measured at [m].
    distance : array_like
        Distance r of the listener; both large against the machine [m].

    Returns
    -------
    array_like
        Level L, in decibels [1].

    Raises
    ------
    ValueError
        A distance of zero.
    """
    return level_db - 20 * np.log10(distance / reference_distance)
