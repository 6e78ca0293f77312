"""The stops of the cycle as a plan shows them: in the order visited, with the changes of tool."""

from __future__ import annotations

import json

import pytest

from finishplan.planning.plan import Plan
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_json
from finishplan.report.terminal import plan_text


def test_the_terminal_marks_every_change_of_tool(cast_cover: Plan) -> None:
    rows = plan_rows(cast_cover)
    told = " ".join(plan_text(rows).split())
    shown = [f"{'tool change, ' * stop.change}{stop.feature} with {stop.tool} (" for stop in rows.sequence]
    places = [told.index(text) for text in shown]
    assert places == sorted(places)
    assert told.count("tool change, ") == sum(stop.change for stop in rows.sequence) > 0


def test_json_counts_the_changes_it_marks(cast_cover: Plan) -> None:
    rows = plan_rows(cast_cover)
    data = json.loads(as_json(rows))
    assert [stop["feature"] for stop in data["sequence"]] == [stop.feature for stop in rows.sequence]
    assert sum(stop["tool_change"] for stop in data["sequence"]) == data["cycle"]["tool_changes"] > 0
    parts = sum(stop["time_s"] for stop in data["sequence"])
    cycle = data["cycle"]
    assert parts + cycle["air_time_s"] + cycle["tool_change_time_s"] == pytest.approx(cycle["cycle_time_s"])
