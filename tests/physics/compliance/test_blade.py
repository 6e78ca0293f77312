"""Identities, limits and refusals of a disc that cuts in its own plane."""

from __future__ import annotations

import re
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import disc_chord, rim_stiffness

STEEL = 207e9


def test_a_rim_stiffens_with_thickness_cubed_and_size_squared() -> None:
    base = rim_stiffness(0.16, 0.3, 1.6e-3, STEEL)
    assert rim_stiffness(0.16, 0.3, 3.2e-3, STEEL) == pytest.approx(8 * base, rel=1e-12)
    assert rim_stiffness(0.32, 0.3, 1.6e-3, STEEL) == pytest.approx(base / 4, rel=1e-12)
    assert rim_stiffness(0.16, 0.3, 1.6e-3, 2 * STEEL) == pytest.approx(2 * base, rel=1e-12)


def test_larger_flanges_stiffen_it() -> None:
    shares = np.array([0.1, 0.2, 0.3, 0.4, 0.5])
    found = rim_stiffness(0.16, shares, 1.6e-3, STEEL)
    assert found.shape == (5,)
    assert np.all(np.diff(found) > 0)
    assert found[2] == rim_stiffness(0.16, 0.3, 1.6e-3, STEEL)


def test_a_narrow_rim_gives_way_by_the_square_of_its_width() -> None:
    """Near the flanges the rim is a strip along a clamped edge: only its width counts, not the radius."""
    wide, narrow = (rim_stiffness(0.2, share, 1e-3, STEEL) * (1 - share) ** 2 for share in (0.6, 0.7))
    assert narrow / wide == pytest.approx(1.0, abs=0.1)


def test_a_chord_is_the_diameter_at_half_depth_and_nothing_at_none() -> None:
    assert disc_chord(0.2, np.array([0.0, 0.1, 0.2])) == pytest.approx([0.0, 0.2, 0.0], abs=1e-12)
    # 3-4-5 triangle: radius 5, rim 2 below the face, so the centre is 3 above it
    assert disc_chord(10.0, 2.0) == pytest.approx(8.0, rel=1e-12)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(lambda: rim_stiffness(0.16, 1.0, 1e-3, STEEL), "clamped_share", id="flanges as large as the disc"),
        pytest.param(lambda: rim_stiffness(0.16, 0.3, 0.0, STEEL), "thickness", id="no thickness"),
        pytest.param(lambda: disc_chord(0.1, 0.12), "given 1.2 times the diameter", id="beyond the disc"),
    ],
)
def test_refuses(call: Callable[[], float], message: str) -> None:
    with pytest.raises(ValueError, match=re.escape(message)):
        call()
