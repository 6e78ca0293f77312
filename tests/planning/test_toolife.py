"""How long abrasives last: parts against the dulling followed step by step, and the feed that makes up for it."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from finishplan import reference
from finishplan.geometry import Chain
from finishplan.job import LoadedJob
from finishplan.planning.abrasive_feature import BulkFeature, edge_abrasion_options
from finishplan.planning.feature import Step, StepTime
from finishplan.planning.outline import Outline
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.search import Found
from finishplan.planning.surface_feature import surface_features
from finishplan.planning.together import answered
from finishplan.planning.toolife import SCHEDULE_AT, feed_schedule, tool_use, wear_of

Sanding = Callable[..., LoadedJob]
END = reference.default("abrasive_end_of_life").value
GATE = """
[[removal]]
name = "gate"
kind = "gate"
count = 3
height = "2 mm"
width = "18 mm"
length = "30 mm"
tools = ["belt 50"]
"""
RIM = """
[[edge]]
name = "rim"
length = "800 mm"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { lower = "0.2 mm", upper = "1.2 mm" }
tools = ["belt 50"]
"""


def surface_step(loaded: LoadedJob) -> Step:
    (feature,) = surface_features(loaded)
    return answered(feature.options(), 0.2)[0].steps[0]


def followed(abrasive: Any, force: float, speed: float) -> float:
    """Volume removed until the rate has fallen to its end, by following dV/dt = K_0 exp(-V/V_0) F v."""
    fresh = float(abrasive.coefficient) / np.sqrt(END)
    life = float(abrasive.life_volume)

    def rate(_: float, volume: Any) -> Any:
        return fresh * np.exp(-volume / life) * force * speed

    def worn(_: float, volume: Any) -> float:
        return float(np.exp(-volume[0] / life) - END)

    worn.terminal = True  # type: ignore[attr-defined]
    long = 10 * life / (fresh * force * speed)
    return float(solve_ivp(rate, (0.0, long), [0.0], events=worn, rtol=1e-10, atol=1e-18).y_events[0][0][0])


def test_parts_of_a_surface_follow_the_dulling(panel: LoadedJob) -> None:
    step = surface_step(panel)
    nominal = step.found.evaluation.predictions["nominal"]
    abrasive = step.found.operation.conditions.abrasive
    volume = followed(abrasive, float(step.found.settings["force"]), float(nominal.sliding_speed))
    (use,) = tool_use([("face", [step])])
    assert use.parts == pytest.approx(volume / (float(nominal.mean_depth) * 0.24), rel=1e-6)
    assert use.life == pytest.approx(use.parts * step.time.contact)
    assert use.cost_per_part == pytest.approx(0.6 / use.parts)


def test_the_half_life_is_what_the_table_says(panel: LoadedJob) -> None:
    """At the middle of the windows, for the size of the tool, the fresh rate has halved after the half life."""
    operation: Any = surface_step(panel).found.operation
    abrasive, family = operation.conditions.abrasive, operation.setup.desk.family
    window = family.window(operation.setup.desk.group)
    force = (float(abrasive.force_low) + float(abrasive.force_high)) / 2
    speed = (window.speed_low.value + window.speed_high.value) / 2
    fresh = float(abrasive.coefficient) / np.sqrt(END)

    def rate(_: float, volume: Any) -> Any:
        return fresh * np.exp(-volume / float(abrasive.life_volume)) * force * speed

    after = solve_ivp(rate, (0.0, window.half_life.value), [0.0], rtol=1e-10, atol=1e-18).y[0, -1]
    assert np.exp(-after / float(abrasive.life_volume)) == pytest.approx(0.5, rel=1e-6)


def test_parts_of_an_edge_are_those_of_its_time_in_contact(sanding: Sanding) -> None:
    """Under a set force the abrasive removes K F v all the time, on the ramps at the ends as well."""
    loaded = sanding(more=RIM)
    rim = Outline((Chain(np.array([[0.0, 0.0], [0.8, 0.0]]), 0.8, False, np.inf, 0),), drawn=False)
    (option,) = answered(edge_abrasion_options(loaded, 0, rim), 0.2)
    (step,) = option.steps
    nominal, abrasive = step.found.evaluation.predictions["nominal"], step.found.operation.conditions.abrasive
    volume = followed(abrasive, float(step.found.settings["force"]), float(nominal.sliding_speed))
    (use,) = tool_use([("rim", [step])])
    rate = float(abrasive.coefficient) * float(step.found.settings["force"]) * float(nominal.sliding_speed)
    assert use.parts == pytest.approx(volume / (rate * step.time.contact), rel=1e-6)
    assert rate * step.time.contact > float(nominal.section) * 0.8


def test_parts_of_stock_are_those_of_its_volume(sanding: Sanding) -> None:
    (option,) = answered(BulkFeature(sanding(more=GATE), 0).options(), 0.2)
    (step,) = option.steps
    abrasive, nominal = step.found.operation.conditions.abrasive, step.found.evaluation.predictions["nominal"]
    volume = followed(abrasive, float(step.found.settings["force"]), float(nominal.sliding_speed))
    wear = wear_of(step.found.operation, step)
    assert wear.share == pytest.approx(3 * 2e-3 * 18e-3 * 30e-3 / volume, rel=1e-6)


class TestSchedule:
    def test_every_part_of_the_interval_gets_the_same_depth(self) -> None:
        """Depth goes as the coefficient over the feed."""
        coefficients = np.array([END**share for share in SCHEDULE_AT])
        depths = coefficients / np.array(feed_schedule(END))
        assert depths == pytest.approx(depths[0], rel=1e-12)

    def test_the_planned_feed_belongs_to_the_middle_of_the_interval(self) -> None:
        assert feed_schedule(END)[SCHEDULE_AT.index(0.5)] == 1.0
        assert feed_schedule(END)[0] == pytest.approx(END**-0.5, rel=1e-12)

    def test_the_planned_coefficient_is_the_one_in_the_middle(self, panel: LoadedJob) -> None:
        """K_0 exp(-V/V_0) at half the volume of the change interval."""
        operation: Any = surface_step(panel).found.operation
        fresh = operation.setup.desk.family.removal_coefficient(
            operation.setup.desk.group, operation.setup.desk.grit.size.value
        )
        assert float(operation.conditions.abrasive.coefficient) == pytest.approx(fresh.value * END**0.5, rel=1e-12)

    def test_without_a_schedule_the_mean_depth_hardly_changes_over_the_interval(self) -> None:
        mean, _ = quad(lambda share: END ** (share - 0.5), 0.0, 1.0)
        assert mean == pytest.approx(1.0, abs=0.03)

    def test_only_what_dulls_has_one(self, panel: LoadedJob, plan: Plan) -> None:
        (use,) = tool_use([("face", [surface_step(panel)])])
        assert use.schedule == feed_schedule(END)
        assert all(use.schedule == () for use in plan.tools)


class TestTogether:
    def test_features_on_one_abrasive_share_its_life(self, panel: LoadedJob) -> None:
        step = surface_step(panel)
        (once,), (twice,) = tool_use([("a", [step])]), tool_use([("a", [step]), ("b", [step])])
        assert twice.features == ("a", "b")
        assert twice.parts == pytest.approx(once.parts / 2)  # type: ignore[operator]
        assert twice.contact == pytest.approx(2 * once.contact)
        assert twice.cost_per_part == pytest.approx(2 * once.cost_per_part)  # type: ignore[operator]

    def test_every_grit_is_a_piece_of_its_own(self, sanding: Sanding) -> None:
        rough = make_plan(sanding(job=[('initial_roughness = "3 um"', 'initial_roughness = "12 um"')]))
        (feature,) = rough.features
        assert [use.tool for use in rough.tools] == list(feature.chosen.tools)
        assert len(rough.tools) > 1

    def test_without_a_price_there_is_no_cost(self, sanding: Sanding) -> None:
        (use,) = tool_use([("face", [surface_step(sanding(cell=[("price = 0.6\n", "")]))])])
        assert use.cost_per_part is None
        assert use.parts is not None


def test_an_operation_of_no_known_kind() -> None:
    unknown: Any = SimpleNamespace(tool="saw")
    found: Found = SimpleNamespace(operation=unknown)  # type: ignore[assignment]
    step = Step(found, StepTime(1.0, 0.0, 0.01, 1, 0.1), np.empty((0, 2)), np.empty((0, 2)))
    with pytest.raises(TypeError, match="SimpleNamespace"):
        wear_of(unknown, step)
