"""What would make a part faster, as terminal and JSON tell it."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from finishplan.planning.improvement import BetterRobot, Improvements, improvements
from finishplan.planning.plan import Plan
from finishplan.report import improvement_rows
from finishplan.report.figures import PlanRows
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_json
from finishplan.report.terminal import plan_text


@pytest.fixture
def bracket(example_plan: Callable[[str], Plan]) -> Plan:
    return example_plan("steel_bracket.toml")


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_longest_step_comes_first_and_every_change_follows(rows: PlanRows) -> None:
    text = flat(plan_text(rows, 200))
    feature, tool, *_ = (figure.text(rows.system) for figure in rows.improvements.longest)
    assert f"{feature} with {tool} takes longest" in text
    for row in rows.improvements.changes:
        assert flat(row.saved.text(rows.system)) in text
        assert all(f"{limit.label} {limit.text(rows.system)} instead of" in text for limit, _ in row.limits)


def test_changes_are_sorted_by_what_they_save(rows: PlanRows) -> None:
    saved = [float(row.saved.value or 0.0) for row in rows.improvements.changes]
    assert saved == sorted(saved, reverse=True)


def test_a_relieved_limit_says_how_far_and_what_comes_then(bracket: Plan) -> None:
    text = flat(plan_text(plan_rows(bracket), 200))
    stronger = next(each for each in json.loads(as_json(plan_rows(bracket)))["improvements"]["changes"]
                    if each["features"] == ["sawn outline"])  # fmt: skip
    power, torque = stronger["limits"]
    assert (power["limit"], torque["limit"]) == ("spindle power", "spindle torque")
    assert power["needed_W"] > power["available_W"] == pytest.approx(500.0)
    assert (
        f"sawn outline: a stronger spindle (spindle power {math.ceil(power['needed_W'])} W instead of 500 W, "
        f"spindle torque {math.ceil(1e3 * torque['needed_N_m']) / 1e3:.3f} N m"
    ) in text
    assert 1.0 < stronger["saved_s"] < bracket.throughput.per_part / 4
    assert stronger["share_percent"] == pytest.approx(100 * stronger["saved_s"] / bracket.throughput.per_part)
    assert stronger["then_stopped_by"] == "feed per tooth"


def robots(found: Improvements, plan: Plan, monkeypatch: pytest.MonkeyPatch, *robots: BetterRobot) -> tuple[str, ...]:
    monkeypatch.setattr(improvement_rows, "improvements", lambda plan: replace(found, robots=robots))
    return plan_rows(plan).improvements.robots


def test_robots_are_told_once_for_the_part(bracket: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    found = improvements(bracket)
    idle = BetterRobot("twice as stiff", {}, ())
    (told,) = robots(found, bracket, monkeypatch, idle, BetterRobot("half the path error", {}, ()))
    assert told == (
        "robot, twice as stiff or half the path error: buys nothing on the longest steps, which are stopped by "
        "spindle power, feed per tooth"
    )
    told, nothing = robots(
        found, bracket, monkeypatch, idle, BetterRobot("half the path error", {"slot": 3.2}, ("rim",))
    )
    assert told == "robot, half the path error: frees rim, saves 3.2 s on slot"
    assert nothing.startswith("robot, twice as stiff: buys nothing")
