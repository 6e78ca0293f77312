"""The least equipment that would do: for every kind of limit, what the hardest feature needs with margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishplan.planning.feature import Step
from finishplan.process.limits import Limit


@dataclass(frozen=True)
class Requirement:
    """One line of a quotation request. `needed` is in the SI unit of `kind`, margin included."""

    name: str
    sense: str
    needed: float
    available: float
    kind: str
    feature: str


_ASKED = {
    "highest spindle speed": "spindle speed",
    "spindle power": "spindle power at that speed",
    "spindle torque": "spindle torque at that speed",
    "rated speed of the tool": "rated speed of the tool",
    "highest device force": "contact force",
    "lowest device force": "lowest contact force",
    "compliance stroke each way": "compliance stroke each way",
    "path accuracy": "path accuracy of the robot, half-width",
    "robot stiffness": "robot stiffness at the tool",
    "robot payload": "robot payload",
    "wrist moment": "moment at the robot's wrist",
    "holding of the part": "holding force of each face, or pressing the part",
    "robot speed": "robot path speed",
}
"""Limits that are bought with equipment, and what the buyer asks for."""


def least_equipment(works: Sequence[tuple[str, Sequence[Step]]]) -> tuple[Requirement, ...]:
    """Requirements over all features, each with the feature that sets it."""
    rows = []
    for name, asked in _ASKED.items():
        offers = [
            (limit, feature, step.found.margin)
            for feature, steps in works
            for step in steps
            for limit in step.found.evaluation.limits
            if limit.name == name
        ]
        if offers:
            rows.append(_hardest(asked, offers))
    return tuple(rows)


def _hardest(asked: str, offers: Sequence[tuple[Limit, str, float]]) -> Requirement:
    first = offers[0][0]
    # what is asked of the bound is more for an upper limit; what is asked of the value is less
    more = (first.sense == "at most") == (first.asks_of == "bound")
    limit, feature, margin = (max if more else min)(offers, key=lambda offer: offer[0].needed(offer[2]))
    available = float(limit.bound if limit.asks_of == "bound" else limit.value)
    return Requirement(asked, "at least" if more else "at most", limit.needed(margin), available, limit.kind, feature)
