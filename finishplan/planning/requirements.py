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
    "robot payload": "robot payload",
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
    sense = offers[0][0].sense
    choose = max if sense == "at most" else min
    limit, feature, margin = choose(offers, key=lambda offer: offer[0].needed_bound(offer[2]))
    wanted = "at least" if sense == "at most" else "at most"
    return Requirement(asked, wanted, limit.needed_bound(margin), float(limit.bound), limit.kind, feature)
