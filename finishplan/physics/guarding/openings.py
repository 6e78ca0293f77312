"""What can be reached through an opening in a guard, by ISO 13857 and by 29 CFR 1910.217."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from operator import attrgetter
from typing import Final, Literal, TypeAlias

from finishplan.physics.arguments import chosen
from finishplan.physics.sourced import INCH, ROUNDING, Sourced

OpeningShape: TypeAlias = Literal["slot", "square", "round"]

REACH_SOURCE: Final = "ISO 13857:2019, Table 4, persons of 14 years and above"
SHORT_SLOT: Final = Sourced(0.065, REACH_SOURCE + ", footnote: the thumb stops the hand")
"""Longest slot that counts as short [m]."""

WHOLE_BODY_SOURCE: Final = "ISO 13857:2019, openings that let the whole body through"

WHOLE_BODY_OPENINGS: Final[Mapping[str, Sourced]] = {
    "slot": Sourced(0.18, WHOLE_BODY_SOURCE),
    "square": Sourced(0.24, WHOLE_BODY_SOURCE),
    "round": Sourced(0.24, WHOLE_BODY_SOURCE),
}
"""Opening above which the whole body gets through [m]."""


@dataclass(frozen=True)
class ReachRow:
    """Openings up to an edge and how far one reaches through them, by their shape [m]."""

    up_to: float
    slot: float
    square: float
    round: float
    short_slot: float | None = None


REACH_ROWS: Final = (
    ReachRow(0.004, 0.002, 0.002, 0.002),
    ReachRow(0.006, 0.010, 0.005, 0.005),
    ReachRow(0.008, 0.020, 0.015, 0.005),
    ReachRow(0.010, 0.080, 0.025, 0.020),
    ReachRow(0.012, 0.100, 0.080, 0.080),
    ReachRow(0.020, 0.120, 0.120, 0.120),
    ReachRow(0.030, 0.850, 0.120, 0.120, short_slot=0.200),
    ReachRow(0.040, 0.850, 0.200, 0.120),
    ReachRow(0.120, 0.850, 0.850, 0.850),
)
"""Rows of Table 4 in order; an opening belongs to the first row it does not pass."""

_COLUMNS: Final = {shape: attrgetter(shape) for shape in ("slot", "square", "round")}


def reach_distance(opening: float, shape: OpeningShape, slot_length: float | None = None) -> float:
    """Least distance of an opening in a guard from the hazard behind it.

    Parameters
    ----------
    opening : float
        Width of the slot, side of the square or diameter of the round opening [m].
    shape : {"slot", "square", "round"}
        Shape of the opening; an irregular one counts as the smallest of these it fits into.
    slot_length : float, optional
        Length of a slot; a short one holds the hand back [m].

    Returns
    -------
    float
        Distance [m].

    Raises
    ------
    ValueError
        An unknown shape, or an opening that is not above 0 and at most 120 mm.
    """
    column = chosen(_COLUMNS, shape, "reach_distance: shape")
    last = REACH_ROWS[-1].up_to
    if not 0 < opening <= last * (1 + ROUNDING):
        raise ValueError(
            f"reach_distance: opening must be above 0 and at most {last:g} [m] for {REACH_SOURCE}, given {opening:g}; "
            "a larger one is judged by reaching over (Tables 1 and 2)"
        )
    row = next(row for row in REACH_ROWS if opening <= row.up_to * (1 + ROUNDING))
    short = shape == "slot" and slot_length is not None and slot_length <= SHORT_SLOT.value * (1 + ROUNDING)
    return row.short_slot if short and row.short_slot is not None else float(column(row))


@dataclass(frozen=True)
class PressOpening:
    """Distances up to an edge and the largest opening allowed at them [m]."""

    up_to: float
    opening: float


PRESS_OPENING_SOURCE: Final = "29 CFR 1910.217, Table O-10"
_NEAREST: Final = 0.5 * INCH
_LARGEST: Final = 31.5 * INCH

PRESS_OPENINGS: Final = tuple(
    PressOpening(up_to * INCH, opening * INCH)
    for up_to, opening in (
        (1.5, 1 / 4),
        (2.5, 3 / 8),
        (3.5, 1 / 2),
        (5.5, 5 / 8),
        (6.5, 3 / 4),
        (7.5, 7 / 8),
        (12.5, 1 + 1 / 4),
        (15.5, 1 + 1 / 2),
        (17.5, 1 + 7 / 8),
        (31.5, 2 + 1 / 8),
    )
)
"""Rows of Table O-10 in order; a distance on an edge gets the smaller opening."""


def press_opening(distance: float) -> float:
    """Largest opening of a guard at a distance from the point of operation, by Table O-10.

    Parameters
    ----------
    distance : float
        Distance of the opening from the point of operation [m].

    Returns
    -------
    float
        Width of the opening [m].

    Raises
    ------
    ValueError
        A distance outside the table: 1/2 in to 31 1/2 in.
    """
    if not _NEAREST * (1 - ROUNDING) <= distance <= _LARGEST * (1 + ROUNDING):
        raise ValueError(
            f"press_opening: distance must be between {_NEAREST:g} and {_LARGEST:g} [m] "
            f"for {PRESS_OPENING_SOURCE}, given {distance:g}"
        )
    return next(row.opening for row in PRESS_OPENINGS if distance <= row.up_to * (1 + ROUNDING))


def press_distance(opening: float) -> float | None:
    """Least distance at which Table O-10 lets a guard have an opening; the inverse of `press_opening`.

    Parameters
    ----------
    opening : float
        Width of the opening [m].

    Returns
    -------
    float or None
        Distance from the point of operation; None for an opening wider than any of the table [m].

    Raises
    ------
    ValueError
        An opening that is not above 0.
    """
    if not opening > 0:
        raise ValueError(f"press_distance: opening must be above 0 [m], given {opening:g}")
    nearest = (_NEAREST, *(row.up_to for row in PRESS_OPENINGS))
    fitting = (
        edge for edge, row in zip(nearest, PRESS_OPENINGS, strict=False) if opening <= row.opening * (1 + ROUNDING)
    )
    return next(fitting, None)
