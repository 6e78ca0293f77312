"""What a cell makes in a shift, and what its robot does in that time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from finishplan import physics
from finishplan.job import LoadedJob
from finishplan.planning.cycle import Cycle
from finishplan.planning.feature import Step
from finishplan.planning.ledger import Ledger
from finishplan.planning.toolife import ToolUse


@dataclass(frozen=True)
class Throughput:
    """Times of the cell for one part [s] and what they make of a shift [s].

    `renewal` is a part's share of the changes of worn tools and abrasives. `robot` tells how the time
    per part is shared among what the robot does, as shares that add up to one.
    """

    cycle: float
    part_change: float
    renewal: float
    shift: float
    batch: int | None
    robot: Mapping[str, float]

    @property
    def per_part(self) -> float:
        """Time of the cell per part [s]."""
        return self.cycle + self.part_change + self.renewal

    @property
    def composition(self) -> str:
        """What the time per part is made of, in words."""
        added = {"change of the part": self.part_change, "changes of worn tools": self.renewal}
        return " and ".join(["cycle time", *(name for name, time in added.items() if time)])

    @property
    def parts_per_shift(self) -> float:
        """Parts of a shift, the one begun at its end in part."""
        return float(self.shift * physics.part_rate(1.0, self.per_part))

    @property
    def most_parts_per_shift(self) -> float:
        """Parts of a shift, were no time lost between one and the next."""
        return float(self.shift * physics.part_rate(1.0, self.cycle))

    @property
    def shifts_for_batch(self) -> float | None:
        """Shifts that the batch takes, where there is one."""
        return None if self.batch is None else self.batch / self.parts_per_shift


@dataclass(frozen=True)
class Load:
    """The largest share of a limit of the robot that is used, and the feature that sets it."""

    share: float
    feature: str


def part_throughput(loaded: LoadedJob, cycle: Cycle, tools: Sequence[ToolUse], ledger: Ledger) -> Throughput:
    """Throughput of a cell.

    Parameters
    ----------
    loaded : LoadedJob
        The job with its cell.
    cycle : Cycle
        Cycle of a part.
    tools : sequence of ToolUse
        Every tool used on it, with its life.
    ledger : Ledger
        Takes up the times that the cell leaves out.
    """
    cell = loaded.cell
    part_change, shift = cell.part_change_time, cell.installed.shift_length
    if part_change is None:
        part_change = float(ledger.assumed("cell.part_change_time", "part_change_time", "time"))
    if shift is None:
        shift = float(ledger.assumed("installed.shift_length", "shift_length", "duration"))
    renewal = sum(use.renewal for use in tools)
    doing = {
        "in contact": cycle.contact,
        "moving in the air": cycle.approach + cycle.air,
        "changing tools": cycle.tool_changes * cycle.tool_change,
        "changing the part": part_change,
        "waiting for new abrasives and tools": cycle.wait + renewal,
    }
    whole = sum(doing.values())
    robot = {name: time / whole for name, time in doing.items()}
    return Throughput(cycle.total, part_change, renewal, shift, loaded.job.job.batch, robot)


def highest_load(works: Sequence[tuple[str, Sequence[Step]]], limit: str) -> Load | None:
    """The highest use of a limit of the robot over all features; None where no step has that limit."""
    loads = (
        Load(float(each.utilisation), feature)
        for feature, steps in works
        for step in steps
        for each in step.found.evaluation.limits
        if each.name == limit
    )
    return max(loads, key=lambda load: load.share, default=None)
