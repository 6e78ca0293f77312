"""The cutters and abrasives of a cell as mounted, as tables of a job or cell file."""

from __future__ import annotations

import math
from typing import Annotated, Final

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.costs import Price
from finishplan.job.fields import Length, Name, Rotation, Section, Tilt, Time, require

FLANGES: Final = (0.05, 0.8)
"""Flange over disc diameter: below, nothing would clamp it; above, next to nothing could cut."""

WIDEST_KERF: Final = 0.2
"""Kerf over disc diameter; what is wider is no disc."""

THINNEST_BODY: Final = 0.2
"""Body of a disc over the width it cuts; a plausibility bound, wide enough for any real one."""

Slot = Annotated[int, Field(ge=1, le=999)]


def within_disc(flange: float | None, info: ValidationInfo) -> float | None:
    """Flanges that clamp a disc and leave some of it to cut with."""
    low, high = FLANGES
    share = low if flange is None else flange / info.data.get("diameter", flange / low)
    require(low <= share <= high, f"flanges of {low:g} to {high:g} times the diameter ({{diameter}})")
    return flange


def behind_rim(body: float | None, width: float | None, thickest: str) -> float | None:
    """A body that fits behind the width a disc cuts; `thickest` says how thick it may be."""
    if body is not None and width is not None:
        require(THINNEST_BODY * width <= body, f"a body of at least {THINNEST_BODY:g} times that width")
        require(body <= width, thickest)
    return body


class Tool(Section):
    """A cutter as mounted: its family in the reference tables and its own dimensions."""

    name: Name = Field(description="Name that edges and contours refer to.", examples=["cutter 6"])
    family: Name = Field(description="Cutter family in the reference tables.", examples=["carbide burr aluminium cut"])
    diameter: Length = Field(description="Cutting diameter where it meets the edge.", examples=["6 mm"])
    teeth: Annotated[int, Field(ge=1, le=200)] = Field(description="Number of teeth.", examples=[12])
    overhang: Length = Field(description="Length that stands out of the holder.", examples=["25 mm"])
    rated_speed: Rotation = Field(description="Highest speed marked on the tool.", examples=["40000 rpm"])
    spindle: Name = Field(description="Name of the spindle that drives it.", examples=["spindle A"])
    slot: Slot | None = Field(default=None, description="Place in the tool rack, where it is fixed.", examples=[3])
    shank_diameter: Length | None = Field(default=None, description="Shank diameter.", examples=["6 mm"])
    edge_radius: Length | None = Field(default=None, description="Radius of the cutting edge.", examples=["0.01 mm"])
    cutting_length: Length | None = Field(
        default=None, description="Length of the cutting edges along the axis.", examples=["20 mm"]
    )
    kerf: Length | None = Field(default=None, description="Width a saw blade cuts.", examples=["2.4 mm"])
    body_thickness: Length | None = Field(
        default=None, description="Thickness of a saw blade behind its teeth.", examples=["1.6 mm"]
    )
    flange_diameter: Length | None = Field(
        default=None, description="Diameter of the flanges that clamp a saw blade.", examples=["60 mm"]
    )
    change_time: Time | None = Field(default=None, description="Time to change a worn one.", examples=["90 s"])
    price: Price | None = Field(
        default=None, description="Price of one piece, in the currency of the cell.", examples=[28.0]
    )

    @field_validator("shank_diameter")
    @classmethod
    def _in_proportion(cls, shank: float | None, info: ValidationInfo) -> float | None:
        # A plausibility band wide enough for any real cutter; it catches inches written for millimetres.
        proportion = 1.0 if shank is None else shank / info.data.get("diameter", shank)
        require(
            0.1 <= proportion <= 10,
            "a shank between a tenth of and ten times the diameter ({diameter})",
        )
        return shank

    @field_validator("edge_radius")
    @classmethod
    def _inside_tool(cls, radius: float | None, info: ValidationInfo) -> float | None:
        require(
            radius is None or 2 * radius < info.data.get("diameter", math.inf),
            "an edge radius below half the diameter ({diameter})",
        )
        return radius

    @field_validator("body_thickness")
    @classmethod
    def _behind_teeth(cls, body: float | None, info: ValidationInfo) -> float | None:
        return behind_rim(body, info.data.get("kerf"), "a body thinner than the kerf ({kerf})")

    @field_validator("kerf")
    @classmethod
    def _of_a_disc(cls, kerf: float | None, info: ValidationInfo) -> float | None:
        require(
            kerf is None or kerf <= WIDEST_KERF * info.data.get("diameter", math.inf),
            f"a kerf of at most {WIDEST_KERF:g} times the diameter ({{diameter}})",
        )
        return kerf

    @field_validator("flange_diameter")
    @classmethod
    def _inside_blade(cls, flange: float | None, info: ValidationInfo) -> float | None:
        return within_disc(flange, info)

    @field_validator("cutting_length")
    @classmethod
    def _within_overhang(cls, length: float | None, info: ValidationInfo) -> float | None:
        require(
            length is None or length <= info.data.get("overhang", length),
            "a cutting length within the overhang ({overhang})",
        )
        return length


class Abrasive(Section):
    """A belt, disc, pad, wheel or brush as mounted: its family in the reference tables and its own dimensions.

    What its family demands or does not have (grits, width, orbit, tilt, backing) is checked when the job is loaded.
    """

    name: Name = Field(description="Name that edges, surfaces and removals refer to.", examples=["orbital 150"])
    family: Name = Field(description="Abrasive family in the reference tables.", examples=["orbital disc"])
    grits: Annotated[list[Name], Field(min_length=1)] | None = Field(
        default=None, description="Grits at hand, where the grain of the family is graded.", examples=[["P120", "P180"]]
    )
    diameter: Length = Field(description="Diameter of disc, pad, wheel, brush or contact wheel.", examples=["150 mm"])
    width: Length | None = Field(
        default=None,
        description="Width of belt, wheel, brush, buff or cut-off wheel, or length of the grit on a router.",
        examples=["25 mm"],
    )
    backing: Name | None = Field(
        default=None,
        description="Pad or contact wheel in the reference tables behind a belt or disc.",
        examples=["medium foam pad"],
    )
    body_thickness: Length | None = Field(
        default=None,
        description="Thickness of a cut-off wheel behind its rim; its width if left out.",
        examples=["1.4 mm"],
    )
    flange_diameter: Length | None = Field(
        default=None, description="Diameter of the flanges that clamp a cut-off wheel.", examples=["45 mm"]
    )
    overhang: Length | None = Field(
        default=None, description="Length a grit router stands out of its holder.", examples=["40 mm"]
    )
    shank_diameter: Length | None = Field(
        default=None, description="Shank diameter of a grit router; its diameter if left out.", examples=["8 mm"]
    )
    orbit: Length | None = Field(
        default=None, description="Diameter of the orbit, twice the eccentricity.", examples=["5 mm"]
    )
    tilt: Tilt | None = Field(
        default=None, description="Angle between disc and surface; flat if left out.", examples=["10 deg"]
    )
    rated_speed: Rotation = Field(description="Free-running speed marked on it.", examples=["12000 rpm"])
    spindle: Name = Field(description="Name of the spindle that drives it.", examples=["spindle A"])
    slot: Slot | None = Field(default=None, description="Place in the tool rack, where it is fixed.", examples=[3])
    change_time: Time | None = Field(default=None, description="Time to change a worn one.", examples=["20 s"])
    price: Price | None = Field(
        default=None, description="Price of one piece, in the currency of the cell.", examples=[0.8]
    )

    @field_validator("body_thickness")
    @classmethod
    def _within_rim(cls, body: float | None, info: ValidationInfo) -> float | None:
        return behind_rim(body, info.data.get("width"), "a body no thicker than the width ({width})")

    @field_validator("flange_diameter")
    @classmethod
    def _inside_wheel(cls, flange: float | None, info: ValidationInfo) -> float | None:
        return within_disc(flange, info)

    @field_validator("overhang")
    @classmethod
    def _beyond_grit(cls, overhang: float | None, info: ValidationInfo) -> float | None:
        width = info.data.get("width")
        require(
            overhang is None or width is None or overhang >= width, "an overhang no shorter than the grit ({width})"
        )
        return overhang

    @field_validator("orbit")
    @classmethod
    def _inside_pad(cls, orbit: float | None, info: ValidationInfo) -> float | None:
        require(
            orbit is None or 2 * orbit < info.data.get("diameter", math.inf),
            "an orbit below half the diameter ({diameter})",
        )
        return orbit
