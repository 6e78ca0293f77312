"""Identities and limits of stiffness in series and tool bending."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import cantilever_deflection, cantilever_stiffness, fluted_diameter, series_stiffness


def test_equal_stiffnesses_in_series_halve() -> None:
    assert series_stiffness(4e5, 4e5) == pytest.approx(2e5, rel=1e-15)


def test_a_rigid_part_leaves_the_other_one() -> None:
    assert series_stiffness(4e5, np.inf) == pytest.approx(4e5, rel=1e-15)
    assert series_stiffness(np.array([1e5, np.inf]), 2e5)[1] == pytest.approx(2e5, rel=1e-15)


def test_order_does_not_matter() -> None:
    assert series_stiffness(1e5, 7e6) == series_stiffness(7e6, 1e5)


def test_round_bar_of_unit_size() -> None:
    assert cantilever_stiffness(1.0, 1.0, 64 / np.pi) == pytest.approx(3.0, rel=1e-15)


def test_deflection_is_force_over_stiffness() -> None:
    assert cantilever_deflection(20.0, 30e-3, 6e-3, 6e11) * cantilever_stiffness(30e-3, 6e-3, 6e11) == pytest.approx(
        20.0, rel=1e-15
    )


def test_deflection_goes_with_the_cube_of_length_and_the_fourth_power_of_diameter() -> None:
    base = cantilever_deflection(20.0, 30e-3, 6e-3, 6e11)
    assert cantilever_deflection(20.0, 60e-3, 6e-3, 6e11) == pytest.approx(8 * base, rel=1e-14)
    assert cantilever_deflection(20.0, 30e-3, np.array([3e-3, 6e-3]), 6e11) == pytest.approx([16 * base, base])


def test_fluted_cutter_bends_by_the_fourth_power_of_its_ratio() -> None:
    solid = cantilever_stiffness(30e-3, 6e-3, 6e11)
    assert cantilever_stiffness(30e-3, fluted_diameter(6e-3), 6e11) == pytest.approx(0.4096 * solid, rel=1e-14)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: series_stiffness(0.0, 1e5), "series_stiffness: first must be at least 1e-12 [N/m], given 0"),
        (
            lambda: cantilever_deflection(1.0, 1e-2, 0.0, 6e11),
            "cantilever_deflection: diameter must be at least 1e-12 [m], given 0",
        ),
        (lambda: fluted_diameter(6e-3, 1.1), "fluted_diameter: ratio must be between 0 and 1 [1], given 1.1"),
    ],
)
def test_refuses_what_has_no_meaning(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        call()
