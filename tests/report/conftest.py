"""Rows of the example plans, which are made once."""

from __future__ import annotations

import functools
from collections.abc import Callable

import pytest

from finishplan.planning.improvement import improvements
from finishplan.planning.plan import Plan
from finishplan.report import improvement_rows
from finishplan.report.figures import PlanRows
from finishplan.report.rows import plan_rows

found_once = functools.cache(improvements)


@pytest.fixture(autouse=True)
def each_plan_searched_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What would make a plan faster does not change from one rendering to the next."""
    monkeypatch.setattr(improvement_rows, "improvements", found_once)


@pytest.fixture
def rows(example: str, example_plan: Callable[[str], Plan]) -> PlanRows:
    """Rows of every example in turn."""
    return plan_rows(example_plan(example))


@pytest.fixture
def cast_cover(example_plan: Callable[[str], Plan]) -> Plan:
    return example_plan("cast_cover.toml")
