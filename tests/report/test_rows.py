"""The row model: complete for every process, and in the words and figures of the plan."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest

from finishplan import units
from finishplan.planning.plan import Plan
from finishplan.report import process_rows
from finishplan.report.figures import Figure, PlanRows, StepRows
from finishplan.report.rows import plan_rows
from finishplan.units import KINDS


def figures_of(rows: PlanRows) -> Iterator[Figure]:
    yield from rows.header
    yield from rows.cycle
    yield from (*rows.of_cell.throughput, *rows.of_cell.load)
    yield from rows.improvements.longest
    for change in rows.improvements.changes:
        yield from (change.saved, change.share)
        for limit in change.limits:
            yield from limit
    for group in (*rows.tools, *rows.rack, *rows.requirements):
        yield from group
    for feature in rows.features:
        for step in feature.steps:
            yield from step.figures
            for limit in step.limits:
                yield from (limit.value, limit.bound, limit.needed)


def steps_of(rows: PlanRows) -> Iterator[StepRows]:
    return (step for feature in rows.features for step in feature.steps)


def test_every_feature_and_step_of_the_plan_is_shown(
    rows: PlanRows, example: str, example_plan: Callable[[str], Plan]
) -> None:
    plan = example_plan(example)
    assert [feature.name for feature in rows.features] == [feature.name for feature in plan.features]
    for shown, planned in zip(rows.features, plan.features, strict=True):
        assert len(shown.steps) == len(planned.chosen.steps)
        for row, step in zip(shown.steps, planned.chosen.steps, strict=True):
            assert (row.verdict, row.governing) == (step.found.verdict, step.found.governing)
            assert {limit.name for limit in row.limits} == {limit.name for limit in step.found.evaluation.limits}
    assert len(rows.tools) == len(plan.tools)
    assert rows.feasible is plan.feasible


def test_keys_are_plain_words_and_stand_once_in_a_step(rows: PlanRows) -> None:
    for figure in figures_of(rows):
        assert re.fullmatch(r"[a-z][a-z0-9]*(_[a-z0-9]+)*", figure.key)
        assert figure.label.strip() == figure.label != ""
    for step in steps_of(rows):
        keys = [figure.key for figure in step.figures]
        assert len(set(keys)) == len(keys)


def test_figures_with_a_unit_name_a_known_kind(rows: PlanRows) -> None:
    for figure in figures_of(rows):
        assert figure.kind is None or figure.kind in KINDS
        assert isinstance(figure.value, str | int | None) or figure.kind is not None or figure.key == "cost_per_part"


def test_steps_of_one_process_have_the_same_figures(example_plan: Callable[[str], Plan], rows: PlanRows) -> None:
    by_process: dict[str, set[tuple[str, ...]]] = {}
    for step in steps_of(rows):
        by_process.setdefault(step.process, set()).add(tuple(figure.key for figure in step.figures))
    assert all(len(keys) == 1 for keys in by_process.values())


def test_limits_are_listed_worst_first_and_say_where_their_bound_is_from(rows: PlanRows) -> None:
    for step in steps_of(rows):
        shares = [limit.utilisation for limit in step.limits]
        assert shares == pytest.approx(sorted(shares, reverse=True), rel=1e-9)
        assert all(limit.source and limit.remedy for limit in step.limits)


def test_a_limit_shown_as_kept_is_kept(rows: PlanRows) -> None:
    for step in steps_of(rows):
        if step.verdict == "keeps the margin":
            assert not any(limit.broken for limit in step.limits)
            assert max(limit.utilisation for limit in step.limits if limit.keeps_margin) <= 0.8 + 1e-6


def test_times_of_the_cycle_add_up(rows: PlanRows) -> None:
    cycle = {figure.key: figure.value or 0.0 for figure in rows.cycle}
    parts = ("contact_time", "approach_time", "wait_time", "air_time", "tool_change_time")
    assert sum(float(cycle[name]) for name in parts) == pytest.approx(float(cycle["cycle_time"]))


def test_cautions_and_the_word_on_starting_values_are_always_there(rows: PlanRows) -> None:
    assert rows.cautions
    assert any("decide" in caution for caution in rows.cautions)


def test_another_system_changes_no_figure(example_plan: Callable[[str], Plan], example: str) -> None:
    metric, inch = (plan_rows(example_plan(example), system) for system in ("metric", "inch"))  # type: ignore[arg-type]
    assert inch.system == "inch"
    assert list(figures_of(metric)) == list(figures_of(inch))


class TestFigure:
    def test_the_key_carries_the_unit_of_the_system(self) -> None:
        feed = Figure("feed", "feed", 0.0254, "feed")
        assert feed.keyed("metric") == ("feed_mm_s", 25.4)
        assert feed.keyed("inch") == ("feed_in_min", 60.0)

    def test_noise_of_the_conversion_is_cut_off(self) -> None:
        assert Figure("length", "length", 0.1 + 0.2, "length").keyed("metric") == ("length_mm", 300.0)

    def test_a_missing_figure_keeps_its_key(self) -> None:
        assert Figure("force", "force", None, "force").keyed("metric") == ("force_N", None)
        assert Figure("force", "force", None, "force").text("metric") == "-"

    def test_words_and_counts_have_no_unit(self) -> None:
        assert Figure("tool", "tool", "burr").keyed("inch") == ("tool", "burr")
        assert Figure("passes", "passes", 3).text("inch") == "3"

    @pytest.mark.parametrize("kind", sorted(KINDS))
    @pytest.mark.parametrize("system", ["metric", "inch"])
    def test_a_figure_in_its_unit_leads_back_to_the_value(self, kind: str, system: units.System) -> None:
        key, shown = Figure("x", "x", 1.25, kind).keyed(system)
        assert shown == pytest.approx(units.shown_value(1.25, kind, system), rel=1e-9)
        assert key.removeprefix("x").removeprefix("_") == KINDS[kind].shown(system).suffix


@pytest.mark.parametrize("name", ["process", "settings", "result", "notes"])
def test_a_process_without_rows_is_a_defect(name: str, cast_cover: Plan) -> None:
    shown = getattr(process_rows, name)
    arguments = [object()] if name == "process" else [object(), cast_cover.features[0].chosen]
    with pytest.raises(TypeError, match="object"):
        list(shown(*arguments))


def test_features_that_keep_the_margin_otherwise_are_told_with_their_time(cast_cover: Plan) -> None:
    told = [other for feature in plan_rows(cast_cover).features for other in feature.others]
    assert told
    for other in told:
        assert re.search(r"would take \d+\.\d s|% of the limit", other)


def test_rows_are_told_of_the_job_and_not_of_the_place_it_lies_in(rows: PlanRows) -> None:
    assert "/" not in replace(rows, cautions=()).title
