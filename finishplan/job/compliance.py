"""What gives way between robot and spindle, as tables of a job or cell file."""

from __future__ import annotations

from typing import Final, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.fields import (
    Area,
    Force,
    ForceOrZero,
    Frequency,
    Length,
    Mass,
    Name,
    Section,
    StiffnessOrZero,
    require,
)

FORCE_LOOPS: Final = ("force-controlled", "force-controlled robot")
"""Kinds of device that hold the force by a loop."""


class Compliance(Section):
    """What gives way behind the spindle: a compliant mount, a force-controlled axis, or the robot under force control.

    Of a force-controlled robot, what is left out is taken from the class of its kind.
    """

    name: Name = Field(description="Name that spindles refer to.", examples=["arm"])
    kind: Literal["radial", "axial", "force-controlled", "force-controlled robot"] = Field(
        description="Suspension radial or axial to the spindle, a force-controlled axis, or the robot's own loop.",
        examples=["radial"],
    )
    force_min: Force = Field(description="Lowest contact force that can be set.", examples=["5 N"])
    force_max: Force = Field(description="Highest contact force that can be set.", examples=["60 N"])
    stroke: Length = Field(
        description="Full travel from stop to stop; of a force-controlled robot, all it may correct.", examples=["8 mm"]
    )
    moving_mass: Mass | None = Field(
        default=None,
        description="Mass that follows the edge, as felt at the tool.",
        examples=["1.5 kg"],
        validate_default=True,
    )
    mass: Mass = Field(
        description="Mass of the device without the spindle; of a force-controlled robot, of its sensor.",
        examples=["2 kg"],
    )
    stiffness: StiffnessOrZero | None = Field(
        default=None,
        description="Change of force with travel at a set pressure; under a force loop, faster than the loop.",
        examples=["0.5 N/mm"],
    )
    friction_band: ForceOrZero | None = Field(
        default=None, description="Width of the hysteresis between both directions of travel.", examples=["2 N"]
    )
    effective_area: Area | None = Field(
        default=None, description="Force per air pressure of a pneumatic device.", examples=["2.5 cm2"]
    )
    bandwidth: Frequency | None = Field(
        default=None,
        description="Bandwidth of the force loop of an axis or robot.",
        examples=["10 Hz"],
        validate_default=True,
    )

    @field_validator("force_max")
    @classmethod
    def _above_lowest(cls, force: float, info: ValidationInfo) -> float:
        require(force > info.data.get("force_min", 0), "a force above force_min ({force_min})")
        return force

    @field_validator("bandwidth")
    @classmethod
    def _of_force_loop(cls, bandwidth: float | None, info: ValidationInfo) -> float | None:
        if "kind" in info.data:
            kind = info.data["kind"]
            wanted = "the bandwidth of the force loop of a force-controlled axis"
            require(bandwidth is not None or kind != "force-controlled", wanted, 'bandwidth = "10 Hz"')
            require(bandwidth is None or kind in FORCE_LOOPS, "a bandwidth only for a force-controlled axis or robot")
        return bandwidth

    @field_validator("moving_mass")
    @classmethod
    def _of_a_device(cls, mass: float | None, info: ValidationInfo) -> float | None:
        own = info.data.get("kind", "force-controlled robot") == "force-controlled robot"
        require(mass is not None or own, "the mass that follows the edge", 'moving_mass = "1.5 kg"')
        return mass

    @property
    def has_loop(self) -> bool:
        """Whether a loop holds the force."""
        return self.kind in FORCE_LOOPS

    @property
    def is_robot(self) -> bool:
        """Whether the robot itself presses, by a sensor at its wrist."""
        return self.kind == "force-controlled robot"
