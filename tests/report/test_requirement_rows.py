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
from finishplan.planning.requirements import PATH_ACCURACY, ROBOT_STIFFNESS
from finishplan.report.figures import Figure, beside
from finishplan.report.requirement_rows import requirement_rows
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_json
from finishplan.report.terminal import plan_text

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


def with_requirement(plan: Plan, name: str, **changes: object) -> Plan:
    """The plan with one of its requirements changed."""
    other = replace(plan)
    # what a cached property finds is kept among the attributes of the plan
    other.__dict__["requirements"] = tuple(
        replace(row, **changes) if row.name == name else row for row in plan.requirements
    )
    return other


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


def test_where_no_robot_would_do_words_stand_in_place_of_a_figure(example_plan: Callable[[str], Plan]) -> None:
    plan = with_requirement(example_plan("cast_cover.toml"), PATH_ACCURACY, needed=0.0)
    data = json.loads(as_json(plan_rows(plan)))["least_equipment"]
    (row,) = (row for row in data if row["requirement"] == PATH_ACCURACY)
    assert (row["sense"], row["needed_mm"], row["available_mm"]) == ("none would do", None, 0.08)
    assert row["set_by"] == "ports: largest edge break, even with no path error"
    text = " ".join(plan_text(plan_rows(plan), 120).split())
    assert f"{PATH_ACCURACY} none would do 0.08 mm ports: largest edge break, even with no path error" in text
    assert "0.00 mm 0.08 mm" not in text


def test_what_the_rest_leaves_nothing_of_is_told_without_a_limit(example_plan: Callable[[str], Plan]) -> None:
    plan = with_requirement(example_plan("steel_bracket.toml"), PATH_ACCURACY, needed=0.0)
    rows = requirement_rows(plan, review(plan).context)
    (row,) = (row for row in rows if row[0].value == PATH_ACCURACY)
    assert row[4].value == "slot: the other errors, even with no path error"


def test_an_arm_that_cannot_be_stiff_enough(example_plan: Callable[[str], Plan]) -> None:
    plan = with_requirement(example_plan("gfrp_fender.toml"), ROBOT_STIFFNESS, needed=float("inf"))
    (row,) = (row for row in requirement_rows(plan, review(plan).context) if row[0].value == ROBOT_STIFFNESS)
    assert [figure.value for figure in row[1:3]] == ["none would do", None]
    assert row[4].value == "lamp opening: path error, even with an arm that does not yield"
