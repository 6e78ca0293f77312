"""How the part is held: by a fixture where the robot carries the tool, by a gripper where it carries the part."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.fields import Area, Force, Mass, Pressure, Section, Share, require
from finishplan.units import quoted

_HOLDS_BY: Final[Mapping[str, tuple[str, ...]]] = {
    "force": ("clamps", "jaws", "magnet"),
    "contacts": ("clamps", "jaws"),
    "pressure_difference": ("vacuum",),
    "area": ("vacuum",),
    "porous": ("vacuum",),
    "thickness_share": ("magnet",),
    "gap_share": ("magnet",),
}
"""Keys that only some kinds of holding have."""

_OPTIONAL: Final = ("porous", "thickness_share", "gap_share")


class Holding(Section):
    """What holds the part. Which keys go with it depends on its kind."""

    kind: Literal["clamps", "jaws", "vacuum", "magnet", "needles"] = Field(
        description="How the part is held; needles are refused.", examples=["jaws"]
    )
    mass: Mass | None = Field(default=None, description="Mass of the gripper; none for a fixture.", examples=["4 kg"])
    force: Force | None = Field(
        default=None,
        description="Force of one clamp or jaw, or pull of all magnets on thick, flat, bare mild steel.",
        examples=["800 N"],
        validate_default=True,
    )
    contacts: Annotated[int, Field(ge=1, le=50)] | None = Field(
        default=None,
        description="Faces that hold by friction, each pressed with the force.",
        examples=[2],
        validate_default=True,
    )
    pressure_difference: Pressure | None = Field(
        default=None,
        description="Vacuum below the ambient pressure.",
        examples=["0.6 bar"],
        validate_default=True,
    )
    area: Area | None = Field(
        default=None,
        description="Area inside the lips of all cups together.",
        examples=["60 cm2"],
        validate_default=True,
    )
    porous: bool | None = Field(default=None, description="Whether air passes through the part.", examples=[True])
    thickness_share: Share | None = Field(
        default=None, description="Share of the pull that a thin part leaves; all if left out.", examples=["80 %"]
    )
    gap_share: Share | None = Field(
        default=None, description="Share of the pull that paint or scale leaves; all if left out.", examples=["70 %"]
    )
    friction: Annotated[float, Field(gt=0, le=2)] | None = Field(
        default=None, description="Friction between what holds and the part.", examples=[0.3]
    )
    safety_factor: Annotated[float, Field(ge=1, le=20)] | None = Field(
        default=None, description="Holding asked for, as a multiple of the load.", examples=[2.0]
    )

    @field_validator("kind")
    @classmethod
    def _bears_machining(cls, kind: str) -> str:
        wanted = "clamps, jaws, vacuum or magnet, for needles do not hold against machining loads"
        require(kind != "needles", wanted, quoted("jaws"))
        return kind

    @field_validator(*_HOLDS_BY)
    @classmethod
    def _of_its_kind(cls, value: Any, info: ValidationInfo) -> Any:
        key = str(info.field_name)
        if "kind" in info.data:
            fits = info.data["kind"] in _HOLDS_BY[key]
            example = cls.model_fields[key].examples or [""]
            write = f"{key} = {quoted(example[0]) if isinstance(example[0], str) else example[0]}"
            require(value is not None or not fits or key in _OPTIONAL, "this key for holding by {kind}", write)
            require(value is None or fits, f"this key only for holding by {' or '.join(_HOLDS_BY[key])}")
        return value
