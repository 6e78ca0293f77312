"""One row model of a plan. The terminal, JSON and CSV are renderings of it and add no figures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from finishplan.hazards import review
from finishplan.planning.feature import Option, Step
from finishplan.planning.ledger import Ledger
from finishplan.planning.plan import Assumption, FeaturePlan, Plan
from finishplan.planning.search import Found
from finishplan.process.limits import ALIKE, Limit, most_used_first
from finishplan.report import abrasive_rows, contour_notes, contour_rows, edge_rows, process_rows
from finishplan.report.cell_rows import cell_rows, rack_rows
from finishplan.report.cost_rows import cost_rows
from finishplan.report.figures import (
    STRICTLY,
    AssumptionRow,
    FeatureRows,
    Figure,
    LimitRow,
    PlanRows,
    StepRows,
    StopRow,
)
from finishplan.report.hazard_rows import cautions, cautions_in_short
from finishplan.report.improvement_rows import improvement_rows
from finishplan.report.requirement_rows import requirement_rows
from finishplan.units import System

__all__ = ["STARTING_VALUES", "abrasive_rows", "contour_notes", "contour_rows", "edge_rows", "plan_rows"]

STARTING_VALUES = (
    "Every figure is a starting value with a band. Confirm it by a trial on scrap parts before production."
)


def plan_rows(plan: Plan, system: System | None = None) -> PlanRows:
    """Rows of a plan in the job's system of units, or in another."""
    job, reviewed = plan.loaded.job, review(plan)
    shown = system or job.job.units
    return PlanRows(
        title=job.job.title,
        system=shown,
        feasible=plan.feasible,
        header=_header(plan),
        features=tuple(_feature_rows(feature) for feature in plan.features),
        cycle=_cycle(plan),
        of_cell=cell_rows(plan),
        rack=tuple(rack_rows(plan)),
        sequence=tuple(
            StopRow(stop.feature, stop.tool, stop.change, Figure("time", "time", stop.seconds, "time"))
            for stop in plan.cycle.stops
        ),
        tools=tuple(_tools(plan)),
        improvements=improvement_rows(plan, shown),
        requirements=tuple(requirement_rows(plan, reviewed.context)),
        costs=None if plan.costs is None else cost_rows(plan.costs),
        assumptions=tuple(_assumption(assumption) for assumption in plan.assumptions),
        cautions=cautions(reviewed, shown),
        cautions_in_short=cautions_in_short(reviewed, shown),
    )


def _header(plan: Plan) -> tuple[Figure, ...]:
    job = plan.loaded.job
    verdict = "planned" if plan.feasible else "not feasible as it stands"
    return (
        Figure("verdict", "verdict", verdict),
        Figure("material", "material", plan.workpiece.title),
        Figure("cell", "cell", plan.loaded.cell.title),
        Figure("arrangement", "arrangement", plan.loaded.cell.arrangement),
        Figure("margin", "margin to every limit", plan.margin, "fraction"),
        Figure("batch", "batch", job.job.batch),
    )


def _feature_rows(feature: FeaturePlan) -> FeatureRows:
    return FeatureRows(
        name=feature.name,
        verdict=feature.verdict,
        steps=tuple(_step_rows(feature, step) for step in feature.chosen.steps),
        others=tuple(_other(option) for option in feature.others),
        notes=(*feature.feature.notes, *process_rows.notes(feature.detail, feature.chosen)),
    )


def _step_rows(feature: FeaturePlan, step: Step) -> StepRows:
    found, ledger = step.found, step.found.operation.ledger
    limits = most_used_first(found.evaluation.limits)
    return StepRows(
        process=process_rows.process(feature.detail),
        verdict=found.verdict,
        governing=found.governing,
        settings=tuple(process_rows.settings(feature.detail, step)),
        result=tuple(process_rows.result(feature.detail, step)),
        limits=tuple(_limit_row(limit, found, ledger) for limit in limits),
    )


def _limit_row(limit: Limit, found: Found, ledger: Ledger) -> LimitRow:
    origin = ledger.by_field.get(limit.source)
    # limits used alike are to be shown alike, whatever the last digits of their arithmetic
    utilisation = round(float(limit.utilisation), ALIKE)
    return LimitRow(
        name=limit.name,
        value=Figure("value", limit.name, float(limit.value), limit.kind),
        bound=Figure("bound", limit.name, float(limit.bound), limit.kind),
        sense=limit.sense,
        utilisation=utilisation,
        keeps_margin=limit.keeps_margin,
        source=origin.text if origin else limit.source,
        remedy=limit.remedy,
        needed=Figure("needed", limit.name, limit.needed(found.margin), limit.kind, STRICTLY[limit.needed_sense]),
        needed_sense=limit.needed_sense,
        asks_of=limit.asks_of,
        broken=any(limit is broken for broken in found.broken),
    )


def _other(option: Option) -> str:
    tools = ", ".join(filter(None, [", then ".join(option.tools), option.label]))
    if option.verdict == "keeps the margin":
        return f"{tools} would take {option.seconds:.1f} s"
    broken = [limit for step in option.steps for limit in step.found.broken]
    worst = most_used_first(broken)[0]
    return f"{tools}: {option.verdict} ({worst.name}, {float(worst.utilisation):.0%} of the limit)"


def _assumption(assumption: Assumption) -> AssumptionRow:
    origin = assumption.origin
    value = Figure("value", origin.title, origin.value, origin.quantity)
    return AssumptionRow(value, origin.grade, origin.text, assumption.features)


def _cycle(plan: Plan) -> tuple[Figure, ...]:
    cycle = plan.cycle
    return (
        Figure("contact_time", "in contact", cycle.contact, "time"),
        Figure("approach_time", "approach and retract", cycle.approach, "time"),
        Figure("wait_time", "changes of abrasive", cycle.wait or None, "time"),
        Figure("air_time", "air moves between runs", cycle.air, "time"),
        Figure("tool_changes", "tool changes", cycle.tool_changes),
        Figure("tool_change_time", "time of tool changes", cycle.tool_changes * cycle.tool_change, "time"),
        Figure("cycle_time", "cycle time", cycle.total, "time"),
    )


def _tools(plan: Plan) -> Iterator[tuple[Figure, ...]]:
    batch = plan.loaded.job.job.batch
    for use in plan.tools:
        parts = None if use.parts is None else int(use.parts)
        needed = None if use.parts is None or batch is None else -(-batch // max(int(use.parts), 1))
        yield (
            Figure("tool", "tool", use.tool),
            Figure("life", "life in contact", use.life, "long time"),
            Figure("parts", "parts per tool", parts),
            Figure("tools_per_batch", "pieces per batch", needed),
            Figure("cost_per_part", f"cost per part in {plan.loaded.cell.currency}", _rounded(use.cost_per_part)),
            Figure("feed_schedule", "feed over planned, fresh to worn", _schedule(use.schedule)),
            Figure("source", "from", use.source),
        )


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _schedule(factors: Sequence[float]) -> str | None:
    """Feed along the change interval of an abrasive, over the planned feed."""
    return ", ".join(f"{factor:.2f}" for factor in factors) or None
