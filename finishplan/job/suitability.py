"""Which cutters and abrasives can work on a feature: by their kind, material, grits and size."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple

from finishplan import reference, units
from finishplan.job.written import either, entry
from finishplan.reference import AbrasiveFamily

RIGID_FAMILIES: Final = ("bonded wheel", "cut-off wheel")
"""Hard bodies that can be fed by position; every other abrasive is pressed on with a force that is set."""

WORKED_BY: Final[Mapping[str, tuple[str, ...]]] = {
    "edge": ("cutter", "belt", "wheel", "brush"),
    "surface": ("belt", "disc", "orbital", "wheel", "brush", "buff"),
    "removal": ("belt", "disc", "wheel", *RIGID_FAMILIES),
}
"""Kinds of tools that suit each kind of feature; see `kind_of`."""


def kind_of(family: AbrasiveFamily) -> str:
    """What kind of tool a family is: a rigid one goes by its own name, the others by the tool they run on."""
    return family.name if family.name in RIGID_FAMILIES else family.tool


@dataclass(frozen=True)
class Candidate:
    """A cutter or abrasive of the cell by what decides whether it suits; None stands for what is not known.

    `groups` are the material groups its family has windows for, `grits` is empty without graded
    grain, `pad` is the diameter of a pad that lies flat [m], and 0 for every other tool.
    """

    name: str
    kind: str | None
    groups: Collection[str] | None
    diameter: float | None
    grits: Collection[str] = ()
    pad: float | None = 0.0


def abrasive_candidate(
    name: str, family: AbrasiveFamily | None, grits: Collection[object], diameter: float | None, *, tilted: bool
) -> Candidate:
    """An abrasive of the cell as a candidate; it has no kind and no windows while its family is not known."""
    if family is None:
        return Candidate(name, None, None, diameter)
    pad = diameter if family.tool in {"disc", "orbital"} and not tilted else 0.0
    return Candidate(name, kind_of(family), family.windows, diameter, designations(grits), pad)


def designations(grits: Collection[object]) -> frozenset[str]:
    """Grits as the reference tables spell them; what they do not hold is left out."""
    found = (entry(reference.grit, grit) for grit in grits)
    return frozenset(grit.name for grit in found if grit is not None)


class Demand(NamedTuple):
    """One demand on a tool: what is wanted, and whether a candidate meets it."""

    wanted: str
    met: Callable[[Candidate], bool]


@dataclass(frozen=True)
class Work:
    """What a feature demands of its tools: their kind, the material they suit, a grit, and room for a pad.

    `room` is the shorter side of a surface [m]; `unit` is the one it is written in.
    """

    kinds: tuple[str, ...]
    group: str | None
    grits: frozenset[str] = frozenset()
    room: float = math.inf
    unit: str = "mm"

    def demands(self) -> Iterator[Demand]:
        """Every demand, the ones that decide most first. What is not known of a candidate meets all of them."""
        yield Demand(f"a {either(self.kinds)}", lambda tool: tool.kind in {None, *self.kinds})
        if self.group is not None:
            group = self.group
            yield Demand(
                f"a tool whose family has a window for {group}",
                lambda tool: tool.groups is None or group in tool.groups,
            )
        if self.grits:
            allowed = ", ".join(map(units.quoted, sorted(self.grits)))
            yield Demand(
                f"a tool with one of the grits allowed, {allowed}",
                lambda tool: not tool.grits or not self.grits.isdisjoint(tool.grits),
            )
        if math.isfinite(self.room):
            side = f"{self.room / units.KINDS['length'].factor(self.unit):g} {self.unit}"
            yield Demand(
                f"a pad no larger than the shorter side of the surface, {side}",
                lambda tool: tool.pad is None or tool.pad <= self.room,
            )

    def suits(self, tool: Candidate) -> bool:
        return all(demand.met(tool) for demand in self.demands())
