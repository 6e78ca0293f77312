"""The cell: robot, spindles, compliance devices, cutters and abrasives at hand, as tables of a job or cell file."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from finishplan.job.compliance import Compliance
from finishplan.job.costs import Costs
from finishplan.job.fields import (
    Acceleration,
    Direction,
    Length,
    Mass,
    Name,
    PlusMinus,
    Position,
    Power,
    Rotation,
    Section,
    Speed,
    Stiffness,
    Time,
    Torque,
    require,
)
from finishplan.job.holding import Holding
from finishplan.job.installed import Installed
from finishplan.job.tools import Abrasive, Tool


class StiffnessDirections(Section):
    """The two directions in the plane of the path, square to each other, along which force and travel agree."""

    first: Stiffness = Field(description="Stiffness along the first direction.", examples=["400 N/mm"])
    second: Stiffness = Field(description="Stiffness square to it.", examples=["600 N/mm"])
    angle: Direction = Field(description="Angle of the first direction against the drawing's x.", examples=["30 deg"])


class Robot(Section):
    """The robot that carries the tool. What is left out is taken from the class of its kind."""

    kind: Literal["articulated", "collaborative", "gantry", "scara", "delta"] = Field(
        description="Kind of robot; its class gives what is left out below.", examples=["articulated"]
    )
    payload: Mass = Field(description="Rated payload at the flange.", examples=["20 kg"])
    path_accuracy: PlusMinus | None = Field(
        default=None, description="Half-width of the path error at finishing feeds.", examples=["0.4 mm"]
    )
    stiffness: Stiffness | None = Field(
        default=None, description="Cartesian stiffness at the tool point, weakest direction.", examples=["500 N/mm"]
    )
    stiffness_directions: StiffnessDirections | None = Field(
        default=None, description="Stiffest and softest direction at the tool point, for a check of mode coupling."
    )
    top_speed: Speed | None = Field(default=None, description="Top speed of the tool point.", examples=["1.5 m/s"])
    acceleration: Acceleration | None = Field(
        default=None, description="Acceleration along the path.", examples=["3 m/s2"]
    )
    normal_acceleration: Acceleration | None = Field(
        default=None, description="Acceleration across the path, in corners.", examples=["2 m/s2"]
    )
    process_offset: Length | None = Field(
        default=None, description="From the wrist to where tool and part touch.", examples=["300 mm"]
    )
    load_offset: Length | None = Field(
        default=None, description="From the wrist to the centre of mass of all it carries.", examples=["150 mm"]
    )
    wrist_moment: Torque | None = Field(
        default=None, description="Moment the wrist bears; needs both offsets.", examples=["40 N m"]
    )

    @field_validator("wrist_moment")
    @classmethod
    def _with_offsets(cls, moment: float | None, info: ValidationInfo) -> float | None:
        for offset in ("process_offset", "load_offset"):
            require(
                moment is None or info.data.get(offset, 0.0) is not None, f"{offset} beside it", f'{offset} = "150 mm"'
            )
        return moment


class CurvePoint(Section):
    """One point of a spindle's shaft power over speed."""

    speed: Rotation = Field(description="Speed of this point.", examples=["20000 rpm"])
    power: Power = Field(description="Continuous shaft power at this speed.", examples=["500 W"])


class Spindle(Section):
    """A motor spindle or air motor with its curve of continuous shaft power."""

    name: Name = Field(description="Name that tools refer to.", examples=["spindle A"])
    speed_min: Rotation = Field(description="Lowest usable speed.", examples=["6000 rpm"])
    speed_max: Rotation = Field(description="Highest speed.", examples=["30000 rpm"])
    curve: Annotated[list[CurvePoint], Field(min_length=1)] = Field(
        description="Points of continuous shaft power, speeds rising.",
    )
    mass: Mass = Field(description="Mass of the spindle with its tool holder.", examples=["2.5 kg"])
    compliance: Name | None = Field(
        default=None, description="Name of the compliance device that carries it; rigid if left out.", examples=["arm"]
    )

    @field_validator("speed_max")
    @classmethod
    def _not_below_lowest(cls, speed: float, info: ValidationInfo) -> float:
        require(speed >= info.data.get("speed_min", 0), "a speed not below speed_min ({speed_min})")
        return speed

    @field_validator("curve")
    @classmethod
    def _rising_and_fitting(cls, curve: list[CurvePoint], info: ValidationInfo) -> list[CurvePoint]:
        speeds = [point.speed for point in curve]
        require(all(low < high for low, high in pairwise(speeds)), "points with strictly rising speeds")
        if {"speed_min", "speed_max"} <= info.data.keys():
            lowest, highest = info.data["speed_min"], info.data["speed_max"]
            inside = lowest <= speeds[0] and speeds[-1] <= highest
            require(
                inside or (speeds[0] <= lowest and highest <= speeds[-1]),
                "speeds within speed_min to speed_max ({speed_min} to {speed_max}), or covering all of it",
            )
        return curve


class ErrorBudget(Section):
    """Half-widths of the position errors between the programmed path and the real edge."""

    part: PlusMinus | None = Field(default=None, description="Form error of the part.", examples=["0.3 mm"])
    fixture: PlusMinus | None = Field(default=None, description="Error of the fixture.", examples=["0.2 mm"])
    tool_point: PlusMinus | None = Field(default=None, description="Error of the tool point.", examples=["0.1 mm"])
    wear: PlusMinus | None = Field(default=None, description="Tool wear between corrections.", examples=["0.05 mm"])


class Rack(Section):
    """Where tools are changed, in the plane of the drawings."""

    x: Position = Field(description="Position along the drawing's x.", examples=["-400 mm"])
    y: Position = Field(description="Position along the drawing's y.", examples=["250 mm"])


class Cell(Section):
    """Robot, spindles, compliance devices, cutters and abrasives at hand."""

    title: Name = Field(description="What the cell is called.", examples=["deburring cell"])
    robot: Robot = Field(description="The robot.")
    arrangement: Literal["tool-to-part", "part-to-tool"] = Field(
        default="tool-to-part",
        description="What the robot carries: the tool to a fixture, or the part to a stationary tool.",
        examples=["tool-to-part"],
    )
    holding: Holding | None = Field(default=None, description="Fixture or gripper that holds the part.")
    spindle: Annotated[list[Spindle], Field(min_length=1)] = Field(description="Spindles, one table each.")
    compliance: list[Compliance] = Field(default=[], description="Compliance devices, one table each.")
    tool: list[Tool] = Field(default=[], description="Cutters, one table each.")
    abrasive: list[Abrasive] = Field(default=[], description="Abrasives, one table each.", validate_default=True)
    error_budget: ErrorBudget = Field(default=ErrorBudget(), description="Position errors of the cell.")
    installed: Installed = Field(default=Installed(), description="Ventilation, guards and stopping times as built.")
    tool_change_time: Time | None = Field(default=None, description="Time to change tools.", examples=["8 s"])
    rack: Rack | None = Field(
        default=None,
        description="Place of the tool changer; tool_change_time is then without the way to it.",
    )
    part_change_time: Time | None = Field(
        default=None,
        description="Time from one part to the next; zero where a part is put in while another is worked.",
        examples=["10 s"],
    )
    approach_distance: Length | None = Field(
        default=None, description="Distance from the edge at which the feed starts.", examples=["10 mm"]
    )
    air_speed: Speed | None = Field(default=None, description="Speed of moves in the air.", examples=["500 mm/s"])
    costs: Costs | None = Field(default=None, description="Rates and prices, for the cost of a part.")
    currency: Name = Field(default="EUR", description="Currency of every price.", examples=["EUR"])

    @field_validator("rack")
    @classmethod
    def _of_carried_tools(cls, rack: Rack | None, info: ValidationInfo) -> Rack | None:
        carried = info.data.get("arrangement", "tool-to-part") == "tool-to-part"
        require(rack is None or carried, "a rack only where the robot carries the tools")
        return rack

    @field_validator("abrasive")
    @classmethod
    def _some_tool(cls, abrasives: list[Abrasive], info: ValidationInfo) -> list[Abrasive]:
        require(
            bool(abrasives or info.data.get("tool", [None])),
            "at least one tool, cutter or abrasive",
            "[[tool]] or [[abrasive]] in the cell",
        )
        return abrasives


class CellFile(Section):
    """Reference to a cell kept in a file of its own."""

    file: Name = Field(description="Name of the cell file, seen from the job file.", examples=["cell.toml"])
