"""How accurate and how stiff the robot has to be for the settings planned: what the limits leave of a worse one.

A limit on the figure alone does not tell. Position errors also change the stroke a device needs, the force of
a spring, the depth of a rigid tool and with them break, load and heat; an arm that yields adds to the path
error and chatters. So the steps are put under robots worse than theirs until a limit loses its margin.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Final

from finishplan import reference
from finishplan.job import LoadedJob
from finishplan.planning.better_robot import robot_stiffness, with_accuracy, with_stiffness
from finishplan.planning.feature import Step
from finishplan.planning.search import Found
from finishplan.process.limits import TOUCHING, highest_utilisation

MOST_LOOKS: Final = 60
"""Looks at other robots at most; a few do where nothing jumps."""

FAR_OVER: Final = 1.0
"""Excess beyond which it no longer matters by how much a limit loses its margin."""

RIGID: Final = 1e6
"""Times the stiffness of a robot that stand for one that does not yield."""

Works = Sequence[tuple[str, Sequence[Step]]]

Worse = Callable[[float], LoadedJob]
"""The job under a robot by how far it falls short of a perfect one, which zero stands for."""

STIFFNESS: Final = "robot.stiffness"
"""The stiffness among the figures an operation reads; behind most devices it reads none."""


@dataclass(frozen=True)
class Asked:
    """A figure asked of the robot, with the feature and the limit that ask for it; None for that on itself."""

    figure: float
    feature: str
    limit: str | None


def least_accuracy(loaded: LoadedJob, works: Works, start: Asked) -> Asked:
    """The largest path error under which every step keeps its margin at the settings planned.

    Parameters
    ----------
    loaded : LoadedJob
        The job with its cell.
    works : sequence of feature name and steps
        The steps planned.
    start : Asked
        What the limits on the path accuracy itself leave [m]; the result is no larger.

    Returns
    -------
    Asked
        Half-width [m]. Zero where no robot would do: a tolerance of the part is not kept even by a perfect
        one, and the better the nearer. What else a perfect robot does not mend is not asked of it.
    """
    return _least(lambda half_width: with_accuracy(loaded, half_width), works, start)


def least_stiffness(loaded: LoadedJob, works: Works) -> Asked | None:
    """The least stiffness under which every step keeps its margin at the settings planned.

    Parameters
    ----------
    loaded : LoadedJob
        The job with its cell.
    works : sequence of feature name and steps
        The steps planned.

    Returns
    -------
    Asked or None
        Stiffness at the tool [N/m]. None where the softest robot of any class would do; infinite where no
        robot would, as with the accuracy.
    """
    rigid = RIGID * robot_stiffness(loaded)

    def worse(compliance: float) -> LoadedJob:
        return with_stiffness(loaded, 1 / max(compliance, 1 / rigid))

    start = Asked(1 / softest(), "", None)
    asked = _least(worse, list(_yielding(works)), start)
    if asked is start:
        return None
    return replace(asked, figure=1 / asked.figure if asked.figure else float("inf"))


def _yielding(works: Works) -> Iterator[tuple[str, Sequence[Step]]]:
    for feature, steps in works:
        yield feature, [step for step in steps if STIFFNESS in step.found.operation.ledger.by_field]


def softest() -> float:
    """Stiffness of the softest robot of any class [N/m]."""
    classes = (reference.robot_class(name).stiffness for name in reference.names("robots"))
    return min(each.low or each.value for each in classes)


def _least(worse: Worse, works: Works, start: Asked) -> Asked:
    asked = start
    for feature, steps in works:
        for step in steps:
            asked = _closer(worse, feature, step.found, asked) if asked.figure else asked
    return asked


def _closer(worse: Worse, feature: str, found: Found, asked: Asked) -> Asked:
    """What a step leaves of a shortfall, found with few looks: most steps leave it as it is."""
    shares = cache(lambda shortfall: _shares(found, worse(shortfall)))
    lost = [name for name, share in shares(asked.figure).items() if share > 1 + TOUCHING]
    beyond = [name for name in lost if shares(0.0)[name] > 1 + TOUCHING]
    for name in beyond:
        if name in _tolerances(found) and shares(asked.figure)[name] > shares(0.0)[name] + TOUCHING:
            return Asked(0.0, feature, name)
    mended = [name for name in lost if name not in beyond]
    if not mended:
        return asked

    def excess(shortfall: float) -> tuple[float, str]:
        return max((min(shares(shortfall)[name] - 1, FAR_OVER), name) for name in mended)

    shortfall, limit = _touching(excess, asked.figure)
    return Asked(shortfall, feature, limit)


def _shares(found: Found, loaded: LoadedJob) -> Mapping[str, float]:
    """What the settings planned use up of every limit under another robot, at 1 where it keeps its margin exactly."""
    evaluation = found.operation.again(loaded).evaluate(found.settings, found.passes)
    return {limit.name: float(highest_utilisation([limit], found.margin)) for limit in evaluation.limits}


def _tolerances(found: Found) -> list[str]:
    return [limit.name for limit in found.evaluation.limits if limit.asked_of_the_part]


def _touching(excess: Callable[[float], tuple[float, str]], high: float) -> tuple[float, str]:
    """Where the excess passes zero between none and a shortfall that has some, by false position with halved ends."""
    low, (under, _), (over, limit), risen = 0.0, excess(0.0), excess(high), False
    for _ in range(MOST_LOOKS):
        middle = (low * over - high * under) / (over - under)
        there, limit = excess(middle)
        if abs(there) <= TOUCHING or not low < middle < high:
            return middle, limit
        if there > 0:
            under, high, over, risen = under if risen else under / 2, middle, there, False
        else:
            over, low, under, risen = over / 2 if risen else over, middle, there, True
    return low, limit
