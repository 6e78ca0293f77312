"""The least equipment that would do: for every kind of limit, what the hardest feature needs with margin."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, Literal, Protocol

from finishplan import physics
from finishplan.job import LoadedJob
from finishplan.planning.better_robot import robot_stiffness
from finishplan.planning.robot_needed import Asked, Works, least_accuracy, least_stiffness
from finishplan.planning.search import Found
from finishplan.process.limits import Limit

Sense = Literal["at least", "at most"]

PATH_ACCURACY: Final = "path accuracy of the robot, half-width"

ROBOT_STIFFNESS: Final = "robot stiffness at the tool"

LEAST_USED: Final = 0.1
"""Share of a limit that has to be used for the figure behind it to be asked for."""


@dataclass(frozen=True)
class Requirement:
    """One line of a quotation request. `needed` is in the SI unit of `kind`, margin included.

    `limit` is named where it is another than that of the figure itself. Where nothing on offer would do, at most
    zero is needed, or at least an infinite amount.
    """

    name: str
    sense: Sense
    needed: float
    available: float
    kind: str
    feature: str
    limit: str | None = None

    @property
    def attainable(self) -> bool:
        """Whether any equipment would do."""
        return 0.0 < self.needed < float("inf")


class Asking(Protocol):
    """What a buyer asks for because of a limit."""

    @property
    def name(self) -> str: ...

    def requirement(self, limit: Limit, found: Found, feature: str) -> Requirement | None:
        """What a feature asks for; None where any would do."""
        ...


@dataclass(frozen=True)
class Itself:
    """The figure of the limit is what is bought: its bound, or its value where the equipment brings that."""

    name: str

    def requirement(self, limit: Limit, found: Found, feature: str) -> Requirement:
        available = float(limit.bound if limit.asks_of == "bound" else limit.value)
        return Requirement(self.name, limit.needed_sense, limit.needed(found.margin), available, limit.kind, feature)


@dataclass(frozen=True)
class Behind:
    """A figure behind the limit is bought, of which the share used goes with a power.

    `figure` finds it in the conditions of the operation; a negative power is that of a figure of which less
    is better. Where next to nothing of the limit is used, the figure is too far off to be asked for.
    """

    name: str
    kind: str
    power: float
    figure: Callable[[Any], Any]

    def requirement(self, limit: Limit, found: Found, feature: str) -> Requirement | None:
        available = float(self.figure(found.operation.conditions))
        reserve = 1.0 - (found.margin if limit.keeps_margin else 0.0)
        used = float(limit.utilisation)
        if not (available > 0 and LEAST_USED < used < float("inf")):
            return None
        needed = available * (used / reserve) ** (1 / self.power)
        return Requirement(
            self.name, "at least" if self.power > 0 else "at most", needed, available, self.kind, feature
        )


def _suspension_frequency(conditions: Any) -> Any:
    return physics.natural_frequency(conditions.mount.stiffness, conditions.mount.moving_mass)


_ASKED: Final[Mapping[str, Asking]] = {
    "highest spindle speed": Itself("spindle speed"),
    "lowest spindle speed": Itself("lowest spindle speed"),
    "spindle power": Itself("spindle power at that speed"),
    "spindle torque": Itself("spindle torque at that speed"),
    "rated speed of the tool": Itself("rated speed of the tool"),
    "highest device force": Itself("contact force"),
    "lowest device force": Itself("lowest contact force"),
    "friction of the device": Behind(
        "hysteresis of the device", "force", -1.0, lambda conditions: 2 * conditions.mount.friction
    ),
    "compliance stroke each way": Itself("compliance stroke each way"),
    "force loop on the waviness": Behind(
        "bandwidth of the force loop", "frequency", 1.0, lambda conditions: conditions.mount.bandwidth
    ),
    "form error followed by the suspension": Behind(
        "natural frequency of the suspension", "frequency", 1.0, _suspension_frequency
    ),
    "loss of contact on the waviness": Behind(
        "moving mass behind the tool", "mass", -0.5, lambda conditions: conditions.mount.moving_mass
    ),
    "path accuracy": Itself(PATH_ACCURACY),
    "robot payload": Itself("robot payload"),
    "wrist moment": Itself("moment at the robot's wrist"),
    "holding of the part": Itself("holding force of each face, or pressing the part"),
    "robot speed": Itself("robot path speed"),
}
"""Limits that are bought with equipment, in the order of a quotation, and what the buyer asks for.

How stiff the robot has to be follows the path accuracy; no limit tells it alone.
"""


def least_equipment(loaded: LoadedJob, works: Works) -> tuple[Requirement, ...]:
    """Requirements over all features, each with the feature that sets it, all else as it is in the cell."""
    offers: dict[str, list[Requirement]] = {asked.name: [] for asked in _ASKED.values()}
    for requirement in _requirements(works):
        offers[requirement.name].append(requirement)
    hardest = (_hardest(each) for each in offers.values() if each)
    return tuple(
        line for each in hardest for line in (_robot(loaded, works, each) if each.name == PATH_ACCURACY else (each,))
    )


def _robot(loaded: LoadedJob, works: Works, itself: Requirement) -> Iterator[Requirement]:
    """Accuracy and stiffness that every limit leaves the robot; `itself` is what those on the accuracy leave."""
    accuracy = least_accuracy(loaded, works, Asked(itself.needed, itself.feature, None))
    yield replace(itself, needed=accuracy.figure, feature=accuracy.feature, limit=accuracy.limit)
    stiffness = least_stiffness(loaded, works)
    if stiffness is not None:
        yield Requirement(
            ROBOT_STIFFNESS, "at least", stiffness.figure, robot_stiffness(loaded), "stiffness",
            stiffness.feature, stiffness.limit,
        )  # fmt: skip


def _requirements(works: Works) -> Iterator[Requirement]:
    for feature, steps in works:
        for step in steps:
            for limit in step.found.evaluation.limits:
                if limit.name in _ASKED:
                    requirement = _ASKED[limit.name].requirement(limit, step.found, feature)
                    if requirement is not None:
                        yield requirement


def _hardest(offers: Sequence[Requirement]) -> Requirement:
    return (max if offers[0].sense == "at least" else min)(offers, key=lambda offer: offer.needed)
