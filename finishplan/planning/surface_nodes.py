"""What may stand in a sequence on a surface: a grit on a tool, or a tool that refines what the last grit left."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from finishplan import physics, reference
from finishplan.job import Abrasive as AbrasiveEntry
from finishplan.planning.abrasive_setup import AbrasiveDesk, refinement_of
from finishplan.planning.surface_operation import SurfaceAbrasion, surface_abrasion
from finishplan.planning.surface_refining import surface_refining
from finishplan.planning.surface_setup import Covering, StepTask, refining_setup, surface_setup
from finishplan.reference import Grit


@dataclass(frozen=True)
class Node:
    """One grit on one tool of the cell."""

    abrasive: AbrasiveEntry
    grit: Grit
    step_ratio: float
    floor: float

    @property
    def grain_size(self) -> float:
        return self.grit.size.value

    def leaves(self, before: float) -> float:
        """Roughness it tends to, whatever was there before [m]."""
        return self.floor

    def removal(self, before: float, asked: float | None) -> float:
        """Depth asked for, or else the scratches that are there before [m]."""
        if asked is not None:
            return asked
        return float(
            physics.scratch_removal(
                reference.default("scratch_removal_factor").value,
                reference.default("roughness_depth_ratio").value,
                before,
            )
        )

    def operation(self, desk: AbrasiveDesk, covering: Covering, task: StepTask) -> SurfaceAbrasion:
        """The grit at work on a surface."""
        return surface_abrasion(surface_setup(desk, covering, task))


@dataclass(frozen=True)
class RefiningNode:
    """One tool of the cell without graded grain."""

    abrasive: AbrasiveEntry
    refinement: float
    grit: None = None

    def leaves(self, before: float) -> float:
        """A share of the roughness before [m]."""
        return self.refinement * before

    def removal(self, before: float, asked: float | None) -> float:
        """No depth worth counting [m]."""
        return 0.0

    def operation(self, desk: AbrasiveDesk, covering: Covering, task: StepTask) -> SurfaceAbrasion:
        """The tool at work on a surface."""
        return surface_refining(refining_setup(desk, covering, task))


AnyNode: TypeAlias = Node | RefiningNode


def grit_node(desk: AbrasiveDesk) -> Node:
    """The grit of a desk as a step of a sequence."""
    assert desk.family.grain is not None
    assert desk.grit is not None
    ratio = desk.family.grain.step_ratio
    floor = desk.family.roughness_factor(desk.group).value * desk.grit.size.value
    return Node(desk.abrasive, desk.grit, ratio.high or ratio.value, floor)


def refining_node(desk: AbrasiveDesk) -> RefiningNode:
    """The tool of a desk as the last step of a sequence."""
    return RefiningNode(desk.abrasive, refinement_of(desk).value)
