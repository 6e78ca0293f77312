"""Figures as a plan shows them, and the rows they stand in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from finishplan import units
from finishplan.rounding import Toward
from finishplan.units import System

DIGITS_KEPT = 10
"""Digits of a figure in machine-readable output; the rest is the noise of unit conversion."""

NOISE = 1e-9
"""Share of a figure by which another has to differ to be another."""

MOST_FINER = 4
"""Decimals at most beyond the usual that tell two figures apart."""

STRICTLY: Final[Mapping[str, Toward]] = {"at least": "up", "at most": "down"}
"""Where a figure asked for is rounded to, so that what is shown asks for no less."""


@dataclass(frozen=True)
class Figure:
    """One named figure. `kind` is a key of `finishplan.units.KINDS`, or None for words and counts.

    `toward` is where its text is rounded to.
    """

    key: str
    label: str
    value: float | int | str | None
    kind: str | None = None
    toward: Toward = "nearest"

    def text(self, system: System, finer: int = 0) -> str:
        """The figure with its unit, with some decimals more than usual."""
        if self.value is None:
            return "-"
        if self.kind is None or isinstance(self.value, str):
            return str(self.value)
        return units.show(self.value, self.kind, system, self.toward, finer)

    def keyed(self, system: System) -> tuple[str, float | int | str | None]:
        """Key with its unit, and the value in that unit."""
        if self.kind is None or isinstance(self.value, str):
            return self.key, self.value
        suffix = units.KINDS[self.kind].shown(system).suffix
        key = f"{self.key}_{suffix}" if suffix else self.key
        if self.value is None:
            return key, None
        return key, float(f"{units.shown_value(self.value, self.kind, system):.{DIGITS_KEPT}g}")


def beside(needed: Figure, available: Figure, system: System) -> tuple[str, str]:
    """What is needed and what there is, with decimals enough to tell whether it will do.

    What is needed is rounded to its strict side, what there is to the nearest; with the usual decimals what just
    suffices could look short.
    """
    figures, kind = (needed, available), needed.kind
    texts = [figure.text(system) for figure in figures]
    if kind is not None and all(isinstance(figure.value, float) and math.isfinite(figure.value) for figure in figures):
        suffices, finer = _suffices(needed.toward, *(float(figure.value or 0.0) for figure in figures)), 0
        while suffices != _suffices(needed.toward, *(units.parse(text, kind) for text in texts)) and finer < MOST_FINER:
            finer += 1
            texts = [figure.text(system, finer) for figure in figures]
    return texts[0], texts[1]


def _suffices(toward: Toward, needed: float, available: float) -> bool:
    """Whether what there is meets what is needed, but for the noise of arithmetic."""
    short = needed - available if toward == "up" else available - needed
    return short <= NOISE * abs(needed)


@dataclass(frozen=True)
class LimitRow:
    """One limit of a chosen operating point; `needed` is a bound or a value, as `asks_of` tells."""

    name: str
    value: Figure
    bound: Figure
    sense: str
    utilisation: float
    keeps_margin: bool
    source: str
    remedy: str
    needed: Figure
    needed_sense: str
    asks_of: str
    broken: bool


@dataclass(frozen=True)
class StepRows:
    """Everything shown of one step of a feature. Steps of one process have the same figures."""

    process: str
    verdict: str
    governing: str
    settings: tuple[Figure, ...]
    result: tuple[Figure, ...]
    limits: tuple[LimitRow, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        return self.settings + self.result


@dataclass(frozen=True)
class FeatureRows:
    """Everything shown of one feature."""

    name: str
    verdict: str
    steps: tuple[StepRows, ...]
    others: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class AssumptionRow:
    """A figure that neither job nor cell gives."""

    value: Figure
    grade: str
    source: str
    features: tuple[str, ...]


@dataclass(frozen=True)
class CostRow:
    """One figure of the cost of a part with the relation behind it and where its values are from."""

    amount: Figure
    equation: str
    source: str
    origins: tuple[str, ...]


@dataclass(frozen=True)
class CostRows:
    """Everything shown of the cost of a part; `gaps` name what is left out and what it lacks."""

    currency: str
    items: tuple[CostRow, ...]
    total: Figure
    by_hand: tuple[CostRow, ...]
    figures: tuple[Figure, ...]
    gaps: tuple[tuple[str, tuple[str, ...]], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class CellRows:
    """What the cell makes of its time: per part with what is added to the cycle, in a shift, and for a batch.

    `robot` shares the time per part among what the robot does; `loads` are what is used at most of what it
    bears, each with the feature that sets it.
    """

    per_part: Figure
    added: tuple[Figure, ...]
    shift: Figure
    parts: Figure
    batch: Figure
    robot: tuple[Figure, ...]
    loads: tuple[tuple[Figure, Figure], ...]

    @property
    def throughput(self) -> tuple[Figure, ...]:
        return (self.per_part, *self.added, self.shift, self.parts, self.batch)

    @property
    def load(self) -> tuple[Figure, ...]:
        return (*self.robot, *(figure for load in self.loads for figure in load))


@dataclass(frozen=True)
class ImprovementRow:
    """A change that would make the part faster, alone.

    `limits` are those it relieves: the figure it takes and the figure there is. `following` is what stops
    the pace then.
    """

    change: str
    features: tuple[str, ...]
    limits: tuple[tuple[Figure, Figure], ...]
    saved: Figure
    share: Figure
    following: str | None


@dataclass(frozen=True)
class ImprovementRows:
    """The step that takes longest with the limit that stops it, and what would make the part faster."""

    longest: tuple[Figure, ...]
    changes: tuple[ImprovementRow, ...]
    stuck: tuple[str, ...]
    robots: tuple[str, ...]


@dataclass(frozen=True)
class StopRow:
    """One step of the cycle; `change` where its tool is taken up before it."""

    feature: str
    tool: str
    change: bool
    time: Figure


@dataclass(frozen=True)
class PlanRows:
    """Everything shown of a plan."""

    title: str
    system: System
    feasible: bool
    header: tuple[Figure, ...]
    features: tuple[FeatureRows, ...]
    cycle: tuple[Figure, ...]
    of_cell: CellRows
    rack: tuple[tuple[Figure, ...], ...]
    sequence: tuple[StopRow, ...]
    tools: tuple[tuple[Figure, ...], ...]
    improvements: ImprovementRows
    requirements: tuple[tuple[Figure, ...], ...]
    costs: CostRows | None
    assumptions: tuple[AssumptionRow, ...]
    cautions: tuple[str, ...]
    cautions_in_short: tuple[str, ...]
