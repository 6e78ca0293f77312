"""The plan of a part: the best operation for every feature, the cycle they make, and what it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from finishplan import physics, reference
from finishplan.job import LoadedJob
from finishplan.planning.cycle import Cycle, FeatureTime, feature_time, part_cycle
from finishplan.planning.edge_setup import edge_setup
from finishplan.planning.ledger import Origin
from finishplan.planning.operation import edge_operation
from finishplan.planning.outline import Outline, edge_outlines
from finishplan.planning.requirements import Requirement, least_equipment
from finishplan.planning.search import Found, Verdict, search
from finishplan.planning.toolife import ToolUse, tool_use
from finishplan.process.edge_conditions import CompliantMount, OperatingPoint
from finishplan.process.edge_cutting import predict


@dataclass(frozen=True, eq=False)
class CornerEffect:
    """What the slowest corner of a path does to the edge break under an unchanged setting."""

    feed: float
    leg: float
    setting_to_hold: float | None


@dataclass(frozen=True, eq=False)
class Candidate:
    """One tool tried on a feature, and the time it would take."""

    found: Found
    time: FeatureTime

    @property
    def tool(self) -> str:
        return self.found.operation.setup.tool.name


@dataclass(frozen=True, eq=False)
class FeaturePlan:
    """The operation chosen for a feature, and the ones that were not."""

    name: str
    outline: Outline
    chosen: Candidate
    others: tuple[Candidate, ...]
    corner: CornerEffect | None
    untuned_break: tuple[float, float]

    @property
    def verdict(self) -> Verdict:
        return self.chosen.found.verdict


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
    requirements: tuple[Requirement, ...]
    assumptions: tuple[Assumption, ...]

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
    margin = loaded.job.job.margin
    margin = reference.default("margin").value if margin is None else margin
    outlines = edge_outlines(loaded)
    tried = [_candidates(loaded, index, outline, margin) for index, outline in enumerate(outlines)]
    chosen = _fewest_seconds(loaded, tried)
    features = tuple(
        _feature_plan(outline, candidates, candidate)
        for outline, candidates, candidate in zip(outlines, tried, chosen, strict=True)
    )
    cycle = part_cycle(loaded, [(feature.outline, feature.chosen.found, feature.chosen.time) for feature in features])
    return Plan(
        loaded=loaded,
        margin=margin,
        features=features,
        cycle=cycle,
        tools=tool_use([(feature.name, feature.chosen.found, feature.chosen.time) for feature in features]),
        requirements=least_equipment([(feature.name, feature.chosen.found) for feature in features]),
        assumptions=_assumptions(features),
    )


def _candidates(loaded: LoadedJob, index: int, outline: Outline, margin: float) -> list[Candidate]:
    founds = [
        search(edge_operation(edge_setup(loaded, index, tool)), margin)
        for tool in loaded.tools_for(loaded.job.edge[index])
    ]
    return [Candidate(found, feature_time(loaded, outline, found)) for found in founds]


_RANK: dict[Verdict, int] = {"keeps the margin": 0, "feasible, margin not kept": 1, "not feasible": 2}


def _fewest_seconds(loaded: LoadedJob, tried: Sequence[list[Candidate]]) -> list[Candidate]:
    """Choose a tool for every feature: best verdicts first, then the shortest cycle, tool changes counted.

    Every subset of the tools is priced; a cell holds few enough of them.
    """
    names = sorted({candidate.tool for candidates in tried for candidate in candidates})
    change = loaded.cell.tool_change_time
    change = reference.default("tool_change_time").value if change is None else change
    best: tuple[tuple[float, ...], list[Candidate]] | None = None
    for size in range(1, len(names) + 1):
        for subset in combinations(names, size):
            picks = [_pick(candidates, subset) for candidates in tried]
            if any(pick is None for pick in picks):
                continue
            picked = [pick for pick in picks if pick is not None]
            used = {pick.tool for pick in picked}
            seconds = sum(pick.time.total for pick in picked) + change * (len(used) if len(used) > 1 else 0)
            cost = (*_verdict_cost(picked), seconds)
            if best is None or cost < best[0]:
                best = (cost, picked)
    assert best is not None
    return best[1]


def _pick(candidates: Sequence[Candidate], subset: Sequence[str]) -> Candidate | None:
    return min((candidate for candidate in candidates if candidate.tool in subset), key=_merit, default=None)


def _merit(candidate: Candidate) -> tuple[float, float]:
    """Verdict first; among infeasible tools the least exceeded, otherwise the fastest."""
    rank = _RANK[candidate.found.verdict]
    worst = max(float(limit.utilisation) for limit in candidate.found.evaluation.limits)
    return (rank, worst if rank else candidate.time.total)


def _verdict_cost(picked: Sequence[Candidate]) -> tuple[float, float]:
    ranks = [_RANK[candidate.found.verdict] for candidate in picked]
    exceeded = [_merit(candidate)[1] for candidate in picked if _RANK[candidate.found.verdict]]
    return sum(ranks), sum(exceeded)


def _feature_plan(outline: Outline, candidates: Sequence[Candidate], chosen: Candidate) -> FeaturePlan:
    setup = chosen.found.operation.setup
    untuned = [
        float(predict(setup.coefficient_corners[corner], chosen.found.point).leg)
        for corner in ("smallest break", "largest break")
    ]
    return FeaturePlan(
        name=setup.edge.name,
        outline=outline,
        chosen=chosen,
        others=tuple(candidate for candidate in candidates if candidate is not chosen),
        corner=_corner_effect(outline, chosen),
        untuned_break=(untuned[0], untuned[1]),
    )


def _corner_effect(outline: Outline, chosen: Candidate) -> CornerEffect | None:
    """Break at the slowest corner, and the setting that would hold the nominal break there."""
    point, setup = chosen.found.point, chosen.found.operation.setup
    slowest = chosen.time.slowest
    if slowest >= float(point.feed) * 0.999:
        return None
    corner_point = OperatingPoint(point.spindle_speed, np.float64(slowest), point.setting, point.passes)
    leg = float(predict(setup.nominal, corner_point).leg)
    if not isinstance(setup.nominal.mount, CompliantMount):
        return CornerEffect(slowest, leg, None)
    settings = np.linspace(0.02, 1.2, 300) * float(point.setting)
    legs = predict(setup.nominal, OperatingPoint(point.spindle_speed, np.float64(slowest), settings, point.passes)).leg
    wanted = float(chosen.found.evaluation.predictions["nominal"].leg)
    return CornerEffect(slowest, leg, float(np.interp(wanted, legs, settings)))


def _assumptions(features: Sequence[FeaturePlan]) -> tuple[Assumption, ...]:
    """Every assumed figure, once each, with the features that rest on it."""
    resting: dict[tuple[str, float], tuple[Origin, list[str]]] = {}
    for feature in features:
        for origin in feature.chosen.found.operation.setup.ledger.assumptions():
            resting.setdefault((origin.title, origin.value), (origin, []))[1].append(feature.name)
    return tuple(
        Assumption(origin, () if len(names) == len(features) else tuple(names)) for origin, names in resting.values()
    )


def equivalent_radius(leg: float, included_angle: float) -> float:
    """Radius of the round with the section of a chamfer [m]."""
    return float(physics.round_radius(physics.chamfer_area(leg, included_angle), included_angle))
