"""Tables of costs in a cell and of manual work in a job: what they mean in SI, and what is said about their faults."""

from __future__ import annotations

from typing import Any

import pytest

from finishplan.job import load_job
from finishplan.units import HOUR, MINUTE

COSTS = """\
[costs]
machine_rate = 40
labour_rate = 30.5
labour_share = "150 %"
energy_price = 0.25
investment = 150000
time_per_year = "3600 h"

[robot]
"""

MANUAL = """\
[manual]
time_per_part = "6 min"
labour_rate = 28
vibration = "5 m/s2"
trigger_share = "100 %"
time_per_shift = "3 h"

[cell]
"""

PRICED = 'edge_radius = "0.01 mm"\nprice = 28'


def cell_with(old: str = "", new: str = "") -> list[tuple[str, str]]:
    return [("[robot]\n", COSTS.replace(old, new) if old else COSTS)]


def job_with(old: str = "", new: str = "") -> list[tuple[str, str]]:
    return [("[cell]\n", MANUAL.replace(old, new) if old else MANUAL)]


def test_every_key_is_read(desk: Any) -> None:
    loaded = load_job(desk.write(job_with(), [*cell_with(), ('edge_radius = "0.01 mm"', PRICED)]))
    costs, manual = loaded.cell.costs, loaded.job.manual
    assert costs is not None
    assert manual is not None
    assert (costs.machine_rate, costs.labour_rate, costs.labour_share) == (40, 30.5, 1.5)
    assert (costs.energy_price, costs.investment, costs.time_per_year) == (0.25, 150_000, 3600 * HOUR)
    assert (manual.time_per_part, manual.labour_rate, manual.vibration) == (6 * MINUTE, 28, 5)
    assert (manual.trigger_share, manual.time_per_shift) == (1, 3 * HOUR)
    assert loaded.cell.tool[0].price == 28
    assert loaded.where("cell", "costs", "investment") == ("cell.toml", 8)


def test_both_tables_and_every_key_may_be_left_out(desk: Any) -> None:
    loaded = load_job(desk.write())
    assert (loaded.cell.costs, loaded.job.manual, loaded.cell.tool[0].price) == (None, None, None)
    loaded = load_job(desk.write([("[cell]\n", "[manual]\n[cell]\n")], [("[robot]\n", "[costs]\n[robot]\n")]))
    for table in (loaded.cell.costs, loaded.job.manual):
        assert table is not None
        assert set(table.model_dump().values()) == {None}


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("machine_rate = 40", 'machine_rate = "40 EUR"', 'costs.machine_rate: given "40 EUR"; wanted a number'),
        ("machine_rate = 40", "machine_rate = -1", "costs.machine_rate: given -1; wanted a number of at least 0"),
        (
            "labour_rate = 30.5",
            "labor_rate = 30.5",
            "costs.labor_rate: given 30.5; wanted one of the keys machine_rate",
        ),
        ('"150 %"', "0.25", "costs.labour_share: given 0.25; wanted a fraction as text with its unit"),
        (
            '"150 %"',
            '"1100 %"',
            'costs.labour_share: given "1100 %"; wanted a fraction of at least 0 % and at most 1000 %',
        ),
        ("investment = 150000", "investment = 0", "costs.investment: given 0; wanted a number of at least 1"),
        (
            '"3600 h"',
            '"9000 h"',
            'costs.time_per_year: given "9000 h"; wanted a duration of more than 0 h and at most 8766 h',
        ),
        (
            "investment = 150000",
            "parts_per_year = 20000",
            'costs.time_per_year: given "3600 h"; wanted either parts_per_year or time_per_year, not both',
        ),
    ],
)
def test_fault_in_costs(desk: Any, old: str, new: str, message: str) -> None:
    (fault,) = desk.faults(cell=cell_with(old, new))
    assert message in str(fault)
    assert str(fault).startswith("cell.toml:")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('"6 min"', "6", 'manual.time_per_part: given 6; wanted a duration as text with its unit; write "6 h"'),
        ('"5 m/s2"', '"5 g"', 'manual.vibration: given "5 g"; wanted a vibration in m/s2'),
        (
            '"100 %"',
            '"101 %"',
            'manual.trigger_share: given "101 %"; wanted a fraction of more than 0 % and at most 100 %',
        ),
        ('"3 h"', '"25 h"', 'manual.time_per_shift: given "25 h"; wanted a duration of more than 0 h and at most 24 h'),
        ("vibration", "vibrations", 'manual.vibrations: given "5 m/s2"; wanted one of the keys time_per_part'),
    ],
)
def test_fault_in_manual(desk: Any, old: str, new: str, message: str) -> None:
    (fault,) = desk.faults(job=job_with(old, new))
    assert message in str(fault)
    assert str(fault).startswith("job.toml:")


def test_price_of_a_cutter_is_above_nothing(desk: Any) -> None:
    (fault,) = desk.faults(cell=[('edge_radius = "0.01 mm"', PRICED.replace("28", "0"))])
    assert str(fault).startswith('cell.toml:38: tool[1].price (tool "burr 8"): given 0; wanted a number above 0')
