"""Edges to be deburred, as tables of a job file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.feature import AllowedNames, DrawnFeature, Waviness, within_size
from finishplan.job.fields import Angle, Length, LengthOrZero, PlusMinus, Section, require


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

    _within_size = field_validator("height_scatter", "root_thickness_scatter")(within_size)

    @field_validator("root_thickness")
    @classmethod
    def _carries_height(cls, root: float, info: ValidationInfo) -> float:
        require(root > 0 or info.data.get("height", 0) == 0, "a root thickness above 0 under a burr of height {height}")
        return root


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


class Edge(DrawnFeature):
    """Edges of one kind to be deburred: from a layer of a drawing, or by length alone."""

    ways: ClassVar[Mapping[str, str]] = {"drawing": "a drawing with its layer", "length": "a length"}

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
    tools: AllowedNames | None = Field(
        default=None,
        description="Names of the cutters and abrasives allowed; all if left out.",
        examples=[["cutter 6"]],
    )
