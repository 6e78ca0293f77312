"""What the builders of conditions share: the job, the entries of the tables, and the ledger they write to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, Self

import numpy as np

from finishplan.job import Abrasive, Compliance, Contour, Edge, LoadedJob, Removal, Spindle, Surface, Tool
from finishplan.planning.ledger import Ledger
from finishplan.reference import Value, Workpiece

Location = Sequence[str | int]


@dataclass(frozen=True, eq=False)
class Desk:
    """One feature under one tool, with everything that is looked up for it."""

    loaded: LoadedJob
    section: Literal["edge", "surface", "contour", "removal"]
    index: int
    feature: Edge | Surface | Contour | Removal
    spindle: Spindle
    device: Compliance | None
    workpiece: Workpiece
    ledger: Ledger

    def anew(self, loaded: LoadedJob | None = None) -> Self:
        """The same desk with an empty ledger, in another cell if one is given."""
        return replace(self, ledger=Ledger(), loaded=loaded or self.loaded)

    def place(self, *location: str | int) -> str:
        """File, line and key of an entry, as the user finds it."""
        place = self.loaded.where(*location)
        return f"{place.file}:{place.line} {'.'.join(str(part) for part in location if not isinstance(part, int))}"

    def figure(self, field: str, value: float, quantity: str, *keys: str) -> np.float64:
        """A figure of the feature's own section of the job."""
        return self.ledger.given(field, value, quantity, self.place(self.section, self.index, *keys))

    def figure_or_default(
        self, field: str, value: float | None, quantity: str, keys: Sequence[str], default_name: str
    ) -> np.float64:
        """A figure of the feature's own section, or the named default where it is silent."""
        if value is None:
            return self.ledger.assumed(field, default_name, quantity)
        return self.figure(field, value, quantity, *keys)

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


def drive_of(loaded: LoadedJob, tool: Tool | Abrasive) -> tuple[Spindle, Compliance | None]:
    """The spindle that turns a tool, and the device that carries the spindle."""
    spindle = next(spindle for spindle in loaded.cell.spindle if spindle.name == tool.spindle)
    return spindle, next((device for device in loaded.cell.compliance if device.name == spindle.compliance), None)
