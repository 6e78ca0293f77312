"""The plan on a terminal: fits it, says what limits and what frees, and prints names as they stand."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace

import pytest
from rich.console import Console

from finishplan.planning.plan import Plan
from finishplan.report.figures import Figure, PlanRows
from finishplan.report.rows import STARTING_VALUES, plan_rows
from finishplan.report.terminal import plan_text, print_plan
from finishplan.units import System

MARKUP = "[red]rim[/bold] [link=http://x]"


def flat(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("width", [80, 120])
def test_no_line_is_wider_than_the_terminal(rows: PlanRows, width: int) -> None:
    assert max(len(line.rstrip()) for line in plan_text(rows, width).splitlines()) <= width


def test_inch_units_fit_as_well(example: str, example_plan: Callable[[str], Plan]) -> None:
    text = plan_text(plan_rows(example_plan(example), "inch"), 80)
    assert max(len(line.rstrip()) for line in text.splitlines()) <= 80


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_what_is_asked_for_stays_in_one_line_with_its_unit(
    example: str, example_plan: Callable[[str], Plan], system: System
) -> None:
    rows = plan_rows(example_plan(example), system)
    lines = plan_text(rows, 80).splitlines()
    for _, sense, needed, available, _ in rows.requirements:
        wanted, there = f"{sense.value} {needed.text(system)}", available.text(system)
        assert any(wanted in line and line.index(there) > line.index(wanted) for line in lines if there in line)
    assert "…" not in plan_text(rows, 60)


def test_everything_a_reader_needs_is_there(rows: PlanRows) -> None:
    text = flat(plan_text(rows, 120))
    for heading in ("Limits", "Part", "Least equipment", "Assumed", "Cautions", "faster is stopped by"):
        assert heading in text
    assert flat(STARTING_VALUES) in text
    assert rows.title in text
    for feature in rows.features:
        assert feature.name in text


def test_it_is_plain_text_without_colours(rows: PlanRows) -> None:
    assert "\x1b" not in plan_text(rows)


def test_the_same_plan_gives_the_same_text(rows: PlanRows) -> None:
    assert plan_text(rows) == plan_text(rows)


def test_names_are_printed_as_they_stand(cast_cover: Plan) -> None:
    rows = plan_rows(cast_cover)
    renamed = replace(rows.features[0], name=MARKUP, notes=(MARKUP,))
    text = plan_text(replace(rows, title=MARKUP, features=(renamed, *rows.features[1:])), 160)
    assert text.count(MARKUP) >= 3


def test_broken_limits_say_what_would_free_them(cast_cover: Plan) -> None:
    rows = plan_rows(cast_cover)
    feature = rows.features[0]
    limit = replace(feature.steps[0].limits[0], broken=True, utilisation=1.4)
    step = replace(feature.steps[0], limits=(limit, *feature.steps[0].limits[1:]), verdict="not feasible")
    text = flat(plan_text(replace(rows, features=(replace(feature, steps=(step,)), *rows.features[1:])), 120))
    assert f"{limit.name}: would be freed by {limit.remedy}" in text
    assert "140%" in text


@pytest.mark.parametrize(
    ("asks_of", "sense", "needed", "told"),
    [
        ("bound", "at least", 2.5e-3, "needed at least 2.50 mm"),
        ("value", "at most", 0.1e-3, "as all else is, needed at most 0.10 mm"),
        ("value", "at most", 0.0, "as all else is, no path accuracy would do"),
    ],
)
def test_what_is_needed_is_told_of_the_bound_or_of_what_stands_against_it(
    cast_cover: Plan, asks_of: str, sense: str, needed: float, told: str
) -> None:
    rows = plan_rows(cast_cover)
    feature = rows.features[0]
    (limit,) = (each for each in feature.steps[0].limits if each.name == "path accuracy")
    figure = Figure("needed", limit.name, needed, "length")
    limit = replace(limit, broken=True, utilisation=1.4, asks_of=asks_of, needed_sense=sense, needed=figure)
    step = replace(feature.steps[0], limits=(limit,), verdict="not feasible")
    text = flat(plan_text(replace(rows, features=(replace(feature, steps=(step,)), *rows.features[1:])), 200))
    assert f"path accuracy: would be freed by {limit.remedy}; {told}" in text


def test_steps_are_told_apart_by_what_they_have(example_plan: Callable[[str], Plan]) -> None:
    """A belt has a grit, a buff has none."""
    lines = [line.rstrip() for line in plan_text(plan_rows(example_plan("stainless_cover.toml")), 80).splitlines()]
    assert "nameplate  belt 50, P320" in lines
    assert "nameplate  buff 200" in lines


def test_a_single_feature_has_no_notes_of_everywhere(example_plan: Callable[[str], Plan]) -> None:
    """A note common to all features is told once for all of them; one feature has it below itself."""
    rows = plan_rows(example_plan("cast_cover.toml"))
    assert "everywhere: " in plan_text(rows, 200)
    alone = plan_text(replace(rows, features=rows.features[:1]), 200)
    assert "everywhere: " not in alone
    for note in rows.features[0].notes:
        assert f"- {note}" in alone


def test_all_broken_limits_are_shown_however_many(cast_cover: Plan) -> None:
    rows = plan_rows(cast_cover)
    feature = rows.features[0]
    limits = tuple(replace(limit, broken=True) for limit in feature.steps[0].limits)
    step = replace(feature.steps[0], limits=limits)
    text = flat(plan_text(replace(rows, features=(replace(feature, steps=(step,)), *rows.features[1:])), 200))
    for limit in limits:
        assert f"{limit.name}: would be freed by" in text


def test_a_note_of_every_feature_is_told_once(cast_cover: Plan) -> None:
    rows = plan_rows(cast_cover)
    features = tuple(replace(feature, notes=(*feature.notes, "mind the gap")) for feature in rows.features)
    assert plan_text(replace(rows, features=features)).count("mind the gap") == 1


def test_a_terminal_gets_colours(cast_cover: Plan) -> None:
    out = io.StringIO()
    print_plan(plan_rows(cast_cover), Console(file=out, width=100, force_terminal=True, color_system="standard"))
    assert "\x1b[" in out.getvalue()
