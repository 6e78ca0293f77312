"""Abrasive wheels: speed against marking, burst speed, and how much of the rim a guard may leave open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.formula import Array, formula
from finishplan.physics.arguments import NON_NEGATIVE, POSITIVE
from finishplan.physics.sourced import INCH, ROUNDING, Governed, Grade, Sourced

BURST_FACTORS: Final[Mapping[str, Sourced]] = {
    machine: Sourced(factor, "EN 12413, figures to be checked in the standard", "from memory")
    for machine, factor in (
        ("totally enclosed, mechanically guided", 1.75),
        ("other stationary", 3.0),
        ("hand-held", 3.5),
    )
}
"""Factor of bursting stress over stress at the marked speed that a wheel has to show, by machine [1]."""


@formula(
    "u = pi D n/v_s",
    units={"diameter": "m", "free_rotation": "1/s", "marked_speed": "m/s"},
    returns="1",
    source="29 CFR 1910.243(c)(5)(i); ANSI B7.1-2000, 7.1: the speed without load counts",
    domain={"diameter": NON_NEGATIVE, "free_rotation": NON_NEGATIVE, "marked_speed": POSITIVE},
)
def speed_utilisation(diameter: Array, free_rotation: Array, marked_speed: Array) -> Array:
    """Share of a wheel's marked speed that it runs at.

    Parameters
    ----------
    diameter : array_like
        Diameter of the wheel as mounted D [m].
    free_rotation : array_like
        Highest rotation of the spindle running free n [1/s].
    marked_speed : array_like
        Largest working speed marked on the wheel v_s [m/s].

    Returns
    -------
    array_like
        Share u; above 1 the wheel must not be mounted [1].

    Raises
    ------
    ValueError
        A negative value or a marked speed of zero.
    """
    return np.pi * diameter * free_rotation / marked_speed


@formula(
    "v_b = v_s sqrt(S)",
    units={"marked_speed": "m/s", "stress_factor": "1"},
    returns="m/s",
    source="stress in a turning disc grows with the square of its speed: Timoshenko, Strength of Materials, part II",
    domain={"marked_speed": NON_NEGATIVE, "stress_factor": (1.0, 100.0)},
)
def burst_speed(marked_speed: Array, stress_factor: Array) -> Array:
    """Speed at the rim that a new, sound wheel has to stand before it bursts.

    Parameters
    ----------
    marked_speed : array_like
        Largest working speed marked on the wheel v_s [m/s].
    stress_factor : array_like
        Bursting stress over stress at that speed S [1].

    Returns
    -------
    array_like
        Speed at bursting v_b [m/s].

    Raises
    ------
    ValueError
        A negative speed or a factor outside 1 to 100.
    """
    return marked_speed * np.sqrt(stress_factor)


@dataclass(frozen=True)
class GuardExposure:
    """Angle of the wheel's rim that a guard may leave open.

    Attributes
    ----------
    machine : str
        Kind of machine.
    angle : Governed
        Largest open angle, with every figure published [rad].
    start : Sourced or None
        Highest start of the opening above the horizontal through the spindle, negative below it;
        None where nothing is set [rad].
    """

    machine: str
    angle: Governed
    start: Sourced | None = None

    def allows(self, angle: float, start: float | None = None) -> bool:
        """Whether an opening of an angle [rad] from a start above the horizontal [rad] is within bounds."""
        if angle > self.angle.governing.value + ROUNDING:
            return False
        return self.start is None or start is None or bool(start <= self.start.value + ROUNDING)


_OSHA: Final = "29 CFR 1910.215(b)"
_WASHINGTON: Final = "WAC 296-806-40506, Table 405-1"
_MICHIGAN: Final = "Michigan Administrative Code R 408.10199, Table 1"


def _exposure(
    machine: str, *figures: tuple[float, str, Grade], start: float | None = None, start_source: str = ""
) -> GuardExposure:
    """A row from angles in degrees, each with its clause and grade."""
    return GuardExposure(
        machine,
        Governed(
            f"open angle of the guard, {machine} [rad]",
            "lowest",
            tuple(Sourced(float(np.radians(angle)), source, grade) for angle, source, grade in figures),
        ),
        None if start is None else Sourced(float(np.radians(start)), start_source),
    )


GUARD_EXPOSURES: Final[Mapping[str, GuardExposure]] = {
    row.machine: row
    for row in (
        _exposure(
            "bench or floor stand",
            (90, _OSHA + "(3)", "published"),
            (90, _WASHINGTON, "published"),
            start=65,
            start_source=_OSHA + "(3)",
        ),
        _exposure(
            "bench or floor stand, contact below the spindle",
            (125, _OSHA + "(3)", "published"),
            (125, _WASHINGTON, "published"),
            start=65,
            start_source=_OSHA + "(3)",
        ),
        _exposure(
            "cylindrical grinder",
            (180, _OSHA + "(4)", "published"),
            (180, _WASHINGTON, "published"),
            start=65,
            start_source=_OSHA + "(4)",
        ),
        _exposure(
            "surface grinder",
            (150, _OSHA + "(5)", "published"),
            (150, _WASHINGTON, "published"),
            start=-15,
            start_source=_OSHA + "(5)",
        ),
        _exposure(
            "cutting-off machine",
            (150, _MICHIGAN, "published"),
            (150, _OSHA + "(5)", "from memory"),
            (180, _WASHINGTON, "published"),
            start=-15,
            start_source=_MICHIGAN,
        ),
        _exposure("swing frame", (180, _OSHA + "(6)", "published"), (180, _WASHINGTON, "published")),
        _exposure("top grinding", (60, _OSHA + "(8)", "published"), start=30, start_source=_OSHA + "(8)"),
        _exposure("portable", (180, "8 CCR 3583(d)", "published"), (180, _MICHIGAN, "published")),
        _exposure("masonry saw", (180, _MICHIGAN, "published"), start=35, start_source=_MICHIGAN),
        _exposure("tool and cutter grinder", (180, _MICHIGAN, "published")),
        _exposure("stationary grinder in a mine", (90, "30 CFR 56.14115, at least 270 degrees covered", "published")),
    )
}
"""Guards of abrasive wheels, by machine."""

WORK_REST_GAP: Final = Sourced(INCH / 8, "29 CFR 1910.215(a)(4); WAC 296-806-40510")
"""Widest gap between work rest and wheel, set at standstill only [m]."""

TONGUE_GAP: Final = Sourced(INCH / 4, "29 CFR 1910.215(b)(9); Michigan Administrative Code R 325.52506(3)")
"""Widest gap between the guard's adjustable tongue and the rim [m]."""
