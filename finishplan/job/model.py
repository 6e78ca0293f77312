"""The job file as pydantic models: what may be written, and what it means in SI units.

Every physical field is text with a unit in the file and an SI float here. A field left out that
has a named default in ``materials/defaults.toml`` stays None here; the plan fills it in and lists
it among its assumptions.
"""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal

from pydantic import Discriminator, Field, Tag, ValidationInfo, field_validator

from finishplan.job.cell import (
    Cell,
    CellFile,
    CurvePoint,
    ErrorBudget,
    Robot,
    Spindle,
    StiffnessDirections,
)
from finishplan.job.compliance import Compliance
from finishplan.job.content import Composition, Suspect, lone_none
from finishplan.job.contour import Contour, Tabs
from finishplan.job.costs import Costs, Manual
from finishplan.job.edge import Burr, Edge, EdgeBreak
from finishplan.job.feature import Waviness
from finishplan.job.fields import Mass, Name, Section, Share, require
from finishplan.job.holding import Holding
from finishplan.job.installed import Installed
from finishplan.job.surface import Removal, Surface
from finishplan.job.tools import Abrasive, Tool

__all__ = [
    "CELL_FORMS",
    "Abrasive",
    "Burr",
    "Cell",
    "CellFile",
    "Compliance",
    "Composition",
    "Contour",
    "Costs",
    "CurvePoint",
    "Edge",
    "EdgeBreak",
    "ErrorBudget",
    "Holding",
    "Installed",
    "Job",
    "JobSection",
    "Manual",
    "Part",
    "Removal",
    "Robot",
    "Section",
    "Spindle",
    "StiffnessDirections",
    "Surface",
    "Tabs",
    "Tool",
    "Waviness",
]


class JobSection(Section):
    """What is planned, and how it is to be shown."""

    title: Name = Field(description="What the job is called.", examples=["housing, outer edges"])
    units: Literal["metric", "inch"] = Field(
        default="metric", description="Units of the results; the job itself may use any.", examples=["metric"]
    )
    batch: Annotated[int, Field(ge=1, le=1_000_000_000)] | None = Field(
        default=None, description="Number of parts.", examples=[500]
    )
    margin: Share | None = Field(default=None, description="Distance kept to every limit.", examples=["20 %"])


class Part(Section):
    """The workpiece."""

    material: Name = Field(description="Material in the reference tables.", examples=["EN AC-46000"])
    cutting_force_factor: Annotated[float, Field(gt=0, le=5)] | None = Field(
        default=None, description="Cutting force of this part over that of the reference tables.", examples=[1.1]
    )
    removal_factor: Annotated[float, Field(gt=0, le=10)] | None = Field(
        default=None, description="What abrasives take off this part over that of the reference tables.", examples=[0.8]
    )
    mass: Mass | None = Field(
        default=None, description="Mass of the part, where its holding counts.", examples=["3 kg"]
    )
    composition: Composition | None = Field(
        default=None,
        description="Mass shares by certificate, for the limits of its dust; what is left out counts as absent.",
    )
    coating_content: list[Suspect] | None = Field(
        default=None, description="What a test found in the coating or filler that is worked.", examples=[["none"]]
    )

    _lone_none = field_validator("coating_content")(lone_none)


CELL_FORMS: Final[dict[str, type[Section]]] = {"cell in the job": Cell, "cell in its own file": CellFile}
"""Both forms of the cell table by the tag that pydantic puts into the location of a fault."""


def _cell_form(value: Any) -> str:
    names_file = isinstance(value, CellFile) or (isinstance(value, dict) and "file" in value)
    return "cell in its own file" if names_file else "cell in the job"


class Job(Section):
    """A whole job file."""

    job: JobSection = Field(description="What is planned.")
    part: Part = Field(description="The workpiece.")
    cell: Annotated[
        Annotated[Cell, Tag("cell in the job")] | Annotated[CellFile, Tag("cell in its own file")],
        Discriminator(_cell_form),
    ] = Field(description="The cell, or the name of the file that holds it.")
    manual: Manual | None = Field(default=None, description="The same work by hand, to compare with.")
    edge: list[Edge] = Field(default=[], description="Edges to be deburred, one table each.")
    surface: list[Surface] = Field(default=[], description="Surfaces to be sanded, one table each.")
    contour: list[Contour] = Field(default=[], description="Contours to be trimmed, one table each.")
    removal: list[Removal] = Field(
        default=[], description="Gates, parting lines and weld beads, one table each.", validate_default=True
    )

    @field_validator("removal")
    @classmethod
    def _some_feature(cls, removal: list[Removal], info: ValidationInfo) -> list[Removal]:
        others = [info.data.get(kind, [None]) for kind in ("edge", "surface", "contour")]
        require(
            any([removal, *others]),
            "at least one feature: an edge, a surface, a contour or a removal",
            "[[edge]], [[surface]], [[contour]] or [[removal]]",
        )
        return removal
