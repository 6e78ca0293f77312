"""Contours to be trimmed, as tables of a job file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.feature import AllowedNames, DrawnFeature, Waviness
from finishplan.job.fields import Direction, Length, PlusMinus, Section, Temperature, require


class Tabs(Section):
    """Bridges left in a slot, which hold the offcut until it is taken out."""

    count: Annotated[int, Field(ge=1, le=1000)] = Field(description="How many there are.", examples=[4])
    width: Length = Field(description="Length of one along the contour.", examples=["6 mm"])
    height: Length | None = Field(
        default=None, description="Height left standing; the whole thickness if left out.", examples=["1 mm"]
    )


class Contour(DrawnFeature):
    """A contour to be cut to size: from a layer of a drawing, or by length alone."""

    ways: ClassVar[Mapping[str, str]] = {"drawing": "a drawing with its layer", "length": "a length"}

    length: Length | None = Field(
        default=None,
        description="Length of the contour, without a drawing.",
        examples=["2400 mm"],
        validate_default=True,
    )
    thickness: Length = Field(description="Thickness of the part along the contour.", examples=["4 mm"])
    stock: Length | None = Field(
        default=None, description="Width of material outside the contour; a full slot if left out.", examples=["3 mm"]
    )
    tolerance: PlusMinus = Field(description="Half-width of the place of the cut edge.", examples=["0.5 mm"])
    direction: Literal["conventional", "climb"] = Field(
        default="conventional",
        description="Direction of travel; climb where fibres or a thin edge need it.",
        examples=["conventional"],
    )
    fibre_angle: Direction | None = Field(
        default=None,
        description="Angle of the outer fibres of a laminate against the drawing's x, or against the length.",
        examples=["45 deg"],
    )
    tabs: Tabs | None = Field(default=None, description="Bridges that hold the offcut of a slot.")
    temperature_limit: Temperature | None = Field(
        default=None,
        description="Highest temperature of the cut edge, where a tint or char may stay or is taken off later; "
        "that of the material if left out.",
        examples=["600 degC"],
    )
    protrusion: Length | None = Field(
        default=None,
        description="How far a saw blade or cut-off wheel comes out on the far side of the part.",
        examples=["5 mm"],
    )
    waviness: Waviness | None = Field(default=None, description="Periodic form error of the stock along the contour.")
    part_error: PlusMinus | None = Field(
        default=None,
        description="Where this contour lies on the part, plus or minus; goes before the cell's error budget.",
        examples=["0.2 mm"],
    )
    tools: AllowedNames | None = Field(
        default=None, description="Names of the cutters allowed; all if left out.", examples=[["router 8"]]
    )

    @field_validator("tolerance")
    @classmethod
    def _some_room(cls, tolerance: float) -> float:
        require(tolerance > 0, "a tolerance above 0")
        return tolerance

    @field_validator("tabs")
    @classmethod
    def _in_a_slot(cls, tabs: Tabs | None, info: ValidationInfo) -> Tabs | None:
        require(tabs is None or info.data.get("stock") is None, "tabs only in a full slot, without a stock")
        height = None if tabs is None else tabs.height
        require(
            height is None or height <= info.data.get("thickness", height),
            "tabs no higher than the thickness ({thickness})",
        )
        return tabs
