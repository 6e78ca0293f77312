"""Job and cell files: what may be written in them, how they are loaded, and what is said about their faults."""

from __future__ import annotations

from finishplan.job.loading import LoadedJob, Place, load_job
from finishplan.job.model import (
    Burr,
    Cell,
    CellFile,
    Compliance,
    CurvePoint,
    Edge,
    EdgeBreak,
    ErrorBudget,
    Job,
    JobSection,
    Part,
    Robot,
    Spindle,
    Tool,
    Waviness,
)
from finishplan.job.schema import json_schema
from finishplan.job.starter import starter_text

__all__ = [
    "Burr",
    "Cell",
    "CellFile",
    "Compliance",
    "CurvePoint",
    "Edge",
    "EdgeBreak",
    "ErrorBudget",
    "Job",
    "JobSection",
    "LoadedJob",
    "Part",
    "Place",
    "Robot",
    "Spindle",
    "Tool",
    "Waviness",
    "json_schema",
    "load_job",
    "starter_text",
]
