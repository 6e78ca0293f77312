"""The cell of a job with another robot, all else equal."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from finishplan import reference
from finishplan.job import LoadedJob


def better_robots(loaded: LoadedJob) -> dict[str, LoadedJob]:
    """The job under each better robot, by what is better about it."""
    return {"twice as stiff": stiffer(loaded), "half the path error": closer(loaded)}


def stiffer(loaded: LoadedJob) -> LoadedJob:
    """The job under a robot twice as stiff."""
    return with_stiffness(loaded, 2 * robot_stiffness(loaded))


def closer(loaded: LoadedJob) -> LoadedJob:
    """The job under a robot with half the path error, its own figure or that of its class."""
    own = loaded.cell.robot
    return with_accuracy(loaded, (own.path_accuracy or reference.robot_class(own.kind).path_accuracy.value) / 2)


def robot_stiffness(loaded: LoadedJob) -> float:
    """Stiffness of the robot at the tool, its own figure or that of its class [N/m]."""
    own = loaded.cell.robot
    return own.stiffness or reference.robot_class(own.kind).stiffness.value


def with_accuracy(loaded: LoadedJob, half_width: float) -> LoadedJob:
    """The job under a robot of another path accuracy."""
    return _with_robot(loaded, path_accuracy=half_width)


def with_stiffness(loaded: LoadedJob, stiffness: float) -> LoadedJob:
    """The job under a robot of another stiffness, built as its own is.

    Where the cell states the stiffness in two directions, these change in the same ratio: in the same pose
    softer drives and links yield more in every direction alike. How far the directions differ, on which
    their coupling rests, changes with them.
    """
    directions, ratio = loaded.cell.robot.stiffness_directions, stiffness / robot_stiffness(loaded)
    if directions is None:
        return _with_robot(loaded, stiffness=stiffness)
    scaled = {"first": ratio * directions.first, "second": ratio * directions.second}
    return _with_robot(loaded, stiffness=stiffness, stiffness_directions=directions.model_copy(update=scaled))


def _with_robot(loaded: LoadedJob, **changes: Any) -> LoadedJob:
    robot = loaded.cell.robot.model_copy(update=changes)
    return replace(loaded, cell=loaded.cell.model_copy(update={"robot": robot}))
