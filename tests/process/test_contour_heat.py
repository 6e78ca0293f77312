"""Heat that a cutter leaves in the wall: against the heat equation, and in its limits."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from finishplan.physics import jaeger_band_temperature_rise
from finishplan.process.chip_law import AffineLaw, PowerLaw
from finishplan.process.contour_heat import edge_force_share, heated_arc, heated_length, wall_rise, wall_work_share
from finishplan.process.surface_conditions import Rubbing, Thermal

LAMINATE = Thermal(conductivity=0.4, density=1800.0, specific_heat=1000.0, room=60.0)
SPREAD = 0.4 / 1.8e6
ALL_INTO_THE_PART = Rubbing(conductivity=0.0, contact_radius=25e-6, carried_away=0.0)
CARBIDE = Rubbing(conductivity=80.0, contact_radius=25e-6, carried_away=0.8)
CUT: dict[str, Any] = {
    "thermal": LAMINATE,
    "edge": CARBIDE,
    "edge_share": 0.4,
    "power": 300.0,
    "speed": 10.0,
    "axial_depth": 4e-3,
    "engagement_angle": np.pi / 3,
    "diameter": 12e-3,
    "feed": 0.05,
}


def rise(**changes: Any) -> float:
    return float(wall_rise(**(CUT | changes)))


def wall_of_a_receding_surface(power: int) -> float:
    """Rise of the wall as the surface s = -t^2/2 arrives, heated by a flux |t|^power; all in natural units.

    The column above a place of the wall is cut away at the speed -t until nothing is left above the
    wall at t = 0; heat crosses its 800 cells by conduction and, as seen from the surface, by its advance.
    """
    faces = 8.0 * np.linspace(0, 1, 801) ** 2
    middles = (faces[1:] + faces[:-1]) / 2

    def warming(time: float, temperature: np.ndarray) -> np.ndarray:
        flux = np.zeros(faces.size)
        given = abs(time) ** power
        flux[0] = given + time * (temperature[0] + given * middles[0])
        flux[1:-1] = -np.diff(temperature) / np.diff(middles) + time * np.interp(faces[1:-1], middles, temperature)
        return -np.diff(flux) / np.diff(faces)

    start = -8.0
    settled = abs(start) ** (power - 1) * np.exp(start * middles)
    run = solve_ivp(warming, (start, 0), settled, method="LSODA", rtol=1e-7, atol=1e-10, lband=1, uband=1, t_eval=[0])
    return float(run.y[0, -1] + middles[0] * (power == 0))


@pytest.mark.parametrize(("power", "excess"), [pytest.param(0, 0.02, id="even"), pytest.param(1, 0.20, id="rising")])
def test_rise_of_the_wall_against_the_heat_equation(power: int, excess: float) -> None:
    """Heat of the edge is even over the arc, that of the chip grows with the angle. Origin: library, scipy."""
    diameter, feed, whole = 12e-3, 0.05, 0.4
    radius = diameter / 2
    length = (SPREAD**2 * radius / feed**2) ** (1 / 3)
    flux = 1e5
    # the flux at the end of the whole arc; that of the natural unit of time is less by the angle
    angle = length**2 / SPREAD * feed / radius
    equation = flux * (angle / whole) ** power * length / 0.4 * wall_of_a_receding_surface(power)
    mean = flux if power == 0 else flux * (2 * np.sin(whole / 2) ** 2) / whole**2
    found = rise(
        edge=ALL_INTO_THE_PART, edge_share=1.0 - power, engagement_angle=whole, power=mean * 4e-3 * whole * radius
    )
    # the column conducts no heat along the feed, which takes 2 % off at this Peclet number of 30
    assert -0.02 < found / equation - 1 < excess


class TestArc:
    def test_it_goes_with_the_cube_root(self) -> None:
        assert heated_arc(8 * SPREAD, 0.05, 12e-3, 3.0) == pytest.approx(2 * heated_arc(SPREAD, 0.05, 12e-3, 3.0))
        assert heated_arc(1e-30, 0.05, 12e-3, 3.0) == pytest.approx(0, abs=1e-8)

    def test_it_ends_with_the_engagement(self) -> None:
        assert heated_arc(1.0, 0.05, 12e-3, 0.7) == 0.7

    @pytest.mark.parametrize(("angle", "low"), [(0.1, 0.001), (0.5, 0.022), (0.9, 0.078)])
    def test_error_of_small_angles(self, angle: float, low: float) -> None:
        """The layer alpha/(vf sin phi) against twice the height R (1 - cos phi), solved without approximation."""
        radius, feed = 6e-3, 0.05
        spread = feed * radius * angle**3
        exact = brentq(lambda phi: spread / (feed * np.sin(phi)) - 2 * radius * (1 - np.cos(phi)), 0.01, 1.5)
        assert heated_arc(spread, feed, 2 * radius, 3.0) / exact - 1 == pytest.approx(-low, abs=0.001)

    def test_its_reach_ends_at_a_quarter_of_a_turn(self) -> None:
        assert heated_length(np.pi, 12e-3) == heated_length(np.pi / 2, 12e-3) == 6e-3


class TestShare:
    def test_all_the_work_over_the_whole_arc(self) -> None:
        assert wall_work_share(0.3, 0.0, 1.1, 1.1) == pytest.approx(1.0, rel=1e-12)

    def test_none_where_heat_does_not_spread(self) -> None:
        assert wall_work_share(0.3, 0.5, 0.0, 1.1) == 0

    def test_a_mere_edge_counts_with_the_arc(self) -> None:
        assert wall_work_share(1.0, 0.8, 0.2, np.pi) == pytest.approx(0.2 / np.pi, rel=1e-12)

    def test_a_mere_chip_counts_with_its_section(self) -> None:
        """Half the diameter has taken half the chip."""
        assert wall_work_share(0.0, 0.0, np.pi / 2, np.pi) == pytest.approx(0.5, rel=1e-12)
        assert wall_work_share(0.0, 0.8, np.pi / 2, np.pi) == pytest.approx(0.1, rel=1e-12)

    def test_constant_term_of_either_law(self) -> None:
        affine = AffineLaw(slope=150e6, intercept=6e3, minimum_chip_thickness=2e-6, wear_factor=1.2)
        assert edge_force_share(affine, 40e-6, affine.specific_force(40e-6)) == pytest.approx(0.5, rel=1e-12)
        metal = PowerLaw(1780e6, 0.17, 2e-6, 1.0, 1.0)
        assert edge_force_share(metal, 40e-6, metal.specific_force(40e-6)) == pytest.approx(0.17, rel=1e-12)

    def test_too_thin_a_chip_is_all_rubbing(self) -> None:
        metal = PowerLaw(1780e6, 0.17, 2e-6, 1.0, 1.0)
        assert edge_force_share(metal, 1e-6, metal.specific_force(1e-6)) == 1


class TestWall:
    def test_a_slot_warms_its_wall_like_a_side_cut_of_the_same_force(self) -> None:
        """Beyond the last stretch of the arc nothing matters: an even power over the arc leaves the same rise."""
        per_arc = {"edge_share": 1.0, "edge": CARBIDE}
        side = rise(engagement_angle=0.6, power=60.0, **per_arc)
        assert rise(engagement_angle=np.pi, power=100 * np.pi, **per_arc) == pytest.approx(side, rel=1e-12)

    def test_faster_feed_leaves_less(self) -> None:
        """The edge's force does not grow with the feed: at the same power the rise falls with its power of 2/3."""
        slow, fast = (rise(edge_share=1.0, feed=feed) for feed in (0.02, 0.16))
        assert fast == pytest.approx(slow / 4, rel=0.03)

    def test_the_force_of_the_chip_leaves_the_same_at_any_feed(self) -> None:
        """Power in proportion to the feed; exact but for the curvature of the sine."""
        slow, fast = (rise(edge_share=0.0, feed=feed, power=2000 * feed) for feed in (0.02, 0.16))
        assert fast == pytest.approx(slow, rel=0.03)

    def test_more_heat_goes_into_the_part_under_a_longer_land(self) -> None:
        assert rise(edge=replace(CARBIDE, contact_radius=100e-6)) > 1.5 * rise()

    def test_a_better_conducting_edge_leaves_less(self) -> None:
        assert rise(edge=replace(CARBIDE, conductivity=500.0)) < rise() / 3

    def test_a_metal_is_warmed_by_the_whole_arc_as_by_jaegers_band(self) -> None:
        copper = Thermal(conductivity=400.0, density=8900.0, specific_heat=385.0, room=200.0)
        shallow = {"thermal": copper, "edge": ALL_INTO_THE_PART, "engagement_angle": 0.1, "feed": 0.005}
        flux = 300.0 / (4e-3 * 0.1 * 6e-3)
        wanted = jaeger_band_temperature_rise(flux, 6e-3 * np.sin(0.1), 0.005, 400.0, 400 / (8900 * 385))
        assert rise(**shallow) == pytest.approx(wanted, rel=1e-3)

    def test_many_points_at_once(self) -> None:
        feeds = np.array([0.02, 0.05])
        both = wall_rise(**(CUT | {"feed": feeds}))
        assert both == pytest.approx([rise(feed=0.02), rise(feed=0.05)], rel=1e-14)
