"""The same job under another cell: part carried instead of the tool, or a better robot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from finishplan.errors import Fault, JobError
from finishplan.job import LoadedJob
from finishplan.planning.better_robot import better_robots, closer, stiffer
from finishplan.planning.plan import Plan, make_plan

TOOL_TO_PART: Final = "tool to part"
PART_TO_TOOL: Final = "part to tool"
AS_IT_IS: Final = "this robot"


def plan_both(loaded: LoadedJob) -> dict[str, Plan]:
    """Plans with the tool carried and with the part carried.

    What is known of one arrangement is not taken for the other: offsets from the wrist and the
    time of a tool change belong to the job's own arrangement, and a gripper does not hold the part
    on a fixture.

    Raises
    ------
    JobError
        The job does not say what carrying the part asks for.
    """
    faults = tuple(_lacking(loaded))
    if faults:
        raise JobError(faults)
    turned = _turned(loaded)
    tool, part = (loaded, turned) if loaded.cell.arrangement == "tool-to-part" else (turned, loaded)
    return {TOOL_TO_PART: make_plan(tool), PART_TO_TOOL: make_plan(part)}


def _lacking(loaded: LoadedJob) -> Iterator[Fault]:
    cell, part = loaded.cell, loaded.job.part

    def fault(wanted: str, write: str, *location: str) -> Fault:
        place = loaded.where(*location)
        key = ".".join(location[1:] if location[0] == "cell" else location)
        return Fault(place.file, key, wanted, write=write, line=place.line)

    if cell.holding is None:
        yield fault(
            "the gripper, to compare with a part that is carried",
            "[holding] with kind, mass and the keys of its kind", "cell", "holding",
        )  # fmt: skip
    elif cell.holding.mass is None:
        wanted = "the mass of the gripper, to compare with a part that is carried"
        yield fault(wanted, 'mass = "4 kg"', "cell", "holding", "mass")
    if part.mass is None:
        yield fault("the mass of the part, to compare with a part that is carried", 'mass = "3 kg"', "part", "mass")


def _turned(loaded: LoadedJob) -> LoadedJob:
    cell = loaded.cell
    robot = cell.robot.model_copy(update={"wrist_moment": None})
    if cell.arrangement == "tool-to-part":
        changes = {"arrangement": "part-to-tool", "robot": robot, "tool_change_time": None, "rack": None}
    else:
        changes = {"arrangement": "tool-to-part", "robot": robot, "tool_change_time": None, "holding": None}
    return replace(loaded, cell=cell.model_copy(update=changes))


def plan_better_robots(loaded: LoadedJob) -> dict[str, Plan]:
    """Plans with the robot as it is, twice as stiff, with half the path error, and both.

    What the cell leaves out is that of the robot's class.
    """
    robots = {AS_IT_IS: loaded, **better_robots(loaded), "both": stiffer(closer(loaded))}
    return {name: make_plan(each) for name, each in robots.items()}
