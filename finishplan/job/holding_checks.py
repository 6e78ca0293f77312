"""Checks of what the robot carries and of what holds the part, as they were written."""

from __future__ import annotations

from collections.abc import Iterator

from finishplan.errors import Fault
from finishplan.job.source import Portion
from finishplan.job.written import material


def holding_faults(job: Portion, cell: Portion) -> Iterator[Fault]:
    """What a robot that carries the part needs to know, and holding that the material does not allow."""
    holding, part = cell.data.get("holding"), job.data.get("part")
    carries_part = cell.data.get("arrangement") == "part-to-tool"
    if carries_part and holding is None:
        yield cell.fault(
            ("arrangement",),
            "a table of the gripper beside it, for the robot carries the part",
            write="[holding] with kind, mass and the keys of its kind",
        )
    if not isinstance(holding, dict):
        return
    if carries_part and "mass" not in holding:
        yield cell.fault(
            ("holding", "mass"), "the mass of the gripper, for the robot carries it", write='mass = "4 kg"'
        )
    if isinstance(part, dict) and "mass" not in part:
        yield job.fault(("part", "mass"), "the mass of the part, for its holding is checked", write='mass = "3 kg"')
    held = material(job)
    if holding.get("kind") == "magnet" and held is not None and held.group != "ferrous":
        yield cell.fault(
            ("holding", "kind"), f"clamps, jaws or vacuum, for magnets do not hold {held.name}", write='kind = "jaws"'
        )
