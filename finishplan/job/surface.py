"""Surfaces to be sanded and stock to be taken off with abrasives, as tables of a job file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.feature import AllowedNames, DrawnFeature, NamedFeature, Waviness, within_size
from finishplan.job.fields import (
    Area,
    Direction,
    HalfShare,
    Length,
    LengthOrZero,
    Name,
    PlusMinus,
    Roughness,
    Share,
    require,
)


class Surface(DrawnFeature):
    """A surface to be sanded or polished: from a layer of a drawing, by length and width, or by area alone."""

    ways: ClassVar[Mapping[str, str]] = {
        "drawing": "a drawing with its layer",
        "length": "a length with its width",
        "area": "an area",
    }

    holes_layer: Name | None = Field(
        default=None, description="Layer of the drawing that holds the holes.", examples=["HOLES"]
    )
    length: Length | None = Field(
        default=None, description="Length of a rectangle, without a drawing.", examples=["600 mm"]
    )
    width: Length | None = Field(
        default=None, description="Width that goes with the length.", examples=["400 mm"], validate_default=True
    )
    area: Area | None = Field(
        default=None,
        description="Area of a surface of which nothing else is known.",
        examples=["0.24 m2"],
        validate_default=True,
    )
    curvature_radius: Length | None = Field(
        default=None, description="Smallest radius of curvature; flat if left out.", examples=["800 mm"]
    )
    coating: Name | None = Field(
        default=None, description="Coating in the reference tables that is worked.", examples=["clearcoat"]
    )
    layer_thickness: Length | None = Field(
        default=None, description="Mean thickness of the layer that is worked.", examples=["45 um"]
    )
    layer_thickness_scatter: PlusMinus | None = Field(
        default=None, description="Half-width of the scatter of that thickness.", examples=["10 um"]
    )
    layer_keep: LengthOrZero | None = Field(
        default=None, description="Thickness of the layer that must survive everywhere.", examples=["25 um"]
    )
    initial_roughness: Roughness | None = Field(
        default=None, description="Roughness Ra at the start.", examples=["1.6 um"]
    )
    target_roughness: Roughness | None = Field(
        default=None, description="Largest roughness Ra accepted at the end.", examples=["0.4 um"]
    )
    removal: Length | None = Field(
        default=None, description="Mean depth to take off.", examples=["8 um"], validate_default=True
    )
    grits: AllowedNames | None = Field(
        default=None, description="Grits allowed; all of the tools if left out.", examples=[["P120", "P240"]]
    )
    tools: AllowedNames | None = Field(
        default=None, description="Names of the abrasives allowed; all if left out.", examples=[["orbital 150"]]
    )
    overhang: HalfShare | None = Field(
        default=None, description="Share of its length that a pad may hang over a border.", examples=["20 %"]
    )
    direction: Direction | None = Field(
        default=None, description="Direction of the lanes, against the length or the drawing's x.", examples=["0 deg"]
    )
    cross_hatch: bool = Field(
        default=False, description="Whether every grit goes over it twice, crosswise.", examples=[True]
    )
    unevenness: Share | None = Field(
        default=None, description="Largest less smallest depth taken off, over the mean, accepted.", examples=["40 %"]
    )
    waviness: Waviness | None = Field(default=None, description="Periodic form error along the surface.")
    part_error: PlusMinus | None = Field(
        default=None,
        description="Where this surface lies on the part, plus or minus; goes before the cell's error budget.",
        examples=["0.5 mm"],
    )

    _within_size = field_validator("layer_thickness_scatter")(within_size)

    @field_validator("width")
    @classmethod
    def _with_length(cls, width: float | None, info: ValidationInfo) -> float | None:
        if "length" in info.data:
            has_length = info.data["length"] is not None
            require(width is not None or not has_length, "the width that goes with length {length}", 'width = "400 mm"')
            require(width is None or has_length, "a width only with its length", 'length = "600 mm"')
        return width

    @field_validator("layer_keep")
    @classmethod
    def _inside_layer(cls, keep: float | None, info: ValidationInfo) -> float | None:
        layered = any(info.data.get(key, keep) is not None for key in ("coating", "layer_thickness"))
        wanted = "a thickness to keep only with a coating or a layer_thickness"
        require(keep is None or layered, wanted, 'layer_thickness = "45 um"')
        thickness, scatter = info.data.get("layer_thickness"), info.data.get("layer_thickness_scatter")
        require(
            keep is None or thickness is None or keep < thickness - (scatter or 0.0),
            "less than the layer at its thinnest, layer_thickness ({layer_thickness}) less its scatter",
        )
        return keep

    @field_validator("target_roughness")
    @classmethod
    def _not_rougher_than_start(cls, target: float | None, info: ValidationInfo) -> float | None:
        initial = info.data.get("initial_roughness", target)
        wanted = "the initial_roughness beside the target"
        require(target is None or initial is not None, wanted, 'initial_roughness = "1.6 um"')
        require(
            target is None or initial is None or target <= initial,
            "a target no rougher than the start, initial_roughness ({initial_roughness})",
        )
        return target

    @field_validator("removal")
    @classmethod
    def _something_to_do(cls, removal: float | None, info: ValidationInfo) -> float | None:
        has_target = info.data.get("target_roughness", 0) is not None
        require(has_target or removal is not None, "a target_roughness or a removal", 'target_roughness = "0.4 um"')
        thickness = info.data.get("layer_thickness")
        require(
            removal is None or thickness is None or removal < thickness,
            "less than the whole layer, layer_thickness ({layer_thickness})",
        )
        return removal


class Removal(NamedFeature):
    """Stock that stands proud of a part and is taken off: gates, parting lines, weld beads."""

    kind: Literal["gate", "parting line", "weld bead"] = Field(description="What it is.", examples=["gate"])
    count: Annotated[int, Field(ge=1, le=10_000)] = Field(
        default=1, description="How many of them a part has.", examples=[2]
    )
    height: Length = Field(description="Mean height above the surface.", examples=["3 mm"])
    width: Length = Field(description="Width at the foot.", examples=["12 mm"])
    length: Length = Field(description="Length of one of them.", examples=["25 mm"])
    section: Literal["rectangular", "triangular", "segment"] = Field(
        default="rectangular", description="Shape of the section across its length.", examples=["rectangular"]
    )
    left: LengthOrZero = Field(default=0.0, description="Height that may be left standing.", examples=["0.2 mm"])
    height_scatter: PlusMinus | None = Field(
        default=None, description="Half-width of the scatter of the height.", examples=["0.5 mm"]
    )
    tools: AllowedNames | None = Field(
        default=None, description="Names of the abrasives allowed; all if left out.", examples=[["fibre disc 125"]]
    )

    _within_size = field_validator("height_scatter")(within_size)

    @field_validator("left")
    @classmethod
    def _below_height(cls, left: float, info: ValidationInfo) -> float:
        require("height" not in info.data or left < info.data["height"], "less than the height itself ({height})")
        return left
