"""A limit of an operating point: what it is, how close the point comes, and what would widen it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from finishplan.formula import Array

TOUCHING = 1e-9
"""A limit exceeded by no more than this is touched, not broken: the last digits are noise of the arithmetic."""

ALIKE = 9
"""Decimals of a utilisation that tell one limit from another; power and torque of a spindle often differ in none."""

HOPELESS = 1e3
"""Excess beyond which it no longer matters by how much a limit is broken."""

SECTIONS: Final = frozenset({"edge", "surface", "contour", "removal"})
"""What the source of a bound starts with where the job asks it of the part."""


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
        Where utilisation is counted from: the middle of a two-sided window, so that a share of
        margin means the same at both ends of a narrow one; or below zero by as much as others take
        of a sum that is limited.
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

    @cached_property
    def utilisation(self) -> Array:
        """Share of the bound used up: value/bound for an upper, bound/value for a lower bound.

        With a datum, the distance from it over the distance allowed. Feasible at <= 1.
        """
        used, allowed = self._used_and_allowed()
        with np.errstate(divide="ignore", invalid="ignore"):
            share = np.divide(used, allowed)
        if not np.min(allowed) > 0:
            share = np.where(allowed > 0, share, np.where(used > 0, np.inf, 0.0))
        # infinity over infinity: without a bound nothing of it is used
        return np.fmax(share, 0.0)

    def _used_and_allowed(self) -> tuple[Array, Array]:
        value, bound, datum = self.value, self.bound, self.datum
        at_most = self.sense == "at most"
        if np.any(datum):
            return (value - datum, bound - datum) if at_most else (datum - value, datum - bound)
        return (value, bound) if at_most else (bound, value)

    @property
    def asked_of_the_part(self) -> bool:
        """Whether the bound is what the job asks of the feature, such as a tolerance, which no equipment changes."""
        return self.source.partition(".")[0] in SECTIONS

    @property
    def needed_sense(self) -> Literal["at most", "at least"]:
        """Which side of what is needed would do as well: more of an upper bound, less of a value below one."""
        return "at least" if (self.sense == "at most") == (self.asks_of == "bound") else "at most"

    def needed(self, margin: float) -> float:
        """The bound at which this value would keep the margin, or the value this bound would leave room for."""
        reserve = 1.0 - (margin if self.keeps_margin else 0.0)
        value, bound, datum = float(self.value), float(self.bound), float(self.datum)
        if self.asks_of == "value":
            allowed = bound - datum
            return max(datum + (allowed * reserve if self.sense == "at most" else allowed / reserve), 0.0)
        if datum:
            return max(datum + (value - datum) / reserve, 0.0)
        return value / reserve if self.sense == "at most" else value * reserve


def highest_utilisation(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """Largest utilisation over the limits at every point, each divided by the share it may use.

    With the margin given, a point that keeps it everywhere comes out at 1 or below.
    """
    keeping, exact = _highest(limits)
    return np.maximum(keeping / (1.0 - margin), exact)


def _highest(limits: Sequence[Limit]) -> tuple[Array, Array]:
    """Largest utilisation of the limits that keep a margin, and of those that are the equipment's own range."""
    keeping, exact = (
        reduce(np.maximum, (limit.utilisation for limit in limits if limit.keeps_margin is keeps), 0.0)
        for keeps in (True, False)
    )
    return keeping, exact


def most_used_first(limits: Iterable[Limit]) -> list[Limit]:
    """Limits at a single point in the order of their utilisation; those used alike stay in the order they come in."""
    return sorted(limits, key=lambda limit: round(-float(limit.utilisation), ALIKE))


def held(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """Whether every limit is held at every point, with the margin kept."""
    return highest_utilisation(limits, margin) <= 1 + TOUCHING


def kept_and_held(limits: Sequence[Limit], margin: float) -> tuple[Array, Array]:
    """Whether every limit is held at every point with the margin kept, and whether without it."""
    keeping, exact = _highest(limits)
    return np.maximum(keeping / (1.0 - margin), exact) <= 1 + TOUCHING, np.maximum(keeping, exact) <= 1 + TOUCHING


def excess(limits: Sequence[Limit], margin: float = 0.0) -> Array:
    """Sum over the limits of what exceeds the share they may use, at every point.

    Unlike the largest utilisation it falls when any one limit is relieved, so a limit that no
    setting can mend does not hide the others.
    """
    over = (np.minimum(np.maximum(share - 1.0, 0.0), HOPELESS) for share in _shares(limits, margin))
    return reduce(np.add, over)


def crowding(limits: Sequence[Limit], margin: float, chosen: NDArray[np.bool_]) -> NDArray[np.float64]:
    """How close the chosen ones of an array of points are to their limits altogether: small where many have room."""
    shares = (np.broadcast_to(share, chosen.shape)[chosen] for share in _shares(limits, margin))
    return reduce(np.add, (np.minimum(share, 1.0) ** 4 for share in shares))


def _shares(limits: Sequence[Limit], margin: float) -> Iterator[Array]:
    return (limit.utilisation / (1.0 - margin) if limit.keeps_margin else limit.utilisation for limit in limits)
