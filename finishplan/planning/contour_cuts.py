"""The cuts a contour may be made in: one, or a rough one that leaves an allowance for a finishing one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from finishplan.job import Contour
from finishplan.planning.desk import Desk
from finishplan.planning.ledger import Ledger
from finishplan.planning.mounting import budget_errors
from finishplan.planning.surroundings import waviness

LAYERS = (1, 2, 3, 4, 5, 6, 8, 10, 12)
"""Numbers of layers that are tried, fewest first."""


@dataclass(frozen=True)
class Stock:
    """Width of the material beside the wall, and by how much it may be wider; None is a full slot [m]."""

    width: np.float64 | None
    more: np.float64


class Cut(Protocol):
    """What one cut of a contour takes, and what it has to keep."""

    @property
    def name(self) -> str: ...

    @property
    def layer_counts(self) -> Sequence[int]: ...

    def stock(self, desk: Desk, contour: Contour) -> Stock:
        """Material beside the wall."""
        ...

    def room(self, desk: Desk, contour: Contour) -> np.float64:
        """How far the wall may stray [m]."""
        ...

    def errors(self, desk: Desk) -> list[np.float64]:
        """Half-widths of the position errors besides that of the robot's path [m]."""
        ...


def _given_stock(desk: Desk, contour: Contour) -> Stock:
    if contour.stock is None:
        return Stock(None, np.float64(0.0))
    return Stock(desk.figure("contour.stock", contour.stock, "length", "stock"), waviness(desk)[0])


def _tolerance(desk: Desk, contour: Contour) -> np.float64:
    return desk.figure("contour.room", contour.tolerance, "length", "tolerance")


def allowance(ledger: Ledger) -> np.float64:
    """Material between the rough and the finishing cut [m]."""
    return ledger.assumed("contour.allowance", "finishing_allowance", "length")


@dataclass(frozen=True)
class SingleCut:
    """The whole stock at once, to the final size."""

    name = "single cut"
    layer_counts = LAYERS

    def stock(self, desk: Desk, contour: Contour) -> Stock:
        return _given_stock(desk, contour)

    def room(self, desk: Desk, contour: Contour) -> np.float64:
        return _tolerance(desk, contour)

    def errors(self, desk: Desk) -> list[np.float64]:
        return budget_errors(desk)


@dataclass(frozen=True)
class RoughCut:
    """All but the allowance.

    Part and tool stay where they are until the finishing cut, so their errors are the same in both.
    """

    name = "rough cut"
    layer_counts = LAYERS

    def stock(self, desk: Desk, contour: Contour) -> Stock:
        given = _given_stock(desk, contour)
        if given.width is None:
            return given
        left = float(given.width - allowance(desk.ledger))
        return Stock(desk.ledger.derived("contour.stock", left, "length", "stock less the allowance"), given.more)

    def room(self, desk: Desk, contour: Contour) -> np.float64:
        text = "the allowance, so that the finishing cut meets material everywhere"
        return desk.ledger.derived("contour.room", float(allowance(desk.ledger)), "length", text)

    def errors(self, desk: Desk) -> list[np.float64]:
        return []


@dataclass(frozen=True)
class FinishingCut:
    """The allowance over the whole thickness. `rough_error` is how far the rough wall may stray [m]."""

    rough_error: float

    name = "finishing cut"
    layer_counts = (1,)

    def stock(self, desk: Desk, contour: Contour) -> Stock:
        more = desk.ledger.derived("contour.stock_scatter", self.rough_error, "length", "path error of the rough cut")
        return Stock(allowance(desk.ledger), more)

    def room(self, desk: Desk, contour: Contour) -> np.float64:
        return _tolerance(desk, contour)

    def errors(self, desk: Desk) -> list[np.float64]:
        return budget_errors(desk)
