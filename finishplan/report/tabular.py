"""A plan as JSON and CSV: every key carries its unit."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from finishplan.report.figures import (
    CostRow,
    CostRows,
    FeatureRows,
    Figure,
    ImprovementRows,
    LimitRow,
    PlanRows,
    StepRows,
)
from finishplan.report.rows import STARTING_VALUES
from finishplan.units import System

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def as_json(rows: PlanRows) -> str:
    """The plan as one JSON object."""
    return dump(plan_data(rows))


def dump(data: object) -> str:
    """JSON text without NaN or infinity, which JSON does not know."""
    return json.dumps(_finite(data), indent=2, ensure_ascii=False, allow_nan=False)


def plan_data(rows: PlanRows) -> dict[str, Any]:
    """The plan as plain dicts and lists."""
    system = rows.system
    return {
        "title": rows.title,
        "units": system,
        "feasible": rows.feasible,
        **keyed(rows.header, system),
        "features": [_feature_data(feature, system) for feature in rows.features],
        "cycle": keyed(rows.cycle, system),
        "throughput": keyed(rows.of_cell.throughput, system),
        "robot": keyed(rows.of_cell.load, system),
        "sequence": [
            {"feature": stop.feature, "tool": stop.tool, "tool_change": stop.change, **keyed([stop.time], system)}
            for stop in rows.sequence
        ],
        "rack": [keyed(place, system) for place in rows.rack],
        "tools": [keyed(tool, system) for tool in rows.tools],
        "improvements": _improvement_data(rows.improvements, system),
        "least_equipment": [keyed(row, system) for row in rows.requirements],
        **({} if rows.costs is None else {"costs": _cost_data(rows.costs, system)}),
        "assumptions": [
            {
                "assumed": row.value.label,
                **keyed([row.value], system),
                "grade": row.grade,
                "source": row.source,
                "features": list(row.features) or "all",
            }
            for row in rows.assumptions
        ],
        "cautions": list(rows.cautions),
        "status": STARTING_VALUES,
    }


def as_csv(rows: PlanRows) -> str:
    """One line per step of a feature, with the figures of the part repeated on each.

    Text that a spreadsheet would run as a formula is defused.
    """
    system = rows.system
    of_part = keyed([rows.cycle[-1], *rows.of_cell.throughput, *rows.of_cell.load], system)
    lines = [
        {"feature": feature.name, "step": number, **_step_head(step), **keyed(step.figures, system), **of_part}
        for feature in rows.features
        for number, step in enumerate(feature.steps, start=1)
    ]
    return csv_text(lines)


def csv_text(lines: Sequence[Mapping[str, object]]) -> str:
    """Lines of a table as CSV, columns in the order they first appear."""
    columns = list(dict.fromkeys(key for line in lines for key in line))
    out = io.StringIO()
    writer = csv.DictWriter(out, fieldnames=columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows({key: _cell(value) for key, value in line.items()} for line in lines)
    return out.getvalue()


def _cell(value: object) -> object:
    if isinstance(value, str) and value.startswith(_FORMULA_STARTS):
        return "'" + value
    if isinstance(value, float):
        return f"{value:.6g}"
    return value


def keyed(figures: Iterable[Figure], system: System) -> dict[str, Any]:
    return dict(figure.keyed(system) for figure in figures)


def _feature_data(feature: FeatureRows, system: System) -> dict[str, Any]:
    return {
        "name": feature.name,
        "verdict": feature.verdict,
        "steps": [_step_data(step, system) for step in feature.steps],
        "other_tools": list(feature.others),
        "notes": list(feature.notes),
    }


def _step_head(step: StepRows) -> dict[str, Any]:
    return {"process": step.process, "verdict": step.verdict, "governing_limit": step.governing}


def _step_data(step: StepRows, system: System) -> dict[str, Any]:
    limits = [_limit_data(limit, system) for limit in step.limits]
    return {**_step_head(step), **keyed(step.figures, system), "limits": limits}


def _limit_data(limit: LimitRow, system: System) -> dict[str, Any]:
    return {
        "limit": limit.name,
        "sense": limit.sense,
        **keyed((limit.value, limit.bound), system),
        "utilisation": limit.utilisation,
        "keeps_margin": limit.keeps_margin,
        "source": limit.source,
        **(_freeing(limit, system) if limit.broken else {}),
    }


def _freeing(limit: LimitRow, system: System) -> dict[str, Any]:
    """What would free a broken limit: how much of its bound is needed, or of the value that stands against it."""
    told = {"remedy": limit.remedy, "needed_of": limit.asks_of, "needed_sense": limit.needed_sense}
    return told | keyed((limit.needed,), system)


def _improvement_data(rows: ImprovementRows, system: System) -> dict[str, Any]:
    return {
        "longest_step": keyed(rows.longest, system),
        "changes": [
            {
                "change": row.change,
                "features": list(row.features),
                "limits": [{"limit": needed.label, **keyed((needed, there), system)} for needed, there in row.limits],
                **keyed((row.saved, row.share), system),
                "then_stopped_by": row.following,
            }
            for row in rows.changes
        ],
        "not_worth_lifting": list(rows.stuck),
        "robots": list(rows.robots),
    }


def _cost_data(costs: CostRows, system: System) -> dict[str, Any]:
    return {
        "currency": costs.currency,
        "items": [_cost_row(row, system) for row in costs.items],
        **keyed([costs.total, *costs.figures], system),
        "by_hand": [_cost_row(row, system) for row in costs.by_hand],
        "left_out": [{"figure": name, "lacks": list(missing)} for name, missing in costs.gaps],
        "notes": list(costs.notes),
    }


def _cost_row(row: CostRow, system: System) -> dict[str, Any]:
    return {
        "item": row.amount.label,
        **keyed([row.amount], system),
        "equation": row.equation,
        "source": row.source,
        "from": list(row.origins),
    }


def _finite(data: object) -> object:
    """The same data with every figure that is not finite as null."""
    if isinstance(data, dict):
        return {key: _finite(value) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [_finite(value) for value in data]
    if isinstance(data, float) and not math.isfinite(data):
        return None
    return data
