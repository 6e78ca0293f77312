"""Cutting force per chip section as a function of chip thickness: the two laws a material may follow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from finishplan.formula import Array
from finishplan.physics import affine_specific_force, specific_cutting_force


@dataclass(frozen=True, eq=False)
class PowerLaw:
    """Metals: kc = kc1.1 (h/1 mm)^-mc with factors for rake and wear."""

    kc11: Array
    mc: Array
    minimum_chip_thickness: Array
    rake_factor: Array
    wear_factor: Array

    def specific_force(self, chip_thickness: Array) -> Array:
        """Specific cutting force [Pa] at a chip thickness [m]."""
        return specific_cutting_force(
            self.kc11,
            self.mc,
            chip_thickness,
            self.minimum_chip_thickness,
            rake_factor=self.rake_factor,
            wear_factor=self.wear_factor,
        )

    def log_slope(self, chip_thickness: Array, specific_force: Array) -> Array:
        """Slope of ln(kc) over ln(h); it only speeds up the contact balance."""
        return np.where(chip_thickness > self.minimum_chip_thickness, -self.mc, 0.0)


@dataclass(frozen=True, eq=False)
class AffineLaw:
    """Wood, boards and polymers: kc = Ks + Int/h, worn by a factor on both terms."""

    slope: Array
    intercept: Array
    minimum_chip_thickness: Array
    wear_factor: Array

    def specific_force(self, chip_thickness: Array) -> Array:
        """Specific cutting force [Pa] at a chip thickness [m]."""
        return affine_specific_force(
            self.slope,
            self.intercept,
            chip_thickness,
            self.minimum_chip_thickness,
            wear_factor=self.wear_factor,
        )

    def log_slope(self, chip_thickness: Array, specific_force: Array) -> Array:
        """Slope of ln(kc) over ln(h); it only speeds up the contact balance."""
        held = self.wear_factor * self.slope / specific_force - 1.0
        return np.where(chip_thickness > self.minimum_chip_thickness, held, 0.0)


ChipLaw: TypeAlias = PowerLaw | AffineLaw
