"""Bending of a cantilever against textbook examples and numerical solutions of the beam equation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_bvp

from finishplan.physics import cantilever_deflection, cantilever_stiffness, fluted_diameter, series_stiffness

MM = 1e-3
CARBIDE = 600e9


def round_bar_of(second_moment: float) -> float:
    """Diameter of the solid round bar with this second moment of area."""
    return float((64 * second_moment / np.pi) ** 0.25)


def test_beam_of_three_metres() -> None:
    """Bansal, Strength of Materials, example 13.1: 25 kN on 3 m, I 1e8 mm4, E 2.1e5 N/mm2: 10.71 mm.

    Origin: recomputed by a second party from the book's inputs; the printed figure was not seen.
    """
    deflection = cantilever_deflection(25e3, 3.0, round_bar_of(1e-4), 2.1e11)
    assert deflection / MM == pytest.approx(10.71, abs=0.005)


def test_load_for_a_given_deflection() -> None:
    """Sarkar, Strength of Materials, example 6.1: 120 x 200 mm, 2.5 m, E 2e11 Pa, 5 mm: 15.36 kN.

    Origin: recomputed by a second party from the book's inputs; the printed figure was not seen.
    """
    second_moment = 0.120 * 0.200**3 / 12
    load = 5 * MM * cantilever_stiffness(2.5, round_bar_of(second_moment), 2e11)
    assert load / 1e3 == pytest.approx(15.36, abs=0.005)


@pytest.mark.parametrize(
    ("diameter", "length", "force"),
    [
        pytest.param(6 * MM, 30 * MM, 20.0, id="6 mm, 30 mm out"),
        pytest.param(10 * MM, 40 * MM, 200.0, id="10 mm, 40 mm out"),
        pytest.param(3 * MM, 20 * MM, 5.0, id="3 mm, 20 mm out"),
    ],
)
class TestCarbideCutter:
    """Origin: library. E 600 GPa is only a number here; any other would do."""

    def test_against_the_boundary_value_problem(self, diameter: float, length: float, force: float) -> None:
        """scipy.integrate.solve_bvp on w'''' = 0, clamped at the holder, force at the tip.

        Length and deflection are scaled to one; the second moment is integrated over a circle.
        """
        of_unit_circle, _ = quad(lambda y: y**2 * 2 * np.sqrt(1 - y**2), -1, 1)
        scale = force * length**3 / (CARBIDE * of_unit_circle * (diameter / 2) ** 4)

        def beam(_: np.ndarray, state: np.ndarray) -> np.ndarray:
            return np.vstack((state[1:], np.zeros_like(state[:1])))

        def ends(root: np.ndarray, tip: np.ndarray) -> np.ndarray:
            return np.array([root[0], root[1], tip[2], tip[3] + 1.0])

        along = np.linspace(0, 1, 11)
        solved = solve_bvp(beam, ends, along, np.zeros((4, along.size)), tol=1e-8)
        assert solved.success
        # tolerance of the two integrations
        assert cantilever_deflection(force, length, diameter, CARBIDE) == pytest.approx(
            solved.sol(1.0)[0] * scale, rel=1e-6
        )

    def test_against_the_work_of_a_unit_load(self, diameter: float, length: float, force: float) -> None:
        """scipy.integrate.quad over M m/(E I), with the fluted cutter's equivalent diameter.

        Kops and Vo, CIRP Annals 39/1 (1990): equivalent diameter 0.8 D. Origin of the 0.8: printed.
        """
        second_moment = np.pi * (0.8 * diameter) ** 4 / 64
        work, _ = quad(lambda x: force * (length - x) ** 2 / (CARBIDE * second_moment), 0, length)
        deflection = cantilever_deflection(force, length, fluted_diameter(diameter), CARBIDE)
        assert deflection == pytest.approx(work, rel=1e-9)


def test_springs_in_series_against_a_linear_solver() -> None:
    """Two springs in a row, loaded at the end: numpy.linalg.solve on the stiffness matrix. Origin: library."""
    first, second = 5e5, 1.7e6
    matrix = np.array([[first + second, -second], [-second, second]])
    tip = np.linalg.solve(matrix, [0.0, 1.0])[1]
    assert series_stiffness(first, second) == pytest.approx(1 / tip, rel=1e-12)
