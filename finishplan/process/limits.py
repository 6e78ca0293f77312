"""A limit of an operating point: what it is, how close the point comes, and what would widen it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from finishplan.formula import Array


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

    def needed_bound(self, margin: float) -> float:
        """The bound at which this value would keep the margin."""
        reserve = 1.0 - (margin if self.keeps_margin else 0.0)
        value, datum = float(self.value), float(self.datum)
        if datum:
            return datum + (value - datum) / reserve
        return value / reserve if self.sense == "at most" else value * reserve


def highest_utilisation(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """Largest utilisation over the limits at every point, each divided by the share it may use.

    With the margin given, a point that keeps it everywhere comes out at 1 or below.
    """
    shares = [limit.utilisation / (1.0 - margin if limit.keeps_margin else 1.0) for limit in limits]
    return np.max(np.broadcast_arrays(*shares), axis=0)
