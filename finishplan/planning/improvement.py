"""What would make a part faster: limits relieved on its longest steps, changes of the cell, a better robot.

Few further searches are made: one for each of the longest steps, and one where a better robot gets further.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from finishplan import reference
from finishplan.job import LoadedJob
from finishplan.planning.better_robot import better_robots
from finishplan.planning.closing_in import FASTER
from finishplan.planning.feature import Feature, Option, Step
from finishplan.planning.lifted import search_lifted
from finishplan.planning.motion import Motion, motion_of, stands_apart
from finishplan.planning.operation import Operation, mesh
from finishplan.planning.plan import FeaturePlan, Plan
from finishplan.planning.search import RANK, Found, search
from finishplan.process.limits import TOUCHING, Limit, excess, held

LONGEST: Final = 3
"""Longest steps that are looked into."""

MOST_RELIEFS: Final = 3
"""Limits told of, those that save most."""

LEAST_SAVED: Final = 0.005
"""Share of the time per part below which nothing is gained: settings are in round figures."""

TOGETHER: Final[tuple[frozenset[str], ...]] = (
    frozenset({"spindle power", "spindle torque"}),
    frozenset({"path error", "path accuracy", "robot stiffness"}),
    frozenset({"compliance stroke each way", "path accuracy"}),
    frozenset({"robot payload", "wrist moment"}),
)
"""Limits that say one thing in several figures, so that lifting one of them alone means nothing."""


@dataclass(frozen=True)
class Longest:
    """The step that takes the most of the time per part [s].

    `stops` are the limits that stop it and the next longest from being faster, its own first.
    """

    feature: str
    tool: str
    seconds: float
    share: float
    stops: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Relief:
    """What lifting a limit on features under one tool would save of a part [s].

    `limits` are those lifted, at the point reached without them, the one that governs first; `margin` is kept
    to them there. `next` is what stops the pace then, None where nothing does as far as was searched.
    """

    features: tuple[str, ...]
    limits: tuple[Limit, ...]
    margin: float
    next: str | None
    saved: float


@dataclass(frozen=True)
class Stuck:
    """A limit on a feature that is not worth lifting: the part asks for it, or `next` follows at once."""

    feature: str
    limit: str
    next: str | None


@dataclass(frozen=True)
class Change:
    """What a change of the cell would save of a part at most [s]."""

    name: str
    saved: float


@dataclass(frozen=True)
class BetterRobot:
    """What a better robot would save on the longest steps [s], by feature, and which of them it would free."""

    name: str
    saved: Mapping[str, float]
    freed: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Improvements:
    """What holds a part up, and what would make it faster, the most first."""

    longest: Longest
    reliefs: tuple[Relief, ...]
    stuck: tuple[Stuck, ...]
    changes: tuple[Change, ...]
    robots: tuple[BetterRobot, ...]


Work = tuple[Feature, Step]


def improvements(plan: Plan) -> Improvements:
    """What would make a planned part faster; of a part that is not feasible, only what a better robot does.

    Parameters
    ----------
    plan : Plan
        A planned part.

    Returns
    -------
    Improvements
        Savings are those of each change alone.
    """
    works = [(feature.feature, step) for feature in plan.features for step in feature.chosen.steps]
    longest = sorted(works, key=lambda work: -work[1].time.total)[:LONGEST]
    whole = plan.throughput.per_part
    feature, step = longest[0]
    reliefs, stuck = _reliefs(longest, LEAST_SAVED * whole) if plan.feasible else ([], [])
    stops = tuple(dict.fromkeys(step.found.governing for _, step in longest))
    return Improvements(
        Longest(feature.name, step.tool, float(step.time.total), float(step.time.total) / whole, stops),
        tuple(reliefs),
        tuple(stuck),
        tuple(_worthwhile(_changes(plan, [step for _, step in works]), LEAST_SAVED * whole)) if plan.feasible else (),
        tuple(_robots(plan, longest, LEAST_SAVED * whole)),
    )


def _worthwhile(changes: Iterator[Change], least: float) -> list[Change]:
    return sorted((change for change in changes if change.saved > least), key=lambda change: -change.saved)


def _reliefs(works: Sequence[Work], least: float) -> tuple[list[Relief], list[Stuck]]:
    """What lifting the limit that governs each step saves, steps of one tool under one limit together; and the
    limits that are not worth it."""
    groups: dict[tuple[str, Collection[str]], list[tuple[str, Relief]]] = {}
    stuck: list[Stuck] = []
    for feature, step in works:
        governing = step.found.governing
        if step.found.verdict == "keeps the margin" and _asked_of_the_part(step.found):
            stuck.append(Stuck(feature.name, governing, None))
        elif step.found.verdict == "keeps the margin":
            lifted = next((names for names in TOGETHER if governing in names), {governing})
            relief = _relief(feature, step, lifted)
            groups.setdefault((step.station, frozenset(lifted)), []).append((feature.name, relief))
            if relief.saved <= least and relief.next:
                stuck.append(Stuck(feature.name, governing, relief.next))
    worth = [relief for relief in map(_joined, groups.values()) if relief.saved > least]
    return sorted(worth, key=lambda relief: -relief.saved)[:MOST_RELIEFS], stuck


def _asked_of_the_part(found: Found) -> bool:
    """Whether the limit that governs is asked of the feature and stays as it is under any robot."""
    governing = (limit for limit in found.evaluation.limits if limit.name == found.governing)
    return any(limit.asked_of_the_part for limit in governing) and "path" not in found.governing


def _relief(feature: Feature, step: Step, lifted: Collection[str]) -> Relief:
    """One step with limits lifted; nothing is saved where none of them is exceeded, or what is judged after the search
    stops it as it is."""
    found, following = search_lifted(step.found, lifted)
    other = feature.reworked(step, found)
    limits = other.found.evaluation.limits
    kept = bool(held([limit for limit in limits if limit.name not in lifted], found.margin))
    exceeded = [limit for limit in limits if limit.name in lifted and not held([limit], found.margin)]
    return Relief(
        features=(feature.name,),
        limits=tuple(sorted(exceeded, key=lambda limit: limit.name != step.found.governing)),
        margin=found.margin,
        next=following,
        saved=float(step.time.total - other.time.total) if kept and exceeded else 0.0,
    )


def _joined(group: Sequence[tuple[str, Relief]]) -> Relief:
    """Reliefs of one limit on several features: as far as the one that takes most needs it."""
    first = max((relief for _, relief in group), key=lambda relief: relief.saved)
    worth = [(name, relief.saved) for name, relief in group if relief.saved > 0]
    return replace(
        first, features=tuple(dict.fromkeys(name for name, _ in worth)), saved=sum(saved for _, saved in worth)
    )


def _changes(plan: Plan, steps: Sequence[Step]) -> Iterator[Change]:
    """Changes of the cell that need no search."""
    cell, cycle, motion = plan.loaded.cell, plan.cycle, motion_of(plan.loaded)
    if not stands_apart(cell):
        yield Change("every spindle at hand at once, so that none is changed", cycle.tool_changes * cycle.tool_change)
    yield Change("the next part put in while one is worked", plan.throughput.part_change)
    yield Change("half the distance covered at approach speed", _approaching(steps, motion) / 2)
    top = cell.robot.top_speed or reference.robot_class(cell.robot.kind).top_speed.value
    yield Change("air moves at the top speed of the robot", cycle.air * max(1 - motion.air_speed / top, 0.0))
    changes = sum(step.time.wait > 0 for step in steps)
    yield Change("an own tool for each grit", cycle.wait - changes * cycle.tool_change)


def _approaching(steps: Sequence[Step], motion: Motion) -> float:
    """Time of coming down on all features [s]."""
    return motion.approach_distance * sum(step.time.entries / step.time.approach_speed for step in steps)


def _robots(plan: Plan, works: Sequence[Work], least: float) -> Iterator[BetterRobot]:
    held_up = [feature for feature in plan.features if any(feature.feature is each for each, _ in works)]
    for name, loaded in better_robots(plan.loaded).items():
        others = {feature.name: Option(tuple(_better(feature, loaded))) for feature in held_up}
        saved = {feature.name: feature.chosen.seconds - others[feature.name].seconds for feature in held_up}
        ranks = {feature.name: (RANK[feature.verdict], RANK[others[feature.name].verdict]) for feature in held_up}
        yield BetterRobot(
            name,
            {each: float(time) for each, time in saved.items() if time > least and ranks[each] == (0, 0)},
            tuple(each for each, (before, after) in ranks.items() if after < before),
        )


def _better(planned: FeaturePlan, loaded: LoadedJob) -> Iterator[Step]:
    """The steps of a feature under a better robot, each for itself; as they are where nothing is gained."""
    for step in planned.chosen.steps:
        found = _under(step.found, step.found.operation.again(loaded))
        yield step if found is None else planned.feature.reworked(step, found)


def _under(found: Found, better: Operation) -> Found | None:
    """What is found under a better robot; None where a look shows that nothing is gained."""
    return search(better, found.margin) if _gets_further(found, better) else None


def _gets_further(found: Found, better: Operation) -> bool:
    """Whether limits ease at a point that breaks some, or a faster point or fewer passes keep the margin."""
    if found.verdict != "keeps the margin":
        margin = 0.0 if found.verdict == "not feasible" else found.margin
        here, there = (each.evaluate(found.settings, found.passes) for each in (found.operation, better))
        return bool(excess(there.limits, margin) < excess(here.limits, margin) - TOUCHING)
    fewer = [passes for passes in better.pass_counts if passes < found.passes]
    everywhere = mesh(better.axes, [axis.range for axis in better.axes], [axis.count for axis in better.axes])
    looks = [(better.faster(found.settings, FASTER), found.passes), *((everywhere, passes) for passes in fewer[-1:])]
    for settings, passes in looks:
        there = better.evaluate(settings, passes)
        kept = held(there.limits, found.margin)
        if np.any(kept & (there.pace > float(found.evaluation.pace) * (1 + LEAST_SAVED))):
            return True
    return False
