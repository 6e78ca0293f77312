"""What is shown of the cell as a whole: parts in a shift, the load of its robot, and its tool rack."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from finishplan.planning.plan import Plan
from finishplan.planning.rack import rack
from finishplan.planning.throughput import highest_load
from finishplan.report.figures import CellRows, Figure

LOADED: Final = {"robot payload": "payload", "wrist moment": "wrist moment"}
"""Limits of the robot that its load is held against, and what they are called beside it."""


def cell_rows(plan: Plan) -> CellRows:
    """Time of the cell per part, what it makes of shift and batch, and what the robot does meanwhile."""
    made = plan.throughput
    return CellRows(
        per_part=Figure("time_per_part", "time per part", made.per_part, "time"),
        added=(
            Figure("part_change_time", "change of the part", made.part_change, "time"),
            Figure("renewal_time", "changes of worn tools", made.renewal or None, "time"),
        ),
        shift=Figure("shift_length", "shift", made.shift, "duration"),
        parts=Figure("parts_per_shift", "parts in a shift", int(made.parts_per_shift)),
        batch=Figure("shifts_for_batch", "shifts for the batch", made.shifts_for_batch, "number"),
        robot=tuple(
            Figure(f"{doing.replace(' ', '_')}_share", doing, share, "fraction") for doing, share in made.robot.items()
        ),
        loads=tuple(_loads(plan)),
    )


def rack_rows(plan: Plan) -> Iterator[tuple[Figure, ...]]:
    """How the rack is loaded, in the order of first use."""
    works = [(feature.name, feature.chosen.steps) for feature in plan.features]
    for place in rack(plan.loaded, plan.cycle, works):
        yield (
            Figure("slot", "slot", place.slot),
            Figure("tool", "tool", ", ".join(place.mounted)),
            Figure("spindle", "spindle", place.spindle),
            Figure("features", "for", "; ".join(place.features)),
        )


def _loads(plan: Plan) -> Iterator[tuple[Figure, Figure]]:
    """Share used at most of what the robot bears, and the feature that sets it."""
    works = [(feature.name, feature.chosen.steps) for feature in plan.features]
    for limit, name in LOADED.items():
        load, key = highest_load(works, limit), name.replace(" ", "_")
        if load is not None:
            yield Figure(f"{key}_used", name, load.share, "fraction"), Figure(f"{key}_set_by", "set by", load.feature)
