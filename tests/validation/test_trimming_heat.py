"""Heat of trimming carbon laminate with a burr router, fresh and worn.

Source
------
Delahaigue, J.; Chatelain, J.-F.; Lebrun, G.: trimming of carbon-fibre laminate, archives-ouvertes
hal-02078611, abstract: with a fresh burr router the laminate stays below its glass transition, with a
worn one it is mostly above. Only this statement was seen; the settings of the trials were not.
"""

from __future__ import annotations

import numpy as np
import pytest

from finishplan import physics, reference
from finishplan.process.chip_law import AffineLaw
from finishplan.process.contour_heat import edge_force_share, wall_rise
from finishplan.process.surface_conditions import Rubbing, Thermal

LAMINATE = reference.workpiece("CFRP")
ROUTER = reference.cutter("carbide burr composite cut")
WINDOW = ROUTER.window("cfrp")
WORKSHOP = 293.15
MARGIN = 20.0
"""The tables hold the wall 20 K below the glass transition of the matrix."""


def walls(wear_factor: float, rubbing: float) -> np.ndarray:
    """Temperature of the wall of 4 mm under a router of 8 mm with six flutes, over the middle of its window [K].

    Speeds over the window, and half to all of the largest feed per tooth.
    """
    diameter, depth, radial = 8e-3, 4e-3, 4e-3
    speed, chip = np.meshgrid(
        np.linspace(WINDOW.speed_low.value, WINDOW.speed_high.value, 15),
        np.linspace(0.5, 1.0, 6) * WINDOW.feed_high.value * diameter / ROUTER.reference_diameter.value,
    )
    teeth = physics.effective_teeth(6, ROUTER.width_share.value)
    feed = chip * physics.spindle_speed(diameter, speed) * teeth
    law = AffineLaw(
        LAMINATE.cutting.slope.value,
        LAMINATE.cutting.intercept.value,
        ROUTER.minimum_chip_ratio.value * ROUTER.edge_radius.value,
        wear_factor,
    )
    mean = physics.mean_chip_thickness(chip, radial, diameter)
    force = law.specific_force(mean)
    rise = wall_rise(
        Thermal(LAMINATE.conductivity.value, LAMINATE.density.value, LAMINATE.specific_heat.value, np.nan),
        Rubbing(ROUTER.conductivity.value, rubbing / 2, reference.default("chip_heat_share").value),
        edge_force_share(law, mean, force),
        power=physics.cutting_power(force, depth * radial * feed),
        speed=speed,
        axial_depth=depth,
        engagement_angle=physics.engagement_angle(radial, diameter),
        diameter=diameter,
        feed=feed,
    )
    return WORKSHOP + rise


@pytest.mark.parametrize(
    ("wear", "rubbing", "least", "most"),
    [
        pytest.param(1.0, ROUTER.edge_radius.value, 0.0, 0.1, id="fresh: below"),
        pytest.param(ROUTER.wear_factor.value, reference.default("worn_land").value, 0.5, 1.0, id="worn: mostly above"),
    ],
)
def test_share_of_settings_above_the_glass_transition(wear: float, rubbing: float, least: float, most: float) -> None:
    """Share of the settings of the router's window whose wall passes the glass transition.

    The window is wider than the trials' settings, so a tenth of it, at its fastest, may pass it when fresh.
    """
    transition = LAMINATE.temperature_limit.value + MARGIN
    share = np.mean(walls(wear, rubbing) > transition)
    assert least <= share <= most
