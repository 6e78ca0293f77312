"""The least equipment of a quotation, with the air that has to be drawn."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace

import pytest

from finishplan import units
from finishplan.hazards import review
from finishplan.physics.ventilation import wheel_exhaust
from finishplan.planning.plan import Plan
from finishplan.report.figures import Figure, beside
from finishplan.report.requirement_rows import requirement_rows
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_json

AIR = "air drawn from the cell"


def air(plan: Plan) -> dict[str, object]:
    rows = json.loads(as_json(plan_rows(plan)))["least_equipment"]
    return next((row for row in rows if row["requirement"] == AIR), {})


def test_the_largest_flow_is_asked_for_with_the_feature_and_the_reason(example_plan: Callable[[str], Plan]) -> None:
    plan = example_plan("carried_bracket.toml")
    row = air(plan)
    flow = wheel_exhaust("belt", 0.25, 0.075).flow
    assert row["needed_m3_h"] == pytest.approx(flow * 3600 / (1 - plan.margin))
    assert (row["sense"], row["available_m3_h"]) == ("at least", None)
    assert row["set_by"] == "gate: exhaust of belt 75 as belt (more if the hood stands off)"


def test_air_that_thins_the_dust_names_the_feature_that_makes_most(example_plan: Callable[[str], Plan]) -> None:
    row = air(example_plan("chair_shell.toml"))
    told = "grip: dust in the duct thinned to a quarter of what can explode (more if the hood stands off)"
    assert row["set_by"] == told


def test_several_features_under_one_exhaust_are_told_apart(example_plan: Callable[[str], Plan]) -> None:
    """Names of features have commas of their own."""
    plan = example_plan("carried_bracket.toml")
    facts = review(plan).context
    gate = next(work for work in facts.works if work.feature == "gate")
    twice = replace(facts, works=(*facts.works, replace(gate, feature="gate, upper side")))
    (row,) = (row for row in requirement_rows(plan, twice) if row[0].value == AIR)
    assert str(row[4].value).startswith("gate; gate, upper side: exhaust of belt 75")


def test_what_is_installed_stands_beside_it(example_plan: Callable[[str], Plan]) -> None:
    row = air(example_plan("steel_bracket.toml"))
    assert row["available_m3_h"] == pytest.approx(1500.0)
    assert row["set_by"] == "hood at its distance"


def test_no_flow_is_asked_for_where_nothing_tells_it(example_plan: Callable[[str], Plan]) -> None:
    plan = example_plan("steel_bracket.toml")
    facts = review(plan).context
    bare = replace(facts, families={}, installed=facts.installed.model_copy(update={"capture_distance": None}))
    rows = list(requirement_rows(plan, bare))
    assert AIR not in {row[0].value for row in rows}
    assert len(rows) == len(plan.requirements)


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_no_figure_asked_for_is_shown_laxer_than_it_is(
    example: str, example_plan: Callable[[str], Plan], system: units.System
) -> None:
    plan = example_plan(example)
    exact = {row["requirement"]: row for row in json.loads(as_json(plan_rows(plan)))["least_equipment"]}
    for name, sense, needed, available, _ in requirement_rows(plan, review(plan).context):
        assert needed.kind is not None
        assert isinstance(needed.value, float)
        least, there = beside(needed, available, system)
        shown, stricter = units.parse(least, needed.kind), {"at least": 1, "at most": -1}[str(sense.value)]
        assert stricter * (shown - needed.value) >= -1e-9 * needed.value, name.value
        assert units.shown_value(needed.value, needed.kind) == pytest.approx(
            next(value for key, value in exact[name.value].items() if key.startswith("needed_")), rel=1e-9
        )
        if isinstance(available.value, float):
            assert (stricter * (available.value - needed.value) >= 0) == (
                stricter * (units.parse(there, needed.kind) - shown) >= 0
            )


@pytest.mark.parametrize(
    ("needed", "available", "texts"),
    [
        (0.3003e-3, 0.3e-3, ("0.30 mm", "0.30 mm")),
        (0.0854e-3, 0.08e-3, ("0.085 mm", "0.08 mm")),
        (0.2054e-3, 0.2051e-3, ("0.205 mm", "0.205 mm")),
        (0.2054e-3, 0.2058e-3, ("0.20 mm", "0.21 mm")),
        (0.3e-3, 0.3e-3, ("0.30 mm", "0.30 mm")),
    ],
)
def test_what_there_is_looks_enough_where_it_is(needed: float, available: float, texts: tuple[str, str]) -> None:
    wanted = Figure("needed", "needed", needed, "length", "down")
    assert beside(wanted, Figure("available", "in the cell", available, "length"), "metric") == texts
