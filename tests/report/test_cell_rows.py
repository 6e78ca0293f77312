"""The cell as a whole in the plan: terminal, JSON and CSV tell the figures of the throughput."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable

import pytest

from finishplan.planning.plan import Plan
from finishplan.report.figures import PlanRows
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_csv, as_json
from finishplan.report.terminal import plan_text


@pytest.fixture
def carried(example_plan: Callable[[str], Plan]) -> Plan:
    return example_plan("carried_bracket.toml")


def flat(text: str) -> str:
    return " ".join(text.split())


def test_the_terminal_tells_parts_and_robot(carried: Plan) -> None:
    text = flat(plan_text(plan_rows(carried), 120))
    made = carried.throughput
    assert f"time per part {made.per_part:.1f} s = cycle time + change of the part 10.0 s" in text
    assert f"{int(made.parts_per_shift)} parts in a shift of 8.00 h" in text
    assert f"{800 / made.parts_per_shift:.2f} shifts for the batch" in text
    assert f"robot: in contact {carried.throughput.robot['in contact']:.0%}".replace("%", " %") in text
    assert "load of the robot, at most: payload 80 % (gate), wrist moment 79 % (gate)" in text


def test_json_holds_them_with_their_units(carried: Plan) -> None:
    data, made = json.loads(as_json(plan_rows(carried))), carried.throughput
    assert data["throughput"]["time_per_part_s"] == pytest.approx(made.per_part)
    assert data["throughput"]["part_change_time_s"] == 10.0
    assert data["throughput"]["shift_length_h"] == 8.0
    assert data["throughput"]["parts_per_shift"] == int(made.parts_per_shift)
    assert data["robot"]["in_contact_share_percent"] == pytest.approx(100 * made.robot["in contact"])
    assert data["robot"]["payload_set_by"] == data["robot"]["wrist_moment_set_by"] == "gate"
    assert data["robot"]["wrist_moment_used_percent"] == pytest.approx(78.5, abs=0.5)


def test_csv_repeats_them_on_every_line(rows: PlanRows) -> None:
    lines, data = list(csv.DictReader(io.StringIO(as_csv(rows)))), json.loads(as_json(rows))
    for line in lines:
        assert float(line["cycle_time_s"]) == pytest.approx(data["cycle"]["cycle_time_s"], rel=1e-5)
        assert float(line["time_per_part_s"]) == pytest.approx(data["throughput"]["time_per_part_s"], rel=1e-5)
        assert int(line["parts_per_shift"]) == data["throughput"]["parts_per_shift"]


def test_what_the_robot_does_makes_a_whole(rows: PlanRows) -> None:
    assert sum(float(figure.value or 0.0) for figure in rows.of_cell.robot) == pytest.approx(1.0)


def test_the_rack_is_told_for_the_programmer_to_load(rows: PlanRows) -> None:
    text, data = flat(plan_text(rows, 200)), json.loads(as_json(rows))
    assert [place["tool"] for place in data["rack"]] == [place[1].value for place in rows.rack]
    for slot, tool, spindle, features in rows.rack:
        assert f"{slot.value} {tool.value} {spindle.value} {features.value}" in text
