"""Daily noise: permitted time, dose and the level that stands for a shift, by the scheme in force.

Every level given counts, also those the regulation would leave out as too low: the stricter reading.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE, chosen
from finishplan.physics.noise.levels import combined_level_db
from finishplan.physics.sourced import SHIFT, Governed, Grade, Sourced

NoiseScheme: TypeAlias = Literal["OSHA", "NIOSH", "EU limit", "EU upper action", "EU lower action"]


@dataclass(frozen=True)
class NoiseCriterion:
    """Level allowed for a shift, and by how much it may rise when the time is halved [dB]."""

    level_db: float
    exchange_db: float
    source: str
    grade: Grade = "published"


_EU: Final = "Directive 2003/10/EC, Article 3"

NOISE_SCHEMES: Final[Mapping[str, NoiseCriterion]] = {
    "OSHA": NoiseCriterion(90, 5, "29 CFR 1910.95, Table G-16 and Appendix A"),
    "NIOSH": NoiseCriterion(85, 3, "NIOSH Publication 98-126, Occupational Noise Exposure, 1998"),
    "EU limit": NoiseCriterion(87, 3, _EU + ", exposure limit value, hearing protectors counted"),
    "EU upper action": NoiseCriterion(85, 3, _EU + ", upper exposure action value"),
    "EU lower action": NoiseCriterion(80, 3, _EU + ", lower exposure action value"),
}
"""Daily limits by scheme."""

HEARING_CONSERVATION_DOSE: Final = Sourced(0.5, "29 CFR 1910.95(c): half the dose, 85 dB(A) over eight hours")
"""Dose by the OSHA scheme from which a hearing conservation programme is due [1]."""

HIGHEST_LEVEL_DB: Final = Sourced(115.0, "29 CFR 1910.95, Table G-16, slow response", "from memory")

SHIFT_LEVEL_DB: Final = Governed(
    "level over eight hours from which something has to be done [dB(A)]",
    "lowest",
    (
        Sourced(85.0, "29 CFR 1910.95(c), hearing conservation"),
        Sourced(90.0, "29 CFR 1910.95, Table G-16"),
        *(Sourced(NOISE_SCHEMES[name].level_db, NOISE_SCHEMES[name].source) for name in ("NIOSH", "EU lower action")),
    ),
)


@formula(
    "T = T_0 2^(-(L - L_c)/q)",
    units={"level_db": "1", "scheme": "-", "reference_duration": "s"},
    returns="s",
    source="29 CFR 1910.95, Appendix A; NIOSH Publication 98-126, chapter 1",
    domain={"reference_duration": POSITIVE},
)
def permitted_time(level_db: Array, scheme: NoiseScheme = "OSHA", reference_duration: Array = SHIFT) -> Array:
    """How long a level may last in a day.

    Parameters
    ----------
    level_db : array_like
        A-weighted level L, in decibels [1].
    scheme : NoiseScheme
        Whose limit L_c and exchange rate q count.
    reference_duration : array_like
        Shift T_0 the limit is set for [s].

    Returns
    -------
    array_like
        Time T [s].

    Raises
    ------
    ValueError
        An unknown scheme.
    """
    criterion = chosen(NOISE_SCHEMES, scheme, "permitted_time: scheme")
    return reference_duration * 2 ** (np.subtract(criterion.level_db, level_db) / criterion.exchange_db)


@formula(
    "D = sum(C_i/T_i)",
    units={"levels_db": "1", "durations": "s", "scheme": "-", "reference_duration": "s"},
    returns="1",
    source="29 CFR 1910.95, Appendix A; NIOSH Publication 98-126, chapter 1",
    domain={"durations": NON_NEGATIVE, "reference_duration": POSITIVE},
)
def noise_dose(
    levels_db: Array, durations: Array, scheme: NoiseScheme = "OSHA", reference_duration: Array = SHIFT
) -> Array:
    """Share of a day's permitted noise that a person takes up.

    Parameters
    ----------
    levels_db : array_like
        A-weighted levels, in decibels, one after the other on the last axis [1].
    durations : array_like
        How long each lasts C_i [s].
    scheme : NoiseScheme
        Whose limit and exchange rate count.
    reference_duration : array_like
        Shift the limit is set for [s].

    Returns
    -------
    array_like
        Dose D; 1 is the limit, printed elsewhere as 100 % [1].

    Raises
    ------
    ValueError
        A negative duration or an unknown scheme.
    """
    allowed = permitted_time(levels_db, scheme, reference_duration)
    return np.sum(np.divide(durations, allowed), axis=-1)


@formula(
    "L = L_c + q log2(D)",
    units={"dose": "1", "scheme": "-"},
    returns="1",
    source="29 CFR 1910.95, Appendix A: TWA = 16.61 log10(D/100) + 90; NIOSH Publication 98-126, chapter 1",
    domain={"dose": POSITIVE},
)
def shift_level_db(dose: Array, scheme: NoiseScheme = "OSHA") -> Array:
    """Constant level over eight hours that makes the same dose: the time-weighted average.

    Parameters
    ----------
    dose : array_like
        Dose D; 1 is the limit [1].
    scheme : NoiseScheme
        Whose limit L_c and exchange rate q the dose was taken by.

    Returns
    -------
    array_like
        Level L, in decibels [1].

    Raises
    ------
    ValueError
        A dose of zero or an unknown scheme.
    """
    criterion = chosen(NOISE_SCHEMES, scheme, "shift_level_db: scheme")
    return criterion.level_db + criterion.exchange_db * np.log2(dose)


@formula(
    "L_EX = 10 log10(sum(T_i 10^(L_i/10))/T_0)",
    units={"levels_db": "1", "durations": "s", "reference_duration": "s"},
    returns="1",
    source="ISO 1999:2013, 3.6, which Directive 2003/10/EC, Article 2 refers to",
    domain={"durations": POSITIVE, "reference_duration": POSITIVE},
)
def exposure_level_db(levels_db: Array, durations: Array, reference_duration: Array = SHIFT) -> Array:
    """Daily noise exposure level, the mean energy over eight hours.

    Parameters
    ----------
    levels_db : array_like
        A-weighted levels L_i, in decibels, one after the other on the last axis [1].
    durations : array_like
        How long each lasts T_i [s].
    reference_duration : array_like
        Shift T_0 the level is referred to [s].

    Returns
    -------
    array_like
        Level L_EX,8h, in decibels [1].

    Raises
    ------
    ValueError
        A duration of zero.
    """
    return combined_level_db(np.add(levels_db, 10 * np.log10(np.divide(durations, reference_duration))))
