"""The plan on a terminal. Names from a job are printed as plain text, never as markup."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from typing import TypeAlias, TypeVar

from rich.console import Console, JustifyMethod
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from finishplan.report.figures import (
    CellRows,
    CostRows,
    FeatureRows,
    Figure,
    ImprovementRow,
    ImprovementRows,
    LimitRow,
    PlanRows,
    StepRows,
    beside,
)
from finishplan.report.rows import STARTING_VALUES
from finishplan.units import System

LABEL_WIDTH = 28
COLUMN_WIDTH = 15
LIMITS_SHOWN = 5

_VERDICT_STYLE = {"keeps the margin": "green", "feasible, margin not kept": "yellow", "not feasible": "red"}

Item = TypeVar("Item")
Column: TypeAlias = tuple[str, StepRows]


def print_plan(rows: PlanRows, console: Console) -> None:
    """Print every section of a plan."""
    _print_header(rows, console)
    columns = max(1, (console.width - LABEL_WIDTH) // (COLUMN_WIDTH + 2))
    for group in _by_process(rows.features):
        for block in _blocks(group, columns):
            console.print(_settings_table(block, rows.system))
    console.print(Rule("Limits", align="left", style="dim"))
    common = _common_notes(rows.features)
    for feature in rows.features:
        _print_limits(feature, common, rows.system, console)
    for note in common:
        console.print(Text(f"everywhere: {note}"))
    console.print(Rule("Part", align="left", style="dim"))
    _print_part(rows, console)
    if rows.costs is not None:
        _print_costs(rows.costs, rows.system, console)
    console.print(Rule("Assumed, because neither job nor cell says", align="left", style="dim"))
    console.print(_assumption_table(rows))
    console.print(Rule("Cautions", align="left", style="dim"))
    for caution in (*rows.cautions_in_short, STARTING_VALUES):
        console.print(_bullet(caution))


def _common_notes(features: Sequence[FeatureRows]) -> list[str]:
    """Notes that hold for every feature; a single one keeps its own."""
    first, *others = features
    return [note for note in first.notes if all(note in feature.notes for feature in others)] if others else []


def _print_header(rows: PlanRows, console: Console) -> None:
    verdict, *others = rows.header
    style = "green" if rows.feasible else "red"
    console.print(Text.assemble((rows.title, "bold"), "  ", (verdict.text(rows.system), f"bold {style}")))
    told = (f"{figure.label} {figure.text(rows.system)}" for figure in others if figure.value is not None)
    console.print(Text(" | ".join(told), style="dim"))
    console.print()


def _blocks(items: Sequence[Item], size: int) -> Iterable[Sequence[Item]]:
    return (items[start : start + size] for start in range(0, len(items), size))


def _by_process(features: Sequence[FeatureRows]) -> Iterable[Sequence[Column]]:
    """Steps of one process side by side, since they show the same figures."""
    groups: dict[str, list[Column]] = {}
    for feature in features:
        for step in feature.steps:
            groups.setdefault(step.process, []).append((feature.name, step))
    return groups.values()


def _settings_table(columns: Sequence[Column], system: System) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("", width=LABEL_WIDTH - 2, style="dim")
    for name, _ in columns:
        table.add_column(Text(name), width=COLUMN_WIDTH, overflow="fold")
    steps = [step for _, step in columns]
    table.add_row("", *(Text(step.verdict, style=_VERDICT_STYLE[step.verdict]) for step in steps))
    for heading, pick in (("Set", "settings"), ("Expect", "result")):
        table.add_row(Text(heading, style="bold not dim"))
        for figures in zip(*(getattr(step, pick) for step in steps), strict=True):
            if any(figure.value is not None for figure in figures):
                table.add_row(figures[0].label, *(Text(figure.text(system)) for figure in figures))
    table.add_row(Text("faster is stopped by", style="bold not dim"), *(Text(step.governing) for step in steps))
    return table


def _print_limits(feature: FeatureRows, common: Sequence[str], system: System, console: Console) -> None:
    for step in feature.steps:
        # the first two settings tell the steps of a feature apart: tool and grit, or tool and cut
        apart = [figure for figure in step.settings[:2] if figure.value is not None and len(feature.steps) > 1]
        told = ", ".join(figure.text(system) for figure in apart)
        console.print(Text.assemble((feature.name, "bold"), f"  {told}".rstrip()))
        _print_step_limits(step, system, console)
    own = [note for note in feature.notes if note not in common]
    for line in (*own, *(f"other tool: {other}" for other in feature.others)):
        console.print(_bullet(line))


def _print_step_limits(step: StepRows, system: System, console: Console) -> None:
    broken = [limit for limit in step.limits if limit.broken]
    shown = step.limits[: max(len(broken), LIMITS_SHOWN)]
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    _add_columns(table, {"limit": "left", "reached": "right", "allowed": "right", "used": "right"})
    for limit in shown:
        allowed = f"{limit.sense} {limit.bound.text(system)}"
        style = "red" if limit.utilisation > 1 else ""
        used = f"{limit.utilisation:.0%}{'' if limit.keeps_margin else ' of its range'}"
        table.add_row(Text(limit.name), limit.value.text(system), allowed, Text(used, style=style))
    console.print(Padding(table, (0, 0, 0, 2)))
    rest = ", ".join(f"{limit.name} {limit.utilisation:.0%}" for limit in step.limits[len(shown) :])
    console.print(_bullet(f"less used: {rest}"))
    for limit in broken:
        console.print(_bullet(_freeing(limit, system)))


def _freeing(limit: LimitRow, system: System) -> str:
    """What would free a limit. The figure told is the bound it takes; where what stands against the bound is
    bought, such as the accuracy of a robot, the figure that the bound as it is leaves room for."""
    needed = f"needed {limit.needed_sense} {limit.needed.text(system)}"
    if limit.asks_of == "value":
        needed = f"as all else is, {needed}" if limit.needed.value else f"as all else is, no {limit.name} would do"
    return f"{limit.name}: would be freed by {limit.remedy}; {needed}"


def _print_part(rows: PlanRows, console: Console) -> None:
    cycle = [f"{figure.label} {figure.text(rows.system)}" for figure in rows.cycle if figure.value is not None]
    console.print(Text(cycle[-1], style="bold"), Text("= " + ", ".join(cycle[:-1]), style="dim"))
    _print_cell(rows.of_cell, rows.system, console)
    steps = (
        f"{'tool change, ' if stop.change else ''}{stop.feature} with {stop.tool} ({stop.time.text(rows.system)})"
        for stop in rows.sequence
    )
    console.print(_bullet("order: " + ", then ".join(steps)))
    if rows.rack:
        _print_rack(rows.rack, rows.system, console)
    for tool in rows.tools:
        told = (f"{figure.label} {figure.text(rows.system)}" for figure in tool[1:] if figure.value is not None)
        console.print(_bullet(f"{tool[0].text(rows.system)}: " + ", ".join(told)))
    _print_improvements(rows.improvements, rows.system, console)
    title = Text("Least equipment, margin included", style="bold")
    console.print(title, Text("(each line alone, all else as in the cell)", style="dim"))
    console.print(Padding(_requirement_table(rows.requirements, rows.system), (0, 0, 0, 2)))


def _print_cell(cell: CellRows, system: System, console: Console) -> None:
    """Time per part with what it is made of, what that makes of a shift, and what the robot does with it."""
    added = "".join(f" + {_told(figure, system)}" for figure in cell.added if figure.value)
    console.print(Text(_told(cell.per_part, system), style="bold"), Text(f"= cycle time{added}", style="dim"))
    batch = "" if cell.batch.value is None else f", {cell.batch.text(system)} {cell.batch.label}"
    console.print(_bullet(f"{cell.parts.text(system)} parts in a shift of {cell.shift.text(system)}{batch}"))
    doing = ", ".join(_told(figure, system) for figure in cell.robot if figure.value)
    console.print(_bullet(f"robot: {doing}"))
    bearing = ", ".join(f"{_told(used, system)} ({feature.text(system)})" for used, feature in cell.loads)
    console.print(_bullet(f"load of the robot, at most: {bearing}"))


def _print_rack(rack: Sequence[Sequence[Figure]], system: System, console: Console) -> None:
    console.print(Text("Tool rack, in order of first use", style="bold"))
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    _add_columns(table, {"slot": "right", "tool": "left", "spindle": "left", "for": "left"})
    for place in rack:
        table.add_row(*(Text(figure.text(system)) for figure in place))
    console.print(Padding(table, (0, 0, 0, 2)))


def _print_improvements(rows: ImprovementRows, system: System, console: Console) -> None:
    feature, tool, seconds, share, stopped = (figure.text(system) for figure in rows.longest)
    console.print(Text("What would make it faster", style="bold"))
    console.print(
        _bullet(f"{feature} with {tool} takes longest: {seconds}, {share} of the time per part; stopped by {stopped}")
    )
    if rows.changes:
        table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
        _add_columns(table, {"each alone": "left", "saves": "right", "of it": "right", "then stopped by": "left"})
        for row in rows.changes:
            saved, share = (figure.text(system) for figure in (row.saved, row.share))
            table.add_row(Text(_change(row, system)), saved, share, Text(row.following or "-"))
        console.print(Padding(table, (0, 0, 0, 2)))
    for line in (*rows.stuck, *rows.robots):
        console.print(_bullet(line))


def _change(row: ImprovementRow, system: System) -> str:
    """A change in words, with the features it serves and how far it has to go."""
    goes = ", ".join(
        f"{needed.label} {needed.text(system)} instead of {there.text(system)}" for needed, there in row.limits
    )
    return f"{'; '.join(row.features)}: {row.change} ({goes})" if row.limits else row.change


def _told(figure: Figure, system: System) -> str:
    return f"{figure.label} {figure.text(system)}"


def _print_costs(costs: CostRows, system: System, console: Console) -> None:
    console.print(Rule(Text(f"Cost of a part, in {costs.currency}"), align="left", style="dim"))
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=False)
    table.add_column()
    table.add_column(justify="right", no_wrap=True)
    amounts = [*(row.amount for row in costs.items), costs.total, *(row.amount for row in costs.by_hand)]
    for amount in (*amounts, *costs.figures):
        if amount.value is not None:
            table.add_row(Text(amount.label), Text(amount.text(system)))
    console.print(Padding(table, (0, 0, 0, 2)))
    for name, missing in costs.gaps:
        console.print(_bullet(f"left out: {name}, for want of {', '.join(missing)}"))
    for note in costs.notes:
        console.print(_bullet(note))


def _requirement_table(requirements: Iterable[Sequence[Figure]], system: System) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    _add_columns(table, {"": "left", "needed": "right", "in the cell": "right", "set by": "left"})
    for name, sense, needed, available, feature in requirements:
        least, there = beside(needed, available, system)
        wanted = sense.text(system) if needed.value is None else f"{sense.text(system)} {least}"
        table.add_row(name.text(system), wanted, there, Text(feature.text(system)))
    return table


def _assumption_table(rows: PlanRows) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=False)
    table.add_column()
    table.add_column(justify="right", no_wrap=True)
    table.add_column(style="dim")
    for row in rows.assumptions:
        only = f" ({'; '.join(row.features)})" if row.features else ""
        table.add_row(Text(row.value.label + only), row.value.text(rows.system), row.grade)
    return table


def _add_columns(table: Table, justified: Mapping[str, JustifyMethod]) -> None:
    """Columns of words to the left, which wrap, and of figures to the right, which stay with their unit."""
    for heading, justify in justified.items():
        table.add_column(heading, justify=justify, header_style="dim", overflow="fold", no_wrap=justify == "right")


def _bullet(text: str) -> Padding:
    return Padding(Text(f"- {text}"), (0, 0, 0, 2))


def plan_text(rows: PlanRows, width: int = 100) -> str:
    """The plan as plain text for a file."""
    out = io.StringIO()
    print_plan(rows, Console(file=out, width=width, highlight=False, no_color=True))
    return out.getvalue()
