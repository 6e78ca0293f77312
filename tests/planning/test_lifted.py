"""A limit left out of an operation, and how far it would have to go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pytest

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.ledger import Ledger
from finishplan.planning.lifted import NEAR, WIDER, Lifted, search_lifted
from finishplan.planning.operation import Axis, Evaluation, Operation, Range, mesh
from finishplan.planning.plan import Plan
from finishplan.planning.search import search
from finishplan.process.limits import Limit

MARGIN = 0.2
SPEED = (Axis("feed", Range(1.0, 100.0), 14),)


def at_most(name: str, value: Array, bound: float, **more: Any) -> Limit:
    return Limit(name, value, bound, "number", "at most", "group.field", "another", **more)


@dataclass(frozen=True, eq=False)
class Run:
    """A run whose pace is its feed: power goes with it, heat with its square root, and the robot has a top speed."""

    power: float = 50.0
    heat: float = 8.0
    top: float = 90.0
    axes: Sequence[Axis] = SPEED
    pass_counts: Sequence[int] = (1,)
    feature: str = "run"
    tool: str = "cutter"
    station: str = "cutter"
    conditions: Any = None
    ledger: Ledger = field(default_factory=Ledger)

    @property
    def figures(self) -> tuple[float, float, float]:
        return self.power, self.heat, self.top

    def with_figures(self, figures: tuple[Any, Any, Any]) -> Run:
        power, heat, top = figures
        return replace(self, power=power, heat=heat, top=top)

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        feed = settings["feed"]
        limits = [
            at_most("power", 2 * feed, self.power),
            at_most("torque", 2 * feed, self.power),
            at_most("heat", np.sqrt(feed), self.heat),
            at_most("robot speed", feed, self.top, keeps_margin=False),
        ]
        return Evaluation(settings, passes, {}, limits, feed / passes)

    def fastest_pace(self, passes: int) -> float:
        return self.axes[0].range.high / passes

    def again(self, loaded: LoadedJob | None = None) -> Run:
        return replace(self)

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        raised = float(settings["feed"]) * ratio
        return mesh(self.axes, (Range(raised, raised),), (1,))


def needed(limits: Sequence[Limit], name: str) -> float:
    return next(limit for limit in limits if limit.name == name).needed(MARGIN)


def test_the_next_limit_stops_it_and_the_lifted_ones_tell_how_far_they_would_go() -> None:
    found = search(Run(), MARGIN)
    assert float(found.evaluation.pace) == pytest.approx(20.0)
    other, following = search_lifted(found, {"power", "torque"})
    # heat keeps the margin up to (0.8 x 8)^2 = 40.96, in round figures 40
    assert float(other.evaluation.pace) == pytest.approx(40.0, rel=0.03)
    assert following == "heat"
    assert needed(other.evaluation.limits, "power") == pytest.approx(2 * float(other.evaluation.pace) / 0.8)
    assert {limit.name for limit in other.evaluation.limits} == {"power", "torque", "heat", "robot speed"}


def test_one_of_two_limits_that_say_the_same_buys_nothing() -> None:
    other, following = search_lifted(search(Run(), MARGIN), {"power"})
    assert float(other.evaluation.pace) == pytest.approx(20.0)
    assert following == "torque"


def test_an_end_of_the_axis_gives_way_with_the_limit_it_stands_for() -> None:
    run = Run(power=1000.0, heat=100.0, top=60.0, axes=(Axis("feed", Range(1.0, 60.0), 14),))
    found = search(run, MARGIN)
    assert found.governing == "robot speed"
    other, following = search_lifted(found, {"robot speed"})
    assert float(other.evaluation.pace) == pytest.approx(60.0 * WIDER, rel=0.01)
    assert following is not None


def test_nothing_stops_it_as_far_as_was_searched() -> None:
    found = search(Run(heat=1000.0, top=1e4), MARGIN)
    other, following = search_lifted(found, {"power", "torque"})
    assert float(other.evaluation.pace) == pytest.approx(NEAR * 20.0, rel=0.03)
    assert following is None


def test_the_operation_itself_is_left_alone() -> None:
    run = Run()
    lifted: Operation = Lifted(run, {"heat"})
    assert [limit.name for limit in lifted.evaluate({"feed": np.float64(2.0)}, 1).limits] == [
        "power", "torque", "robot speed",
    ]  # fmt: skip
    assert len(run.evaluate({"feed": np.float64(2.0)}, 1).limits) == 4
    assert (lifted.feature, lifted.tool, lifted.station, lifted.axes) == ("run", "cutter", "cutter", SPEED)
    assert lifted.fastest_pace(1) == WIDER * run.fastest_pace(1)
    assert isinstance(lifted.again(), Lifted)


def test_a_real_edge_gets_no_slower(plan: Plan) -> None:
    for feature in plan.features:
        (step,) = feature.chosen.steps
        for limit in step.found.evaluation.limits:
            if limit.name == step.found.governing:
                other, _ = search_lifted(step.found, {limit.name})
                assert float(other.evaluation.pace) >= 0.99 * float(step.found.evaluation.pace)
                rest = [each for each in other.evaluation.limits if each.name != limit.name]
                shares = [float(each.utilisation) for each in rest if each.keeps_margin]
                assert max(shares) <= 0.8 + 1e-6
