"""What the builders of conditions share: the job, the entries of the tables, and the ledger they write to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from finishplan import reference
from finishplan.job import Compliance, Edge, LoadedJob, Spindle, Tool
from finishplan.planning.ledger import Ledger
from finishplan.reference import CutterFamily, Value, Workpiece

Location = Sequence[str | int]


@dataclass(frozen=True, eq=False)
class Desk:
    """One edge under one tool, with everything that is looked up for it."""

    loaded: LoadedJob
    index: int
    edge: Edge
    tool: Tool
    spindle: Spindle
    device: Compliance | None
    workpiece: Workpiece
    family: CutterFamily
    ledger: Ledger

    def place(self, *location: str | int) -> str:
        """File, line and key of an entry, as the user finds it."""
        place = self.loaded.where(*location)
        return f"{place.file}:{place.line} {'.'.join(str(part) for part in location if not isinstance(part, int))}"

    def edge_figure(self, field: str, value: float, quantity: str, *keys: str) -> np.float64:
        """A figure of the edge's own section."""
        return self.ledger.given(f"edge.{field}", value, quantity, self.place("edge", self.index, *keys))

    def cell_figure(self, field: str, value: float, quantity: str, *location: str | int) -> np.float64:
        """A figure of the cell."""
        return self.ledger.given(field, value, quantity, self.place("cell", *location), kind="cell")

    def cell_or_default(
        self, field: str, value: float | None, quantity: str, location: Location, default_name: str
    ) -> np.float64:
        """A figure of the cell, or the named default where the cell is silent."""
        if value is None:
            return self.ledger.assumed(field, default_name, quantity)
        return self.cell_figure(field, value, quantity, *location)

    def cell_or_class(
        self, field: str, value: float | None, quantity: str, location: Location, kind: str, entry: Value
    ) -> np.float64:
        """A figure of the cell, or that of the equipment's class."""
        if value is None:
            return self.ledger.assumed_of_class(field, entry, quantity, kind)
        return self.cell_figure(field, value, quantity, *location)


def open_desk(loaded: LoadedJob, index: int, tool: Tool) -> Desk:
    """Look up everything edge number `index` needs under a tool of the cell."""
    cell = loaded.cell
    spindle = next(spindle for spindle in cell.spindle if spindle.name == tool.spindle)
    device = next((device for device in cell.compliance if device.name == spindle.compliance), None)
    return Desk(
        loaded,
        index,
        loaded.job.edge[index],
        tool,
        spindle,
        device,
        reference.workpiece(loaded.job.part.material),
        reference.cutter(tool.family),
        Ledger(),
    )
