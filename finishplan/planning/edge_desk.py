"""The desk of a feature under a cutter, and that of an edge."""

from __future__ import annotations

from dataclasses import dataclass

from finishplan import reference
from finishplan.job import Edge, LoadedJob, Tool
from finishplan.planning.desk import Desk, drive_of
from finishplan.planning.ledger import Ledger
from finishplan.reference import CutterFamily


@dataclass(frozen=True, eq=False)
class CutterDesk(Desk):
    """One feature under one cutter."""

    tool: Tool
    family: CutterFamily

    @property
    def at(self) -> tuple[str, int]:
        return "tool", self.loaded.cell.tool.index(self.tool)


@dataclass(frozen=True, eq=False)
class EdgeDesk(CutterDesk):
    """One edge under one cutter."""

    edge: Edge


def open_edge_desk(loaded: LoadedJob, index: int, tool: Tool) -> EdgeDesk:
    """Look up everything edge number `index` needs under a cutter of the cell."""
    edge = loaded.job.edge[index]
    spindle, device = drive_of(loaded, tool)
    workpiece = reference.workpiece(loaded.job.part.material)
    return EdgeDesk(
        loaded, "edge", index, edge, spindle, device, workpiece, Ledger(), tool, reference.cutter(tool.family), edge
    )
