"""The cell of a job with another robot, all else equal."""

from __future__ import annotations

from dataclasses import replace

from finishplan import reference
from finishplan.job import LoadedJob


def better_robots(loaded: LoadedJob) -> dict[str, LoadedJob]:
    """The job under each better robot, by what is better about it."""
    return {"twice as stiff": stiffer(loaded), "half the path error": closer(loaded)}


def stiffer(loaded: LoadedJob) -> LoadedJob:
    """The job under a robot twice as stiff, its own figure or that of its class."""
    own = loaded.cell.robot
    return with_robot(loaded, stiffness=2 * (own.stiffness or reference.robot_class(own.kind).stiffness.value))


def closer(loaded: LoadedJob) -> LoadedJob:
    """The job under a robot with half the path error, its own figure or that of its class."""
    own = loaded.cell.robot
    return with_robot(
        loaded, path_accuracy=(own.path_accuracy or reference.robot_class(own.kind).path_accuracy.value) / 2
    )


def with_robot(loaded: LoadedJob, **changes: float) -> LoadedJob:
    """The job under a robot of which some figures differ."""
    robot = loaded.cell.robot.model_copy(update=changes)
    return replace(loaded, cell=loaded.cell.model_copy(update={"robot": robot}))
