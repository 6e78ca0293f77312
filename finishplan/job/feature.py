"""What the features of a job share: a name, what they wait for, their place or size, and form error."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, ClassVar, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.fields import Length, Name, Section, example_of, require

AllowedNames = Annotated[list[Name], Field(min_length=1)]

_SIZES: Final = ("drawing", "layer", "length", "width")


class Waviness(Section):
    """Periodic form error along a feature."""

    amplitude: Length = Field(description="Half of the height from trough to crest.", examples=["0.1 mm"])
    wavelength: Length = Field(description="Distance from crest to crest.", examples=["40 mm"])

    @field_validator("wavelength")
    @classmethod
    def _longer_than_high(cls, wavelength: float, info: ValidationInfo) -> float:
        require(wavelength > info.data.get("amplitude", 0), "a wavelength above the amplitude ({amplitude})")
        return wavelength


class NamedFeature(Section):
    """What every feature has: a name, and the features it waits for."""

    name: Name = Field(description="Name of the feature.", examples=["rim"])
    after: AllowedNames | None = Field(
        default=None,
        description="Features finished before this one; unless stated, stock and contours, then edges, surfaces.",
        examples=[["gates"]],
    )


class DrawnFeature(NamedFeature):
    """A feature taken from a layer of a drawing, or given by its size alone."""

    ways: ClassVar[Mapping[str, str]]
    """Keys that settle the geometry, one of which must be given, in the order of the fields, and how they read."""

    drawing: Name | None = Field(
        default=None, description="Drawing file, seen from the job file.", examples=["housing.dxf"]
    )
    layer: Name | None = Field(
        default=None,
        description="Layer of the drawing that holds the outline.",
        examples=["RIM"],
        validate_default=True,
    )
    drawing_unit: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        default=None, description="Unit of the drawing where it names none.", examples=["mm"]
    )

    @field_validator("layer")
    @classmethod
    def _of_drawing(cls, layer: str | None, info: ValidationInfo) -> str | None:
        if "drawing" in info.data:
            has_drawing = info.data["drawing"] is not None
            wanted = f"the layer of {{drawing}} with this {cls.__name__.lower()}"
            require(layer is not None or not has_drawing, wanted, 'layer = "RIM"')
            require(layer is None or has_drawing, "a layer only with its drawing", 'drawing = "housing.dxf"')
        return layer

    @field_validator("drawing_unit", "holes_layer", check_fields=False)
    @classmethod
    def _of_drawing_too(cls, value: str | None, info: ValidationInfo) -> str | None:
        words = str(info.field_name).replace("_", " ")
        require(value is None or info.data.get("drawing", value) is not None, f"a {words} only with a drawing")
        return value

    @field_validator("length", "area", check_fields=False)
    @classmethod
    def _in_one_way(cls, value: float | None, info: ValidationInfo) -> float | None:
        key, last = str(info.field_name), [*cls.ways][-1]
        others = [words for other, words in cls.ways.items() if info.data.get(other) is not None]
        require(value is None or not others, f"either {''.join(others[:1])} or {cls.ways[key]}, not both")
        # A size that is at fault itself already tells what to mend.
        sound = all(other in info.data for other in _SIZES if other in cls.model_fields and other != key)
        lacking = key == last and value is None and not others and sound
        wanted = ", or ".join(reversed([*cls.ways.values()]))
        require(not lacking, wanted, f"{key} = {example_of(cls.model_fields[key])}")
        return value


def within_size(scatter: float | None, info: ValidationInfo) -> float | None:
    """Check a half-width of scatter against the mean of the key it is named after."""
    key = str(info.field_name).removesuffix("_scatter")
    size = info.data.get(key, scatter)
    require(scatter is None or size is not None, f"a scatter only with its {key}")
    require(scatter is None or size is None or scatter <= size, f"at most the {key} itself ({{{key}}})")
    return scatter
