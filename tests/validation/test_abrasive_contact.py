"""Contact patches against the displacements their pressures cause, and against equilibrium.

Sources
-------
Timoshenko and Goodier, Theory of Elasticity, 3rd ed. 1970, articles 138 to 140; Johnson, Contact
Mechanics, 1985, sections 2.3, 3.2 and 5.6; Das, Principles of Foundation Engineering, eccentrically
loaded foundations. Unless a check says otherwise its origin is: library, scipy, which integrates the
displacements under the pressures found. The closed forms under test are not used for that.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, fsolve
from scipy.special import ellipk

from finishplan.physics import effective_modulus, effective_radius, overhang_pressure_ratio, shore_a_modulus
from finishplan.physics.contact import (
    LineContact,
    PointContact,
    hertz_line,
    hertz_point,
    winkler_cylinder,
    winkler_dome,
)

MM = 1e-3
MPA = 1e6
GPA = 1e9
STEEL = (200 * GPA, 0.3)

BALLS = [
    pytest.param(30 * 2 * np.pi, 8 * MM, effective_modulus(1000 * MPA, 0.3), id="8 mm sphere on a rigid plane"),
    pytest.param(500.0, 25 * MM, effective_modulus(*STEEL, *STEEL), id="50 mm steel ball on a flat, 500 N"),
    pytest.param(
        500.0,
        effective_radius(25 * MM, 25 * MM),
        effective_modulus(*STEEL, *STEEL),
        id="50 mm steel ball on its like, 500 N",
    ),
]

ROLLERS = [
    pytest.param(60 / 0.05, 100 * MM, effective_modulus(shore_a_modulus(40), 0.5), id="soft contact wheel"),
    pytest.param(80 / 0.025, 75 * MM, effective_modulus(shore_a_modulus(70), 0.5), id="hard contact wheel"),
    pytest.param(35e6, 50 * MM, effective_modulus(210 * GPA, 0.3, 70 * GPA, 0.3), id="steel roller on aluminium"),
]


def surface_displacement(ball: PointContact, modulus: float, distance: float) -> float:
    """Sinking of a half-space under the elliptic pressure: Boussinesq's point loads, summed ring by ring."""

    def ring(s: float) -> float:
        pressure = ball.peak_pressure * np.sqrt(max(1 - (s / ball.radius) ** 2, 0.0))
        together = distance + s
        return float(pressure * s * 4 / together * ellipk(4 * distance * s / together**2))

    breaks = [distance] if 0 < distance < ball.radius else None
    total, _ = quad(ring, 0, ball.radius, points=breaks, limit=200)
    return total / (np.pi * modulus)


class TestBalls:
    @pytest.mark.parametrize(("force", "radius", "modulus"), BALLS)
    def test_pressure_carries_the_force(self, force: float, radius: float, modulus: float) -> None:
        ball = hertz_point(force, radius, modulus)
        carried, _ = quad(
            lambda s: 2 * np.pi * s * ball.peak_pressure * np.sqrt(1 - (s / ball.radius) ** 2), 0, ball.radius
        )
        # accuracy of the quadrature
        assert carried == pytest.approx(force, rel=1e-7)

    @pytest.mark.parametrize(("force", "radius", "modulus"), BALLS)
    def test_surfaces_meet_inside_and_part_outside(self, force: float, radius: float, modulus: float) -> None:
        """Johnson, section 3.2: sinking + ball's rise = approach inside the patch, and a gap beyond it."""
        ball = hertz_point(force, radius, modulus)
        inside = np.array([1e-6, 0.3, 0.8]) * ball.radius
        sinking = [surface_displacement(ball, modulus, distance) for distance in inside]
        # accuracy of the quadrature at its logarithmic point
        assert sinking + inside**2 / (2 * radius) == pytest.approx(np.full(3, ball.approach), rel=1e-6)
        beyond = 1.2 * ball.radius
        assert surface_displacement(ball, modulus, beyond) + beyond**2 / (2 * radius) > ball.approach

    def test_sphere_on_a_rigid_plane(self) -> None:
        """A common check of contact programs after Timoshenko and Goodier, article 140: radius 8 mm,
        force 30 x 2 pi N, 1000 N/mm2, Poisson's ratio 0.3: a = 1.010 mm. Origin: printed."""
        ball = hertz_point(30 * 2 * np.pi, 8 * MM, effective_modulus(1000 * MPA, 0.3))
        # four digits printed
        assert ball.radius / MM == pytest.approx(1.010, abs=5e-4)

    @pytest.mark.parametrize("crush", [0.5, 2, 4])
    def test_equal_spheres_crushed_together(self, crush: float) -> None:
        """Timoshenko and Goodier, article 140, two spheres of radius R = 50 mm that come closer by h:
        p_0 = E/(pi (1 - nu^2)) sqrt(2 h/R), a = sqrt(R h/2). Origin: law."""
        young, poisson, radius = 20_000 * MPA, 0.3, 50 * MM
        body = effective_radius(radius, radius), effective_modulus(young, poisson, young, poisson)
        force = brentq(lambda newton: hertz_point(newton, *body).approach - crush * MM, 1.0, 1e8, xtol=1e-6, rtol=1e-14)
        ball = hertz_point(force, *body)
        # accuracy of the search for the force
        assert ball.radius == pytest.approx(np.sqrt(radius * crush * MM / 2), rel=1e-9)
        peak = young / (np.pi * (1 - poisson**2)) * np.sqrt(2 * crush * MM / radius)
        assert ball.peak_pressure == pytest.approx(peak, rel=1e-9)


class TestRollers:
    @pytest.mark.parametrize(("load", "radius", "modulus"), ROLLERS)
    def test_surfaces_meet_inside_the_strip(self, load: float, radius: float, modulus: float) -> None:
        """Johnson, section 2.3: line loads of Flamant, summed over the strip, follow the roller's curve."""
        strip = hertz_line(load, radius, modulus)

        def pressure(s: float) -> float:
            return float(strip.peak_pressure * np.sqrt(max(1 - (s / strip.half_width) ** 2, 0.0)))

        def drop(x: float) -> float:
            total, _ = quad(
                lambda s: pressure(s) * np.log(abs((x - s) / s)),
                -strip.half_width,
                strip.half_width,
                points=[0, x],
                limit=200,
            )
            return 2 / (np.pi * modulus) * total

        carried, _ = quad(pressure, -strip.half_width, strip.half_width)
        # accuracy of the quadrature at its logarithmic points
        assert carried == pytest.approx(load, rel=1e-7)
        for share in (0.3, 0.7, 0.95):
            x = share * strip.half_width
            assert drop(x) == pytest.approx(x**2 / (2 * radius), rel=1e-6)

    @pytest.mark.parametrize(("shore", "load", "radius"), [(40, 1200.0, 100), (70, 3200.0, 75)])
    def test_axis_comes_closer_by_the_strain_above_the_contact(self, shore: float, load: float, radius: float) -> None:
        """Johnson, section 5.6: stresses on the axis of a roller pressed between two flats, from the strip's
        pressure, the load opposite and the even tension that frees the rim; their strain from rim to axis."""
        young, poisson, far = shore_a_modulus(shore), 0.49, radius * MM
        modulus = effective_modulus(young, poisson)
        strip = hertz_line(load, far, modulus)
        b = strip.half_width

        def strain(z: float) -> float:
            root = np.sqrt(b**2 + z**2)
            along = load / np.pi * (1 / far - 2 / (2 * far - z) - 2 / root)
            across = load / np.pi * (1 / far - 2 * (b**2 + 2 * z**2) / (b**2 * root) + 4 * z / b**2)
            return float((along - poisson / (1 - poisson) * across) / modulus)

        shortening, _ = quad(strain, 0, far, points=[b], limit=200)
        # the closed form keeps the leading terms in half-width over radius, (0.08)^2
        assert strip.approach == pytest.approx(-shortening, rel=5e-3)


class TestLayers:
    @pytest.mark.parametrize(
        ("force", "radius", "stiffness"),
        [pytest.param(30.0, 0.5, 5e7, id="foam pad on a dome"), pytest.param(8.0, 0.05, 2e8, id="firm pad on a ball")],
    )
    def test_dome(self, force: float, radius: float, stiffness: float) -> None:
        """The approach at which the springs under the dome carry the force, found by search."""

        def carried(approach: float) -> float:
            edge = np.sqrt(2 * radius * approach)
            total, _ = quad(lambda r: 2 * np.pi * r * stiffness * (approach - r**2 / (2 * radius)), 0, edge)
            return total

        approach = brentq(lambda depth: carried(depth) - force, 1e-7, 0.01, xtol=1e-15)
        pad = winkler_dome(force, radius, stiffness)
        # accuracy of search and quadrature
        assert pad.approach == pytest.approx(approach, rel=1e-8)
        assert pad.radius == pytest.approx(np.sqrt(2 * radius * approach), rel=1e-8)
        assert pad.peak_pressure == pytest.approx(stiffness * approach, rel=1e-8)
        assert pad.mean_pressure == pytest.approx(force / (2 * np.pi * radius * approach), rel=1e-8)

    @pytest.mark.parametrize(
        ("load", "radius", "stiffness"),
        [pytest.param(800.0, 0.1, 1e9, id="thin tread"), pytest.param(300.0, 0.4, 5e7, id="foam on a rounded panel")],
    )
    def test_cylinder(self, load: float, radius: float, stiffness: float) -> None:
        """The approach at which the springs under the cylinder carry the load, found by search."""

        def carried(approach: float) -> float:
            edge = np.sqrt(2 * radius * approach)
            total, _ = quad(lambda x: stiffness * (approach - x**2 / (2 * radius)), -edge, edge)
            return total

        approach = brentq(lambda depth: carried(depth) - load, 1e-7, 0.01, xtol=1e-15)
        tread: LineContact = winkler_cylinder(load, radius, stiffness)
        # accuracy of search and quadrature
        assert tread.approach == pytest.approx(approach, rel=1e-8)
        assert tread.half_width == pytest.approx(np.sqrt(2 * radius * approach), rel=1e-8)
        assert tread.peak_pressure == pytest.approx(stiffness * approach, rel=1e-8)


class TestOverhang:
    @pytest.mark.parametrize("overhang", [0.05, 0.1, 0.2, 0.25])
    def test_footing_in_full_contact(self, overhang: float) -> None:
        """Das: q_max = (Q/B)(1 + 6 e/B) up to e = B/6, per unit length. Origin: law."""
        width, offset = 1 - overhang, overhang / 2
        # rounding of the arithmetic
        assert overhang_pressure_ratio(overhang) == pytest.approx((1 + 6 * offset / width) / width, rel=1e-12)

    @pytest.mark.parametrize("overhang", [0.3, 0.4, 0.45])
    def test_footing_that_lifts_off(self, overhang: float) -> None:
        """Das: q_max = 4 Q/(3 (B - 2 e)) beyond e = B/6, per unit length. Origin: law."""
        width, offset = 1 - overhang, overhang / 2
        # rounding of the arithmetic
        assert overhang_pressure_ratio(overhang) == pytest.approx(4 / (3 * (width - 2 * offset)), rel=1e-12)

    @pytest.mark.parametrize("overhang", [0.1, 0.25, 0.3, 0.4])
    def test_bed_of_springs(self, overhang: float) -> None:
        """A stiff pad on 100 000 springs that only push, in balance with the force at its centre."""
        count = 100_000
        place = (np.arange(count) + 0.5) / count * (1 - overhang)
        step = (1 - overhang) / count

        def imbalance(state: np.ndarray) -> list[float]:
            pressure = np.maximum(state[0] - state[1] * (1 - overhang - place), 0.0)
            return [pressure.sum() * step - 1, (pressure * (place - 0.5)).sum() * step]

        edge, _ = fsolve(imbalance, [2.0, 2.0], xtol=1e-12)
        # width of one spring where the pad lifts off
        assert overhang_pressure_ratio(overhang) == pytest.approx(edge, rel=1e-4)
