"""The tool rack: every tool once, in order of first use, in slots that nobody else has."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import pytest

from finishplan.job import LoadedJob
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.rack import Place, rack

Load = Callable[..., LoadedJob]

THREE = [
    ('name = "bore"\nlength = "310 mm"\ntools = ["burr 10"]', 'name = "bore"\nlength = "310 mm"\ntools = ["burr 8"]'),
]


def rack_of(plan: Plan) -> Sequence[Place]:
    return rack(plan.loaded, plan.cycle, [(feature.name, feature.chosen.steps) for feature in plan.features])


def test_every_tool_in_use_has_a_place(example: str, example_plan: Callable[[str], Plan]) -> None:
    plan = example_plan(example)
    places = rack_of(plan)
    if plan.loaded.cell.arrangement == "part-to-tool":
        assert places == ()
        return
    assert {tool for place in places for tool in place.mounted} == {stop.tool for stop in plan.cycle.stops}
    assert [place.slot for place in places] == list(range(1, len(places) + 1))
    assert {feature for place in places for feature in place.features} == {stop.feature for stop in plan.cycle.stops}
    assert places[0].mounted[0] == plan.cycle.stops[0].tool


def test_an_abrasive_has_one_place_for_all_its_grits(example_plan: Callable[[str], Plan]) -> None:
    belt, buff = rack_of(example_plan("stainless_cover.toml"))
    assert (belt.station, set(belt.mounted)) == ("belt 50", {"belt 50 P180", "belt 50 P320"})
    assert buff.features == ("nameplate",)


def test_a_fixed_slot_is_kept_and_left_free_by_the_others(load: Load) -> None:
    fixed = [('name = "burr 10"\n', 'name = "burr 10"\nslot = 4\n'), ('name = "burr 8"\n', 'name = "burr 8"\n')]
    places = {place.station: place for place in rack_of(make_plan(load(job=THREE, cell=fixed)))}
    assert {name: place.slot for name, place in places.items()} == {"burr 10": 4, "burr 8": 1}
    assert places["burr 8"].spindle == "air spindle"
    first = [('name = "mill 10"\n', 'name = "mill 10"\nslot = 1\n')]
    slots = sorted(place.slot for place in rack_of(make_plan(load(job=THREE, cell=first))))
    assert slots == [2, 3]


def test_two_tools_in_one_slot_are_a_fault(load: Load) -> None:
    twice: Any = [(f'name = "{name}"\n', f'name = "{name}"\nslot = 2\n') for name in ("burr 10", "mill 10")]
    with pytest.raises(Exception, match=r"slot.*a slot of the rack that no other tool or abrasive stands in"):
        load(cell=twice)


def test_no_rack_where_the_part_is_carried(load: Load) -> None:
    carried: Any = [
        (
            'tool_change_time = "6 s"',
            'tool_change_time = "6 s"\narrangement = "part-to-tool"\nrack = { x = "0 m", y = "1 m" }',
        )
    ]
    with pytest.raises(Exception, match="a rack only where the robot carries the tools"):
        load(cell=carried)
