"""A limit of an operating point: what it is, how close the point comes, and what would widen it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from finishplan.formula import Array

TOUCHING = 1e-9
"""A limit exceeded by no more than this is touched, not broken: the last digits are noise of the arithmetic."""

HOPELESS = 1e3
"""Excess beyond which it no longer matters by how much a limit is broken."""


@dataclass(frozen=True, eq=False)
class Limit:
    """One limit, for a single operating point or for an array of them.

    Attributes
    ----------
    name : str
        What is limited, in trade words.
    value, bound : array_like
        The figure reached and the figure allowed, in the SI unit of `kind`.
    kind : str
        Key of `finishplan.units.KINDS`, for display.
    sense : {"at most", "at least"}
        Which side of the bound is allowed.
    source : str
        Where the bound comes from.
    remedy : str
        What would widen it.
    datum : array_like
        Middle of a two-sided window. Utilisation is counted from there, so that a share of
        margin means the same at both ends of a narrow window.
    asks_of : {"bound", "value"}
        Which of the two is bought: the bound as a rule, the value where it is what a piece of
        equipment brings, such as the accuracy of a robot.
    keeps_margin : bool
        False where the setting is exact and the bound is the equipment's own working range.
    """

    name: str
    value: Array
    bound: Array
    kind: str
    sense: Literal["at most", "at least"]
    source: str
    remedy: str
    datum: Array = 0.0
    keeps_margin: bool = True
    asks_of: Literal["bound", "value"] = "bound"

    @property
    def utilisation(self) -> Array:
        """Share of the bound used up: value/bound for an upper, bound/value for a lower bound.

        With a datum, the distance from it over the distance allowed. Feasible at <= 1.
        """
        value, bound, datum = (np.asarray(x, dtype=float) for x in (self.value, self.bound, self.datum))
        if np.any(datum != 0.0):
            sign = 1.0 if self.sense == "at most" else -1.0
            used, allowed = sign * (value - datum), sign * (bound - datum)
        else:
            used, allowed = (value, bound) if self.sense == "at most" else (bound, value)
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.where(allowed > 0, used / allowed, np.where(used > 0, np.inf, 0.0))
        # infinity over infinity: without a bound nothing of it is used
        return np.maximum(np.where(np.isnan(share), 0.0, share), 0.0)[()]

    def needed(self, margin: float) -> float:
        """The bound at which this value would keep the margin, or the value this bound would leave room for."""
        reserve = 1.0 - (margin if self.keeps_margin else 0.0)
        value, bound, datum = float(self.value), float(self.bound), float(self.datum)
        if self.asks_of == "value":
            return bound * reserve if self.sense == "at most" else bound / reserve
        if datum:
            return max(datum + (value - datum) / reserve, 0.0)
        return value / reserve if self.sense == "at most" else value * reserve


def highest_utilisation(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """Largest utilisation over the limits at every point, each divided by the share it may use.

    With the margin given, a point that keeps it everywhere comes out at 1 or below.
    """
    return np.max(np.broadcast_arrays(*_shares(limits, margin)), axis=0)


def excess(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """Sum over the limits of what exceeds the share they may use, at every point.

    Unlike the largest utilisation it falls when any one limit is relieved, so a limit that no
    setting can mend does not hide the others.
    """
    over = [np.minimum(np.maximum(share - 1.0, 0.0), HOPELESS) for share in _shares(limits, margin)]
    return np.sum(np.broadcast_arrays(*over), axis=0)


def crowding(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """How close a point is to its limits altogether: small where many have room."""
    near = [np.minimum(share, 1.0) ** 4 for share in _shares(limits, margin)]
    return np.sum(np.broadcast_arrays(*near), axis=0)


def _shares(limits: Sequence[Limit], margin: float) -> list[Array]:
    return [limit.utilisation / (1.0 - margin if limit.keeps_margin else 1.0) for limit in limits]
