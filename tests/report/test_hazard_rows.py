"""Hazard notes in short: the gravest first with their figures, what is open gathered, nothing left out."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from finishplan.hazards import DEFERRAL, GROUPS, review
from finishplan.planning.plan import Plan
from finishplan.report.hazard_rows import cautions, cautions_in_short, hazard_rows, note_row
from finishplan.report.hazard_sheet import sheet_text


@pytest.mark.parametrize("job", ["cast_cover.toml", "painted_panel.toml"])
def test_every_note_is_in_the_short_form(example_plan: Callable[[str], Plan], job: str) -> None:
    found = review(example_plan(job))
    short = cautions_in_short(found, "metric")
    assert all(any(note.rule.title in line for line in short) for note in found.notes)
    assert len(cautions(found, "metric")) == len(found.notes) + 1
    assert short[-1] == DEFERRAL
    assert f"all {len(found.notes)} notes" in short[-2]
    assert f"{len(found.questions)} keys" in short[-2]


def test_what_is_settled_and_not_kept_stands_alone_and_first(example_plan: Callable[[str], Plan]) -> None:
    found = review(example_plan("cast_cover.toml"))
    short = cautions_in_short(found, "metric")
    alone = [note_row(note) for note in found.gravest if note.level != "note" and note_row(note).settled]
    assert short[: len(alone)] == tuple(note.short("metric") for note in alone)
    assert short[0].startswith("stop: ")
    gathered = [line.partition(":")[0] for line in short[len(alone) : -2]]
    assert gathered == ["met with margin", *(f"open, {group}" for group in GROUPS if f"open, {group}" in gathered)]


def test_features_are_told_apart_though_their_names_have_commas(example_plan: Callable[[str], Plan]) -> None:
    sheet = sheet_text(hazard_rows(review(example_plan("gfrp_fender.toml")), "metric"), 160)
    assert "for       rim; lamp opening; bracket flange; rim, show side\n" in sheet
