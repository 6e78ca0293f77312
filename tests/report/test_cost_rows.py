"""What is shown of the cost of a part, on a terminal and in JSON."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from pathlib import Path

import pytest
from rich.console import Console

from finishplan.job import load_job
from finishplan.planning.costs import Gap
from finishplan.planning.plan import Plan, make_plan
from finishplan.report.cost_rows import NO_PAYBACK, PAYBACK_COUNTS, VIBRATION_TAKEN_OVER, cost_rows
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import plan_data
from finishplan.report.terminal import print_plan

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def panel() -> Plan:
    """The plan of the example that states costs and manual work."""
    return make_plan(load_job(EXAMPLES / "painted_panel.toml"))


def printed(plan: Plan, width: int) -> str:
    out = io.StringIO()
    print_plan(plan_rows(plan), Console(file=out, width=width, highlight=False, no_color=True))
    return out.getvalue()


def section(text: str) -> str:
    """From the heading of the costs to the next one."""
    return text.partition("Cost of a part, in EUR")[2].partition("Assumed, because")[0]


@pytest.mark.parametrize("width", [80, 120])
def test_the_section_fits_the_terminal_and_shows_every_figure(panel: Plan, width: int) -> None:
    shown = section(printed(panel, width))
    assert max(len(line.rstrip()) for line in shown.splitlines()[1:]) <= width
    costs = panel.costs
    assert costs is not None
    for item in costs.items:
        assert f"{item.name} " in shown
        assert f" {item.amount:.4f} " in shown
    assert f" {costs.total:.4f} " in shown
    assert " 2.7 years" in shown
    assert " 3.39 m/s2" in shown
    assert "left out:" not in shown


def test_what_is_left_out_is_named_with_what_it_lacks(panel: Plan) -> None:
    assert panel.costs is not None
    costs = replace(panel.costs, gaps=(Gap("machine time", ("costs.machine_rate",)),))
    plan = replace(panel, costs=costs)
    assert "left out: machine time, for want of costs.machine_rate" in section(printed(plan, 120))
    assert plan_data(plan_rows(plan))["costs"]["left_out"] == [
        {"figure": "machine time", "lacks": ["costs.machine_rate"]}
    ]


def test_no_section_without_costs(panel: Plan) -> None:
    plan = replace(panel, costs=None)
    assert "Cost of a part" not in printed(plan, 120)
    assert "costs" not in plan_data(plan_rows(plan))


def test_figures_in_json_are_those_of_the_example(panel: Plan) -> None:
    costs = plan_data(plan_rows(panel))["costs"]
    (use,) = panel.tools
    assert use.parts is not None
    seconds = panel.cycle.total + 10 + 15 / use.parts
    amounts = {row["item"]: row["amount"] for row in costs["items"]}
    assert amounts["machine time"] == pytest.approx(seconds * 42 / 3600, rel=1e-9)
    assert amounts["labour at the cell"] == pytest.approx(seconds * 0.25 * 36 / 3600, rel=1e-9)
    assert amounts[f"wear of {use.tool}"] == pytest.approx(use.entry.price / use.parts, rel=1e-9)  # type: ignore[operator]
    assert costs["cost_per_part"] == pytest.approx(sum(amounts.values()), rel=1e-9)
    labour, payback, daily, points = costs["by_hand"]
    assert labour["amount"] == pytest.approx(7 / 60 * 36, rel=1e-9)
    running = costs["cost_per_part"] - amounts["machine time"]
    assert payback["amount_years"] == pytest.approx(180_000 / (20_000 * (labour["amount"] - running)), rel=1e-9)
    assert daily["amount_m_s2"] == pytest.approx(4.5 * math.sqrt(0.7 * 6.5 / 8), rel=1e-9)
    assert points["amount"] == round(100 * (daily["amount_m_s2"] / 2.5) ** 2)
    assert (costs["currency"], costs["exposure"]) == ("EUR", "above the action value")
    assert (costs["action_value_m_s2"], costs["limit_value_m_s2"]) == (2.5, 5.0)
    assert all(row["equation"] and row["source"] and row["from"] for row in (*costs["items"], *costs["by_hand"]))


def test_a_cell_that_never_pays_back_says_so(panel: Plan) -> None:
    costs = panel.costs
    assert costs is not None
    assert costs.payback is not None
    assert cost_rows(costs).notes == (PAYBACK_COUNTS, VIBRATION_TAKEN_OVER)
    never = cost_rows(replace(costs, payback=replace(costs.payback, amount=math.inf)))
    assert never.notes == (NO_PAYBACK, VIBRATION_TAKEN_OVER)
    assert [row.amount.label for row in never.by_hand] == ["labour by hand", "vibration by hand", "exposure points"]
