"""Cost of a part item by item, what is left out for want of inputs, and the same work by hand."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from finishplan.job import Abrasive, LoadedJob
from finishplan.planning import toolife
from finishplan.planning.costs import PartCosts, part_costs
from finishplan.planning.feature import Step, StepTime
from finishplan.planning.plan import make_plan
from finishplan.planning.throughput import Throughput
from finishplan.planning.toolife import ToolUse
from finishplan.units import HOUR

Load = Callable[..., LoadedJob]
Table = Mapping[str, object]

CYCLE_TIME = 90.0
NOWHERE = np.empty((0, 2))

COSTS: Table = {
    "machine_rate": 40,
    "labour_rate": 50,
    "labour_share": '"20 %"',
    "energy_price": 0.2,
    "investment": 179_960,
    "parts_per_year": 20_000,
}
MANUAL: Table = {
    "time_per_part": '"6 min"',
    "vibration": '"5 m/s2"',
    "trigger_share": '"50 %"',
    "time_per_shift": '"6 h"',
}


def written(name: str, table: Table | None) -> str:
    return "" if table is None else "\n".join([f"[{name}]", *(f"{key} = {value}" for key, value in table.items()), ""])


def without(table: Table, *keys: str) -> Table:
    return {key: value for key, value in table.items() if key not in keys}


def cutting(seconds: float, power: float) -> Step:
    """A step of which nothing but time in contact and power is known."""
    evaluation = SimpleNamespace(predictions={"nominal": SimpleNamespace(power=np.float64(power))})
    found: Any = SimpleNamespace(evaluation=evaluation)
    return Step(found, StepTime(seconds, 0.0, 0.01, 1, 0.1), NOWHERE, NOWHERE)


@pytest.fixture
def costs_of(load: Load) -> Callable[..., PartCosts | None]:
    """Costs of a part cut for 40 s at 300 W and 20 s at 150 W out of 90 s, with a burr of 30 that lasts 2 h."""

    def costed(
        costs: Table | None = COSTS,
        manual: Table | None = MANUAL,
        price: str = "price = 30",
        life: float | None = 7200.0,
        renewal: float = 0.0,
        part_change: float = 0.0,
    ) -> PartCosts | None:
        name = 'name = "burr 10"\n'
        loaded = load(
            job=[("[cell]\n", written("manual", manual) + "[cell]\n")],
            cell=[("[robot]\n", written("costs", costs) + "[robot]\n"), (name, f"{name}{price}\n")],
        )
        use = ToolUse(
            "burr 10", loaded.cell.tool[0], ("rim",), 60.0, life, life and life / 60.0, renewal, (), "a figure of life"
        )
        works = [("rim", [cutting(40.0, 300.0)]), ("bore", [cutting(20.0, 150.0)])]
        throughput = Throughput(CYCLE_TIME, part_change, renewal, 8 * HOUR, None, {})
        return part_costs(loaded, throughput, [use], works)

    return costed


def amounts(costs: PartCosts) -> dict[str, float]:
    return {item.name: item.amount for item in costs.items}


ITEMS = {
    # 90 s at 40 an hour; a fifth of it at 50 an hour; 60 s of 2 h of a burr of 30; 15 kJ at 0.2 for 3.6 MJ
    "machine time": 1.0,
    "labour at the cell": 0.25,
    "wear of burr 10": 0.25,
    "spindle energy in contact": 15e3 * 0.2 / 3.6e6,
}


class TestItems:
    def test_all_of_them(self, costs_of: Any) -> None:
        costs = costs_of()
        assert amounts(costs) == pytest.approx(ITEMS, rel=1e-12)
        assert costs.total == pytest.approx(sum(ITEMS.values()), rel=1e-12)
        assert costs.gaps == ()
        assert costs.currency == "EUR"

    @pytest.mark.parametrize(
        ("change", "lost", "lacks"),
        [
            ({"costs": without(COSTS, "machine_rate")}, "machine time", ("costs.machine_rate",)),
            ({"costs": without(COSTS, "labour_share")}, "labour at the cell", ("costs.labour_share",)),
            (
                {"costs": without(COSTS, "labour_share", "labour_rate")},
                "labour at the cell",
                ("costs.labour_share", "costs.labour_rate"),
            ),
            ({"costs": without(COSTS, "energy_price")}, "spindle energy in contact", ("costs.energy_price",)),
            ({"price": ""}, "wear of burr 10", ("price of burr 10",)),
            ({"life": None}, "wear of burr 10", ("life of burr 10",)),
        ],
    )
    def test_one_without_its_input_is_left_out_and_named(
        self, costs_of: Any, change: dict[str, Any], lost: str, lacks: tuple[str, ...]
    ) -> None:
        costs = costs_of(**change, manual=None)
        left = without(ITEMS, lost)
        assert amounts(costs) == pytest.approx(left, rel=1e-12)
        assert costs.total == pytest.approx(sum(left.values()), rel=1e-12)  # type: ignore[arg-type]
        assert [(gap.name, gap.missing) for gap in costs.gaps] == [(lost, lacks)]

    def test_a_table_without_a_figure_gives_no_sum(self, costs_of: Any) -> None:
        costs = costs_of(costs={}, manual=None, price="")
        assert (costs.items, costs.total) == ((), None)
        assert {gap.name for gap in costs.gaps} == set(ITEMS)

    def test_nothing_without_a_table(self, costs_of: Any) -> None:
        assert costs_of(costs=None, manual=None) is None

    @pytest.mark.parametrize(
        ("added", "words"), [("renewal", "changes of worn tools"), ("part_change", "change of the part")]
    )
    def test_time_beside_the_cycle_is_time_of_cell_and_operator(self, costs_of: Any, added: str, words: str) -> None:
        costs = costs_of(**{added: 9.0})
        longer = amounts(costs)
        assert longer["machine time"] == pytest.approx(1.1, rel=1e-12)
        assert longer["labour at the cell"] == pytest.approx(0.275, rel=1e-12)
        assert longer["wear of burr 10"] == pytest.approx(0.25, rel=1e-12)
        assert costs.items[0].origins[0] == f"time of the cell per part: cycle time and {words}"

    def test_every_figure_tells_where_it_is_from(self, costs_of: Any) -> None:
        machine, labour, wear, _ = costs_of().items
        assert machine.equation == "C_m = t r"
        assert machine.origins == ("time of the cell per part: cycle time", "cell.toml:5 costs.machine_rate")
        assert labour.origins[1:] == ("cell.toml:7 costs.labour_share", "cell.toml:6 costs.labour_rate")
        assert wear.origins[0].startswith("cell.toml:")
        assert wear.origins[0].endswith(" tool.price")
        assert wear.origins[2] == "life of burr 10: a figure of life"


class TestByHand:
    def test_labour_at_the_rate_of_the_cell_or_its_own(self, costs_of: Any) -> None:
        assert costs_of().by_hand.amount == pytest.approx(5.0, rel=1e-12)
        assert costs_of(manual={**MANUAL, "labour_rate": 30}).by_hand.amount == pytest.approx(3.0, rel=1e-12)

    def test_payback_is_where_the_money_saved_meets_the_investment(self, costs_of: Any) -> None:
        running = sum(ITEMS.values()) - ITEMS["machine time"]
        years = np.linspace(0, 5, 5001)
        cash = years * 20_000 * (5.0 - running) - 179_960
        payback = costs_of().payback.amount / (365.25 * 24 * 3600)
        assert payback == pytest.approx(np.interp(0.0, cash, years), rel=1e-9)

    def test_output_follows_from_the_time_in_use(self, costs_of: Any) -> None:
        wanted = without(COSTS, "parts_per_year")
        costs = costs_of(costs={**wanted, "time_per_year": '"2500 h"'})
        assert costs.parts_per_year == pytest.approx(2500 * 3600 / 90, rel=1e-12)
        assert costs.payback.amount == pytest.approx(costs_of().payback.amount / 5, rel=1e-12)

    def test_a_cell_that_costs_more_than_the_hand_never_pays_back(self, costs_of: Any) -> None:
        assert costs_of(manual={**MANUAL, "labour_rate": 4}).payback.amount == math.inf

    @pytest.mark.parametrize(
        ("costs", "manual", "lacks"),
        [
            (without(COSTS, "investment"), MANUAL, ("costs.investment",)),
            (without(COSTS, "parts_per_year"), MANUAL, ("costs.parts_per_year or costs.time_per_year",)),
            (without(COSTS, "labour_share"), MANUAL, ("labour at the cell",)),
            (COSTS, without(MANUAL, "time_per_part"), ("labour by hand",)),
        ],
    )
    def test_no_payback_on_half_of_the_figures(
        self, costs_of: Any, costs: Table, manual: Table, lacks: tuple[str, ...]
    ) -> None:
        found = costs_of(costs=costs, manual=manual)
        assert found.payback is None
        assert [gap.missing for gap in found.gaps if gap.name == "simple payback"] == [lacks]

    def test_manual_work_alone(self, costs_of: Any) -> None:
        costs = costs_of(costs=None, manual={**MANUAL, "labour_rate": 30})
        assert (costs.items, costs.total, costs.payback) == ((), None, None)
        assert costs.by_hand.amount == pytest.approx(3.0, rel=1e-12)
        assert costs.gaps == ()


class TestVibration:
    def test_of_a_shift_by_hand(self, costs_of: Any) -> None:
        """HSE L140, Hand-arm vibration: 5 m/s2 for 3 h make 150 points; A(8) by ISO 5349-1:2001, 5.3."""
        vibration = costs_of().vibration
        assert vibration.points.amount == pytest.approx(150, rel=1e-12)
        # printed with two decimals
        assert vibration.daily.amount == pytest.approx(3.06, abs=0.005)

    @pytest.mark.parametrize(
        ("magnitude", "standing"),
        [
            ("2.49", "not above the action value"),
            ("2.5", "not above the action value"),
            ("2.51", "above the action value"),
            ("5", "above the action value"),
            ("5.01", "above the limit value"),
        ],
    )
    def test_against_the_values_of_the_law(self, costs_of: Any, magnitude: str, standing: str) -> None:
        """Directive 2002/44/EC, Article 3: 2.5 and 5 m/s2 over a reference period of eight hours."""
        manual = {"vibration": f'"{magnitude} m/s2"', "trigger_share": '"100 %"', "time_per_shift": '"8 h"'}
        assert costs_of(manual=manual).vibration.standing == standing

    @pytest.mark.parametrize("key", ["vibration", "trigger_share", "time_per_shift"])
    def test_none_without_one_of_its_figures(self, costs_of: Any, key: str) -> None:
        costs = costs_of(manual=without(MANUAL, key))
        assert costs.vibration is None
        assert [(gap.name, gap.missing) for gap in costs.gaps] == [("vibration by hand", (f"manual.{key}",))]


@pytest.mark.parametrize(
    ("change_time", "wait", "renewal"),
    [
        pytest.param("20 s", 0.0, 5.0, id="a quarter of a disc per part"),
        pytest.param("20 s", 20.0, 0.0, id="the grit is changed on every part"),
        pytest.param(None, 0.0, 0.0, id="the cell does not say how long a change takes"),
    ],
)
def test_time_to_renew_an_abrasive(
    monkeypatch: pytest.MonkeyPatch, change_time: str | None, wait: float, renewal: float
) -> None:
    table = {"name": "disc", "family": "orbital disc", "diameter": "150 mm", "rated_speed": "9000 rpm", "spindle": "A"}
    disc = Abrasive.model_validate(table | ({} if change_time is None else {"change_time": change_time}))
    monkeypatch.setattr(toolife, "wear_of", lambda operation, step: toolife.Wear(0.25, "a trial", disc))
    found: Any = SimpleNamespace(operation=SimpleNamespace(tool="disc"))
    (use,) = toolife.tool_use([("face", [Step(found, StepTime(60.0, 0.0, 0.01, 1, 0.1, wait), NOWHERE, NOWHERE)])])
    assert use.renewal == pytest.approx(renewal, rel=1e-12)
    assert (use.parts, use.cost_per_part) == (4.0, None)


def test_a_plan_is_costed_by_its_time_per_part_and_its_tools(load: Load) -> None:
    rates = {"machine_rate": 36, "labour_rate": 36, "labour_share": '"50 %"', "energy_price": 3.6}
    price = ('name = "burr 10"\n', 'name = "burr 10"\nprice = 20\n')
    plan = make_plan(load(cell=[("[robot]\n", written("costs", rates) + "[robot]\n"), price]))
    (use,), costs = plan.tools, plan.costs
    assert costs is not None
    assert use.parts is not None
    steps = [step for feature in plan.features for step in feature.chosen.steps]
    joules = sum(step.time.contact * float(step.found.evaluation.predictions["nominal"].power) for step in steps)
    assert amounts(costs) == pytest.approx(
        {
            "machine time": plan.throughput.per_part / 100,
            "labour at the cell": plan.throughput.per_part / 200,
            "wear of burr 10": 20 / use.parts,
            "spindle energy in contact": joules * 1e-6,
        },
        rel=1e-12,
    )
    assert use.cost_per_part == pytest.approx(20 / use.parts, rel=1e-12)
