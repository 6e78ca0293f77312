"""JSON and CSV: units in the keys, finite figures, and nothing a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import json
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

import pytest

from finishplan.planning.plan import Plan
from finishplan.report.figures import Figure, PlanRows
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_csv, as_json, dump
from finishplan.units import KINDS

SUFFIXES = {KINDS[kind].shown(system).suffix for kind in KINDS for system in ("metric", "inch")}  # type: ignore[arg-type]
PURE_NUMBERS = {"utilisation", "value", "bound", "needed", "available", "shifts_for_batch"}
IN_CURRENCY = ("cost", "amount", "price")
"""Figures in the currency that stands beside them."""


def numbers(data: Any, key: str = "") -> Iterator[tuple[str, Any]]:
    """Every figure of a JSON object that is not a count, with its key."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield from numbers(value, name)
    elif isinstance(data, list):
        for value in data:
            yield from numbers(value, key)
    elif isinstance(data, float):
        yield key, data


def lines_of(rows: PlanRows) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(as_csv(rows))))


class TestJson:
    def test_it_is_finite_and_strict(self, rows: PlanRows) -> None:
        text = as_json(rows)
        assert not re.search(r"\b(NaN|Infinity)\b", text)
        assert all(math.isfinite(value) for _, value in numbers(json.loads(text)))

    def test_every_figure_carries_its_unit(self, rows: PlanRows) -> None:
        steps = [step for feature in rows.features for step in feature.steps]
        pure = {figure.key for step in steps for figure in step.figures if figure.kind == "number"} | PURE_NUMBERS
        for key, _ in numbers(json.loads(as_json(rows))):
            known = any(key.endswith(f"_{suffix}") for suffix in SUFFIXES if suffix)
            assert known or key in pure or any(word in key for word in IN_CURRENCY), key

    def test_nothing_of_the_plan_is_left_out(self, rows: PlanRows) -> None:
        data = json.loads(as_json(rows))
        assert [feature["name"] for feature in data["features"]] == [feature.name for feature in rows.features]
        for shown, feature in zip(data["features"], rows.features, strict=True):
            for step, row in zip(shown["steps"], feature.steps, strict=True):
                assert {figure.keyed(rows.system)[0] for figure in row.figures} <= step.keys()
                assert [limit["limit"] for limit in step["limits"]] == [limit.name for limit in row.limits]
        assert len(data["assumptions"]) == len(rows.assumptions)
        assert data["status"]

    def test_broken_limits_say_what_is_needed(self, cast_cover: Plan) -> None:
        rows = plan_rows(cast_cover)
        feature = rows.features[0]
        limit = replace(feature.steps[0].limits[0], broken=True)
        step = replace(feature.steps[0], limits=(limit, *feature.steps[0].limits[1:]))
        data = json.loads(as_json(replace(rows, features=(replace(feature, steps=(step,)),))))
        first, second, *_ = data["features"][0]["steps"][0]["limits"]
        assert first["remedy"] == limit.remedy
        assert any(key.startswith("needed") for key in first)
        assert "remedy" not in second

    def test_infinity_is_null(self) -> None:
        assert json.loads(dump({"a": math.inf, "b": [math.nan, 1.0], "c": (-math.inf,)})) == {
            "a": None, "b": [None, 1.0], "c": [None],
        }  # fmt: skip

    def test_inch_and_metric_are_the_same_plan(self, example: str, example_plan: Callable[[str], Plan]) -> None:
        metric, inch = (
            json.loads(as_json(plan_rows(example_plan(example), system)))["features"]  # type: ignore[arg-type]
            for system in ("metric", "inch")
        )
        for one, other in zip(metric, inch, strict=True):
            for in_mm, in_inches in zip(one["steps"], other["steps"], strict=True):
                assert in_inches["feed_in_min"] * 25.4 / 60 == pytest.approx(in_mm["feed_mm_s"], rel=1e-8)
                assert in_inches["spindle_speed_rpm"] == in_mm["spindle_speed_rpm"]
                shares = [[limit["utilisation"] for limit in step["limits"]] for step in (in_mm, in_inches)]
                assert shares[0] == shares[1]


class TestCsv:
    def test_one_line_per_step(self, rows: PlanRows) -> None:
        steps = [(feature.name, str(n)) for feature in rows.features for n, _ in enumerate(feature.steps, start=1)]
        assert [(line["feature"], line["step"]) for line in lines_of(rows)] == steps

    def test_it_holds_the_figures_of_the_json(self, rows: PlanRows) -> None:
        steps = [step for feature in json.loads(as_json(rows))["features"] for step in feature["steps"]]
        for line, step in zip(lines_of(rows), steps, strict=True):
            for key, value in step.items():
                if isinstance(value, float):
                    assert float(line[key]) == pytest.approx(value, rel=1e-5)

    @pytest.mark.parametrize("name", ["=2+3", "+1", "-1", "@SUM(A1)", "\t=1"])
    def test_text_a_spreadsheet_would_run_is_defused(self, cast_cover: Plan, name: str) -> None:
        rows = plan_rows(cast_cover)
        feature = rows.features[0]
        step = replace(feature.steps[0], settings=(Figure("tool", "tool", name), *feature.steps[0].settings[1:]))
        (line,) = lines_of(replace(rows, features=(replace(feature, name=name, steps=(step,)),)))
        assert line["feature"] == f"'{name}"
        assert line["tool"] == f"'{name}"

    def test_negative_figures_stay_figures(self, cast_cover: Plan) -> None:
        rows = plan_rows(cast_cover)
        feature = rows.features[0]
        step = replace(feature.steps[0], settings=(Figure("angle", "angle", -0.5, "angle"),))
        (line,) = lines_of(replace(rows, features=(replace(feature, steps=(step,)),)))
        assert float(line["angle_deg"]) == pytest.approx(math.degrees(-0.5), rel=1e-5)

    def test_quotes_and_commas_of_a_name_stay_in_their_cell(self, cast_cover: Plan) -> None:
        rows = plan_rows(cast_cover)
        named = replace(rows.features[0], name='rim, "outer"\nside')
        (line, *_) = lines_of(replace(rows, features=(named, *rows.features[1:])))
        assert line["feature"] == 'rim, "outer"\nside'
