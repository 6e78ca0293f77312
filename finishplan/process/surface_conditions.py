"""What an abrasive step meets: surface, abrasive, heat, spindle, mount and robot. SI floats or arrays."""

from __future__ import annotations

from dataclasses import dataclass

from finishplan.formula import Array
from finishplan.process.abrasive_tools import AbrasiveTool
from finishplan.process.edge_conditions import CompliantMount, RobotState, Rules, Spindle


@dataclass(frozen=True, eq=False)
class SurfaceState:
    """The surface before this step, and what the step is for.

    `removal` is the mean depth the step has to take off. `layer` and `keep` are the least thickness
    of the layer worked on and what must survive of it; infinite and 0 where the part itself is
    worked on. `taken_before` is what earlier steps took off.
    """

    area: Array
    removal: Array
    initial_roughness: Array
    wanted_roughness: Array
    curvature_radius: Array
    unevenness: Array
    layer: Array
    keep: Array
    taken_before: Array
    edge_factor: Array
    curved_contact_share: Array
    waviness_amplitude: Array
    waviness_wavelength: Array


@dataclass(frozen=True, eq=False)
class Abrasive:
    """The abrasive on its tool, with the window of its family for the material.

    `coefficient` is that at the middle of the change interval; `coefficient_spread` the part-to-part
    scatter around it, as a factor.
    """

    tool: AbrasiveTool
    coefficient: Array
    coefficient_factor: Array
    force_ratio: Array
    floor_roughness: Array
    roughness_decay: Array
    rated_speed: Array
    speed_low: Array
    speed_high: Array
    pressure_low: Array
    pressure_high: Array
    force_low: Array
    force_high: Array
    life_volume: Array


@dataclass(frozen=True, eq=False)
class Thermal:
    """How the surface takes heat: `room` is the rise it may see."""

    conductivity: Array
    diffusivity: Array
    heat_share: Array
    room: Array


@dataclass(frozen=True, eq=False)
class SurfaceConditions:
    """Everything an abrasive step meets."""

    surface: SurfaceState
    abrasive: Abrasive
    thermal: Thermal
    spindle: Spindle
    mount: CompliantMount
    robot: RobotState
    rules: Rules


@dataclass(frozen=True, eq=False)
class SurfaceSetting:
    """What the programmer sets; the feed follows from the depth to be taken off.

    `lanes` is the number of passes that are laid between one another: all of them, or half of them
    where the other half goes crosswise.
    """

    spindle_speed: Array
    force: Array
    step: Array
    passes: int
    lanes: int
