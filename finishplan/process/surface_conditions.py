"""What an abrasive step meets: surface, abrasive, heat, spindle, mount and robot. SI floats or arrays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from finishplan.formula import Array
from finishplan.process.abrasive_tools import AbrasiveTool
from finishplan.process.edge_conditions import CompliantMount, RobotState, Rules, Spindle


@dataclass(frozen=True, eq=False)
class SurfaceState:
    """The surface before this step, and what the step is for.

    `removal` is the mean depth the step has to take off, 0 for one that only refines. `layer` and
    `keep` are the least thickness of the layer worked on and what must survive of it; infinite and 0
    where the part itself is worked on. `taken_before` is the most that earlier steps took off.
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
class Rubbing:
    """Grain or cutting edge that rubs on the material and takes its own share of the heat.

    `carried_away` is the share that swarf and air have taken before: of all the heat under an abrasive,
    of that of chip forming under a cutter.
    """

    conductivity: Array
    contact_radius: Array
    carried_away: Array


@dataclass(frozen=True, eq=False)
class Product:
    """An abrasive product on its tool, with the window of its family for the material."""

    tool: AbrasiveTool
    grain: Rubbing
    force_ratio: Array
    rated_speed: Array
    speed_low: Array
    speed_high: Array
    pressure_low: Array
    pressure_high: Array
    force_low: Array
    force_high: Array

    def scattered(self, share: float) -> Self:
        """The product on a part where it removes more by a share; the same where it removes nothing."""
        return self

    @property
    def removal_factor(self) -> Array:
        """Removal over the nominal one."""
        return np.float64(1.0)


@dataclass(frozen=True, eq=False)
class Abrasive(Product):
    """Graded grain: it takes off a depth, and leaves the roughness of its grit.

    `coefficient` is that at the middle of the change interval, `coefficient_factor` the part-to-part
    scatter around it.
    """

    coefficient: Array
    coefficient_factor: Array
    floor_roughness: Array
    roughness_decay: Array
    life_volume: Array

    def scattered(self, share: float) -> Self:
        """The abrasive on a part where it removes more by a share."""
        return replace(self, coefficient_factor=np.float64(1 + share))

    @property
    def removal_factor(self) -> Array:
        """Coefficient over the nominal one."""
        return self.coefficient_factor


@dataclass(frozen=True, eq=False)
class Thermal:
    """How the material takes heat: `room` is the rise it may see."""

    conductivity: Array
    density: Array
    specific_heat: Array
    room: Array


@dataclass(frozen=True, eq=False)
class SurfaceConditions:
    """Everything an abrasive step meets."""

    surface: SurfaceState
    abrasive: Product
    thermal: Thermal
    spindle: Spindle
    mount: CompliantMount
    robot: RobotState
    rules: Rules


@dataclass(frozen=True, eq=False)
class SurfaceSetting:
    """What the programmer sets; the feed follows from the depth to be taken off, where there is one.

    `lanes` is the number of passes that are laid between one another: all of them, or half of them
    where the other half goes crosswise.
    """

    spindle_speed: Array
    force: Array
    step: Array
    passes: int
    lanes: int
