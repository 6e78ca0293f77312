"""What is shown of the step that takes longest and of what would make the part faster."""

from __future__ import annotations

from collections.abc import Iterator

from finishplan import units
from finishplan.planning.improvement import BetterRobot, Improvements, Longest, Relief, improvements
from finishplan.planning.plan import Plan
from finishplan.process.limits import Limit
from finishplan.report.figures import STRICTLY, Figure, ImprovementRow, ImprovementRows
from finishplan.units import System


def improvement_rows(plan: Plan, system: System) -> ImprovementRows:
    """Rows of what would make a plan faster, the most first."""
    found, whole = improvements(plan), plan.throughput.per_part
    changes = [*(_relief(relief, whole) for relief in found.reliefs), *_changes(found, whole)]
    return ImprovementRows(
        longest=_longest(found.longest),
        changes=tuple(sorted(changes, key=lambda row: -float(row.saved.value or 0.0))),
        stuck=tuple(_stuck(found)),
        robots=tuple(_robots(found, system)),
    )


def _longest(longest: Longest) -> tuple[Figure, ...]:
    return (
        Figure("feature", "feature", longest.feature),
        Figure("tool", "tool", longest.tool),
        Figure("time", "time with approaches", longest.seconds, "time"),
        Figure("share", "of the time per part", longest.share, "fraction"),
        Figure("governing_limit", "stopped by", longest.stops[0]),
    )


def _relief(relief: Relief, whole: float) -> ImprovementRow:
    return ImprovementRow(
        change=relief.limits[0].remedy,
        features=relief.features,
        limits=tuple(_goes(limit, relief.margin) for limit in relief.limits),
        following=relief.next or "end of what was searched",
        **_saving(relief.saved, whole),
    )


def _goes(limit: Limit, margin: float) -> tuple[Figure, Figure]:
    """The figure it takes and the figure there is."""
    there = float(limit.bound if limit.asks_of == "bound" else limit.value)
    return (
        Figure("needed", limit.name, limit.needed(margin), limit.kind, STRICTLY[limit.needed_sense]),
        Figure("available", limit.name, there, limit.kind),
    )


def _changes(found: Improvements, whole: float) -> Iterator[ImprovementRow]:
    for change in found.changes:
        yield ImprovementRow(change.name, (), (), following=None, **_saving(change.saved, whole))


def _saving(saved: float, whole: float) -> dict[str, Figure]:
    return {
        "saved": Figure("saved", "saves", saved, "time"),
        "share": Figure("share", "of the time per part", saved / whole, "fraction"),
    }


def _stuck(found: Improvements) -> Iterator[str]:
    """Limits that are not worth lifting, in words."""
    for stuck in found.stuck:
        if stuck.next is None:
            yield f"{stuck.feature} is stopped by what is asked of it: {stuck.limit}"
        else:
            yield f"{stuck.feature}: lifting {stuck.limit} alone buys nothing, {stuck.next} follows at once"


def _robots(found: Improvements, system: System) -> Iterator[str]:
    """What a better robot would do to the longest steps, in words."""
    idle = [robot.name for robot in found.robots if not (robot.freed or robot.saved)]
    for robot in found.robots:
        if robot.name not in idle:
            yield f"robot, {robot.name}: {', '.join(_gains(robot, system))}"
    if idle:
        stops = ", ".join(found.longest.stops)
        yield f"robot, {' or '.join(idle)}: buys nothing on the longest steps, which are stopped by {stops}"


def _gains(robot: BetterRobot, system: System) -> Iterator[str]:
    yield from (f"frees {feature}" for feature in robot.freed)
    for feature, time in robot.saved.items():
        yield f"saves {units.show(time, 'time', system)} on {feature}"
