"""Geometry of what is finished, read from drawings."""

from __future__ import annotations

from finishplan.geometry.chain import Chain
from finishplan.geometry.drawing import DrawingEdges, read_chains

__all__ = ["Chain", "DrawingEdges", "read_chains"]
