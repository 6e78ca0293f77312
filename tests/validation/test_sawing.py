"""Discs that cut in their own plane: the plate behind the teeth, the tooth path, and forces from textbooks.

Sources
-------
Kirchhoff's plate equation, solved ring by ring with scipy.integrate.solve_bvp. Origin: library.
Integrals along the tooth path between two faces of a sheet with scipy.integrate.quad. Origin: library.
Dieter, Mechanical Metallurgy, example 21.4; Kalpakjian and Schmid, Manufacturing Engineering and
Technology, example 25.2: force of a grinding wheel from the specific energy. Origin: recomputed by a
second party from the books' inputs; the printed figures were not seen.
Ghosh and Mallik, Manufacturing Science, chapter 4: specific energy times volume rate.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from finishplan.physics import (
    cutting_power,
    engaged_arc,
    engagement_angle,
    feed_direction_force,
    rim_stiffness,
    slit_max_chip,
    slit_mean_chip,
    tangential_force,
    wall_force,
)

POISSON = 0.3
WAVES = 14


def wave(order: int, clamped: float) -> float:
    """Deflection of the rim, r = 1, under an edge force cos(order x) of 1, plate stiffness 1, clamped inside.

    Moment and edge force are written out from the plate's curvatures; the equation is that of a wave R(r)
    cos(n x): L L R = 0 with L = R'' + R'/r - n^2 R/r^2.
    """
    squared = order**2

    def plate(r: np.ndarray, state: np.ndarray) -> np.ndarray:
        value, slope, bent, rate = state
        return np.vstack((slope, bent - slope / r + squared * value / r**2, rate, -rate / r + squared * bent / r**2))

    def ends(inner: np.ndarray, outer: np.ndarray) -> np.ndarray:
        value, slope, bent, rate = outer
        second = bent - slope + squared * value
        moment = second + POISSON * (slope - squared * value)
        edge_force = -(rate - (1 - POISSON) * squared * (slope - value))
        return np.array([inner[0], inner[1], moment, edge_force - 1.0])

    mesh = np.linspace(clamped, 1.0, 60)
    found = solve_bvp(plate, ends, mesh, np.zeros((4, mesh.size)), tol=1e-8, max_nodes=20000)
    assert found.success
    return float(found.y[0, -1])


@pytest.mark.parametrize("share", [0.25, 1 / 3, 0.45])
def test_stiffness_of_the_rim_against_the_plate_equation(share: float) -> None:
    """Fourier series of a point force; beyond 14 waves the rest falls as n^-3 and is below 0.6 %."""
    diameter, thickness, modulus = 0.16, 1.6e-3, 207e9
    waves = [wave(order, share) * (1 if order == 0 else 2) / (2 * np.pi) for order in range(WAVES)]
    # the sum of n^-3 beyond the last wave, each as large as the last one is
    rest = waves[-1] * (WAVES - 1) ** 3 / (2 * (WAVES - 0.5) ** 2)
    plate = modulus * thickness**3 / (12 * (1 - POISSON**2))
    expected = plate / ((diameter / 2) ** 2 * (sum(waves) + rest))
    assert rim_stiffness(diameter, share, thickness, modulus) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize(("thickness", "protrusion"), [(4.0, 5.0), (18.0, 8.0), (2.0, 0.0)])
def test_chips_and_forces_between_the_faces_of_a_sheet(thickness: float, protrusion: float) -> None:
    """Tooth on a disc of 160 mm, chip fz sin(phi); forces in proportion to the chip. Identical but for quadrature."""
    diameter, per_tooth, ratio = 160.0, 0.05, 0.4
    start, end = (float(engagement_angle(depth, diameter)) for depth in (protrusion, protrusion + thickness))
    arc = float(engaged_arc(end, start))
    total, _ = quad(np.sin, start, end)
    assert slit_mean_chip(per_tooth, thickness, diameter, arc) == pytest.approx(per_tooth * total / arc, rel=1e-9)
    assert slit_max_chip(per_tooth, end) == pytest.approx(per_tooth * np.sin(end), rel=1e-12)
    cosine, sine = (quad(lambda x, f=f: np.sin(x) * f(x), start, end)[0] / total for f in (np.cos, np.sin))
    for direction, sense in (("conventional", 1.0), ("climb", -1.0)):
        along = feed_direction_force(20.0, 20.0 * ratio, end, direction, start)
        across = wall_force(20.0, 20.0 * ratio, end, direction, start)
        assert along == pytest.approx(20.0 * (sense * cosine + ratio * sine), rel=1e-9)
        assert across == pytest.approx(20.0 * (ratio * cosine - sense * sine), rel=1e-9)


def test_force_of_a_wheel_from_its_specific_energy() -> None:
    """Dieter 21.4: 40 J/mm3, table 0.3 m/s, 1.2 mm wide, 0.05 mm deep, wheel at 30 m/s: 24 N, exact."""
    rate = 0.3 * 1.2e-3 * 0.05e-3
    assert tangential_force(cutting_power(40e9, rate), 30.0) == pytest.approx(24.0, rel=1e-9)


def test_force_of_a_wheel_in_inches() -> None:
    """Kalpakjian 25.2: wheel 10 in at 4000 rpm, 1 in wide, 0.002 in deep, 60 in/min, 15 hp min/in3: 5.7 lb."""
    inch, pound = 25.4e-3, 4.4482216
    energy = 15 * 745.7 * 60 / inch**3
    rate = (1 * 0.002 * 60) * inch**3 / 60
    speed = np.pi * 10 * inch * 4000 / 60
    assert tangential_force(cutting_power(energy, rate), speed) / pound == pytest.approx(5.7, abs=0.05)
