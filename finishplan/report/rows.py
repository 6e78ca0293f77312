"""One row model of a plan. The terminal, JSON and CSV are renderings of it and add no figures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from finishplan import physics, units
from finishplan.hazards import cautions_for
from finishplan.planning.ledger import Ledger
from finishplan.planning.plan import Assumption, FeaturePlan, Plan, equivalent_radius
from finishplan.planning.search import Found
from finishplan.process.edge_conditions import CompliantMount
from finishplan.process.edge_cutting import passes_to_clear
from finishplan.process.limits import Limit
from finishplan.units import System

STARTING_VALUES = (
    "Every figure is a starting value with a band. Confirm it by a trial on scrap parts before production."
)


DIGITS_KEPT = 10
"""Digits of a figure in machine-readable output; the rest is the noise of unit conversion."""


@dataclass(frozen=True)
class Figure:
    """One named figure. `kind` is a key of `finishplan.units.KINDS`, or None for words and counts."""

    key: str
    label: str
    value: float | int | str | None
    kind: str | None = None

    def text(self, system: System) -> str:
        if self.value is None:
            return "-"
        if self.kind is None or isinstance(self.value, str):
            return str(self.value)
        return units.show(self.value, self.kind, system)

    def keyed(self, system: System) -> tuple[str, float | int | str | None]:
        """Key with its unit, and the value in that unit."""
        if self.kind is None or isinstance(self.value, str):
            return self.key, self.value
        suffix = units.KINDS[self.kind].shown(system).suffix
        key = f"{self.key}_{suffix}" if suffix else self.key
        if self.value is None:
            return key, None
        return key, float(f"{units.shown_value(self.value, self.kind, system):.{DIGITS_KEPT}g}")


@dataclass(frozen=True)
class LimitRow:
    """One limit of a chosen operating point."""

    name: str
    value: Figure
    bound: Figure
    sense: str
    utilisation: float
    keeps_margin: bool
    source: str
    remedy: str
    needed: Figure
    broken: bool


@dataclass(frozen=True)
class FeatureRows:
    """Everything shown of one feature."""

    name: str
    verdict: str
    governing: str
    settings: tuple[Figure, ...]
    result: tuple[Figure, ...]
    limits: tuple[LimitRow, ...]
    others: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        return self.settings + self.result


@dataclass(frozen=True)
class AssumptionRow:
    """A figure that neither job nor cell gives."""

    value: Figure
    grade: str
    source: str
    features: tuple[str, ...]


@dataclass(frozen=True)
class PlanRows:
    """Everything shown of a plan."""

    title: str
    system: System
    feasible: bool
    header: tuple[Figure, ...]
    features: tuple[FeatureRows, ...]
    cycle: tuple[Figure, ...]
    sequence: tuple[tuple[str, str, Figure], ...]
    tools: tuple[tuple[Figure, ...], ...]
    requirements: tuple[tuple[Figure, ...], ...]
    assumptions: tuple[AssumptionRow, ...]
    cautions: tuple[str, ...]


def plan_rows(plan: Plan, system: System | None = None) -> PlanRows:
    """Rows of a plan in the job's system of units, or in another."""
    job = plan.loaded.job
    return PlanRows(
        title=job.job.title,
        system=system or job.job.units,
        feasible=plan.feasible,
        header=_header(plan),
        features=tuple(_feature_rows(feature) for feature in plan.features),
        cycle=_cycle(plan),
        sequence=tuple(
            (stop.feature, stop.tool, Figure("time", "time", stop.seconds, "time")) for stop in plan.cycle.stops
        ),
        tools=tuple(_tools(plan)),
        requirements=tuple(_requirements(plan)),
        assumptions=tuple(_assumption(assumption) for assumption in plan.assumptions),
        cautions=cautions_for(plan.features[0].chosen.found.operation.setup.workpiece.dust),
    )


def _header(plan: Plan) -> tuple[Figure, ...]:
    job = plan.loaded.job
    verdict = "planned" if plan.feasible else "not feasible as it stands"
    return (
        Figure("verdict", "verdict", verdict),
        Figure("material", "material", plan.features[0].chosen.found.operation.setup.workpiece.title),
        Figure("cell", "cell", plan.loaded.cell.title),
        Figure("margin", "margin to every limit", plan.margin, "fraction"),
        Figure("batch", "batch", job.job.batch),
    )


def _feature_rows(feature: FeaturePlan) -> FeatureRows:
    found = feature.chosen.found
    ledger = found.operation.setup.ledger
    limits = sorted(found.evaluation.limits, key=lambda limit: -float(limit.utilisation))
    return FeatureRows(
        name=feature.name,
        verdict=found.verdict,
        governing=found.governing,
        settings=tuple(_settings(feature)),
        result=tuple(_result(feature)),
        limits=tuple(_limit_row(limit, found, ledger) for limit in limits),
        others=tuple(_other(candidate.found, candidate.time.total) for candidate in feature.others),
        notes=tuple(_notes(feature)),
    )


def _settings(feature: FeaturePlan) -> Iterator[Figure]:
    found = feature.chosen.found
    setup, point, nominal = found.operation.setup, found.point, found.evaluation.predictions["nominal"]
    mount = setup.nominal.mount
    yield Figure("tool", "tool", setup.tool.name)
    yield Figure("spindle", "spindle", setup.spindle.name)
    yield Figure("mount", "mount", setup.device.name if setup.device else "rigid")
    yield Figure("spindle_speed", "spindle speed", float(point.spindle_speed), "rotation")
    yield Figure("feed", "feed", float(point.feed), "feed")
    yield Figure("passes", "passes", point.passes)
    if isinstance(mount, CompliantMount):
        force, area = float(point.setting), mount.effective_area
        yield Figure("contact_force", "contact force", force, "force")
        pressure = None if area is None else float(physics.device_pressure(force, area))
        yield Figure("device_pressure", "device pressure", pressure, "pressure")
        yield Figure("aimed_depth", "aimed depth", None, "length")
        yield Figure("preload_offset", "preload offset", float(physics.preload_offset(mount.stroke)), "length")
        yield Figure("stroke_needed", "stroke needed, each way", float(mount.stroke_needed), "length")
        yield Figure("stroke_available", "stroke available, each way", float(mount.stroke) / 2, "length")
    else:
        yield Figure("contact_force", "contact force", float(nominal.normal_force), "force")
        yield Figure("device_pressure", "device pressure", None, "pressure")
        yield Figure("aimed_depth", "aimed depth", float(point.setting), "length")
        yield Figure("preload_offset", "preload offset", None, "length")
        yield Figure("stroke_needed", "stroke needed, each way", None, "length")
        yield Figure("stroke_available", "stroke available, each way", None, "length")
    yield Figure("approach_speed", "approach speed", feature.chosen.time.approach_speed, "feed")
    yield Figure("direction", "direction of travel", "conventional")


def _result(feature: FeaturePlan) -> Iterator[Figure]:
    found = feature.chosen.found
    edge = found.operation.setup.nominal.edge
    predictions = found.evaluation.predictions
    nominal, smallest = predictions["nominal"], predictions["smallest break"]
    yield Figure("surface_speed", "surface speed", float(nominal.surface_speed), "surface speed")
    yield Figure("feed_per_tooth", "feed per tooth", float(nominal.feed_per_tooth), "fine length")
    yield Figure("edge_break_lower_limit", "edge break wanted, from", float(edge.leg_lower), "length")
    yield Figure("edge_break_upper_limit", "edge break wanted, to", float(edge.leg_upper), "length")
    yield Figure("edge_break", "edge break, nominal", float(nominal.leg), "length")
    yield Figure("edge_break_smallest", "edge break, smallest", float(smallest.leg), "length")
    yield Figure("edge_break_largest", "edge break, largest", float(predictions["largest break"].leg), "length")
    yield Figure(
        "edge_break_radius", "same section as radius", equivalent_radius(nominal.leg, edge.included_angle), "length"
    )
    yield Figure("edge_break_untuned_low", "before a trial, from", feature.untuned_break[0], "length")
    yield Figure("edge_break_untuned_high", "before a trial, to", feature.untuned_break[1], "length")
    left = max(0.0, 1 - float(smallest.section) / float(smallest.burr_section)) if smallest.burr_section else 0.0
    yield Figure("burr_left", "burr left, largest burr", left, "fraction")
    yield Figure("cutting_power", "cutting power, heaviest", float(predictions["heaviest load"].cutting_power), "power")
    yield Figure("length", "length", feature.outline.length, "long length")
    yield Figure("contact_time", "contact time", feature.chosen.time.contact, "time")
    yield Figure("feature_time", "time with approaches", feature.chosen.time.total, "time")
    yield Figure("corner_feed", "slowest corner", feature.corner.feed if feature.corner else None, "feed")
    yield Figure("corner_edge_break", "edge break there", feature.corner.leg if feature.corner else None, "length")
    yield Figure(
        "corner_force", "force to hold it there", feature.corner.setting_to_hold if feature.corner else None, "force"
    )


def _limit_row(limit: Limit, found: Found, ledger: Ledger) -> LimitRow:
    origin = ledger.by_field.get(limit.source)
    utilisation = float(limit.utilisation)
    return LimitRow(
        name=limit.name,
        value=Figure("value", limit.name, float(limit.value), limit.kind),
        bound=Figure("bound", limit.name, float(limit.bound), limit.kind),
        sense=limit.sense,
        utilisation=utilisation,
        keeps_margin=limit.keeps_margin,
        source=origin.text if origin else limit.source,
        remedy=limit.remedy,
        needed=Figure("needed", limit.name, limit.needed_bound(found.margin), limit.kind),
        broken=any(limit is broken for broken in found.broken),
    )


def _other(found: Found, seconds: float) -> str:
    tool = found.operation.setup.tool.name
    if found.verdict == "keeps the margin":
        return f"{tool} would take {seconds:.1f} s"
    worst = found.broken[0]
    return f"{tool}: {found.verdict} ({worst.name}, {float(worst.utilisation):.0%} of the limit)"


def _notes(feature: FeaturePlan) -> Iterator[str]:
    found = feature.chosen.found
    yield from feature.outline.notes
    smallest = found.evaluation.predictions["smallest break"]
    if float(smallest.section) < float(smallest.burr_section):
        needed = passes_to_clear(found.evaluation.predictions, found.point.passes)
        yield f"the largest burr is not gone; at this setting it would take about {needed:.0f} passes"
    upper = float(found.operation.setup.nominal.edge.leg_upper)
    if feature.corner is not None and feature.corner.leg > upper:
        yield "at the slowest corner the edge break passes its upper limit: lower the force there as shown, or the feed"
    pull = float(found.evaluation.predictions["nominal"].feed_direction_force)
    if pull >= 0:
        yield "conventional travel: the cut pushes against the feed, so a soft robot or mount is not pulled in"


def _assumption(assumption: Assumption) -> AssumptionRow:
    origin = assumption.origin
    value = Figure("value", origin.title, origin.value, origin.quantity)
    return AssumptionRow(value, origin.grade, origin.text, assumption.features)


def _cycle(plan: Plan) -> tuple[Figure, ...]:
    cycle = plan.cycle
    return (
        Figure("contact_time", "in contact", cycle.contact, "time"),
        Figure("approach_time", "approach and retract", cycle.approach, "time"),
        Figure("air_time", "air moves between chains", cycle.air, "time"),
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
            Figure("tools_per_batch", "tools per batch", needed),
            Figure("source", "from", use.source),
        )


def _requirements(plan: Plan) -> Iterator[tuple[Figure, ...]]:
    for row in plan.requirements:
        yield (
            Figure("requirement", "requirement", row.name),
            Figure("sense", "sense", row.sense),
            Figure("needed", "needed", row.needed, row.kind),
            Figure("available", "in the cell", row.available, row.kind),
            Figure("set_by", "set by", row.feature),
        )
