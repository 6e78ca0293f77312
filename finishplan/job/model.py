"""The job file as pydantic models: what may be written, and what it means in SI units.

Every physical field is text with a unit in the file and an SI float here. A field left out that
has a named default in ``materials/defaults.toml`` stays None here; the plan fills it in and lists
it among its assumptions.
"""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal

from pydantic import Discriminator, Field, Tag, ValidationInfo, field_validator

from finishplan.job.cell import Cell, CellFile, Compliance, CurvePoint, ErrorBudget, Robot, Spindle, Tool
from finishplan.job.fields import Angle, Length, LengthOrZero, Name, PlusMinus, Section, Share, require

__all__ = [
    "CELL_FORMS",
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
    "Part",
    "Robot",
    "Section",
    "Spindle",
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


class Burr(Section):
    """The burr on an edge: a triangle or a rectangle standing on its root."""

    height: LengthOrZero = Field(description="Mean height above the edge.", examples=["0.4 mm"])
    root_thickness: LengthOrZero = Field(description="Mean thickness at the root.", examples=["0.1 mm"])
    height_scatter: PlusMinus | None = Field(
        default=None, description="Half-width of the scatter of the height.", examples=["0.2 mm"]
    )
    root_thickness_scatter: PlusMinus | None = Field(
        default=None, description="Half-width of the scatter of the root thickness.", examples=["0.05 mm"]
    )
    shape: Literal["triangular", "rectangular"] = Field(
        default="triangular", description="Shape of the section.", examples=["triangular"]
    )

    @field_validator("root_thickness")
    @classmethod
    def _carries_height(cls, root: float, info: ValidationInfo) -> float:
        require(root > 0 or info.data.get("height", 0) == 0, "a root thickness above 0 under a burr of height {height}")
        return root

    @field_validator("height_scatter", "root_thickness_scatter")
    @classmethod
    def _within_size(cls, scatter: float | None, info: ValidationInfo) -> float | None:
        size = str(info.field_name).removesuffix("_scatter")
        require(scatter is None or scatter <= info.data.get(size, scatter), f"at most the {size} itself ({{{size}}})")
        return scatter


class EdgeBreak(Section):
    """The edge break wanted: both limits of a chamfer leg, or of a radius."""

    measure: Literal["leg", "radius"] = Field(
        default="leg", description="What the limits measure: chamfer leg or radius.", examples=["leg"]
    )
    lower: LengthOrZero = Field(description="Smallest edge break accepted.", examples=["0.2 mm"])
    upper: Length = Field(description="Largest edge break accepted.", examples=["0.6 mm"])

    @field_validator("upper")
    @classmethod
    def _above_lower(cls, upper: float, info: ValidationInfo) -> float:
        require(upper > info.data.get("lower", 0), "an upper limit above lower ({lower})")
        return upper


class Waviness(Section):
    """Periodic form error along the edge."""

    amplitude: Length = Field(description="Half of the height from trough to crest.", examples=["0.1 mm"])
    wavelength: Length = Field(description="Distance from crest to crest.", examples=["40 mm"])

    @field_validator("wavelength")
    @classmethod
    def _longer_than_high(cls, wavelength: float, info: ValidationInfo) -> float:
        require(wavelength > info.data.get("amplitude", 0), "a wavelength above the amplitude ({amplitude})")
        return wavelength


class Edge(Section):
    """Edges of one kind to be deburred: from a layer of a drawing, or by length alone."""

    name: Name = Field(description="Name of the edge.", examples=["rim"])
    drawing: Name | None = Field(
        default=None, description="Drawing file, seen from the job file.", examples=["housing.dxf"]
    )
    layer: Name | None = Field(
        default=None, description="Layer of the drawing that holds the edge.", examples=["RIM"], validate_default=True
    )
    drawing_unit: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        default=None, description="Unit of the drawing where it names none.", examples=["mm"]
    )
    length: Length | None = Field(
        default=None, description="Length of the edge, without a drawing.", examples=["850 mm"], validate_default=True
    )
    included_angle: Angle | None = Field(
        default=None, description="Angle between the faces, through the material.", examples=["90 deg"]
    )
    burr: Burr = Field(description="The burr.")
    edge_break: EdgeBreak = Field(description="The edge break wanted.")
    waviness: Waviness | None = Field(default=None, description="Periodic form error along the edge.")
    part_error: PlusMinus | None = Field(
        default=None,
        description="Where this edge lies on the part, plus or minus; goes before the cell's error budget.",
        examples=["0.05 mm"],
    )
    tools: Annotated[list[Name], Field(min_length=1)] | None = Field(
        default=None, description="Names of the tools allowed; all if left out.", examples=[["cutter 6"]]
    )

    @field_validator("layer")
    @classmethod
    def _of_drawing(cls, layer: str | None, info: ValidationInfo) -> str | None:
        if "drawing" in info.data:
            has_drawing = info.data["drawing"] is not None
            require(layer is not None or not has_drawing, "the layer of {drawing} with this edge", 'layer = "RIM"')
            require(layer is None or has_drawing, "a layer only with its drawing", 'drawing = "housing.dxf"')
        return layer

    @field_validator("drawing_unit")
    @classmethod
    def _of_drawing_too(cls, unit: str | None, info: ValidationInfo) -> str | None:
        require(unit is None or info.data.get("drawing", unit) is not None, "a drawing unit only with a drawing")
        return unit

    @field_validator("length")
    @classmethod
    def _instead_of_drawing(cls, length: float | None, info: ValidationInfo) -> float | None:
        drawing = info.data.get("drawing")
        require(length is None or drawing is None, "either a drawing with its layer or a length, not both")
        # A drawing or layer that is at fault itself already tells what to mend.
        has_geometry = length is not None or drawing is not None or not {"drawing", "layer"} <= info.data.keys()
        require(has_geometry, "a length, or a drawing with its layer", 'length = "850 mm"')
        return length


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
    edge: Annotated[list[Edge], Field(min_length=1)] = Field(description="Edges, one table each.")
