"""Limits that a cutter sets to every process it is used in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from finishplan.formula import Array
from finishplan.process.chip_law import ChipLaw
from finishplan.process.edge_conditions import Cutter
from finishplan.process.limits import Limit


class Chipped(Protocol):
    """A cut by its chips."""

    @property
    def max_chip_thickness(self) -> Array: ...

    @property
    def feed_per_tooth(self) -> Array: ...


def chip_limits(nominal: Chipped, chip_law: ChipLaw, cutter: Cutter) -> Iterator[Limit]:
    """Chips thick enough to form, and feeds that a tooth bears."""
    yield Limit(
        "rubbing: thickest chip", nominal.max_chip_thickness, chip_law.minimum_chip_thickness,
        "fine length", "at least", "chip_law.minimum_chip_thickness",
        "a sharper edge, fewer teeth, or a higher feed per tooth",
    )  # fmt: skip
    yield Limit(
        "feed per tooth", nominal.feed_per_tooth, cutter.feed_high, "fine length", "at most",
        "cutter.feed_high", "more teeth or a stronger tool",
    )  # fmt: skip
