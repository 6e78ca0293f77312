"""Which cutters and abrasives can work on a feature: by their kind, material, mount, grits and size."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple

from finishplan import reference, units
from finishplan.job.written import either, entry
from finishplan.reference import AbrasiveFamily, CutterFamily
from finishplan.reference.cutters import GEOMETRIES

RIGID_KINDS: Final[Mapping[str, str]] = {"cut-off": "cut-off wheel", "grit router": "grit router"}
"""Kinds of tools whose abrasives are hard bodies, by what those are called."""

RIGID_FAMILIES: Final = ("bonded wheel",)
"""Hard bodies among the kinds of tools that are pressed on elsewhere; a rigid family can be fed by position."""

WORKED_BY: Final[Mapping[str, tuple[str, ...]]] = {
    "edge": ("cutter", "belt", "wheel", "brush"),
    "surface": ("belt", "disc", "orbital", "wheel", "brush", "buff"),
    "removal": ("belt", "disc", "wheel", "bonded wheel", "cut-off wheel"),
    "contour": ("router", "end mill", "burr", "saw blade", "cut-off wheel", "grit router"),
}
"""Kinds of tools that suit each kind of feature; see `kind_of`. "cutter" stands for cutters of any geometry on a
shank."""

FED_BY_DEPTH: Final = ("wheel", "brush")
"""Kinds of abrasives that yield themselves, so that an edge may be worked by a set depth on a rigid spindle as well."""

PRESSED_ON: Final = ("surface", "removal")
"""Kinds of features that wheels and brushes work under a set force alone."""

TAKEN_OFF: Final = ("edge", "removal")
"""Kinds of features where stock has to go, so that a tool without graded grain is of no use."""

CUT_ALONG_A_PATH: Final = ("contour",)
"""Kinds of features whose shape is that of the path, so that nothing may yield between robot and cutter."""


def takes_cutters(kinds: Collection[str]) -> bool:
    """Whether cutters are among the kinds of tools."""
    return not {"cutter", *GEOMETRIES}.isdisjoint(kinds)


def takes_abrasives(kinds: Collection[str]) -> bool:
    """Whether abrasives are among the kinds of tools."""
    return not set(kinds) <= {"cutter", *GEOMETRIES}


def kind_of(family: AbrasiveFamily) -> str:
    """What kind of tool a family is: a rigid one goes by a name of its own, the others by the tool they run on."""
    return family.name if family.name in RIGID_FAMILIES else RIGID_KINDS.get(family.tool, family.tool)


def is_rigid(family: AbrasiveFamily) -> bool:
    """Whether a family is a hard body, which needs no device that sets its force."""
    return family.name in RIGID_FAMILIES or family.tool in RIGID_KINDS


@dataclass(frozen=True)
class Candidate:
    """A cutter or abrasive of the cell by what decides whether it suits; None stands for what is not known.

    `groups` are the material groups its family has windows for, `grits` is empty without graded
    grain, `pad` is the diameter of a pad that lies flat [m], and 0 for every other tool. `rigid` says
    whether the robot carries its spindle without a compliance device, `graded` whether its grain is
    graded; a product without graded grain takes nothing off.
    """

    name: str
    kind: str | None
    groups: Collection[str] | None
    diameter: float | None
    grits: Collection[str] = ()
    pad: float | None = 0.0
    rigid: bool | None = None
    graded: bool | None = None


def cutter_candidate(
    name: str, family: CutterFamily | None, diameter: float | None, kinds: Collection[str], *, rigid: bool | None
) -> Candidate:
    """A cutter of the cell as a candidate for work that takes any cutter, or some geometries alone."""
    if family is None:
        return Candidate(name, None, None, diameter, rigid=rigid)
    kind = "cutter" if "cutter" in kinds and not family.is_disc else family.geometry
    return Candidate(name, kind, family.windows, diameter, rigid=rigid)


def abrasive_candidate(
    name: str,
    family: AbrasiveFamily | None,
    grits: Collection[object],
    diameter: float | None,
    *,
    tilted: bool,
    rigid: bool | None = None,
) -> Candidate:
    """An abrasive of the cell as a candidate; it has no kind and no windows while its family is not known."""
    if family is None:
        return Candidate(name, None, None, diameter, rigid=rigid)
    pad = diameter if family.tool in {"disc", "orbital"} and not tilted else 0.0
    graded = family.grain is not None
    return Candidate(name, kind_of(family), family.windows, diameter, designations(grits), pad, rigid, graded)


def fed_by_depth(family: AbrasiveFamily) -> bool:
    """Whether an edge may be worked with it on a rigid spindle: it yields itself, and takes stock off."""
    return kind_of(family) in FED_BY_DEPTH and family.grain is not None


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
    """What a feature demands of its tools: their kind, the material they suit, a mount, a grit, and room for a pad.

    `rigid` asks for a spindle without compliance, `pressed` for one with it where either would do, and
    `graded` for graded grain. `room` is the shorter side of a surface [m]; `unit` is the one it is written in.
    """

    kinds: tuple[str, ...]
    group: str | None
    grits: frozenset[str] = frozenset()
    room: float = math.inf
    unit: str = "mm"
    rigid: bool = False
    pressed: bool = False
    graded: bool = False

    def demands(self) -> Iterator[Demand]:
        """Every demand, the ones that decide most first. What is not known of a candidate meets all of them."""
        yield Demand(f"a {either(self.kinds)}", lambda tool: tool.kind in {None, *self.kinds})
        if self.group is not None:
            group = self.group
            yield Demand(
                f"a tool whose family has a window for {group}",
                lambda tool: tool.groups is None or group in tool.groups,
            )
        if self.rigid:
            yield Demand("a tool on a spindle without a compliance device", lambda tool: tool.rigid is not False)
        if self.pressed:
            yield Demand(
                "a tool on a spindle with a compliance device",
                lambda tool: not (tool.rigid and tool.graded and tool.kind in FED_BY_DEPTH),
            )
        if self.graded:
            yield Demand(
                "a tool with graded grain, for any other only refines a surface",
                lambda tool: tool.graded is not False,
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


def work_on(
    kind: str, group: str | None, grits: frozenset[str] = frozenset(), room: float = math.inf, unit: str = "mm"
) -> Work:
    """What a kind of feature demands of its tools."""
    rigid, pressed, graded = (kind in kinds for kinds in (CUT_ALONG_A_PATH, PRESSED_ON, TAKEN_OFF))
    return Work(WORKED_BY[kind], group, grits, room, unit, rigid, pressed, graded)
