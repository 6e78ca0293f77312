"""Mean sliding speeds of pads and discs against the paths and contacts they stand for.

Sources
-------
Perimeters of plane curves: Lockwood, A Book of Curves, 1961; torque of a disc under even pressure:
Shigley, Mechanical Engineering Design, disc clutches. Otherwise the origin is: library, scipy.integrate,
or the length of a drawn path.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import dblquad, quad

from finishplan.physics import (
    disc_mean_speed,
    disc_torque,
    orbital_speed,
    orbital_spinning_mean_speed,
    tilted_disc_contact_depth,
    tilted_disc_mean_radius,
)

MM = 1e-3


@pytest.mark.parametrize(("orbit", "spin"), [(3.1416, 0.5), (3.1416, 1.5), (3.1416, 3.1416), (1.0, 2.0)])
def test_mean_of_the_velocity(orbit: float, spin: float) -> None:
    """The length of the summed velocity, averaged over the angle between its parts by quadrature."""
    total, _ = quad(lambda angle: np.hypot(orbit + spin * np.cos(angle), spin * np.sin(angle)), 0, np.pi)
    # accuracy of the quadrature at the kink of equal speeds
    assert orbital_spinning_mean_speed(orbit, spin) == pytest.approx(total / np.pi, rel=1e-8)


@pytest.mark.parametrize(
    ("orbit_diameter", "orbit_rate", "spin_rate", "distance"),
    [
        pytest.param(5, 160, 4, 60, id="5 mm orbit, rim of a 120 mm pad"),
        pytest.param(2.5, 200, 1, 30, id="2.5 mm orbit, slow pad"),
        pytest.param(8, 150, 30, 70, id="8 mm orbit, driven pad"),
    ],
)
def test_length_of_the_path_of_a_grain(
    orbit_diameter: float, orbit_rate: float, spin_rate: float, distance: float
) -> None:
    """The grain's path is drawn with a million chords over one second, whole turns of orbit and pad."""
    time = np.linspace(0, 1, 1_000_001)
    place = orbit_diameter / 2 * MM * np.exp(2j * np.pi * orbit_rate * time) + distance * MM * np.exp(
        2j * np.pi * spin_rate * time
    )
    length = np.abs(np.diff(place)).sum()
    found = orbital_spinning_mean_speed(
        orbital_speed(orbit_diameter * MM, orbit_rate), 2 * np.pi * spin_rate * distance * MM
    )
    # chords of a five-thousandth of a turn are shorter than their arcs by less than 1e-6
    assert found == pytest.approx(length, rel=1e-5)


@pytest.mark.parametrize(
    ("radii", "rates", "perimeter"),
    [
        pytest.param((2, 1), (1, 2), 16, id="cardioid, 16 a"),
        pytest.param((3, 1), (1, 3), 24, id="nephroid, 24 a"),
        pytest.param((2, 1), (1, -2), 16, id="deltoid, 16 a"),
        pytest.param((3, 1), (1, -3), 24, id="astroid of outer radius 4 a, 24 a"),
    ],
)
def test_closed_curves(radii: tuple[int, int], rates: tuple[int, int], perimeter: int) -> None:
    """Curves drawn by two turning arms, with the smaller one's end at a. Origin: law."""
    speeds = [2 * np.pi * abs(rate) * radius for rate, radius in zip(rates, radii, strict=True)]
    # rounding of the arithmetic
    assert orbital_spinning_mean_speed(*speeds) == pytest.approx(perimeter, rel=1e-12)


@pytest.mark.parametrize(("outer", "inner"), [(125, 0), (150, 20), (115, 60)])
def test_mean_speed_of_a_flat_disc(outer: float, inner: float) -> None:
    """Speed averaged over the ring in the plane."""
    turns = 50.0
    moment, _ = quad(lambda r: 2 * np.pi * turns * r * 2 * np.pi * r, inner / 2 * MM, outer / 2 * MM)
    area = np.pi / 4 * (outer**2 - inner**2) * MM**2
    # accuracy of the quadrature
    assert disc_mean_speed(outer * MM, turns, inner * MM) == pytest.approx(moment / area, rel=1e-9)


@pytest.mark.parametrize(("outer", "inner"), [(125, 10), (150, 50)])
def test_torque_of_a_disc_under_even_pressure(outer: float, inner: float) -> None:
    """Shigley: T = (mu F/3)(D^3 - d^3)/(D^2 - d^2). Origin: law."""
    expected = 0.4 * 50 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2) * MM
    # rounding of the arithmetic
    assert disc_torque(0.4, 50.0, outer * MM, inner * MM) == pytest.approx(expected, rel=1e-12)


def segment_integrals(radius: float, depth: float) -> tuple[float, float]:
    """Integrals over the segment of the distance from the chord, alone and times the radius."""
    chord = radius - depth

    def half_width(x: float) -> float:
        return float(np.sqrt(max(radius**2 - x**2, 0.0)))

    load, _ = quad(lambda x: 2 * (x - chord) * half_width(x), chord, radius)
    moment, _ = dblquad(lambda y, x: 2 * (x - chord) * np.hypot(x, y), chord, radius, 0, half_width)
    return load, moment


@pytest.mark.parametrize("depth", [2, 8, 25, 62.5])
def test_mean_radius_of_a_tilted_disc(depth: float) -> None:
    """Radius averaged over the segment with a pressure that grows from the chord to the rim."""
    load, moment = segment_integrals(62.5, depth)
    # accuracy of the double quadrature
    assert tilted_disc_mean_radius(125 * MM, depth * MM) / MM == pytest.approx(moment / load, rel=1e-6)


@pytest.mark.parametrize(("depth", "tilt"), [(3, 5), (10, 10), (30, 15)])
def test_contact_of_a_tilted_disc(depth: float, tilt: float) -> None:
    """The force that the layer, compressed by the tilted disc, adds up to over the segment."""
    stiffness, slope = 4e7, np.radians(tilt)
    load, _ = segment_integrals(62.5, depth)
    force = stiffness * np.tan(slope) * load * MM**3
    # accuracy of the quadrature at the rim's square root
    assert tilted_disc_contact_depth(force, 125 * MM, slope, stiffness) / MM == pytest.approx(depth, rel=1e-6)
