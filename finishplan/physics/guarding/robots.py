"""Classes of robots by ISO 10218-1:2025 and the speed allowed with a person inside the cell."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from finishplan.physics.sourced import Sourced

RobotClassName: TypeAlias = Literal["Class I", "Class II"]

_EDITION: Final = "ISO 10218-1:2025, robot classes"

CLASS_I_MASS: Final = Sourced(10.0, _EDITION)
"""Largest mass of the manipulator [kg]."""

CLASS_I_SPEED: Final = Sourced(0.25, _EDITION)
"""Highest speed of the tool centre point [m/s]."""

CLASS_I_FORCE: Final = Sourced(50.0, _EDITION)
"""Largest force of the manipulator [N]."""

MANUAL_SPEED: Final = Sourced(0.25, "ISO 10218-1, manual reduced speed", "from memory")
"""Highest speed of the tool centre point under manual control, hold-to-run with an enabling device [m/s]."""


def robot_hazard_class(mass: float, speed: float, force: float) -> RobotClassName:
    """Class of a robot by what it can do by its build, not by what its control allows.

    Parameters
    ----------
    mass : float
        Mass of the manipulator [kg].
    speed : float
        Highest speed of its tool centre point [m/s].
    force : float
        Largest force it can exert; the force of the process is not meant [N].

    Returns
    -------
    str
        "Class I" where all three are within bounds, else "Class II".

    Raises
    ------
    ValueError
        A value that is not above zero.
    """
    given = {"mass [kg]": mass, "speed [m/s]": speed, "force [N]": force}
    if faulty := {name: value for name, value in given.items() if not value > 0}:
        shown = ", ".join(f"{name} {value:g}" for name, value in faulty.items())
        raise ValueError(f"robot_hazard_class: wanted values above 0, given {shown}")
    small = mass <= CLASS_I_MASS.value and speed <= CLASS_I_SPEED.value and force <= CLASS_I_FORCE.value
    return "Class I" if small else "Class II"
