"""Parts in a shift, and what the robot does with its time."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from finishplan.planning.cycle import Cycle, Stop
from finishplan.planning.feature import Step, StepTime
from finishplan.planning.ledger import Ledger
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.throughput import Throughput, highest_load, part_throughput
from finishplan.process.limits import Limit
from finishplan.reference import default

NOWHERE = np.empty((0, 2))
CYCLE = Cycle(
    (Stop("rim", "a", 31.0, True), Stop("bore", "b", 21.0, True)), contact=40.0, approach=4.0, wait=8.0, air=2.0,
    tool_change=3.0,
)  # fmt: skip
"""Two changes of 3 s: 60 s in all."""

STATED = [('tool_change_time = "6 s"', 'tool_change_time = "6 s"\npart_change_time = "12 s"')]
SHIFT = [("[error_budget]", '[installed]\nshift_length = "7.5 h"\n\n[error_budget]')]


def use(renewal: float) -> Any:
    return SimpleNamespace(renewal=renewal)


def test_the_parts_of_a_shift(load: Any) -> None:
    ledger = Ledger()
    made = part_throughput(load(cell=[*STATED, *SHIFT]), CYCLE, [use(2.0), use(1.0)], ledger)
    assert (made.cycle, made.part_change, made.renewal, made.shift) == (60.0, 12.0, 3.0, 27000.0)
    assert made.per_part == pytest.approx(75.0)
    assert made.parts_per_shift == pytest.approx(360.0)
    assert made.most_parts_per_shift == pytest.approx(450.0)
    assert made.shifts_for_batch == pytest.approx(50 / 360)
    assert ledger.assumptions() == []


def test_no_shifts_without_a_batch(load: Any) -> None:
    assert part_throughput(load(job=[("batch = 50\n", "")]), CYCLE, [], Ledger()).shifts_for_batch is None


def test_a_part_put_in_while_another_is_worked_takes_no_time(load: Any) -> None:
    cell = [('tool_change_time = "6 s"', 'tool_change_time = "6 s"\npart_change_time = "0 s"')]
    made = part_throughput(load(cell=cell), CYCLE, [], Ledger())
    assert made.per_part == CYCLE.total
    assert made.composition == "cycle time"


def test_what_the_cell_leaves_out_is_assumed_and_listed(load: Any, plan: Plan) -> None:
    ledger = Ledger()
    made = part_throughput(load(), CYCLE, [], ledger)
    assert (made.part_change, made.shift) == (default("part_change_time").value, default("shift_length").value)
    titles = {origin.title for origin in ledger.assumptions()}
    assert titles == {default("part_change_time").title, default("shift_length").title}
    assert titles <= {assumption.origin.title for assumption in plan.assumptions}


def test_what_the_robot_does(load: Any) -> None:
    made = part_throughput(load(cell=STATED), CYCLE, [use(3.0)], Ledger())
    assert made.robot == pytest.approx(
        {
            "in contact": 40 / 75,
            "moving in the air": 6 / 75,
            "changing tools": 6 / 75,
            "changing the part": 12 / 75,
            "waiting for new abrasives and tools": 11 / 75,
        }
    )


def test_a_worn_cutter_takes_its_time_where_the_cell_states_it(load: Any, plan: Plan) -> None:
    cell = [('name = "burr 10"\n', 'name = "burr 10"\nchange_time = "100 s"\n')]
    slower = make_plan(load(cell=cell))
    (tool,) = slower.tools
    assert tool.parts is not None
    assert slower.throughput.renewal == pytest.approx(100 / tool.parts)
    assert slower.cycle.total == plan.cycle.total
    assert slower.throughput.per_part == pytest.approx(plan.throughput.per_part + 100 / tool.parts)
    assert plan.throughput.composition == "cycle time and change of the part"
    assert slower.throughput.composition.endswith(" and changes of worn tools")


def loaded_to(**shares: float) -> Step:
    limits = [
        Limit(name.replace("_", " "), share, 1.0, "mass", "at most", "a source", "a remedy")
        for name, share in shares.items()
    ]
    found: Any = SimpleNamespace(evaluation=SimpleNamespace(limits=limits))
    return Step(found, StepTime(1.0, 0.0, 0.01, 1, 0.1), NOWHERE, NOWHERE)


def test_the_highest_load_of_the_robot() -> None:
    works = [("rim", [loaded_to(robot_payload=0.4), loaded_to(robot_payload=0.7, wrist_moment=0.2)]),
             ("bore", [loaded_to(robot_payload=0.6)])]  # fmt: skip
    payload = highest_load(works, "robot payload")
    assert payload is not None
    assert (payload.share, payload.feature) == (0.7, "rim")
    moment = highest_load(works, "wrist moment")
    assert moment is not None
    assert (moment.share, moment.feature) == (0.2, "rim")


def test_no_load_of_what_no_step_is_held_against() -> None:
    assert highest_load([("rim", [loaded_to(robot_payload=0.4)])], "wrist moment") is None


def test_shares_of_every_example_make_a_whole(example: str, example_plan: Any) -> None:
    made: Throughput = example_plan(example).throughput
    assert sum(made.robot.values()) == pytest.approx(1.0)
    assert made.robot["in contact"] * made.per_part == pytest.approx(example_plan(example).cycle.contact)
