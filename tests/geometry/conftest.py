"""A drawing sheet to draw edges on, written to a file and read back through the public reader."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from finishplan.geometry.drawing import DrawingEdges, read_chains

MILLIMETRES = 4


@dataclass
class Sheet:
    """An unsaved drawing with a layer EDGES; `model` takes entities, `on` names their layer."""

    path: Path
    document: Any
    on: dict[str, str]

    @property
    def model(self) -> Any:
        return self.document.modelspace()

    def save(self) -> Path:
        self.document.saveas(self.path)
        return self.path

    def read(self, layer: str = "EDGES", unit: str | None = None) -> DrawingEdges:
        return read_chains(self.save(), layer, unit, "part.dxf")


@pytest.fixture
def sheet(tmp_path: Path) -> Sheet:
    document = ezdxf.new("R2010", units=MILLIMETRES)
    document.layers.add("EDGES")
    return Sheet(tmp_path / "part.dxf", document, {"layer": "EDGES"})
