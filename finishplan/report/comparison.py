"""Plans of one job under different cells, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from finishplan import units
from finishplan.planning.arrangement import PART_TO_TOOL, TOOL_TO_PART
from finishplan.planning.plan import Plan
from finishplan.process.limits import Limit
from finishplan.report.figures import Figure
from finishplan.report.tabular import dump
from finishplan.units import System

Plans = Mapping[str, Plan]

ROBOT_LIMITS = ("robot payload", "wrist moment", "holding of the part")
"""Limits that what the robot carries changes directly."""

SAME_TIME = 0.02
"""Cycle times within this share are the same: settings are in round figures."""


def comparison(plans: Plans) -> list[tuple[Figure, ...]]:
    """Figures of all plans, row by row."""
    return list(zip(*(tuple(_column(plan)) for plan in plans.values()), strict=True))


def _column(plan: Plan) -> Iterator[Figure]:
    yield Figure("verdict", "verdict", "planned" if plan.feasible else "not feasible as it stands")
    yield Figure("cycle_time", "cycle time", plan.cycle.total, "time")
    yield Figure("tool_changes", "tool changes", plan.cycle.tool_changes)
    yield Figure("carried_mass", "carried, heaviest", heaviest_load(plan), "mass")
    for name in ROBOT_LIMITS:
        worst = _hardest(plan, name)
        used = None if worst is None else f"{float(worst.utilisation):.0%} used"
        yield Figure(name.replace(" ", "_"), name, used)
    for feature in plan.features:
        steps = feature.chosen.steps
        broken = dict.fromkeys(limit.name for step in steps for limit in step.found.broken)
        governing = dict.fromkeys(step.found.governing for step in steps)
        yield Figure("time", f"{feature.name}: time", feature.chosen.seconds, "time")
        yield Figure("tool", f"{feature.name}: tool", ", then ".join(feature.chosen.tools))
        yield Figure("broken", f"{feature.name}: limits not kept", ", ".join(broken) or None)
        yield Figure("governing", f"{feature.name}: faster is stopped by", ", ".join(governing))


def heaviest_load(plan: Plan) -> float:
    """Heaviest mass on the flange over all steps [kg]."""
    ledgers = (step.found.operation.ledger for feature in plan.features for step in feature.chosen.steps)
    return max(ledger.by_field["robot.carried_mass"].value for ledger in ledgers)


def _hardest(plan: Plan, name: str) -> Limit | None:
    limits = (
        limit
        for feature in plan.features
        for step in feature.chosen.steps
        for limit in step.found.evaluation.limits
        if limit.name == name
    )
    return max(limits, key=lambda limit: float(limit.utilisation), default=None)


def arrangement_reasons(plans: Plans, system: System) -> list[str]:
    """What speaks for either arrangement, in words."""
    masses = {name: heaviest_load(plan) for name, plan in plans.items()}
    shown = {name: units.show(mass, "mass", system) for name, mass in masses.items()}
    heavier = "part with its gripper" if masses[PART_TO_TOOL] > masses[TOOL_TO_PART] else "tool with its mount"
    return [
        f"the {heavier} is the heavier load: tool {shown[TOOL_TO_PART]}, part {shown[PART_TO_TOOL]}",
        *gains(plans, TOOL_TO_PART),
        "a stationary tool does not weigh on the robot: a larger spindle, wheel or belt may be taken",
        "with the part carried, forces on the robot and its travel reverse against the stationary tool",
    ]


def gains(plans: Plans, base: str) -> Iterator[str]:
    """What every other plan gains or loses against one of them, in words."""
    own = plans[base]
    for name, plan in plans.items():
        gain = own.cycle.total - plan.cycle.total
        if name == base:
            continue
        if plan.feasible != own.feasible:
            yield f"only {name if plan.feasible else base} is feasible"
        elif not plan.feasible:
            yield f"neither {base} nor {name} is feasible"
        elif abs(gain) < SAME_TIME * own.cycle.total:
            yield f"{name}: much the same time as {base}"
        else:
            yield f"{name}: {'faster' if gain > 0 else 'slower'} than {base} by {units.show(abs(gain), 'time')}"


def print_comparison(plans: Plans, reasons: Sequence[str], system: System, console: Console) -> None:
    """Print plans side by side with the reasons."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("", style="dim")
    for heading in plans:
        table.add_column(heading)
    for row in comparison(plans):
        table.add_row(Text(row[0].label), *(Text(figure.text(system)) for figure in row))
    console.print(table)
    for reason in reasons:
        console.print(Text(f"- {reason}"))


def comparison_json(plans: Plans, reasons: Sequence[str], system: System) -> str:
    """Plans side by side as JSON, with the reasons."""
    rows = comparison(plans)
    columns = {name: [row[index] for row in rows] for index, name in enumerate(plans)}
    return dump(
        {
            "plans": {
                name: [{"name": figure.label, **dict([figure.keyed(system)])} for figure in column]
                for name, column in columns.items()
            },
            "reasons": list(reasons),
        }
    )
