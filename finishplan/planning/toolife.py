"""How long tools and abrasives last: in parts, and in contact; what they cost; how feed follows their wear."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import singledispatch
from typing import Final

from finishplan import physics, reference
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.job import Tool
from finishplan.planning.abrasive_setup import AbrasiveDesk
from finishplan.planning.bulk_operation import BulkAbrasion
from finishplan.planning.contour_operation import ContourAbrasion, ContourCutting
from finishplan.planning.edge_abrasion_operation import AbradedEdge
from finishplan.planning.edge_desk import CutterDesk
from finishplan.planning.edge_operation import EdgeCutting
from finishplan.planning.feature import Step
from finishplan.planning.operation import Operation
from finishplan.planning.surface_operation import SurfaceAbrasion
from finishplan.planning.surface_refining import SurfaceRefining
from finishplan.process.surface_conditions import Abrasive
from finishplan.units import MINUTE

SCHEDULE_AT: Final = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Shares of the change interval at which the schedule is stated."""


@dataclass(frozen=True)
class Wear:
    """Share of a tool that one part uses up, where the figure is from, and what the cell says of the tool.

    `end_rate` is the removal rate at which an abrasive is changed over the fresh one.
    """

    share: float | None
    source: str
    entry: Tool | AbrasiveEntry
    end_rate: float | None = None


@dataclass(frozen=True)
class ToolUse:
    """One tool over its life. `parts` and `life` are None where no life figure is on record.

    `schedule` holds, for an abrasive, the feed over the planned feed at the shares of `SCHEDULE_AT`
    of its change interval: with it every part gets the same removal. `renewal` is the time per part [s]
    that changes of a worn tool or abrasive take; it is zero where the cell does not say, and where every
    part brings a change of grit anyway, which the cycle holds already.
    """

    tool: str
    entry: Tool | AbrasiveEntry
    features: tuple[str, ...]
    contact: float
    life: float | None
    parts: float | None
    renewal: float
    schedule: tuple[float, ...]
    source: str

    @property
    def cost_per_part(self) -> float | None:
        """Share of its price, in the currency of the cell."""
        return None if self.parts is None or self.entry.price is None else self.entry.price / self.parts


def tool_use(works: Sequence[tuple[str, Sequence[Step]]]) -> tuple[ToolUse, ...]:
    """Wear of every tool used on a part; the shares of all features on one tool add up."""
    by_tool: dict[str, list[tuple[str, Step]]] = {}
    for name, steps in works:
        for step in steps:
            by_tool.setdefault(step.tool, []).append((name, step))
    return tuple(_use(tool, group) for tool, group in by_tool.items())


def _use(tool: str, works: Sequence[tuple[str, Step]]) -> ToolUse:
    contact = sum(step.time.contact for _, step in works)
    features = tuple(dict.fromkeys(name for name, _ in works))
    wears = [wear_of(step.found.operation, step) for _, step in works]
    shares = [wear.share for wear in wears if wear.share is not None]
    whole = sum(shares) if len(shares) == len(wears) else None
    first = wears[0]
    return ToolUse(
        tool=tool,
        entry=first.entry,
        features=features,
        contact=contact,
        life=None if whole is None else contact / whole,
        parts=None if whole is None else 1 / whole,
        renewal=0.0 if any(step.time.wait for _, step in works) else _change_time(first.entry) * (whole or 0.0),
        schedule=() if first.end_rate is None else feed_schedule(first.end_rate),
        source=first.source,
    )


def _change_time(entry: Tool | AbrasiveEntry) -> float:
    """Time to put on a new one [s]; zero where the cell does not say."""
    return entry.change_time or 0.0


def feed_schedule(end_rate: float) -> tuple[float, ...]:
    """Feed over the planned feed along the change interval of an abrasive.

    The plan holds for the middle of the interval. The rate falls as end_rate^(V/V_change), and the
    feed follows it, so that the depth stays the same.
    """
    return tuple(end_rate ** (share - 0.5) for share in SCHEDULE_AT)


@singledispatch
def wear_of(operation: Operation, step: Step) -> Wear:
    """What one part takes of the life of the tool."""
    raise TypeError(f"no wear model for {type(operation).__name__}")


@wear_of.register
def _(operation: EdgeCutting, step: Step) -> Wear:
    return _cutter_wear(operation.setup.desk, step)


@wear_of.register
def _(operation: ContourCutting, step: Step) -> Wear:
    return _cutter_wear(operation.setup.desk, step)


def _cutter_wear(desk: CutterDesk, step: Step) -> Wear:
    """Share of the length, or of the time at this speed, that a cutter lasts."""
    nominal, group = step.found.evaluation.predictions["nominal"], desk.workpiece.group
    window = desk.family.window(group)
    if window.life_length is not None:
        travelled = step.time.contact * float(step.found.settings["feed"])
        return Wear(travelled / window.life_length.value, window.life_length.path, desk.tool)
    if window.taylor_c is None or window.taylor_n is None:
        return Wear(None, f"no life figure for {group}", desk.tool)
    life = physics.tool_life(nominal.surface_speed, window.taylor_c.value, window.taylor_n.value, reference_life=MINUTE)
    return Wear(step.time.contact / float(life), window.taylor_c.path, desk.tool)


@wear_of.register
def _(operation: SurfaceAbrasion, step: Step) -> Wear:
    abrasive, volume = operation.conditions.abrasive, float(step.found.evaluation.predictions["nominal"].volume)
    assert isinstance(abrasive, Abrasive)
    return _abrasive_wear(operation.setup.desk, float(abrasive.life_volume), volume)


@wear_of.register
def _(operation: SurfaceRefining, step: Step) -> Wear:
    desk = operation.setup.desk
    return Wear(
        step.time.contact / float(operation.refiner.life), desk.family.window(desk.group).half_life.path,
        desk.abrasive,
    )  # fmt: skip


@wear_of.register
def _(operation: AbradedEdge, step: Step) -> Wear:
    section = float(step.found.evaluation.predictions["nominal"].section)
    length = step.time.contact / step.found.passes * float(step.found.settings["feed"])
    return _abrasive_wear(operation.desk, float(operation.conditions.abrasive.life_volume), section * length)


@wear_of.register
def _(operation: ContourAbrasion, step: Step) -> Wear:
    volume = float(step.found.evaluation.predictions["nominal"].removal_rate) * step.time.contact
    return _abrasive_wear(operation.desk, float(operation.conditions.abrasive.life_volume), volume)


@wear_of.register
def _(operation: BulkAbrasion, step: Step) -> Wear:
    volume = float(operation.conditions.stock.volume) * operation.removal.count
    return _abrasive_wear(operation.desk, float(operation.conditions.abrasive.life_volume), volume)


def _abrasive_wear(desk: AbrasiveDesk, life_volume: float, part_volume: float) -> Wear:
    """Share of the volume an abrasive removes until it is changed."""
    end_rate = reference.default("abrasive_end_of_life").value
    change = float(physics.change_volume(life_volume, end_rate))
    half_life = desk.family.window(desk.group).half_life
    return Wear(part_volume / change, half_life.path, desk.abrasive, end_rate)
