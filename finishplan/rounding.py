"""Numbers as they are written out: to so many decimals or digits, to the nearest or to the strict side of a bound."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Final, Literal

Toward = Literal["nearest", "up", "down"]

LEAST_DIGITS: Final = 2
"""Digits that a number rounded to one side keeps at least, so that little does not come out as nothing."""


def written(number: float, decimals: int, digits: int | None, toward: Toward = "nearest", finer: int = 0) -> str:
    """A number without an exponent.

    Parameters
    ----------
    number : float
        A finite number.
    decimals : int
        Decimals it has, unless it has a number of digits.
    digits : int or None
        Significant digits it has instead.
    toward : {"nearest", "up", "down"}
        Where to round to.
    finer : int
        Decimals or digits beyond those.

    Returns
    -------
    str
        The number rounded.
    """
    places = (decimals if digits is None else _decimals(number, digits)) + finer
    if toward != "nearest":
        places = max(places, _decimals(number, LEAST_DIGITS))
    rounded = _ROUNDED[toward](number, places)
    if digits is not None:
        places = min(places, _decimals(rounded, digits) + finer)
    return f"{rounded:z.{max(places, 0)}f}"


def _decimals(number: float, digits: int) -> int:
    """Decimals that leave a number so many significant digits; negative where it has more before the point."""
    return digits - 1 - math.floor(math.log10(abs(number))) if number else 0


def _up(number: float, decimals: int) -> float:
    return math.ceil(_without_noise(number * 10.0**decimals)) / 10.0**decimals


def _down(number: float, decimals: int) -> float:
    return math.floor(_without_noise(number * 10.0**decimals)) / 10.0**decimals


def _without_noise(number: float) -> float:
    """A number without its last digits, which come from the conversion of units."""
    return float(f"{number:.10g}")


_ROUNDED: Final[Mapping[Toward, Callable[[float, int], float]]] = {"nearest": round, "up": _up, "down": _down}
