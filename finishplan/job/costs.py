"""What the work costs: the cell per hour and in all, and the same work by hand.

Money is a plain number in the currency of the cell. Nothing here is assumed: what is left out is not counted.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.fields import Attendance, DailyTime, Duration, Section, TimeShare, Vibration, YearlyTime, require

Money = Annotated[float, Field(ge=0, le=1e12)]
Price = Annotated[float, Field(gt=0, le=1e12)]
Investment = Annotated[float, Field(ge=1, le=1e12)]
PartCount = Annotated[float, Field(gt=0, le=1e12)]


class Costs(Section):
    """Rates and prices of the cell."""

    machine_rate: Money | None = Field(
        default=None, description="Cost of the cell per hour in use, without its operator.", examples=[42.0]
    )
    labour_rate: Money | None = Field(
        default=None, description="Cost of an operator per hour, with what comes on top of the wage.", examples=[36.0]
    )
    labour_share: Attendance | None = Field(
        default=None, description="Operator's share of the time the cell is in use.", examples=["25 %"]
    )
    energy_price: Money | None = Field(default=None, description="Price of energy per kWh.", examples=[0.25])
    investment: Investment | None = Field(
        default=None, description="Cost of the cell, installed.", examples=[180_000.0]
    )
    parts_per_year: PartCount | None = Field(default=None, description="Parts wanted in a year.", examples=[20_000])
    time_per_year: YearlyTime | None = Field(
        default=None,
        description="Time the cell is in use in a year, where it makes as many parts as it can.",
        examples=["3600 h"],
    )

    @field_validator("time_per_year")
    @classmethod
    def _one_output(cls, time: float | None, info: ValidationInfo) -> float | None:
        counted = info.data.get("parts_per_year") is not None
        require(time is None or not counted, "either parts_per_year or time_per_year, not both")
        return time


class Manual(Section):
    """The same work done by hand, to compare with."""

    time_per_part: Duration | None = Field(default=None, description="Time of a worker per part.", examples=["6 min"])
    labour_rate: Money | None = Field(
        default=None, description="Cost of the worker per hour; if left out, that of the operator.", examples=[36.0]
    )
    vibration: Vibration | None = Field(
        default=None, description="Vibration total value of the hand tool, weighted.", examples=["5 m/s2"]
    )
    trigger_share: TimeShare | None = Field(
        default=None, description="Share of the working time with the tool running in the hand.", examples=["60 %"]
    )
    time_per_shift: DailyTime | None = Field(
        default=None, description="Time of a shift that one worker spends on it.", examples=["6 h"]
    )
