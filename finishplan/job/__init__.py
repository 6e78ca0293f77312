"""Job and cell files: what may be written in them, how they are loaded, and what is said about their faults."""

from __future__ import annotations

from finishplan.job.loading import Feature, LoadedJob, Place, load_job
from finishplan.job.model import (
    Abrasive,
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
    Removal,
    Robot,
    Spindle,
    Surface,
    Tool,
    Waviness,
)
from finishplan.job.schema import json_schema
from finishplan.job.starter import Process, starter_text

__all__ = [
    "Abrasive",
    "Burr",
    "Cell",
    "CellFile",
    "Compliance",
    "CurvePoint",
    "Edge",
    "EdgeBreak",
    "ErrorBudget",
    "Feature",
    "Job",
    "JobSection",
    "LoadedJob",
    "Part",
    "Place",
    "Process",
    "Removal",
    "Robot",
    "Spindle",
    "Surface",
    "Tool",
    "Waviness",
    "json_schema",
    "load_job",
    "starter_text",
]
