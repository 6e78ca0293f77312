"""The plan of a part: the best way of doing every feature, the cycle they make, and what it takes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from typing import Any

from finishplan import reference
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_feature import BulkFeature
from finishplan.planning.contour_feature import contour_features
from finishplan.planning.costs import PartCosts, part_costs
from finishplan.planning.cycle import Cycle, least_changes, part_cycle
from finishplan.planning.edge_feature import edge_features
from finishplan.planning.feature import Feature, Option
from finishplan.planning.ledger import Ledger, Origin
from finishplan.planning.motion import motion_of
from finishplan.planning.precedence import precedence
from finishplan.planning.requirements import Requirement, least_equipment
from finishplan.planning.search import RANK, Verdict
from finishplan.planning.surface_feature import surface_features
from finishplan.planning.throughput import Throughput, part_throughput
from finishplan.planning.together import answered, side_by_side
from finishplan.planning.toolife import ToolUse, tool_use


@dataclass(frozen=True, eq=False)
class FeaturePlan:
    """The way chosen for a feature, the ways that were not, and what the report tells besides."""

    feature: Feature
    chosen: Option
    others: tuple[Option, ...]
    detail: Any

    @property
    def name(self) -> str:
        return self.feature.name

    @property
    def verdict(self) -> Verdict:
        return self.chosen.verdict


@dataclass(frozen=True)
class Assumption:
    """A figure neither job nor cell gives, and the features that rest on it; none named if all do."""

    origin: Origin
    features: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Plan:
    """A planned part."""

    loaded: LoadedJob
    margin: float
    features: tuple[FeaturePlan, ...]
    cycle: Cycle
    tools: tuple[ToolUse, ...]
    throughput: Throughput
    assumptions: tuple[Assumption, ...]
    costs: PartCosts | None

    @property
    def workpiece(self) -> reference.Workpiece:
        return reference.workpiece(self.loaded.job.part.material)

    @cached_property
    def requirements(self) -> tuple[Requirement, ...]:
        """The least equipment that would do."""
        return least_equipment(self.loaded, [(feature.name, feature.chosen.steps) for feature in self.features])

    @property
    def feasible(self) -> bool:
        return all(feature.verdict != "not feasible" for feature in self.features)


def make_plan(loaded: LoadedJob) -> Plan:
    """Plan every feature of a job.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    motion = motion_of(loaded)
    margin = loaded.job.job.margin
    if margin is None:
        margin = float(motion.ledger.assumed("job.margin", "margin", "fraction"))
    features = all_features(loaded)
    tried = answered(side_by_side([feature.options() for feature in features]), margin)
    before = precedence(loaded.job)

    def changes(picked: Sequence[Option]) -> int:
        return least_changes(
            [(feature.name, option.steps) for feature, option in zip(features, picked, strict=True)], before
        )

    chosen = fewest_seconds(tried, motion.tool_change, changes)
    planned = tuple(
        FeaturePlan(feature, option, tuple(other for other in options if other is not option), feature.detail(option))
        for feature, options, option in zip(features, tried, chosen, strict=True)
    )
    works = [(feature.name, feature.chosen.steps) for feature in planned]
    cycle, tools = part_cycle(works, motion, before), tool_use(works)
    throughput = part_throughput(loaded, cycle, tools, motion.ledger)
    return Plan(
        loaded=loaded,
        margin=margin,
        features=planned,
        cycle=cycle,
        tools=tools,
        throughput=throughput,
        assumptions=_assumptions(planned, motion.ledger),
        costs=part_costs(loaded, throughput, tools, works),
    )


def all_features(loaded: LoadedJob) -> list[Feature]:
    """Every feature of a job: stock first, then contours, then edges, then surfaces.

    Raises
    ------
    JobError
        Faults in the drawings the job names.
    """
    stock = [BulkFeature(loaded, index) for index in range(len(loaded.job.removal))]
    return [*stock, *contour_features(loaded), *edge_features(loaded), *surface_features(loaded)]


def fewest_seconds(
    tried: Sequence[Sequence[Option]], tool_change: float, changes: Callable[[Sequence[Option]], int]
) -> list[Option]:
    """Choose an option for every feature: best verdicts first, then the shortest cycle, tool changes counted.

    Every subset of the tools is priced; a cell holds few enough of them. `changes` tells how often a
    choice changes tools, which is once for every tool or, where one has to be taken up again, more often.
    """
    names = sorted({tool for options in tried for option in options for tool in option.stations})
    best: tuple[tuple[float, ...], list[Option]] | None = None
    for size in range(1, len(names) + 1):
        for subset in combinations(names, size):
            picks = [_pick(options, subset) for options in tried]
            picked = [pick for pick in picks if pick is not None]
            if len(picked) < len(picks):
                continue
            tools = {tool for option in picked for tool in option.stations}
            at_least = _cost(picked, tool_change * len(tools) if len(tools) > 1 else 0.0)
            if best is not None and at_least >= best[0]:
                continue
            cost = _cost(picked, tool_change * changes(picked))
            if best is None or cost < best[0]:
                best = (cost, picked)
    assert best is not None
    return best[1]


def _pick(options: Sequence[Option], subset: Sequence[str]) -> Option | None:
    """The best option that needs no tool outside the subset."""
    return min(
        (option for option in options if set(option.stations) <= set(subset)), key=lambda o: o.merit, default=None
    )


def _cost(picked: Sequence[Option], changing: float) -> tuple[float, float, float]:
    """Ranks of the verdicts, how far limits are exceeded, then seconds, those of changing tools with them."""
    seconds = sum(option.seconds for option in picked) + changing
    short = [option for option in picked if RANK[option.verdict]]
    return sum(RANK[option.verdict] for option in picked), sum(option.merit[1] for option in short), seconds


def _assumptions(features: Sequence[FeaturePlan], of_cell: Ledger) -> tuple[Assumption, ...]:
    """Every assumed figure, once each, with the features that rest on it."""
    resting: dict[tuple[str, float], tuple[Origin, dict[str, None]]] = {}
    for feature in features:
        for step in feature.chosen.steps:
            for origin in step.found.operation.ledger.assumptions():
                resting.setdefault((origin.title, origin.value), (origin, {}))[1][feature.name] = None
    everywhere = tuple(Assumption(origin, ()) for origin in of_cell.assumptions())
    for assumption in everywhere:
        resting.pop((assumption.origin.title, assumption.origin.value), None)
    return everywhere + tuple(
        Assumption(origin, () if len(names) == len(features) else tuple(names)) for origin, names in resting.values()
    )
