"""Cost of a part and of the cell that makes it.

Money counts as a pure number, in whatever currency the job states; rates are money per second.
"""

from __future__ import annotations

from finishplan.physics.cost.cell import cost_rate, machine_rate, part_rate, payback_time
from finishplan.physics.cost.part import (
    abrasive_cost,
    energy_cost,
    energy_per_part,
    labour_cost,
    machine_cost,
    part_cost,
    tool_cost,
)

__all__ = [
    "abrasive_cost",
    "cost_rate",
    "energy_cost",
    "energy_per_part",
    "labour_cost",
    "machine_cost",
    "machine_rate",
    "part_cost",
    "part_rate",
    "payback_time",
    "tool_cost",
]
