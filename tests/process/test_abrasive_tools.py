"""Abrasive tools: speeds and patches in closed form, and footprints that agree with the ripple's profiles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import dblquad

from finishplan.physics import layer_stiffness
from finishplan.process.abrasive_tools import AbrasiveTool, TiltedDisc, roller_contact_length
from finishplan.process.footprint import cell_means
from finishplan.process.ripple import PROFILES

Tools = Mapping[str, AbrasiveTool]


@pytest.mark.parametrize(
    ("name", "speed", "rim"),
    [
        ("roller", np.pi * 0.12 * 50, np.pi * 0.12 * 50),
        ("flat disc", 2 / 3 * np.pi * 0.125 * 50, np.pi * 0.125 * 50),
        ("orbital", np.pi * 5e-3 * 50, np.pi * 5e-3 * 50),
    ],
)
def test_speeds(tools: Tools, name: str, speed: float, rim: float) -> None:
    assert tools[name].speed(50.0, 20.0) == pytest.approx(speed, rel=1e-12)
    assert tools[name].rim_speed(50.0) == pytest.approx(rim, rel=1e-12)


def test_no_place_slides_faster_than_the_rim(tool: AbrasiveTool) -> None:
    assert tool.speed(50.0, 20.0) <= tool.rim_speed(50.0) * (1 + 1e-12)


@pytest.mark.parametrize("force", [0.5, 20.0, 150.0])
def test_pressure_times_area_is_the_force(tool: AbrasiveTool, force: float) -> None:
    patch = tool.patch(force)
    assert patch.pressure * patch.area == pytest.approx(force, rel=1e-12)
    assert 0 < patch.area <= patch.width * patch.length * (1 + 1e-12)


def test_a_harder_press_never_makes_a_smaller_patch(tool: AbrasiveTool) -> None:
    patch = tool.patch(np.geomspace(1.0, 200.0, 20))
    areas = np.broadcast_to(patch.area, 20)
    assert np.all(np.diff(areas) >= 0)
    assert np.all(np.diff(patch.pressure) > 0) or isinstance(tool, TiltedDisc)


def test_arrays_equal_their_elements(tool: AbrasiveTool) -> None:
    forces, speeds = np.array([5.0, 20.0, 90.0]), np.array([20.0, 60.0, 100.0])
    together, sliding = tool.patch(forces), np.broadcast_to(tool.speed(speeds, forces), 3)
    for i in range(3):
        alone = tool.patch(forces[i])
        assert together.pressure[i] == pytest.approx(alone.pressure, rel=1e-9)
        assert sliding[i] == pytest.approx(tool.speed(speeds[i], forces[i]), rel=1e-9)
        assert np.ndim(alone.pressure) == 0


def test_pads_touch_with_their_whole_face(tools: Tools) -> None:
    assert tools["orbital"].patch(30.0).area == pytest.approx(np.pi * 0.075**2, rel=1e-12)
    assert tools["flat disc"].patch(30.0).length == 0.125


class TestRollerContact:
    def test_a_thick_tyre_is_a_solid_one(self) -> None:
        """Hertz with E* = E/(1 - 0.25) against a stiff flat."""
        half_width = np.sqrt(4 * (30.0 / 0.05) * 0.06 / (np.pi * 3e6 / 0.75))
        assert roller_contact_length(30.0, 0.05, 0.12, 3e6, 10.0) == pytest.approx(2 * half_width, rel=1e-12)

    def test_a_thin_tread_is_a_bed_of_springs(self) -> None:
        """Line load = integral of k (b^2 - x^2)/(2 R) = (2/3) k b^3/R."""
        length = roller_contact_length(30.0, 0.05, 0.12, 3e6, 0.5e-3)
        stiffness = layer_stiffness(3e6, 0.5e-3)
        assert 2 / 3 * stiffness * (length / 2) ** 3 / 0.06 == pytest.approx(30.0 / 0.05, rel=1e-9)

    def test_it_is_the_smaller_of_both(self) -> None:
        lengths = roller_contact_length(30.0, 0.05, 0.12, 3e6, np.geomspace(1e-4, 1.0, 60))
        assert np.all(np.diff(lengths) >= 0)
        assert np.sum(lengths == lengths[-1]) > 5


class TestTiltedDisc:
    disc = TiltedDisc(diameter=0.125, tilt=np.radians(8), modulus=5e6, thickness=0.01)

    def moment(self, force: float, power: int) -> float:
        """Integral over the segment of pressure times distance from the centre to a power."""
        depth, radius = float(self.disc.patch(force).length), 0.125 / 2
        chord = radius - depth
        slope = float(layer_stiffness(5e6, 0.01)) * np.tan(np.radians(8))
        value, _ = dblquad(
            lambda x, y: slope * (y - chord) * np.hypot(x, y) ** power,
            chord, radius, lambda y: -np.sqrt(radius**2 - y**2), lambda y: np.sqrt(radius**2 - y**2),
        )  # fmt: skip
        return float(value)

    @pytest.mark.parametrize("force", [2.0, 20.0, 80.0])
    def test_the_pressure_over_the_segment_carries_the_force(self, force: float) -> None:
        assert self.moment(force, 0) == pytest.approx(force, rel=1e-6)

    @pytest.mark.parametrize("force", [2.0, 20.0, 80.0])
    def test_the_sliding_speed_is_the_mean_over_the_pressure(self, force: float) -> None:
        mean = self.moment(force, 1) / self.moment(force, 0)
        assert self.disc.speed(100.0, force) == pytest.approx(2 * np.pi * 100.0 * mean, rel=1e-6)

    @pytest.mark.parametrize("force", [2.0, 20.0, 80.0])
    def test_two_thirds_of_chord_and_depth_are_nearly_the_segment(self, force: float) -> None:
        patch = self.disc.patch(force)
        half = np.arccos(1 - float(patch.length) / 0.0625)
        segment = 0.0625**2 * (half - np.sin(half) * np.cos(half))
        assert patch.area == pytest.approx(segment, rel=0.15)

    def test_pressed_flat_it_stops_sinking_in(self) -> None:
        deep = [float(self.disc.patch(force).length) for force in (1e3, 1e5, 1e6)]
        assert deep[0] < deep[1] == deep[2] < 0.0625

    def test_a_steeper_disc_touches_less(self) -> None:
        steep = replace(self.disc, tilt=np.radians(15))
        assert steep.patch(20.0).area < self.disc.patch(20.0).area


def test_footprints_spread_the_depth_as_the_profiles_of_the_ripple(tool: AbrasiveTool) -> None:
    """The footprint summed along the feed, against the profile the ripple is worked out with."""
    footprint = tool.footprint(30.0, 0.0)
    reach, cells = float(tool.reach), 60
    assert footprint.reach[1] == pytest.approx(reach, rel=1e-9)
    along = max(int(np.ceil(footprint.reach[0] / (reach / cells))), 1)
    field = cell_means(
        lambda x, y: footprint.pressure(x, y) * footprint.speed(x, y), (along, cells), (reach / cells, reach / cells)
    )
    across = field.sum(axis=1)
    offsets = np.arange(-cells, cells + 1) / cells
    wanted = PROFILES[tool.profile](offsets)
    inside = np.abs(offsets) < 0.95
    assert across[inside] / across.sum() == pytest.approx((wanted / wanted.sum())[inside], rel=0.02)


def test_the_stripe_of_a_belt_turns_with_the_lines(tools: Tools) -> None:
    along_x, along_y = (tools["roller"].footprint(30.0, direction).reach for direction in (0.0, np.pi / 2))
    assert along_x == pytest.approx(along_y[::-1], rel=1e-9)
    assert along_x[1] == pytest.approx(0.025, rel=1e-9)
