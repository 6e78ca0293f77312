"""What a cell has against dust, fire, flying parts and noise, as the cell file states it.

Nothing here is assumed: a key that is left out is asked for by the hazard notes that need it.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.fields import (
    AirFlow,
    Area,
    Density,
    Duration,
    Energy,
    Exposure,
    FibreCount,
    Length,
    LengthOrZero,
    LevelDifference,
    Mass,
    OpenAngle,
    Section,
    SoundLevel,
    Speed,
    Time,
    require,
)

Dust = Literal[
    "ferrous",
    "stainless-nickel",
    "light-metal",
    "magnesium",
    "titanium",
    "zinc",
    "copper-alloy",
    "plastic",
    "glass-fibre",
    "carbon-fibre",
    "wood",
]


class Installed(Section):
    """Ventilation, guards, stopping times and noise of the cell as built. All of it may be left out."""

    shift_length: Duration | None = Field(default=None, description="Hours worked in a shift.", examples=["8 h"])
    extraction_flow: AirFlow | None = Field(
        default=None, description="Air drawn from the cell, measured.", examples=["1200 m3/h"]
    )
    hood_opening: Area | None = Field(
        default=None, description="Open area of the hood at the tool.", examples=["200 cm2"]
    )
    hood_flanged: bool = Field(default=False, description="Whether a flange surrounds the hood.", examples=[True])
    capture_distance: LengthOrZero | None = Field(
        default=None, description="From the hood's opening to the tool.", examples=["150 mm"]
    )
    booth_opening: Area | None = Field(
        default=None, description="Openings of the enclosure together while it runs.", examples=["0.2 m2"]
    )
    duct_diameter: Length | None = Field(default=None, description="Inner diameter of the duct.", examples=["140 mm"])
    collector: Literal["wet", "dry outdoors", "dry indoors"] | None = Field(
        default=None, description="Kind and place of the dust collector.", examples=["wet"]
    )
    collector_shared_with: list[Dust] | None = Field(
        default=None, description="Other dusts led to the same collector; [] for none.", examples=[["ferrous"]]
    )
    collector_capacity: Mass | None = Field(
        default=None, description="Dust the collector holds between emptyings.", examples=["5 kg"]
    )
    collector_protected: bool | None = Field(
        default=None,
        description="Whether the collector is vented or suppressed, and cut off from the duct.",
        examples=[True],
    )
    collector_vent_flow: AirFlow | None = Field(
        default=None, description="Air that vents a wet collector while it stands.", examples=["20 m3/h"]
    )
    grounded: bool | None = Field(
        default=None, description="Whether tool, hood, duct and collector are bonded and earthed.", examples=[True]
    )
    spark_trap: bool | None = Field(
        default=None, description="Whether a spark trap stands before the collector.", examples=[True]
    )
    extinguishing_agent: Literal["class D", "dry sand", "powder", "carbon dioxide", "water"] | None = Field(
        default=None, description="Extinguishing agent at the cell.", examples=["class D"]
    )
    cabinet_protection: Annotated[int, Field(ge=0, le=6)] | None = Field(
        default=None, description="First digit of the IP code of cabinets in the dust.", examples=[6]
    )
    floor_area: Area | None = Field(
        default=None, description="Floor of the room where dust may settle.", examples=["60 m2"]
    )
    dust_bulk_density: Density | None = Field(
        default=None, description="Density of the settled dust with its voids, weighed.", examples=["400 kg/m3"]
    )
    dust_sample: Exposure | None = Field(
        default=None, description="Dust in the breathing zone, sampled over the shift.", examples=["0.4 mg/m3"]
    )
    fibre_count: FibreCount | None = Field(
        default=None, description="Fibres in the breathing zone, counted over the shift.", examples=["0.3 f/cm3"]
    )
    guard_opening: Length | None = Field(
        default=None, description="Largest opening in the guards: width, side or diameter.", examples=["8 mm"]
    )
    opening_shape: Literal["slot", "square", "round"] = Field(
        default="slot", description="Shape of that opening.", examples=["slot"]
    )
    slot_length: Length | None = Field(default=None, description="Length of a slot.", examples=["60 mm"])
    guard_distance: LengthOrZero | None = Field(
        default=None, description="From guard or door to the nearest hazard.", examples=["600 mm"]
    )
    wheel_guard_angle: OpenAngle | None = Field(
        default=None,
        description="Angle of the rim that the guard of an abrasive wheel leaves open.",
        examples=["90 deg"],
    )
    guard_energy: Energy | None = Field(
        default=None, description="Impact the enclosure is shown to hold.", examples=["200 J"]
    )
    guard_locking: bool | None = Field(
        default=None, description="Whether doors lock until the spindle stands still.", examples=[True]
    )
    unlock_delay: Time | None = Field(
        default=None, description="Time from stop to unlocking, at least.", examples=["8 s"]
    )
    stopping_time: Time | None = Field(
        default=None, description="From the stop signal until the robot stands, measured.", examples=["0.4 s"]
    )
    run_down_time: Time | None = Field(
        default=None, description="From the stop signal until the spindle stands, measured.", examples=["5 s"]
    )
    light_curtain_resolution: Length | None = Field(
        default=None, description="Detection capability of a light curtain.", examples=["30 mm"]
    )
    light_curtain_distance: LengthOrZero | None = Field(
        default=None, description="From the light curtain to the hazard.", examples=["900 mm"]
    )
    manual_speed: Speed | None = Field(
        default=None, description="Speed limit in manual mode with a person inside.", examples=["250 mm/s"]
    )
    noise_level: SoundLevel | None = Field(
        default=None, description="Level at the operator's place, A-weighted, measured.", examples=["82 dB(A)"]
    )
    operator_distance: Length | None = Field(
        default=None, description="From the tool to the operator's place.", examples=["3 m"]
    )
    enclosure_attenuation: LevelDifference | None = Field(
        default=None, description="By how much the enclosure lowers the level, measured.", examples=["12 dB"]
    )
    device_vented: bool | None = Field(
        default=None, description="Whether a stop takes the force off the compliance devices.", examples=[True]
    )
    force_monitored: bool | None = Field(
        default=None, description="Whether loss of force control stops the robot.", examples=[True]
    )
    changer_locks_without_air: bool | None = Field(
        default=None, description="Whether the tool changer holds its load without air or power.", examples=[True]
    )
    gripper_holds_without_power: bool | None = Field(
        default=None, description="Whether gripper or fixture keeps the part without air or power.", examples=[True]
    )
    holding_monitored: bool | None = Field(
        default=None, description="Whether loss of the hold on the part stops robot and spindle.", examples=[True]
    )
    lockout_procedure: bool | None = Field(
        default=None, description="Whether changing and emptying follow a lockout procedure.", examples=[True]
    )

    @field_validator("slot_length")
    @classmethod
    def _of_a_slot(cls, length: float | None, info: ValidationInfo) -> float | None:
        require(length is None or info.data.get("opening_shape", "slot") == "slot", "a length only for a slot", "slot")
        return length

    @field_validator("light_curtain_resolution")
    @classmethod
    def _within_the_standard(cls, resolution: float | None) -> float | None:
        require(resolution is None or resolution <= 0.07, "a resolution of at most 70 mm", '"30 mm"')
        return resolution
