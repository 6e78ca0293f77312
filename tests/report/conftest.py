"""Rows of the example plans, which are made once."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from finishplan.planning.plan import Plan
from finishplan.report.figures import PlanRows
from finishplan.report.rows import plan_rows


@pytest.fixture
def rows(example: str, example_plan: Callable[[str], Plan]) -> PlanRows:
    """Rows of every example in turn."""
    return plan_rows(example_plan(example))


@pytest.fixture
def cast_cover(example_plan: Callable[[str], Plan]) -> Plan:
    return example_plan("cast_cover.toml")
