"""A disc that cuts in its own plane, clamped by flanges: how its rim yields sideways, and how long it is in a sheet."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE

POISSON_RATIO: Final = 0.3
"""Poisson's ratio of steel; with 0.2, as in bonded wheels, the rim yields 3 % less."""

HARMONICS: Final = 60
"""Waves around the rim that are added up; up to flanges of half the diameter the rest yields under 0.1 %."""

PLATE = "Kirchhoff plate, clamped at its inner and free at its outer rim, load as a Fourier series around the rim"


@formula(
    "k = E h^3/(12 (1 - nu^2)) / ((D/2)^2 c(s))",
    units={"diameter": "m", "clamped_share": "1", "thickness": "m", "modulus": "Pa"},
    returns="N/m",
    source=PLATE,
    domain={"diameter": POSITIVE, "clamped_share": (0.02, 0.98), "thickness": POSITIVE, "modulus": NON_NEGATIVE},
    trusted={"clamped_share": (0.1, 0.5)},
)
def rim_stiffness(diameter: Array, clamped_share: Array, thickness: Array, modulus: Array) -> Array:
    """Stiffness of a standing disc against a force square to it at one place of its rim.

    Turning stiffens a disc, teeth and slots in it soften it; both are left out.

    Parameters
    ----------
    diameter : array_like
        Diameter D [m].
    clamped_share : array_like
        Diameter of the flanges that clamp it over its own s [1].
    thickness : array_like
        Thickness h of the body [m].
    modulus : array_like
        Elastic modulus E [Pa].

    Returns
    -------
    array_like
        Stiffness k [N/m].

    Raises
    ------
    ValueError
        A value of zero or less, or flanges nearly as large as the disc.
    """
    plate = modulus * thickness**3 / (12 * (1 - POISSON_RATIO**2))
    return plate / ((diameter / 2) ** 2 * _rim_compliance(np.asarray(clamped_share, dtype=float)))


def _rim_compliance(ratio: NDArray[np.float64]) -> NDArray[np.float64]:
    """c in w = F a^2 c/K: deflection of the rim under a force on it, at a ratio of the clamped radius to the rim's.

    The force is a mean and equal waves cos(n x) around the rim; each bends the plate into a wave of its own.
    """
    load = np.where(np.arange(HARMONICS) == 0, 1.0, 2.0) / (2 * np.pi)
    return np.asarray(sum(load[n] * _wave(n, ratio) for n in range(HARMONICS)))


def _wave(n: int, clamped: NDArray[np.float64]) -> NDArray[np.float64]:
    """Deflection at r = 1 under an edge force cos(n x) of 1, plate stiffness 1: four solutions, four conditions."""
    inner, outer = _solutions(n, clamped, clamped), _solutions(n, np.ones_like(clamped), clamped)
    value, _, moment, shear = outer
    conditions = np.stack([inner[0], inner[1], moment, shear], axis=-2)
    sides = np.zeros((*clamped.shape, 4, 1))
    sides[..., 3, 0] = -1.0
    return np.asarray((value * np.linalg.solve(conditions, sides)[..., 0]).sum(axis=-1))


def _solutions(
    n: int, r: NDArray[np.float64], clamped: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    """Value, slope, radial moment and edge force of the four solutions R(r) cos(n x) of the plate equation.

    Each is r^p, or r^p ln(r) where powers coincide; falling powers are counted from the clamped rim, which
    keeps them near one.
    """
    if n == 0:
        powers, logs = (0.0, 2.0, 0.0, 2.0), (False, False, True, True)
    elif n == 1:
        powers, logs = (1.0, 3.0, -1.0, 1.0), (False, False, False, True)
    else:
        powers, logs = (float(n), float(n + 2), float(-n), float(2 - n)), (False,) * 4
    parts = [_one(power, log, n, r, clamped) for power, log in zip(powers, logs, strict=True)]
    value, slope, moment, shear = (np.stack(each, axis=-1) for each in zip(*parts, strict=True))
    return value, slope, moment, shear


def _one(
    power: float, log: bool, n: int, r: NDArray[np.float64], clamped: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    scale = clamped ** max(-power, 0.0)
    first, second, third = (_derivative(power, log, order, r) * scale for order in (1, 2, 3))
    value = _derivative(power, log, 0, r) * scale
    moment = second + POISSON_RATIO * (first / r - n**2 * value / r**2)
    twist = (1 - POISSON_RATIO) * n**2 / r**2 * (first - value / r)
    bulk = third + second / r - first / r**2 - n**2 * first / r**2 + 2 * n**2 * value / r**3
    return value, first, moment, bulk - twist


def _derivative(power: float, log: bool, order: int, r: NDArray[np.float64]) -> NDArray[np.float64]:
    """Derivative of r^p, or of r^p ln(r)."""
    factor, rest = 1.0, 0.0
    for step in range(order):
        # d/dr (a r^q ln r + b r^q) = q a r^(q-1) ln r + (a + q b) r^(q-1)
        factor, rest = (power - step) * factor, factor + (power - step) * rest
    if not log:
        return np.asarray(factor * r ** (power - order))
    return np.asarray((factor * np.log(r) + rest) * r ** (power - order))


@formula(
    "c = 2 sqrt(a (D - a))",
    units={"diameter": "m", "depth": "m"},
    returns="m",
    source="chord of a circle at the height a",
    domain={"diameter": POSITIVE, "depth": NON_NEGATIVE},
)
def disc_chord(diameter: Array, depth: Array) -> Array:
    """Length of a disc at the surface it has gone into.

    Parameters
    ----------
    diameter : array_like
        Diameter D [m].
    depth : array_like
        How deep its rim is below the surface a, at most the diameter [m].

    Returns
    -------
    array_like
        Chord c [m].

    Raises
    ------
    ValueError
        A diameter of zero, a negative depth, or a depth beyond the diameter.
    """
    if np.any(depth > diameter):
        raise ValueError(
            f"disc_chord: depth must not exceed the diameter [m], given {np.max(depth / diameter):g} times the diameter"
        )
    return 2 * np.sqrt(depth * (diameter - depth))
